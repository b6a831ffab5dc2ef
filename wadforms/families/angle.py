"""The angle piece: two legs at a right angle."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.base import (
    Family,
    Piece,
    corner_field,
    draft_field,
    height_field,
    inner_field,
    length,
    rounding_field,
)
from wadforms.families.flat import flat_topped
from wadforms.families.relations import limb_faults
from wadforms.geometry.construct import centred, rounded
from wadforms.geometry.outline import Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class Angle(Family):
    """Two legs at a right angle.

    Examples
    --------
    >>> piece = Angle(leg=40, other_leg=40, width=10, corner=0, inner=0, draft=0).piece()
    >>> round(piece.top_area, 9)
    700.0
    """

    name = "angle"
    summary = "two legs at a right angle, for the corners of trays and slab-built feet"

    leg: float = length(40.0, 8.0, 200.0, "length of one leg along its outside")
    other_leg: float = length(40.0, 8.0, 200.0, "length of the other leg along its outside")
    width: float = length(12.0, 4.0, 60.0, "of both legs")
    corner: float = corner_field()
    inner: float = inner_field("the legs")
    height: float = height_field()
    draft: float = draft_field()
    rounding: float = rounding_field()

    def faults(self) -> Iterator[Fault]:
        """The legs must be long enough for their roundings."""
        yield from limb_faults(self, leg=(self.leg, 1), other_leg=(self.other_leg, 1))

    def piece(self) -> Piece:
        """The piece of this size, centred on its own area."""
        a, b, w = self.leg, self.other_leg, self.width
        points = [(0.0, 0.0), (a, 0.0), (a, w), (w, w), (w, b), (0.0, b)]
        c, i = self.corner, self.inner
        outline = centred(Outline(rounded(points, (c, c, c, i, c, c))))
        return flat_topped(outline, self.height, self.draft, self.rounding)
