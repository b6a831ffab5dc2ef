"""The cradle: a block with a round channel, for a pot on its side."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.base import Family, Piece, draft_field, height_field
from wadforms.families.base import (
    length as length_field,
)
from wadforms.families.flat import box, flat_topped
from wadforms.families.relations import at_least
from wadforms.geometry.body import Body, Trough

_FLOOR = 4.0
"""Least clay left under the channel [mm] (assumed)."""

_NARROWEST = 4.0
"""Least width of the channel at its lips [mm] (assumed)."""

_STEEPEST = 75.0
"""Steepest slope of the channel at its lips [deg]: the piece must leave its mould (assumed)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cradle(Family):
    """A block with a round channel along its length.

    Examples
    --------
    >>> piece = Cradle(hollow=130, width=50, lip=4, length=40).piece()
    >>> piece.hollow_radius, piece.top_area
    (65.0, 1680.0)
    """

    name = "cradle"
    summary = "a block with a round channel that takes a pot on its side and keeps it from rolling"

    hollow: float = length_field(130.0, 20.0, 600.0, "diameter of the belly that it takes")
    length: float = length_field(40.0, 8.0, 200.0, "along the pot's axis")
    width: float = length_field(50.0, 12.0, 200.0, "across the pot's axis, lips included")
    lip: float = length_field(4.0, 2.0, 30.0, "width of the flat lip at each side of the channel")
    height: float = height_field(16.0, 6.0, 120.0)
    draft: float = draft_field()

    @property
    def half_opening(self) -> float:
        """Half the width of the channel at its lips [mm]."""
        return self.width / 2 - self.lip

    @property
    def depth(self) -> float:
        """Of the channel [mm]: r − √(r² − b²)."""
        r, b = self.hollow / 2, self.half_opening
        return r - math.sqrt(r * r - b * b)

    def faults(self) -> Iterator[Fault]:
        """The channel must be shallow enough for its floor and its mould."""
        if self.half_opening < _NARROWEST / 2:
            need = 2 * self.lip + _NARROWEST
            yield from at_least("width", self.width, need, "for a channel between lips")
            return
        least = 2 * self.half_opening / math.sin(math.radians(_STEEPEST))
        yield from at_least("hollow", self.hollow, least, "for a channel of this width")
        if self.hollow >= least:
            need = self.depth + _FLOOR
            yield from at_least("height", self.height, need, "so that a floor is left")

    def piece(self) -> Piece:
        """The piece of this size; the channel runs along y."""
        half = self.width / 2
        outline = box(-half, half, self.length / 2)
        block = flat_topped(outline, self.height, self.draft, 0.0)
        channel = Trough(
            z=self.height,
            radius=self.hollow / 2,
            half_width=self.half_opening,
            length=self.length,
            spread=math.tan(math.radians(self.draft)),
        )
        face = box(-self.half_opening, self.half_opening, self.length / 2)
        body = Body(block.body.lofts, (channel,))
        return Piece(block.outline, body, (face,), hollow_radius=self.hollow / 2)
