"""The crescent: a disk with a round bite out of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault, NotMakeable
from wadforms.families.base import Family, Piece, draft_field, height_field, length, rounding_field
from wadforms.families.flat import flat_topped
from wadforms.families.relations import at_most, edge_faults, spread
from wadforms.geometry.construct import centred, crescent
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline

_CLEAR = 1.0
"""Least gap between the horns at the base that stays open [mm] (assumed)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Crescent(Family):
    """A disk with a round bite out of it.

    Examples
    --------
    >>> piece = Crescent().piece()
    >>> [round(side, 1) for side in piece.outline.size]
    [40.0, 23.5]
    """

    name = "crescent"
    summary = "a disk with a round bite; it cannot roll, and leaves a moon on the pot"

    diameter: float = length(40.0, 10.0, 150.0, "of the outer circle")
    thickness: float = length(14.0, 4.0, 100.0, "at the middle, where it is widest")
    hollow: float = length(34.0, 6.0, 300.0, "diameter of the bite")
    horn: float = length(3.0, 1.0, 20.0, "radius of the two horns")
    height: float = height_field()
    draft: float = draft_field()
    rounding: float = rounding_field()

    def faults(self) -> Iterator[Fault]:
        """The bite must leave two horns, and the gap between them must stay open."""
        yield from edge_faults(
            height=self.height,
            draft=self.draft,
            rounding=self.rounding,
            half_width=self.horn,
            hollows={"hollow": self.hollow / 2},
        )
        try:
            contour = self._contour()
        except NotMakeable as reason:
            right = f"{reason}; change thickness, hollow or horn"
            yield Fault("hollow", f"{self.hollow:g} mm", right)
            return
        half_gap = contour.segments[1].centre[0]
        out = spread(self.height, self.draft, min(self.rounding, self.height))
        limit = half_gap - out - _CLEAR / 2
        yield from at_most("horn", self.horn, limit, "so that the gap between the horns stays open")

    def _contour(self) -> Contour:
        return crescent(self.diameter, self.thickness, self.hollow, self.horn)

    def piece(self) -> Piece:
        """The piece of this size, centred on its own area."""
        outline = centred(Outline(self._contour()))
        return flat_topped(outline, self.height, self.draft, self.rounding)
