"""The pad: a flat piece with straight sides, from triangle to twelve-sided."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.base import Family, Piece, count, draft_field, height_field, rounding_field
from wadforms.families.base import (
    length as length_field,
)
from wadforms.families.flat import flat_topped
from wadforms.families.relations import at_least, edge_faults, room
from wadforms.geometry.construct import regular, rounded
from wadforms.geometry.outline import Outline

_NARROWEST = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Pad(Family):
    """A flat piece with straight sides.

    Examples
    --------
    >>> Pad(length=40, width=20, draft=0, corner=0).piece().top_area
    800.0
    >>> hexagon = Pad(sides=6, length=20, draft=0, corner=0).piece()
    >>> round(hexagon.top_area, 4), round(2 * 3**0.5 * 10**2, 4)
    (346.4102, 346.4102)
    """

    name = "pad"
    summary = "straight-sided and flat: rectangle, square, triangle or regular polygon"

    sides: int = count(4, 3, 12, "how many sides; 4 makes a rectangle, others are regular")
    length: float = length_field(
        30.0, 4.0, 300.0, "along a rectangle; across the flats of the others"
    )
    width: float = length_field(0.0, 0.0, 300.0, "across a rectangle; 0 for as wide as it is long")
    corner: float = length_field(2.0, 0.0, 40.0, "radius of the corners seen from above")
    height: float = height_field()
    draft: float = draft_field()
    rounding: float = rounding_field()

    def faults(self) -> Iterator[Fault]:
        """A width is for rectangles; corners and rounding must fit."""
        if self.width and self.sides != 4:
            right = f"give 0: a pad of {self.sides} sides is sized by its length alone"
            yield Fault("width", f"{self.width:g} mm", right)
            return
        if self.width:
            yield from at_least("width", self.width, _NARROWEST, "or 0 for a square")
        across = min(self.length, self.width or self.length)
        narrow = "length" if across == self.length else "width"
        need = 2 * room(self.corner, self.rounding)
        yield from at_least(narrow, across, need, f"for corner {self.corner:g} mm")
        yield from edge_faults(
            height=self.height,
            draft=self.draft,
            rounding=self.rounding,
            half_width=across / 2,
            bends={"corner": self.corner},
        )

    def piece(self) -> Piece:
        """The piece of this size."""
        if self.sides == 4:
            x, y = self.length / 2, (self.width or self.length) / 2
            points = [(-x, -y), (x, -y), (x, y), (-x, y)]
        else:
            points = regular(self.sides, self.length)
        outline = Outline(rounded(points, self.corner))
        return flat_topped(outline, self.height, self.draft, self.rounding)
