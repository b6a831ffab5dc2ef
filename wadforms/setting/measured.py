"""What several readings of one kind come to: the value, what a verdict rests on, what is kept."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date
from typing import Final, NamedTuple

from wadforms import units
from wadforms.errors import BadInput, Fault, UnknownName
from wadforms.setting.clays import INDEX_KEY
from wadforms.setting.limits import Limit, squat_factor
from wadforms.setting.measuring import GIVES, Bar, Borne, drying_shrinkage, firing_shrinkage
from wadforms.setting.mixes import MEASURABLE, SHRINKS, Mix
from wadforms.setting.readings import (
    Judged,
    Readings,
    at_least,
    at_most,
    highest_harmless,
    shown,
    summed_up,
)
from wadforms.setting.table_writer import Changes

UNLIKE: Final = 0.25
"""Part of their mean that the standard deviation of readings should not exceed (assumed)."""


_SAME: Final = 1e-9  # part of a load by which it may differ and be the same


class Result(NamedTuple):
    """What several readings of one thing come to.

    Parameters
    ----------
    name : str
        Of what was measured.
    unit : str
        Of all its values, as in `readings.shown`.
    values : tuple of float
        The readings, in `unit`.
    limit : Limit
        What a verdict may count on, in `unit`, with number, mean and spread of the readings.
    rule : str
        How that follows from the readings.
    changes : mapping
        What a file keeps of it.
    notes : tuple of str
        What the user should know.
    """

    name: str
    unit: str
    values: tuple[float, ...]
    limit: Limit
    rule: str
    changes: Changes
    notes: tuple[str, ...] = ()

    @property
    def readings(self) -> Readings:
        """Number, mean and spread."""
        assert self.limit.readings is not None  # noqa: S101 - it was made of them
        return self.limit.readings


class Trial(NamedTuple):
    """When and how readings were taken.

    Parameters
    ----------
    on : date
        The day.
    how : str
        The method, in a few words.
    note : str
        The user's own words on it, such as the heat that was reached; may be empty.
    """

    on: date
    how: str
    note: str = ""


BROKEN: Final = Limit(
    1.0 / 3.0, "share", "a third, since it broke them (assumed: clay breaks without warning)"
)
"""Part of a breaking load that a wad is trusted with."""


def shrinkages(bars: Sequence[Bar], trial: Trial) -> tuple[Result, ...]:
    """Drying shrinkage of bars, and firing shrinkage of those that were fired.

    Raises
    ------
    BadInput
        There are none, or one cannot be; see `measuring`.

    Examples
    --------
    >>> trial = Trial(date(2026, 11, 1), "bars after ASTM C326")
    >>> drying, firing = shrinkages([Bar(100, 95, 88), Bar(100, 94.8, 87.7)], trial)
    >>> round(drying.readings.mean, 3), round(firing.readings.mean, 3)
    (0.051, 0.074)
    """
    dried = [drying_shrinkage(bar) for bar in bars]
    fired = [share for bar in bars if (share := firing_shrinkage(bar)) is not None]
    stages = {"drying": dried} | ({"firing": fired} if fired else {})
    return tuple(_shrinkage(stage, values, trial) for stage, values in stages.items())


def _shrinkage(stage: str, values: Sequence[float], trial: Trial) -> Result:
    mean = summed_up(values).mean
    high = at_most(values)
    if high.value > SHRINKS[1]:
        right = f"look for a bar that went wrong, or take more: it could be {high.value:.0%}"
        raise BadInput(Fault(f"{stage} shrinkage", units.show(mean, "share"), right))
    limit = _limit(values, high, "share", trial)
    changes: Changes = {("shrinkage", stage): mean, ("shrinkage", f"{stage}_most"): limit}
    found = _result(f"{stage} shrinkage", values, limit, high, changes)
    used = f"moulds are made by the mean {stage} shrinkage, verdicts reckon with the most"
    return found._replace(notes=(*found.notes, used))


def bearing(
    which: str,
    borne: Sequence[Borne],
    trial: Trial,
    *,
    diameter: float,
    height: float,
    before: Limit | None = None,
) -> Result:
    """What loaded round wads bear, as one of the limits of a mix.

    Wads at heat under different loads, of which the lower ones did no harm and any higher ones
    did, are a series: its limit is by `readings.highest_harmless`.  All others are readings of
    the same, by `readings.at_least`.

    Parameters
    ----------
    which : str
        ``"at-heat"``, ``"cold"`` or ``"point"``.
    borne : sequence of Borne
        What each reading says.
    trial : Trial
        When and how.
    diameter, height : float
        Of the wads [mm]: squat ones are helped by friction, and others bear less.
    before : Limit or None
        What the mix is taken to bear so far: where that is assumed and more, it is told.

    Raises
    ------
    BadInput
        There are no readings, or there is no such limit.

    Examples
    --------
    >>> trial = Trial(date(2026, 11, 1), "wads under load")
    >>> found = bearing("cold", [Borne(400.0, 0.0, False)] * 4, trial, diameter=30, height=20)
    >>> round(found.limit.value, 3), round(found.readings.squat, 2)
    (100.0, 1.29)
    """
    if which not in MEASURABLE:
        raise UnknownName("limit", which, MEASURABLE)
    values = [one.pressure for one in borne]
    proofs = sum(one.proof for one in borne)
    if not values:
        raise BadInput(Fault("readings", "0", "give 1 or more"))
    series = _harmless(borne) if which == "at-heat" else []
    if series:
        values, low = series, highest_harmless(series, len({round(one.tested, 6) for one in borne}))
    else:
        low = at_least(values, proofs=proofs)
    if which != "at-heat" and proofs < len(borne):
        low = Judged(low.value * BROKEN.value, f"{low.rule}; of that {BROKEN.source}")
    squat = 1.0 if which == "point" else squat_factor(diameter, height)
    limit = _limit(values, low, "kPa", trial, squat=squat)
    names = {"at-heat": "pressure at top heat", "cold": "pressure while cold"}
    name = names.get(which, "pressure on a tip")
    changes: Changes = {("limits", MEASURABLE[which]): limit}
    found = _result(name, values, limit, low, changes)
    found = found._replace(notes=(*found.notes, *_less(name, limit, before, which, squat)))
    if which != "at-heat" or not proofs or (proofs < len(borne) and series):
        return found
    held = (
        f"{proofs} of {len(borne)} lost no more than {units.show(GIVES.value, 'share')} of their "
        "height and would have borne more: load them more to learn how much"
    )
    return found._replace(notes=(*found.notes, held))


def _harmless(borne: Sequence[Borne]) -> list[float]:
    """Of a series of loads the highest that did no harm [kPa], for each wad that bore it.

    Nothing where the loads are all the same, where one did no harm that is higher than another
    that did, and where all did.
    """
    held = [one.tested for one in borne if one.proof]
    gave = [one.tested for one in borne if not one.proof]
    if not held or max(held) > min(gave, default=math.inf) * (1.0 - _SAME):
        return []
    if not gave and min(held) == max(held):
        return []
    return [pressure for pressure in held if pressure == max(held)]


def _less(
    name: str, limit: Limit, before: Limit | None, which: str, squat: float
) -> tuple[str, ...]:
    """That the measured limit is lower than the assumed one."""
    if before is None or not before.assumed:
        return ()
    alike = before.value * (squat if which == "at-heat" else 1.0)
    if limit.value >= alike:
        return ()
    return (
        f"the {name} comes out lower than was assumed, {units.show(limit.value, 'kPa')} for "
        f"{units.show(alike, 'kPa')} of wads like those of the test: check what you set by that",
    )


def ingredient_density(mix: Mix, name: str, densities: Sequence[float], trial: Trial) -> Result:
    """Loose density of an ingredient; a batch reckons with the mean.

    Parameters
    ----------
    mix : Mix
        That it is in.
    name : str
        Of the ingredient.
    densities : sequence of float
        The readings [g/cm³].
    trial : Trial
        When and how.

    Raises
    ------
    UnknownName
        The mix has no such ingredient.
    BadInput
        There are no readings.

    Examples
    --------
    >>> from wadforms.setting.mixes import mix
    >>> trial = Trial(date(2026, 11, 1), "a cup")
    >>> found = ingredient_density(mix("open"), "kaolin", [0.55, 0.57], trial)
    >>> round(found.limit.value, 2)
    0.56
    """
    known = [ingredient.name for ingredient in mix.ingredients]
    if name not in known:
        raise UnknownName(f"ingredient of the mix {mix.name!r}", name, known)
    readings = summed_up(densities, trial.on)
    middle = Judged(readings.mean, "their mean, as it is weighed out by")
    limit = _limit(densities, middle, "g/cm3", trial)
    place = ("ingredients", name)
    changes: Changes = {
        (*place, "loose_density"): readings.mean,
        (*place, "assumed"): False,
        (*place, "readings"): readings,
    }
    return _result(f"loose density of {name}", densities, limit, middle, changes)


def sagging(indices: Sequence[float], trial: Trial) -> Result:
    """Pyroplastic index of a pot's clay.

    Parameters
    ----------
    indices : sequence of float
        The readings [1/mm].
    trial : Trial
        When and how.

    Raises
    ------
    BadInput
        There are no readings.

    Examples
    --------
    >>> trial = Trial(date(2026, 11, 1), "a bar on two supports")
    >>> f"{sagging([4e-7, 4.4e-7], trial).limit.value:.1e}"
    '5.5e-07'
    """
    if not indices:
        raise BadInput(Fault("readings", "0", "give 1 or more"))
    high = at_most(indices)
    limit = _limit(indices, high, "/mm", trial)
    changes: Changes = {
        ("summary",): "how much the clay of a pot sags in firing",
        (INDEX_KEY,): limit,
    }
    return _result("pyroplastic index", indices, limit, high, changes)


def _limit(
    values: Sequence[float], judged: Judged, unit: str, trial: Trial, *, squat: float = 1.0
) -> Limit:
    readings = summed_up(values, trial.on, squat=squat)
    words = [readings.words(unit), judged.rule, trial.how, trial.note]
    source = "; ".join(word for word in words if word)
    return Limit(judged.value, unit, source, assumed=False, readings=readings)


def _result(
    name: str, values: Sequence[float], limit: Limit, judged: Judged, changes: Changes
) -> Result:
    notes = []
    readings = summed_up(values)
    if readings.spread and readings.spread > UNLIKE * readings.mean:
        notes.append(
            f"the readings of the {name} lie far apart, "
            f"{shown(min(values), limit.unit)} to {shown(max(values), limit.unit)}: look for one "
            "that went wrong, or take more"
        )
    elif readings.n > 1 and not readings.spread:
        notes.append(f"all readings of the {name} are alike: they tell no spread; read more finely")
    return Result(name, limit.unit, tuple(values), limit, judged.rule, changes, tuple(notes))
