"""Chooses wads for one pot: the lightest arrangement that meets every limit, and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from wadforms import units
from wadforms.errors import BadInput, NotMakeable
from wadforms.families.base import DRY, SOLID, WET, Piece
from wadforms.setting.arrangement import Arrangement
from wadforms.setting.assessment import SOUND, UNSAFE, Assessment
from wadforms.setting.checks import check
from wadforms.setting.feet import PlaneFoot
from wadforms.setting.layouts import Layout, layouts
from wadforms.setting.limits import Limit, Place
from wadforms.setting.load import KPA, weight
from wadforms.setting.mixes import Mix
from wadforms.setting.pot import Pot, Setting
from wadforms.setting.quantities import quantities
from wadforms.setting.strength import heat_limit

MOST_RIGID: Final = 60
"""How many dry or solid wads are tried under one pot: more are never level (common practice)."""

_NEAREST_TRIED = 40  # how many hopeless arrangements are worked out to say what stands in the way


@dataclass(frozen=True, slots=True)
class Candidate:
    """A shape that may be chosen: its name, its piece, and the bodies that it can have."""

    name: str
    piece: Piece
    bodies: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """One arrangement with its assessment.

    Parameters
    ----------
    name : str
        Of the shape.
    setting : Setting
        Pot and wads.
    words : str
        Where the wads go.
    radius : float
        Of the outermost circle [mm].
    mass : float
        Of the wet mix that all its wads take [g].
    assessment : Assessment
        What the check says.
    """

    name: str
    setting: Setting
    words: str
    radius: float
    mass: float
    assessment: Assessment

    @property
    def count(self) -> int:
        """How many wads."""
        return len(self.setting.arrangement.spots)

    @property
    def sentence(self) -> str:
        """What to do, in words."""
        fired = ", biscuit-fired before it is set" if self.setting.body == SOLID else ""
        return f"{self.count} × {self.name}, set {self.setting.body}{fired}, {self.words}"


@dataclass(frozen=True, slots=True)
class Sizing:
    """The answer: what to use, why, and what comes next.

    Parameters
    ----------
    best : Choice or None
        None where nothing serves.
    runner_up : Choice or None
        The next lightest that serves, of any other shape.
    lighter : Choice or None
        A lighter one that is passed over because it is tight only.
    refused : Choice or None
        The heaviest lighter one that is unsafe on every circle; where nothing serves, the one
        that came nearest.
    tried : int
        How many arrangements were looked at.
    """

    best: Choice | None
    runner_up: Choice | None
    lighter: Choice | None
    refused: Choice | None
    tried: int

    @property
    def why(self) -> tuple[str, ...]:
        """The reasons, in sentences."""
        said = []
        if self.best is None:
            if self.refused is None:
                return ("nothing serves: no shape that may be used can be set under this foot",)
            worst = self.refused.assessment.governing
            said.append(
                f"nothing serves: of {self.tried} arrangements {self.refused.sentence} comes "
                f"nearest; what stands in the way: {worst.reason}"
            )
            if worst.mend:
                said.append(worst.mend)
            return tuple(said)
        governing = self.best.assessment.governing
        quality = (
            "is sound by every limit"
            if governing.verdict == SOUND
            else "keeps every limit; it is tight, and none is sound"
        )
        said.append(
            f"the lightest of {self.tried} arrangements that {quality}: "
            f"{units.show(self.best.mass, 'g')} of wet mix"
        )
        said += [f"not checked: {missing}" for missing in self.best.assessment.unchecked]
        said.append(f"what decides: {governing.reason}")
        for passed, why in ((self.lighter, "tight only"), (self.refused, "unsafe")):
            if passed is not None:
                reason = passed.assessment.governing.reason
                said.append(f"lighter, but {why}: {passed.sentence}: {reason}")
        return tuple(said)


@dataclass(frozen=True, slots=True)
class _Try:
    mass: float
    name: str
    piece: Piece
    body: str
    layout: Layout


def size(
    pot: Pot,
    candidates: Sequence[Candidate],
    *,
    place: Place,
    shear: Limit,
    mixes: Mapping[str, Mix],
    most: int | None = None,
) -> Sizing:
    """Find the lightest arrangement of the candidates that meets all limits.

    Sound ones come before tight ones; equal masses are decided by fewer wads.

    Parameters
    ----------
    pot : Pot
        What stands on the wads.
    candidates : sequence of Candidate
        Shapes to choose from.
    place : Place
        Where in the kiln.
    shear : Limit
        Shear strength of the wet mix [kPa].
    mixes : mapping
        For each body that may be chosen, its mix.
    most : int or None
        How many wads may be used.

    Returns
    -------
    Sizing
        With the reasons in words.

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> from wadforms.setting.feet import FlatFoot
    >>> from wadforms.setting.limits import PLACES, SHEAR
    >>> from wadforms.setting.mixes import mix
    >>> disks = [
    ...     Candidate(f"disk-{d}", Disk(diameter=d, height=10).piece(), ("wet",))
    ...     for d in (16, 20, 25, 31.5, 40)
    ... ]
    >>> mug = Pot(mass=450.0, foot=FlatFoot(80.0), height=95.0)
    >>> found = size(
    ...     mug, disks, place=PLACES["sheltered"], shear=SHEAR["firm"], mixes={"wet": mix("open")}
    ... )
    >>> found.best.name, found.best.count, found.best.assessment.verdict
    ('disk-16', 3, 'sound')
    """
    tries = _tries(pot, candidates, mixes, most)
    sound: list[Choice] = []
    tight: list[Choice] = []
    failed: list[Choice] = []
    hopeless: list[_Try] = []
    tried = len(tries)
    for _, circles in groupby(tries, key=_weight_and_kind):
        laid: list[Choice] = []
        for one in circles:
            if _hopeless(one, pot, place, mixes[one.body]):
                hopeless.append(one)
            elif choice := _choice(one, pot, place, shear, mixes[one.body]):
                laid.append(choice)
            else:
                tried -= 1
        if not laid:
            continue
        # Of several circles for the same wads, the one that has most in hand.
        best = min(laid, key=lambda choice: choice.assessment.governing.used)
        verdict = best.assessment.governing.verdict  # of what could be checked
        (failed if verdict == UNSAFE else sound if verdict == SOUND else tight).append(best)
        if len({choice.name for choice in sound}) >= 2:
            break
    serving = sound or tight
    if not serving:
        for one in hopeless[-_NEAREST_TRIED:]:
            if choice := _choice(one, pot, place, shear, mixes[one.body]):
                failed.append(choice)
        nearest = min(failed, key=lambda c: c.assessment.governing.used, default=None)
        return Sizing(None, None, None, nearest, tried)
    best = serving[0]
    runner_up = next((choice for choice in serving if choice.name != best.name), None)
    return Sizing(
        best,
        runner_up,
        _last_lighter(tight, best) if sound else None,
        _last_lighter(failed, best),
        tried,
    )


def _last_lighter(choices: Sequence[Choice], best: Choice) -> Choice | None:
    lighter = [choice for choice in choices if choice.mass < best.mass]
    return lighter[-1] if lighter else None


def bodies_for(place: Place, wanted: str | None) -> tuple[str, ...]:
    """Bodies to try at a place, unless the user wants one.

    Solid clay where ash is heaviest, wet wads where a knock must be held, else wet or dry
    (common practice, no source).

    Examples
    --------
    >>> from wadforms.setting.limits import PLACES
    >>> bodies_for(PLACES["stoking"], None), bodies_for(PLACES["firebox"], None)
    (('wet',), ('solid', 'wet'))
    """
    if wanted:
        return (wanted,)
    return {"firebox": (SOLID, WET), "stoking": (WET,)}.get(place.name, (WET, DRY))


def _tries(
    pot: Pot, candidates: Sequence[Candidate], mixes: Mapping[str, Mix], most: int | None
) -> list[_Try]:
    """Everything that is looked at, lightest first."""
    tries = []
    for candidate in candidates:
        bodies = [body for body in mixes if body in candidate.bodies]
        if not bodies or not candidate.piece.faces:
            continue
        spread = layouts(pot, candidate.piece, most)
        for body in bodies:
            each = quantities(candidate.piece, mixes[body], body).wet_mass
            tries += [
                _Try(each * len(layout.spots), candidate.name, candidate.piece, body, layout)
                for layout in spread
            ]
    return sorted(tries, key=_weight_and_kind)


def _weight_and_kind(one: _Try) -> tuple[float, int, str, str]:
    """What decides the order; tries that agree in it differ in their circle only."""
    return one.mass, len(one.layout.spots), one.name, one.body


def _hopeless(one: _Try, pot: Pot, place: Place, mix: Mix) -> bool:
    """Whether the whole tops of its wads could not carry the load: no need to look closer."""
    if one.piece.tips or not isinstance(pot.foot, PlaneFoot):
        return False
    area = one.piece.top_area * len(one.layout.spots) * mix.fired_factor(one.body) ** 2
    force = weight(pot.mass * pot.share)
    if force / area * KPA > heat_limit(one.piece, mix, place).value:
        return True
    if one.body != WET and len(one.layout.spots) > MOST_RIGID:
        return True
    # Of any three rigid wads that carry everything, one carries a third or more.
    rigid = one.body != WET and len(one.layout.spots) >= 3
    return rigid and force / 3 / one.piece.top_area * KPA > mix.cold.value


def _choice(one: _Try, pot: Pot, place: Place, shear: Limit, mix: Mix) -> Choice | None:
    """The arrangement, checked; None where it cannot be laid out."""
    try:
        setting = Setting(
            pot=pot,
            arrangement=Arrangement(one.piece, one.layout.spots),
            body=one.body,
            mix=mix,
            place=place,
            shear=shear,
        )
        assessment = check(setting)
    except (BadInput, NotMakeable):
        return None
    return Choice(one.name, setting, one.layout.words, one.layout.radius, one.mass, assessment)
