"""Area moments of a polygon, which the load on a patch is found from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely import Geometry


@dataclass(frozen=True, slots=True)
class Moments:
    """Area integrals about the origin: of 1, x, y, x², y² and xy [mm², mm³, mm⁴]."""

    area: float = 0.0
    x: float = 0.0
    y: float = 0.0
    xx: float = 0.0
    yy: float = 0.0
    xy: float = 0.0

    def __add__(self, other: Moments) -> Moments:
        """Moments of both regions together."""
        return Moments(
            self.area + other.area,
            self.x + other.x,
            self.y + other.y,
            self.xx + other.xx,
            self.yy + other.yy,
            self.xy + other.xy,
        )

    @property
    def centroid(self) -> tuple[float, float]:
        """Centre of the area [mm]."""
        return self.x / self.area, self.y / self.area


def moments(region: Geometry) -> Moments:
    """Moments of a shapely polygon or multipolygon, holes taken out.

    Green's theorem over the edges of each ring; exact for the polygon.

    Examples
    --------
    >>> import shapely
    >>> m = moments(shapely.box(0, 0, 4, 3))
    >>> m.area, m.x, m.xx, m.xy
    (12.0, 24.0, 64.0, 36.0)
    """
    import shapely

    total = Moments()
    for polygon in shapely.get_parts(region):
        if polygon.geom_type != "Polygon":
            continue  # where two regions only graze, a line or a point is left: no area
        outer = _ring(shapely.get_coordinates(polygon.exterior))
        total += outer if outer.area >= 0 else _negative(outer)
        for hole in polygon.interiors:
            inner = _ring(shapely.get_coordinates(hole))
            total += _negative(inner) if inner.area >= 0 else inner
    return total


def _negative(m: Moments) -> Moments:
    return Moments(-m.area, -m.x, -m.y, -m.xx, -m.yy, -m.xy)


def _ring(points: NDArray[np.float64]) -> Moments:
    x, y = points[:-1, 0], points[:-1, 1]
    u, v = points[1:, 0], points[1:, 1]
    cross: Any = x * v - u * y
    return Moments(
        float(cross.sum()) / 2,
        float((cross * (x + u)).sum()) / 6,
        float((cross * (y + v)).sum()) / 6,
        float((cross * (x * x + x * u + u * u)).sum()) / 12,
        float((cross * (y * y + y * v + v * v)).sum()) / 12,
        float((cross * (x * v + 2 * x * y + 2 * u * v + u * y)).sum()) / 24,
    )
