"""The rail: a long straight piece, for trays and for pots on their side."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.base import Family, Piece, choice, draft_field, height_field, rounding_field
from wadforms.families.base import (
    length as length_field,
)
from wadforms.families.flat import flat_topped
from wadforms.families.relations import at_least, edge_faults
from wadforms.geometry.construct import rounded
from wadforms.geometry.outline import Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail(Family):
    """A long straight piece.

    Examples
    --------
    >>> Rail(length=80, width=10, ends="square", draft=0).piece().top_area
    800.0
    """

    name = "rail"
    summary = "long and straight; two carry a long tray, or keep a cylinder from rolling"

    length: float = length_field(80.0, 10.0, 400.0, "from end to end of the bearing face")
    width: float = length_field(12.0, 4.0, 60.0, "across the bearing face")
    ends: str = choice("round", ("round", "square"), "shape of the ends")
    height: float = height_field(10.0)
    draft: float = draft_field()
    rounding: float = rounding_field()

    def faults(self) -> Iterator[Fault]:
        """A rail is at least as long as it is wide."""
        yield from at_least("length", self.length, self.width, "which is its width")
        yield from edge_faults(
            height=self.height,
            draft=self.draft,
            rounding=self.rounding,
            half_width=self.width / 2,
        )

    def piece(self) -> Piece:
        """The piece of this size."""
        x, y = self.length / 2, self.width / 2
        radius = y if self.ends == "round" else 0.0
        outline = Outline(rounded([(-x, -y), (x, -y), (x, y), (-x, y)], radius))
        return flat_topped(outline, self.height, self.draft, self.rounding)
