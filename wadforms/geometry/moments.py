"""Area moments of a polygon, which the load on a patch is found from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

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


def moments(regions: Sequence[Geometry] | NDArray[np.object_]) -> list[Moments]:
    """Moments of each shapely polygon or multipolygon, holes taken out.

    Green's theorem over the edges of each ring; exact for the polygon.  Where two regions only
    graze, a line or a point is left, which has no area.

    Examples
    --------
    >>> import shapely
    >>> (m,) = moments([shapely.box(0, 0, 4, 3)])
    >>> m.area, m.x, m.xx, m.xy
    (12.0, 24.0, 64.0, 36.0)
    """
    import numpy as np
    import shapely

    parts, of_region = shapely.get_parts(np.asarray(regions), return_index=True)
    rings, of_part = shapely.get_rings(parts, return_index=True)
    points, of_ring = shapely.get_coordinates(rings, return_index=True)
    totals = np.zeros((len(regions), 6))
    if len(rings) == 0:
        return [Moments() for _ in regions]
    (x, y), (u, v) = points[:-1].T, points[1:].T
    cross = x * v - u * y
    cross[of_ring[:-1] != of_ring[1:]] = 0.0  # from the end of a ring to the start of the next
    xu, yv = x + u, y + v
    terms = np.empty((6, len(points)))
    terms[:, -1] = 0.0
    terms[0, :-1] = cross / 2
    terms[1, :-1] = cross * xu / 6
    terms[2, :-1] = cross * yv / 6
    terms[3, :-1] = cross * (xu * xu - x * u) / 12
    terms[4, :-1] = cross * (yv * yv - y * v) / 12
    terms[5, :-1] = cross * (x * v + u * y + 2 * (x * y + u * v)) / 24
    sums = np.add.reduceat(terms, np.searchsorted(of_ring, np.arange(len(rings))), axis=1)
    # The first ring of each part is its outside, the others are holes, however they run.
    outside = np.ones(len(rings))
    outside[1:][of_part[1:] == of_part[:-1]] = -1.0
    np.add.at(totals, of_region[of_part], (sums * np.sign(sums[0]) * outside).T)
    return [Moments(*row) for row in totals.tolist()]
