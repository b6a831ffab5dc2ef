"""What is tried under a pot: lots of like wads, lightest first, each judged on its best circle."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from wadforms import units
from wadforms.errors import BadInput, NotMakeable
from wadforms.families.base import SOLID, WET, Piece
from wadforms.setting.arrangement import Arrangement
from wadforms.setting.assessment import Assessment
from wadforms.setting.checks import check
from wadforms.setting.evenly import is_even, part_used
from wadforms.setting.feet import PlaneFoot
from wadforms.setting.layouts import Layout, layouts, spots_of
from wadforms.setting.limits import TIGHT, Limit, Place
from wadforms.setting.load import KPA, weight
from wadforms.setting.mixes import Mix
from wadforms.setting.pot import Pot, Setting
from wadforms.setting.quantities import quantities
from wadforms.setting.strength import heat_limit

MOST_RIGID: Final = 60
"""How many dry or solid wads are tried under one pot: more are never level (common practice)."""

_NEAREST_TRIED = 40  # how many hopeless arrangements are worked out to say what stands in the way


_SAME = 1e-6  # parts of a limit that differ by no more are the same

_KEPT = 1024  # pieces of which the mass is kept


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
        return f"{set_as(self.count, self.name, self.setting.body)}, {self.words}"


def set_as(count: int, name: str, body: str) -> str:
    """So many wads of a shape, set in one way, in words.

    Examples
    --------
    >>> set_as(3, "disk-16", "solid")
    '3 × disk-16, set solid, biscuit-fired before it is set'
    """
    fired = ", biscuit-fired before it is set" if body == SOLID else ""
    return f"{count} × {name}, set {body}{fired}"


class Lot(NamedTuple):
    """So many wads of one piece, set in one way, on each of the circles that are tried.

    Parameters
    ----------
    mass : float
        Of the wet mix that they take [g].
    number : int
        How many.
    name, body : str
        Of the shape, and how it is set.
    piece : Piece
        One of them.
    layouts : tuple of Layout
        Where they may go.
    """

    mass: float
    number: int
    name: str
    body: str
    piece: Piece
    layouts: tuple[Layout, ...]

    @property
    def rank(self) -> tuple[float, int, str, str]:
        """What decides the order: mass, then how many, then names."""
        return self.mass, self.number, self.name, self.body


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """What wads meet: where in the kiln, how stiff the wet mix is [kPa], and the mix by body."""

    place: Place
    shear: Limit
    mixes: Mapping[str, Mix]


class Judged(NamedTuple):
    """A lot on the circle that has most in hand, with the part of its limits that it uses."""

    used: float
    lot: Lot
    layout: Layout

    @property
    def is_sound(self) -> bool:
        """Whether it is sound by every limit that could be checked."""
        return self.used <= TIGHT

    @property
    def serves(self) -> bool:
        """Whether it keeps every limit."""
        return self.used <= 1.0


def lots(
    pot: Pot, candidate: Candidate, mixes: Mapping[str, Mix], most: int | None = None
) -> list[Lot]:
    """Every lot of a shape that is worth trying under a pot, `most` wads at most, unsorted.

    Parameters
    ----------
    pot : Pot
        What stands on the wads.
    candidate : Candidate
        The shape.
    mixes : mapping of str to Mix
        For each body that may be chosen, its mix.
    most : int or None
        How many wads may be used.
    """
    bodies = [body for body in mixes if body in candidate.bodies]
    if not bodies or not candidate.piece.faces:
        return []
    spread: dict[int, list[Layout]] = {}
    for layout in layouts(pot, candidate.piece, most):
        spread.setdefault(len(layout.spots), []).append(layout)
    found = []
    for body in bodies:
        each = _each(candidate.piece, mixes[body], body)
        found += [
            Lot(each * count, count, candidate.name, body, candidate.piece, tuple(circles))
            for count, circles in spread.items()
        ]
    return found


_masses: dict[tuple[int, int, str], tuple[Piece, Mix, float]] = {}


def _each(piece: Piece, mix: Mix, body: str) -> float:
    """Wet mix of one piece [g], kept by identity: comparing pieces would take longer."""
    key = (id(piece), id(mix), body)
    found = _masses.get(key)
    if found is None or found[0] is not piece or found[1] is not mix:
        if len(_masses) >= _KEPT:
            _masses.clear()
        found = _masses[key] = piece, mix, quantities(piece, mix, body).wet_mass
    return found[2]


def hopeless(lot: Lot, pot: Pot, conditions: Conditions) -> bool:
    """Whether the whole tops of its wads could not carry the load: no need to look closer."""
    piece, mix = lot.piece, conditions.mixes[lot.body]
    if piece.tips or not isinstance(pot.foot, PlaneFoot):
        return False
    area = piece.top_area * lot.number * mix.fired_factor(lot.body) ** 2
    force = weight(pot.mass * pot.share)
    if force / area * KPA > heat_limit(piece, mix, conditions.place).value:
        return True
    if lot.body != WET and lot.number > MOST_RIGID:
        return True
    # Of any three rigid wads that carry everything, one carries a third or more.
    rigid = lot.body != WET and lot.number >= 3
    return rigid and force / 3 / piece.top_area * KPA > mix.cold.value


def judged(
    lot: Lot, pots: Sequence[Pot], conditions: Conditions, *, closely: bool = False
) -> tuple[Judged | None, int]:
    """A lot on its best circle, and on how many of its circles it can be laid out.

    Parameters
    ----------
    lot : Lot
        The wads.
    pots : sequence of Pot
        All that shall stand on such wads, arranged alike: the worst of them counts.
    conditions : Conditions
        What they meet.
    closely : bool
        Whether each is checked in full, not by closed forms.
    """
    best: Judged | None = None
    laid = 0
    for layout in lot.layouts:
        uses = [_used(lot, layout, pot, conditions, closely=closely) for pot in pots]
        if any(used is None for used in uses):
            continue
        laid += 1
        used = max(used for used in uses if used is not None)
        # Circles that are as good up to the last digits count alike: the first, where the foot
        # bears best, is taken.
        if best is None or used < best.used - _SAME:
            best = Judged(used, lot, layout)
    return best, laid


def chosen(lot: Lot, layout: Layout, pot: Pot, conditions: Conditions) -> Choice | None:
    """The arrangement, checked; None where it cannot be laid out."""
    try:
        setting = Setting(
            pot=pot,
            arrangement=Arrangement(lot.piece, spots_of(layout)),
            body=lot.body,
            mix=conditions.mixes[lot.body],
            place=conditions.place,
            shear=conditions.shear,
        )
        assessment = check(setting)
    except (BadInput, NotMakeable):
        return None
    return Choice(lot.name, setting, layout.words, layout.radius, lot.mass, assessment)


def nearest(
    failed: Sequence[Judged], without_hope: Sequence[Lot], pot: Pot, conditions: Conditions
) -> Choice | None:
    """Where nothing serves, what comes nearest.

    Parameters
    ----------
    failed : sequence of Judged
        What is unsafe.
    without_hope : sequence of Lot
        What was not looked at more closely, lightest first; the heaviest of them are.
    pot : Pot
        What stands on the wads.
    conditions : Conditions
        What they meet.
    """
    looked_at = list(failed)
    for lot in without_hope[-_NEAREST_TRIED:]:
        best, _ = judged(lot, (pot,), conditions)
        looked_at += [best] if best else []
    for one in sorted(looked_at, key=lambda one: one.used):
        if choice := chosen(one.lot, one.layout, pot, conditions):
            return choice
    return None


def nothing_serves(worst: Choice | None, tried: int) -> tuple[str, ...]:
    """Why nothing serves, in sentences: what comes nearest of so many arrangements."""
    if worst is None:
        return ("nothing serves: no shape that may be used can be set under this foot",)
    stands = worst.assessment.governing
    said = (
        f"nothing serves: of {tried} arrangements {worst.sentence} comes "
        f"nearest; what stands in the way: {stands.reason}"
    )
    return (said, stands.mend) if stands.mend else (said,)


def what_decides(choice: Choice) -> list[str]:
    """What was not checked of a choice, and what decides, in sentences."""
    said = [f"not checked: {missing}" for missing in choice.assessment.unchecked]
    return [*said, f"what decides: {choice.assessment.governing.reason}"]


def wet_mix(mass: float) -> str:
    """A mass of wet mix [g], in words.

    Examples
    --------
    >>> wet_mix(120.0)
    '120 g of wet mix'
    """
    return f"{units.show(mass, 'g')} of wet mix"


def _used(
    lot: Lot, layout: Layout, pot: Pot, conditions: Conditions, *, closely: bool
) -> float | None:
    """Part of its limits that an arrangement uses; None where it cannot be laid out."""
    if not closely and is_even(pot, lot.piece, layout):
        mix, place, shear = conditions.mixes[lot.body], conditions.place, conditions.shear
        return part_used(lot.piece, layout, pot, lot.body, mix, place, shear)
    choice = chosen(lot, layout, pot, conditions)
    return None if choice is None else choice.assessment.governing.used
