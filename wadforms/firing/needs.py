"""What is asked of the wads of a firing, each once: touches that ask the same share an answer."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from wadforms.families.base import SOLID
from wadforms.firing.options import (
    NO_OFFER,
    WIDEST,
    Offer,
    Options,
    mould_of,
    options,
    preferred,
)
from wadforms.firing.programme import Way
from wadforms.firing.rows import Ware
from wadforms.firing.touches import LID, ON_POST, UNDER_POST, Audit, Touch, reach
from wadforms.setting.feet import Foot, PlaneFoot
from wadforms.setting.limits import Limit
from wadforms.setting.mixes import Mix
from wadforms.setting.pot import Pot
from wadforms.setting.sizing import bodies_for
from wadforms.setting.tries import Candidate, Conditions, Judged


@dataclass(slots=True, kw_only=True)
class Need:
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


def all_needs(
    audit: Audit,
    for_feet: Sequence[Candidate],
    for_lids: Sequence[Candidate],
    mixes: Mapping[str, Mix],
    shear: Limit,
) -> list[Need]:
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
    known: dict[tuple[object, ...], Need] = {}
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
            known[key] = Need(
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
