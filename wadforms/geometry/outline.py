"""An outline: the outside of a piece seen from above, with the holes in it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from wadforms.geometry.contour import CHORD_ERROR, Contour, Pen, Point

if TYPE_CHECKING:
    from shapely import Polygon


@dataclass(frozen=True, slots=True)
class Outline:
    """A region of the plane with one outer contour and any number of holes.

    Parameters
    ----------
    outer : Contour
        Counter-clockwise.
    holes : tuple of Contour
        Counter-clockwise too; inside `outer` and apart from each other.

    Examples
    --------
    >>> ring = Outline(Contour.circle(25), (Contour.circle(20),))
    >>> round(ring.area / math.pi, 9)
    225.0
    """

    outer: Contour
    holes: tuple[Contour, ...] = ()

    @classmethod
    def circle(cls, radius: float, centre: Point = (0.0, 0.0)) -> Outline:
        """A full disk; `radius` and `centre` in mm."""
        return cls(Contour.circle(radius, centre))

    @property
    def contours(self) -> tuple[Contour, ...]:
        """The outer contour, then the holes."""
        return (self.outer, *self.holes)

    @property
    def area(self) -> float:
        """Area of the region [mm²], exact."""
        return self.outer.area - math.fsum(hole.area for hole in self.holes)

    @property
    def perimeter(self) -> float:
        """Length of all contours [mm], exact."""
        return math.fsum(contour.length for contour in self.contours)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Smallest x, smallest y, largest x, largest y [mm]."""
        return self.outer.bounds

    @property
    def size(self) -> tuple[float, float]:
        """Extent along x and along y [mm]."""
        x0, y0, x1, y1 = self.bounds
        return x1 - x0, y1 - y0

    @property
    def inscribed_width(self) -> float:
        """Diameter of the largest circle that fits inside [mm], within 0.01 mm."""
        return _inscribed_width(self)

    def draw(self, pen: Pen) -> None:
        """Draw all contours on a pen, the holes run clockwise."""
        self.outer.draw(pen)
        for hole in self.holes:
            hole.reversed().draw(pen)

    def offset(self, distance: float) -> Outline:
        """The region grown by `distance` [mm] (shrunk where negative), segment by segment.

        Raises
        ------
        NotMakeable
            A part of the outline would vanish; see `Contour.offset`.
        """
        return Outline(
            self.outer.offset(distance), tuple(hole.offset(-distance) for hole in self.holes)
        )

    def mean_area(self, other: Outline) -> float:
        """Area half way to another outline of the same segments [mm²]; see `Contour.mean_area`."""
        pairs = zip(self.holes, other.holes, strict=True)
        return self.outer.mean_area(other.outer) - math.fsum(a.mean_area(b) for a, b in pairs)

    def moved(self, dx: float, dy: float) -> Outline:
        """The outline shifted by (`dx`, `dy`) [mm]."""
        return self._mapped(lambda p: (p[0] + dx, p[1] + dy))

    def turned(self, degrees: float) -> Outline:
        """The outline turned counter-clockwise about the origin."""
        c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        return self._mapped(lambda p: (c * p[0] - s * p[1], s * p[0] + c * p[1]))

    def scaled(self, factor: float) -> Outline:
        """The outline scaled about the origin."""
        return self._mapped(lambda p: (factor * p[0], factor * p[1]))

    def mirrored(self) -> Outline:
        """The outline seen from the other side: x becomes −x."""
        contours = [c.mapped(lambda p: (-p[0], p[1]), mirrored=True) for c in self.contours]
        return Outline(contours[0], tuple(contours[1:]))

    def polygon(self, chord_error: float = CHORD_ERROR) -> Polygon:
        """The region as a shapely polygon of the same area; arcs to `chord_error` [mm]."""
        from shapely import Polygon

        return Polygon(
            self.outer.flattened(chord_error), [h.flattened(chord_error) for h in self.holes]
        )

    def _mapped(self, move: Callable[[Point], Point]) -> Outline:
        return Outline(self.outer.mapped(move), tuple(hole.mapped(move) for hole in self.holes))


@lru_cache(maxsize=256)
def _inscribed_width(outline: Outline) -> float:
    import shapely

    if not outline.holes and all(outline.outer.bulges):
        segments = outline.outer.segments
        if max(math.dist(s.centre, segments[0].centre) for s in segments) < 1e-9:
            return 2.0 * segments[0].radius
    radius = shapely.maximum_inscribed_circle(outline.polygon(), tolerance=0.005)
    return 2.0 * float(shapely.length(radius))
