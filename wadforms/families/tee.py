"""The tee: a bar and a stem, which stands where a bar alone would tip."""

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
class Tee(Family):
    """A bar with a stem.

    Examples
    --------
    >>> Tee(span=40, depth=30, width=10, corner=0, inner=0, draft=0).piece().top_area
    600.0
    """

    name = "tee"
    summary = "a bar with a stem; it stands on its own where two shelves meet"

    span: float = length(45.0, 10.0, 200.0, "length of the bar")
    depth: float = length(35.0, 10.0, 200.0, "from the back of the bar to the end of the stem")
    width: float = length(12.0, 4.0, 60.0, "of bar and stem")
    corner: float = corner_field()
    inner: float = inner_field("bar and stem")
    height: float = height_field()
    draft: float = draft_field()
    rounding: float = rounding_field()

    def faults(self) -> Iterator[Fault]:
        """Bar and stem must be long enough for their roundings."""
        yield from limb_faults(self, span=(self.span, 2), depth=(self.depth, 1))

    def piece(self) -> Piece:
        """The piece of this size, centred on its own area."""
        x, half, bar, end = self.span / 2, self.width / 2, -self.width, -self.depth
        points = [(-half, end), (half, end), (half, bar), (x, bar)]
        points += [(x, 0.0), (-x, 0.0), (-x, bar), (-half, bar)]
        c, i = self.corner, self.inner
        outline = centred(Outline(rounded(points, (c, c, i, c, c, c, c, i))))
        return flat_topped(outline, self.height, self.draft, self.rounding)
