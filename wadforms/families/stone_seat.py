"""The stone seat: a disk with pockets for quartz pebbles, on which the pot stands."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.arms import around
from wadforms.families.base import (
    SOLID,
    Family,
    Piece,
    Tips,
    count,
    draft_field,
    height_field,
    length,
    rounding_field,
)
from wadforms.families.flat import flat_topped
from wadforms.families.relations import at_least, at_most, edge_faults
from wadforms.geometry.body import Body, Bowl
from wadforms.geometry.outline import Outline

_FLOOR = 4.0
"""Least clay left under a pocket [mm] (assumed)."""

_LAND = 2.0
"""Least clay between pockets, and between a pocket and the edge [mm] (assumed)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StoneSeat(Family):
    """A disk with round pockets for pebbles; the pebbles bear, and the disk is fired before use.

    Examples
    --------
    >>> piece = StoneSeat(height=16, pebble=12, depth=5).piece()
    >>> piece.height, len(piece.faces)
    (23.0, 3)
    """

    name = "stone-seat"
    summary = "a biscuit-fired disk with pockets for quartz pebbles, on which the pot stands"
    bodies = (SOLID,)

    diameter: float = length(60.0, 20.0, 200.0, "of the disk")
    circle: float = length(36.0, 8.0, 180.0, "diameter of the circle on which the pebbles lie")
    pebbles: int = count(3, 3, 9, "how many pebbles")
    pebble: float = length(12.0, 5.0, 40.0, "diameter of a pebble")
    depth: float = length(5.0, 1.5, 20.0, "how deep a pebble sits")
    play: float = length(0.5, 0.0, 2.0, "how much larger the pocket's radius is than the pebble's")
    touch: float = length(2.0, 0.5, 8.0, "diameter of the spot where a pebble touches the pot")
    height: float = height_field(12.0, 6.0)
    draft: float = draft_field()
    rounding: float = rounding_field(1.0)

    @property
    def opening_radius(self) -> float:
        """Radius of a pocket at the top [mm]: √(2 r d − d²)."""
        return math.sqrt(2 * self._pocket_radius * self.depth - self.depth**2)

    @property
    def _pocket_radius(self) -> float:
        return self.pebble / 2 + self.play

    def faults(self) -> Iterator[Fault]:
        """The pockets must lie apart, inside the disk, and leave a floor."""
        most = self._pocket_radius * (1 - math.sin(math.radians(self.draft)))
        yield from at_most("depth", self.depth, most, "so that the pocket leaves its mould")
        yield from at_least("height", self.height, self.depth + _FLOOR, "so that a floor is left")
        yield from at_most("touch", self.touch, self.pebble / 2, "which is half the pebble")
        yield from edge_faults(
            height=self.height,
            draft=self.draft,
            rounding=self.rounding,
            half_width=self.diameter / 2,
        )
        if self.depth <= most:
            wide = 2 * self.opening_radius
            apart = max(wide + _LAND, self.pebble) / math.sin(math.pi / self.pebbles)
            yield from at_least("circle", self.circle, apart, "so that the pebbles lie apart")
            need = self.circle + wide + 2 * (_LAND + self.rounding)
            yield from at_least("diameter", self.diameter, need, "so that the pockets lie inside")

    def piece(self) -> Piece:
        """The piece of this size, the first pebble along +y."""
        outline = Outline.circle(self.diameter / 2)
        disk = flat_topped(outline, self.height, self.draft, self.rounding)
        centres = around(self.pebbles, self.circle / 2)
        pockets = tuple(
            Bowl(x, y, self.height, self.opening_radius, self.depth) for x, y in centres
        )
        faces = tuple(Outline.circle(self.touch / 2, centre) for centre in centres)
        # A pebble rests on the deepest point of its pocket, whose sphere is larger than it.
        tips = Tips(faces[0].area, base_area=0.0, rise=self.pebble - self.depth)
        return Piece(outline, Body(disk.body.lofts, pockets), faces, tips)
