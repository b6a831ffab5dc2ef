"""The cone seat: a block whose slots hold pyrometric cones at their lean."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.base import Family, Piece, angle, count, draft_field, height_field, length
from wadforms.families.flat import box, flat_topped
from wadforms.families.relations import LEAST_BEND, at_least, at_most
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.construct import rounded
from wadforms.geometry.outline import Outline

_FLOOR = 4.0
"""Least clay left under a slot [mm] (assumed)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ConeSeat(Family):
    """A block with a row of slots for pyrometric cones.

    Each cone leans against the wall of its slot that is farther along the row, all the same
    way, 8° from the upright for large cones (standard practice, from memory).  The sizes of a
    slot are those of a large cone's foot with some play (assumed: measure your own).

    Examples
    --------
    >>> seat = ConeSeat(cones=2)
    >>> seat.piece().faces, len(seat.piece().body.pockets)
    ((), 2)
    """

    name = "cone-seat"
    summary = "a block with slots that hold pyrometric cones at their lean; bears no pot"

    cones: int = count(3, 1, 8, "how many slots")
    slot: float = length(12.0, 4.0, 30.0, "length of a slot's bottom, the way the cones lean")
    slot_width: float = length(14.0, 4.0, 40.0, "width of a slot's bottom, across the lean")
    depth: float = length(12.0, 4.0, 30.0, "of a slot")
    lean: float = angle(8.0, 0.0, 25.0, "how far the cones lean from the upright")
    wall: float = length(6.0, 3.0, 30.0, "of clay between and around the slots at the top")
    corner: float = length(4.0, 0.0, 30.0, "radius of the block's corners")
    height: float = height_field(18.0, 8.0)
    draft: float = draft_field()

    @property
    def opening(self) -> tuple[float, float]:
        """Length and width of a slot at the top [mm]."""
        against, away = self._flare
        return self.slot + against + away, self.slot_width + 2 * away

    @property
    def _flare(self) -> tuple[float, float]:
        """How far the resting wall and the other walls lean back over the depth [mm]."""
        tan = (math.tan(math.radians(a)) for a in (self.lean, self.draft))
        against, away = (self.depth * t for t in tan)
        return against, away

    def faults(self) -> Iterator[Fault]:
        """The slots must leave a floor, and the cones must lean at least as far as the draft."""
        yield from at_least("height", self.height, self.depth + _FLOOR, "so that a floor is left")
        if self.lean < self.draft:
            right = f"give at least the draft, {self.draft:g}°, so that the slot leaves its mould"
            yield Fault("lean", f"{self.lean:g}°", right)
        yield from at_most("corner", self.corner, self.wall, "which is the wall")
        if self.corner:
            yield from at_least("corner", self.corner, LEAST_BEND, "or 0")

    def piece(self) -> Piece:
        """The piece of this size; the row runs along x and the cones lean toward +x."""
        long, wide = self.opening
        x = (self.cones * (long + self.wall) + self.wall) / 2
        y = wide / 2 + self.wall
        outline = Outline(rounded([(-x, -y), (x, -y), (x, y), (-x, y)], self.corner))
        block = flat_topped(outline, self.height, self.draft, 0.0)
        against, away = self._flare
        slots = []
        for k in range(self.cones):
            left = -x + self.wall + k * (long + self.wall)
            low = box(left + away, left + long - against, self.slot_width / 2)
            high = box(left, left + long, wide / 2)
            slots.append(Loft(((self.height - self.depth, low), (self.height, high))))
        return Piece(outline, Body(block.body.lofts, tuple(slots)), ())
