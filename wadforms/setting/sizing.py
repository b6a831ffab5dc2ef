"""Chooses wads for one pot: the lightest arrangement that meets every limit, and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from wadforms.families.base import DRY, SOLID, WET
from wadforms.setting.assessment import SOUND, UNSAFE
from wadforms.setting.limits import Limit, Place
from wadforms.setting.mixes import Mix
from wadforms.setting.pot import Pot
from wadforms.setting.tries import (
    Candidate,
    Choice,
    Conditions,
    Judged,
    Lot,
    chosen,
    hopeless,
    judged,
    lots,
    nearest,
    nothing_serves,
    wet_mix,
    what_decides,
)

__all__ = ["Candidate", "Choice", "Sizing", "bodies_for", "size"]


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
        if self.best is None:
            return nothing_serves(self.refused, self.tried)
        governing = self.best.assessment.governing
        quality = (
            "is sound by every limit"
            if governing.verdict == SOUND
            else "keeps every limit; it is tight, and none is sound"
        )
        said = [
            f"the lightest of {self.tried} arrangements that {quality}: {wet_mix(self.best.mass)}",
            *what_decides(self.best),
        ]
        for passed, why in ((self.lighter, "tight only"), (self.refused, "unsafe")):
            if passed is not None:
                reason = passed.assessment.governing.reason
                said.append(f"lighter, but {why}: {passed.sentence}: {reason}")
        return tuple(said)


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
    conditions = Conditions(place=place, shear=shear, mixes=mixes)
    every = [lot for one in candidates for lot in lots(pot, one, mixes, most)]
    every.sort(key=lambda lot: lot.rank)
    tried = sum(len(lot.layouts) for lot in every)
    sound: list[Choice] = []
    tight: list[Choice] = []
    failed: list[Judged] = []
    no_hope: list[Lot] = []
    for lot in every:
        if hopeless(lot, pot, conditions):
            no_hope.append(lot)
            continue
        # Of several circles for the same wads, the one that has most in hand.
        best, laid = judged(lot, (pot,), conditions)
        tried -= len(lot.layouts) - laid
        if best is None:
            continue
        choice = chosen(lot, best.layout, pot, conditions) if best.serves else None
        # Of what could be checked.
        verdict = choice.assessment.governing.verdict if choice else UNSAFE
        if choice is None or verdict == UNSAFE:
            failed.append(best)
        else:
            (sound if verdict == SOUND else tight).append(choice)
        if len({choice.name for choice in sound}) >= 2:
            break
    serving = sound or tight
    if not serving:
        return Sizing(None, None, None, nearest(failed, no_hope, pot, conditions), tried)
    first = serving[0]
    runner_up = next((choice for choice in serving if choice.name != first.name), None)
    passed = [one for one in failed if one.lot.mass < first.mass]
    refused = chosen(passed[-1].lot, passed[-1].layout, pot, conditions) if passed else None
    lighter = _last_lighter(tight, first) if sound else None
    return Sizing(first, runner_up, lighter, refused, tried)


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
