"""The ring: whole, to go under a foot ring or a lid, or a part of one."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.base import (
    Family,
    Piece,
    angle,
    draft_field,
    height_field,
    length,
    rounding_field,
)
from wadforms.families.flat import flat_topped
from wadforms.families.relations import at_least, edge_faults, spread
from wadforms.geometry.construct import arc_band, centred
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline

_WHOLE = 360.0
_CLEAR = 1.0
"""Least gap at the base that stays open [mm]: clay would bridge a finer one (assumed)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring(Family):
    """A whole ring, or a part of one with round ends.

    Examples
    --------
    >>> ring = Ring(diameter=50, width=5, draft=0).piece()
    >>> round(ring.top_area / math.pi, 9)
    225.0
    """

    name = "ring"
    summary = "a whole ring, or a part of one with round ends, to follow a foot or a gallery"

    diameter: float = length(60.0, 12.0, 400.0, "of the outer edge of the bearing face")
    width: float = length(8.0, 3.0, 80.0, "of the band")
    arc: float = angle(_WHOLE, 10.0, _WHOLE, "how much of it, end to end; 360 is a whole ring")
    height: float = height_field()
    draft: float = draft_field()
    rounding: float = rounding_field()

    def faults(self) -> Iterator[Fault]:
        """The hole, and the gap of a part, must stay open at the base."""
        out = spread(self.height, self.draft, min(self.rounding, self.height))
        need = 2 * (self.width + out + _CLEAR)
        yield from at_least("diameter", self.diameter, need, "so that the hole stays open")
        yield from edge_faults(
            height=self.height,
            draft=self.draft,
            rounding=self.rounding,
            half_width=self.width / 2,
        )
        if self.diameter >= need and self.arc < _WHOLE:
            middle = self.diameter - self.width
            most = _WHOLE - 2 * math.degrees(math.asin((self.width + 2 * out + _CLEAR) / middle))
            if self.arc > most:
                right = f"give at most {math.floor(most * 10) / 10:g}°, or 360 for a whole ring"
                yield Fault("arc", f"{self.arc:g}°", right)

    def piece(self) -> Piece:
        """The piece of this size; a part is centred on its own area."""
        radius = self.diameter / 2
        if self.arc == _WHOLE:
            outline = Outline(Contour.circle(radius), (Contour.circle(radius - self.width),))
        else:
            outline = centred(Outline(arc_band(radius - self.width / 2, self.width, self.arc)))
        return flat_topped(outline, self.height, self.draft, self.rounding)
