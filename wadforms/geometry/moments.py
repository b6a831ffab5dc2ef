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
    plane = shapely.get_dimensions(parts) == 2
    parts, of_region = shapely.orient_polygons(parts[plane]), of_region[plane]
    rings, of_part = shapely.get_rings(parts, return_index=True)
    points, of_ring = shapely.get_coordinates(rings, return_index=True)
    edges = of_ring[:-1] == of_ring[1:]
    owner = of_region[of_part[of_ring[:-1][edges]]]
    (x, y), (u, v) = points[:-1][edges].T, points[1:][edges].T
    cross = x * v - u * y
    terms = (
        cross / 2,
        cross * (x + u) / 6,
        cross * (y + v) / 6,
        cross * (x * x + x * u + u * u) / 12,
        cross * (y * y + y * v + v * v) / 12,
        cross * (x * v + 2 * x * y + 2 * u * v + u * y) / 24,
    )
    sums = [np.bincount(owner, term, len(regions)) for term in terms]
    return [Moments(*map(float, row)) for row in np.stack(sums, axis=1)]
