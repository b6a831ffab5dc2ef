"""The disk: a round flat piece, the plainest wad."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.base import Family, Piece, draft_field, height_field, length, rounding_field
from wadforms.families.flat import flat_topped
from wadforms.families.relations import edge_faults
from wadforms.geometry.outline import Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class Disk(Family):
    """A round flat piece.

    Examples
    --------
    >>> piece = Disk(diameter=12, height=8, draft=0).piece()
    >>> round(piece.volume, 3), round(piece.top_area, 3)
    (904.779, 113.097)
    """

    name = "disk"
    summary = "round and flat; the plainest wad, under feet and between shelves and posts"

    diameter: float = length(20.0, 4.0, 150.0, "across the bearing face")
    height: float = height_field()
    draft: float = draft_field()
    rounding: float = rounding_field()

    def faults(self) -> Iterator[Fault]:
        """The rounding must leave a face to bear on."""
        yield from edge_faults(
            height=self.height,
            draft=self.draft,
            rounding=self.rounding,
            half_width=self.diameter / 2,
        )

    def piece(self) -> Piece:
        """The piece of this size."""
        outline = Outline.circle(self.diameter / 2)
        return flat_topped(outline, self.height, self.draft, self.rounding)
