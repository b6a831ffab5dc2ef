"""Chooses wads for every touch of a firing: few shapes, sound arrangements, little mix."""

from __future__ import annotations

import contextlib
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final, TypeAlias

from wadforms.errors import BadInput, Fault
from wadforms.families.base import SOLID
from wadforms.firing.candidates import cone_seat
from wadforms.firing.options import (
    NO_OFFER,
    WIDEST,
    Offer,
    Options,
    mould_of,
    options,
    preferred,
)
from wadforms.firing.plan import Chosen, Plan, Wads
from wadforms.firing.programme import Mould, Solved, TimeRanOutError, Way, fewest, within
from wadforms.firing.reasons import (
    BARE,
    NOT_IN_TIME,
    ONE_SEAT,
    one_fewer,
    one_more,
    why_no_seat,
    why_this,
)
from wadforms.firing.rows import Ware
from wadforms.firing.touches import LID, ON_POST, SEAT, UNDER_POST, Audit, Touch, reach
from wadforms.setting.feet import Foot, PlaneFoot
from wadforms.setting.limits import TIGHT, Limit
from wadforms.setting.mixes import Mix
from wadforms.setting.pot import Pot
from wadforms.setting.quantities import quantities
from wadforms.setting.sizing import bodies_for
from wadforms.setting.tries import Candidate, Choice, Conditions, Judged, chosen, nothing_serves

Progress: TypeAlias = Callable[[int, int], None]

_TOLD: Final = 100  # how often progress is told at most
_Choices: TypeAlias = Mapping[Pot, Choice]


@dataclass(slots=True, kw_only=True)
class _Need:
    """Touches that ask the same, so that what goes under them is worked out once.

    Parameters
    ----------
    pots : tuple of Pot
        What stands on such wads: the levels of a stack, or one pot.
    candidates : sequence of Candidate
        Shapes that may be used.
    conditions : Conditions
        Place, stiffness, and the mixes of the bodies that may be used.
    touches : list of int
        Their numbers in the audit.
    room : Foot or None
        What the wads stand on, where that ends near them.
    widest : float
        How wide wads may be where there are several [mm].
    last : mapping of str to Mix
        Bodies, with their mixes, that are tried where none of the others serves.
    count : int
        How many touches in all.
    offer : Offer
        What may go under them.
    narrow, wide : tuple of Judged
        What they are to be chosen from, without and with those that are tight though another is
        sound.
    closely : bool
        Whether all of it was checked in full.
    taken : Judged or None
        What was chosen.
    """

    pots: tuple[Pot, ...]
    candidates: Sequence[Candidate]
    conditions: Conditions
    touches: list[int]
    room: Foot | None = None
    widest: float = math.inf
    last: Mapping[str, Mix] = field(default_factory=dict)
    count: int = 0
    offer: Offer = NO_OFFER
    narrow: Options = ()
    wide: Options = ()
    closely: bool = False
    taken: Judged | None = None

    def look(self) -> None:
        """Find what may go under them."""
        self.offer = self._offer()
        if self.last and not self.offer.options:
            mixes = {**self.conditions.mixes, **self.last}
            self.conditions = replace(self.conditions, mixes=mixes)
            self.last = {}
            self.offer = self._offer()
        self.narrow, self.wide = preferred(self.offer, self.conditions.place)

    def _offer(self) -> Offer:
        return options(
            self.pots,
            self.candidates,
            self.conditions,
            room=self.room,
            widest=self.widest,
            closely=self.closely,
        )

    def ways(self, found: Options) -> list[Way]:
        """The options as the programme takes them."""
        sound = self.offer.is_sound
        return [
            Way(
                mould_of(option),
                option.lot.number * self.count,
                option.lot.mass * self.count,
                self.count if sound and not option.is_sound else 0,
            )
            for option in found
        ]


def choose(
    audit: Audit,
    for_feet: Sequence[Candidate],
    for_lids: Sequence[Candidate],
    *,
    mixes: Mapping[str, Mix],
    shear: Limit,
    stock: Mapping[Mould, int] | tuple[()] = (),
    at_most: int | None = None,
    seconds: float = 20.0,
    progress: Progress | None = None,
) -> Plan:
    """Choose wads for every touch: sound ones, of the fewest shapes, of the least mix.

    Parameters
    ----------
    audit : Audit
        The touches.
    for_feet, for_lids : sequence of Candidate
        Shapes to choose from where a row names none.
    mixes : mapping of str to Mix
        For each body, what it is made of.
    shear : Limit
        Shear strength of the wet mix [kPa].
    stock : mapping of (str, str) to int
        Pieces that lie in the boxes, by shape and body; they are used first.
    at_most : int or None
        Of how many shapes pieces may be made.
    seconds : float
        How long the choice between shapes may take [s].
    progress : callable, optional
        Told how many of how many touches are worked out, now and then.

    Raises
    ------
    BadInput
        So few shapes cannot serve every touch.

    Examples
    --------
    >>> from wadforms.firing.candidates import candidates
    >>> from wadforms.firing.rows import Ware
    >>> from wadforms.firing.touches import FOOT
    >>> from wadforms.setting.feet import FlatFoot
    >>> from wadforms.setting.limits import PLACES, SHEAR
    >>> from wadforms.setting.mixes import mix
    >>> foot = FlatFoot(80.0)
    >>> row = Ware(row=2, name="mug", count=12, place=PLACES["sheltered"], mass=450.0, foot=foot)
    >>> mug = Pot(mass=450.0, foot=foot, height=95.0)
    >>> touch = Touch(row=row, kind=FOOT, upper="mug", lower="shelf", count=12, pot=mug)
    >>> disks = candidates(["disk-16", "disk-20"])
    >>> firm = SHEAR["firm"]
    >>> plan = choose(Audit(touches=(touch,)), disks, disks, mixes={"wet": mix("open")}, shear=firm)
    >>> [(c.name, c.wads.shape, c.wads.number, c.verdict) for c in plan.chosen]
    [('mug on shelf', 'disk-16', 3, 'sound')]
    """
    needs = _needs(audit, for_feet, for_lids, mixes, shear)
    for number, need in enumerate(needs):
        if progress and number % max(1, len(needs) // _TOLD) == 0:
            progress(number, len(needs))
        need.look()
    if progress:
        progress(len(needs), len(needs))
    seats, found = _seats(audit, mixes)
    boxes: dict[Mould, int] = dict(stock)
    while True:
        served = [need for need in needs if need.narrow]
        solved, laid = _solve(served, seats, boxes, at_most, seconds / 2)
        doubtful = [need for need, choices in zip(served, laid, strict=True) if choices is None]
        for need in doubtful:
            need.closely = True
            need.look()
        if not doubtful:
            break
    for need in needs:
        if not need.narrow:
            why = nothing_serves(need.offer.nearest, need.offer.tried)
            found |= {
                number: Chosen(
                    touch=audit.touches[number], wads=None, nearest=need.offer.nearest, why=why
                )
                for number in need.touches
            }
    for need, choices in zip(served, laid, strict=True):
        for number in need.touches:
            found[number] = _chosen(audit.touches[number], need, choices or {})
    for number, touch in enumerate(audit.touches):
        if touch.bare:
            found[number] = Chosen(touch=touch, wads=None, why=(BARE,))
    in_order = tuple(found[number] for number in range(len(audit.touches)))
    wide = [*(need.ways(need.wide) for need in served), *seats]
    most, share = len(solved.made), seconds / 4
    fewer = more = NOT_IN_TIME
    with contextlib.suppress(TimeRanOutError):
        less = within(wide, boxes, most=most - 1, seconds=share) if most > 1 else None
        fewer = one_fewer(solved, less)
    with contextlib.suppress(TimeRanOutError):
        besides = within(wide, boxes, most=most + 1, seconds=share) if most else None
        more = one_more(solved, besides)
    return Plan(
        chosen=in_order,
        from_stock=solved.from_stock,
        gap=solved.gap,
        one_fewer=fewer,
        one_more=more,
        problems=(*audit.problems, *(c.problem for c in in_order if c.problem)),
    )


def _needs(
    audit: Audit,
    for_feet: Sequence[Candidate],
    for_lids: Sequence[Candidate],
    mixes: Mapping[str, Mix],
    shear: Limit,
) -> list[_Need]:
    """What is asked, each once: touches in line make one need, and like needs are one."""
    in_line: dict[int, list[int]] = {}
    posts: dict[tuple[object, ...], int] = {}
    for number, touch in enumerate(audit.touches):
        if touch.pot is None or touch.bare:
            continue
        below = number
        while (under := audit.touches[below].aligned_with) is not None:
            below = under
        if touch.kind in (ON_POST, UNDER_POST):
            below = posts.setdefault(_post(touch), number)
        in_line.setdefault(below, []).append(number)
    known: dict[tuple[object, ...], _Need] = {}
    for below, members in in_line.items():
        first = audit.touches[below]
        row, is_lid = first.row, first.kind == LID
        # A shape or a body that the row insists on is for what it stands on, not for its lid.
        shape, wanted = (None, None) if is_lid else (row.shape, row.body)
        members.sort(key=lambda number: number != below)
        pots = [pot for number in members if (pot := audit.touches[number].pot) is not None]
        rooms = [room for number in members if (room := audit.touches[number].room) is not None]
        room = min(rooms, key=reach, default=None)
        asked = (row.place.name, is_lid, shape and shape.name, wanted)
        key = (tuple(dict.fromkeys(pots)), room, *asked)
        if key not in known:
            bodies = bodies_for(row.place, wanted)
            if wanted is None and shape is not None:
                # A shape that must be used is not refused for the bodies that it cannot have.
                bodies = tuple(b for b in bodies if b in shape.bodies) or shape.bodies
            known[key] = _Need(
                pots=tuple(dict.fromkeys(pots)),
                candidates=(shape,) if shape else for_lids if is_lid else for_feet,
                conditions=Conditions(
                    place=row.place,
                    shear=shear,
                    mixes={body: mixes[body] for body in bodies if body in mixes},
                ),
                touches=[],
                room=room,
                widest=_widest(first),
                last={SOLID: mixes[SOLID]} if not (shape or wanted) and SOLID in mixes else {},
            )
        known[key].touches += members
        known[key].count += sum(audit.touches[number].count for number in members)
    return list(known.values())


def _post(touch: Touch) -> tuple[object, ...]:
    """What posts of one kind have in common, top and bottom: the crew sets all of them alike."""
    row = touch.row
    name = row.stands_on if touch.kind == ON_POST else row.name
    shape = row.shape and row.shape.name
    return name, touch.pot and touch.pot.foot, row.place.name, row.body, shape


def _widest(touch: Touch) -> float:
    """How wide wads under a pot may be where there are several [mm]."""
    foot = touch.pot and touch.pot.foot
    if not (isinstance(touch.row, Ware) and isinstance(foot, PlaneFoot)):
        return math.inf
    return WIDEST * 2.0 * foot.reach


def _solve(
    needs: Sequence[_Need],
    seats: Sequence[list[Way]],
    boxes: Mapping[Mould, int],
    at_most: int | None,
    seconds: float,
) -> tuple[Solved, list[_Choices | None]]:
    """What is taken for each need, checked in full; None where that finds less in hand than told.

    Raises
    ------
    BadInput
        So few shapes cannot serve every touch.
    """
    narrow = [*(need.ways(need.narrow) for need in needs), *seats]
    solved: Solved | None = fewest(narrow, boxes, seconds=seconds)
    assert solved is not None  # noqa: S101 - narrows the type
    taken = [need.narrow for need in needs]
    if at_most is not None and len(solved.made) > at_most:
        wide = [*(need.ways(need.wide) for need in needs), *seats]
        least = len(fewest(wide, boxes, seconds=seconds).made)
        try:
            solved = within(wide, boxes, most=at_most, seconds=seconds)
        except TimeRanOutError:
            right = "give more, or allow more time: no choice was found in it"
            raise BadInput(Fault("at most", f"{at_most} shapes", right)) from None
        if solved is None:
            right = f"give {least} or more, or leave out rows that ask for a shape of their own"
            raise BadInput(Fault("at most", f"{at_most} shapes", right))
        taken = [need.wide for need in needs]
    laid = []
    for need, found, way in zip(needs, taken, solved.ways[: len(needs)], strict=True):
        need.taken = found[way]
        laid.append(_checked(need))
    return solved, laid


def _checked(need: _Need) -> _Choices | None:
    """What is taken, in full, under each of the need's pots; None where it is worse than told."""
    option, found = need.taken, {}
    assert option is not None  # noqa: S101 - narrows the type
    for pot in need.pots:
        choice = chosen(option.lot, option.layout, pot, need.conditions)
        if choice is None:
            return None
        used = choice.assessment.governing.used
        if not used <= (TIGHT if option.is_sound else 1.0):
            return None
        found[pot] = choice
    return found


def _chosen(touch: Touch, need: _Need, choices: _Choices) -> Chosen:
    """The touch with its wads, and why these."""
    option = need.taken
    assert option is not None  # noqa: S101 - narrows the type
    assert touch.pot is not None  # noqa: S101 - narrows the type
    choice = choices[touch.pot]
    lot = option.lot
    return Chosen(
        touch=touch,
        wads=Wads(lot.name, lot.body, lot.piece, need.conditions.mixes[lot.body], lot.number),
        choice=choice,
        why=why_this(touch, choice, option, need.narrow, sound_exists=need.offer.is_sound),
    )


def _seats(audit: Audit, mixes: Mapping[str, Mix]) -> tuple[list[list[Way]], dict[int, Chosen]]:
    """One seat under each set of cones: what it takes, and the touches by their number."""
    ways: list[list[Way]] = []
    found: dict[int, Chosen] = {}
    usual: Candidate | None = None
    for number, touch in enumerate(audit.touches):
        if touch.kind != SEAT or touch.bare:
            continue
        usual = usual or cone_seat()
        shape = touch.row.shape or usual
        wanted = [touch.row.body] if touch.row.body else list(mixes)
        body = next((b for b in shape.bodies if b in wanted and b in mixes), None)
        if not shape.piece.body.pockets or body is None:
            found[number] = Chosen(touch=touch, wads=None, why=why_no_seat(shape, touch.row.body))
            continue
        wads = Wads(shape.name, body, shape.piece, mixes[body], 1)
        each = quantities(shape.piece, mixes[body], body).wet_mass
        ways.append([Way((shape.name, body), touch.count, each * touch.count)])
        found[number] = Chosen(touch=touch, wads=wads, why=(ONE_SEAT,))
    return ways, found
