"""The tripod: three flat arms in one piece, which hold together where loose wads would not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.arms import arm_faults, arms_outline, end_field
from wadforms.families.base import (
    Family,
    Piece,
    draft_field,
    height_field,
    inner_field,
    length,
    rounding_field,
)
from wadforms.families.flat import flat_topped


@dataclass(frozen=True, slots=True, kw_only=True)
class Tripod(Family):
    """Three flat arms.

    Examples
    --------
    >>> piece = Tripod(reach=30, width=10, end=0, inner=0, draft=0).piece()
    >>> round(piece.top_area, 6), round(3 * 10 * 30 - 3 * 10**2 / (4 * 3**0.5), 6)
    (856.69873, 856.69873)
    """

    name = "tripod"
    summary = "three flat arms in one piece; sits without rocking and cannot be pushed apart"

    reach: float = length(30.0, 10.0, 150.0, "from the centre to the end of an arm")
    width: float = length(12.0, 4.0, 60.0, "of an arm")
    end: float = end_field(5.0)
    inner: float = inner_field("the arms", 6.0)
    height: float = height_field(10.0)
    draft: float = draft_field()
    rounding: float = rounding_field()

    def faults(self) -> Iterator[Fault]:
        """The arms must be long and wide enough for their roundings."""
        yield from arm_faults(self, arms=3, height=self.height)

    def piece(self) -> Piece:
        """The piece of this size."""
        return flat_topped(arms_outline(self, 3), self.height, self.draft, self.rounding)
