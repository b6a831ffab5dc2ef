"""How the load of a pot spreads over its wads.

Wet wads bed to the pot and share the load as a plane of pressure.  Dry and solid ones are
rigid: three are statically determinate; of more than three any three may carry everything while
the kiln is cold, and all of them share once the loaded ones creep.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.geometry.contour import Point
from wadforms.geometry.moments import Moments, moments
from wadforms.units import GRAVITY

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely import Geometry

KPA: Final = 1000.0  # 1 N/mm² = 1000 kPa

_SETTLED: Final = 1e-9


def weight(mass: float) -> float:
    """Force [N] of a mass [g] under standard gravity.

    Examples
    --------
    >>> weight(1000.0)
    9.80665
    """
    return mass / 1000.0 * GRAVITY


class PressurePlane(NamedTuple):
    """Pressure a + b x + c y over the patches that stay loaded [N/mm²].

    Parameters
    ----------
    a, b, c : float
        Coefficients, with x and y in mm.
    forces : tuple of float
        Force on each patch [N]; 0 where it has lifted.
    areas : tuple of float
        Of each patch, what stays loaded [mm²].
    peaks : tuple of float
        Largest pressure at any point of each patch [N/mm²].
    lifted : bool
        Whether any part of a patch carries nothing.
    """

    a: float
    b: float
    c: float
    forces: tuple[float, ...]
    areas: tuple[float, ...]
    peaks: tuple[float, ...]
    lifted: bool

    @property
    def peak(self) -> float:
        """Largest pressure at any point [N/mm²]."""
        return max(self.peaks)


def pressure_plane(
    regions: Sequence[Geometry],
    force: float,
    centre: Point = (0.0, 0.0),
    *,
    measured: Sequence[Moments] | None = None,
) -> PressurePlane | None:
    """Spread a force over patches that all bed to the pot, without tension.

    One force and two moments fix the plane, as for an eccentrically loaded footing.  Where it
    would pull, the patches are cut back to what presses and it is solved again.

    Parameters
    ----------
    regions : sequence of shapely geometry
        The patches [mm].
    force : float
        Total load [N].
    centre : (float, float)
        Where it acts: the centre of gravity in plan [mm].
    measured : sequence of Moments, optional
        The area moments of the patches, where they are known already [mm², mm³, mm⁴].

    Returns
    -------
    PressurePlane or None
        None where no pressure without tension balances the load: the pot falls.

    Source
    ------
    Beam theory of an eccentrically loaded section; cut to no tension as for footings, e.g.
    Bowles, Foundation Analysis and Design.

    Examples
    --------
    >>> import shapely
    >>> footing = pressure_plane([shapely.box(-30, -10, 30, 10)], 1200.0, (5.0, 0.0))
    >>> round(footing.peak, 6)  # N/A (1 + 6 e/B)
    1.5
    """
    import numpy as np
    import shapely

    parts = measured or moments(regions)
    points, owner = shapely.get_coordinates(regions, return_index=True)
    starts = np.searchsorted(owner, np.arange(len(regions)))
    plane = None
    cut = False
    for _ in range(200):
        fitted = _fit(sum(parts, Moments()), force, centre)
        if fitted is None:
            return None
        a, b, c = fitted
        pressures = a + points @ np.array([b, c])
        peaks = tuple(np.maximum(np.maximum.reduceat(pressures, starts), 0.0).tolist())
        forces = tuple(a * m.area + b * m.x + c * m.y for m in parts)
        areas = tuple(m.area for m in parts)
        lowest = float(pressures.min())
        balanced = abs(math.fsum(forces) - force) <= 1e-6 * force and min(forces) >= -1e-6 * force
        if lowest >= -_SETTLED * max(peaks) and not cut:
            return PressurePlane(a, b, c, forces, areas, peaks, lifted=False)
        if plane is not None and balanced and np.allclose(plane, fitted, rtol=1e-7, atol=1e-12):
            return PressurePlane(a, b, c, forces, areas, peaks, lifted=True)
        plane, cut = fitted, True
        pressing = _half_plane(a, b, c, regions)
        parts = moments(shapely.intersection(np.asarray(regions), pressing))
    return None


def _fit(m: Moments, force: float, centre: Point) -> tuple[float, float, float] | None:
    """The plane of pressure that balances a force at a point, over all of a region."""
    import numpy as np

    if m.area <= 0.0:
        return None
    # About the region's own centroid the first moments vanish, which keeps the solution exact.
    gx, gy = m.centroid
    xx, yy, xy = m.xx - m.x * gx, m.yy - m.y * gy, m.xy - m.x * gy
    determinant = xx * yy - xy * xy
    if not determinant > 1e-12 * (xx + yy) ** 2:
        return None
    mx, my = force * (centre[0] - gx), force * (centre[1] - gy)
    b = (mx * yy - my * xy) / determinant
    c = (my * xx - mx * xy) / determinant
    a = force / m.area - b * gx - c * gy
    return (a, b, c) if np.isfinite((a, b, c)).all() else None


def _half_plane(a: float, b: float, c: float, regions: Sequence[Geometry]) -> Geometry:
    """A region that holds all points of the patches with a + b x + c y ≥ 0."""
    import shapely

    x0, y0, x1, y1 = shapely.total_bounds(list(regions))
    slope = math.hypot(b, c)
    ux, uy = b / slope, c / slope
    foot = (-a * ux / slope, -a * uy / slope)  # nearest point of the line of no pressure
    far = 10.0 * (math.hypot(x1 - x0, y1 - y0) + max(map(abs, (x0, y0, x1, y1)))) + math.hypot(
        *foot
    )
    left = (foot[0] - uy * far, foot[1] + ux * far)
    right = (foot[0] + uy * far, foot[1] - ux * far)
    shift = (ux * far, uy * far)
    return shapely.Polygon(
        [
            left,
            right,
            (right[0] + shift[0], right[1] + shift[1]),
            (left[0] + shift[0], left[1] + shift[1]),
        ]
    )


def even_share(
    points: Sequence[Point], force: float, centre: Point = (0.0, 0.0)
) -> tuple[float, ...] | None:
    """Reactions of rigid supports that all give alike, without tension.

    For three supports this is statics alone; for more it is what they come to carry at top
    heat, when the loaded ones have crept.

    Parameters
    ----------
    points : sequence of (float, float)
        The supports in plan [mm].
    force : float
        Total load [N].
    centre : (float, float)
        Centre of gravity in plan [mm].

    Returns
    -------
    tuple of float or None
        Reaction at each point [N]; None where no upward reactions balance the load.

    Examples
    --------
    >>> shares = even_share([(40, 0), (-20, 34.641), (-20, -34.641)], 90.0)
    >>> [round(share, 3) for share in shares]
    [30.0, 30.0, 30.0]
    """
    xs, ys = [x for x, _ in points], [y for _, y in points]
    m = Moments(
        len(points),
        math.fsum(xs),
        math.fsum(ys),
        math.fsum(x * x for x in xs),
        math.fsum(y * y for y in ys),
        math.fsum(x * y for x, y in points),
    )
    fitted = _fit(m, force, centre) if len(points) >= 3 else None
    if fitted is None:
        return None
    a, b, c = fitted
    shares = [a + b * x + c * y for x, y in points]
    if min(shares) >= -_SETTLED * force:
        return tuple(max(0.0, share) for share in shares)
    if worst_three(points, force, centre) is None:
        return None
    return _pressing_share(points, force, centre)


def _pressing_share(
    points: Sequence[Point], force: float, centre: Point
) -> tuple[float, ...] | None:
    """Reactions r = max(0, a + b x + c y) of supports that press but do not pull.

    The plane that balances the load makes ½ Σ r² − F (a + b x₀ + c y₀) least; that is convex,
    so Newton's method with a step that never climbs finds it whichever supports lift, also
    where dropping them one by one would leave too few.
    """
    import numpy as np

    size = max(math.hypot(x - centre[0], y - centre[1]) for x, y in points)
    rows = np.array([(1.0, (x - centre[0]) / size, (y - centre[1]) / size) for x, y in points])
    load = np.array([1.0, 0.0, 0.0])

    def energy(plane: NDArray[np.float64]) -> float:
        return float((np.maximum(rows @ plane, 0.0) ** 2).sum() / 2 - plane[0])

    plane = np.array([1.0 / len(points), 0.0, 0.0])
    for _ in range(100):
        shares = np.maximum(rows @ plane, 0.0)
        slope = rows.T @ shares - load
        if np.abs(slope).max() < _SETTLED:
            return tuple(float(share) * force for share in shares)
        pressing = rows[shares > 0.0]
        step = -np.linalg.solve(pressing.T @ pressing + 1e-10 * np.eye(3), slope)
        length = 1.0
        fall, here = 1e-4 * float(slope @ step), energy(plane)
        # Close to the end the energy is level to the last digit: a tiny step is then as good.
        while length > _SETTLED and energy(plane + length * step) > here + length * fall:
            length /= 2
        plane = plane + length * step
    return None


def worst_three(
    points: Sequence[Point], force: float, centre: Point = (0.0, 0.0)
) -> tuple[float, ...] | None:
    """For each rigid support the most it can carry when any three carry everything.

    Over all triples whose triangle holds the centre of gravity.

    Parameters
    ----------
    points : sequence of (float, float)
        The supports in plan [mm], three or more.
    force : float
        Total load [N].
    centre : (float, float)
        Centre of gravity in plan [mm].

    Returns
    -------
    tuple of float or None
        Largest reaction at each point [N]; None where no triangle holds the centre, or where
        there are fewer than three supports.

    Source
    ------
    Lever rule: the reactions of three supports are the barycentric coordinates of the load.

    Examples
    --------
    >>> worst_three([(1, 1), (-1, 1), (-1, -1), (1, -1)], 100.0)
    (50.0, 50.0, 50.0, 50.0)
    """
    import numpy as np

    if len(points) < 3:
        return None
    triples = _triples(len(points))
    xy = np.asarray(points, dtype=float) - np.asarray(centre)
    a, b, c = (xy[triples[:, k]] for k in range(3))
    whole = _cross(b - a, c - a)
    size = float(np.abs(xy).max()) ** 2
    proper = np.abs(whole) > 1e-9 * size
    triples, a, b, c, whole = (v[proper] for v in (triples, a, b, c, whole))
    shares = np.stack([_cross(b, c), _cross(c, a), _cross(a, b)], axis=1) / whole[:, None]
    holds = (shares >= -1e-9).all(axis=1)
    if not holds.any():
        return None
    worst = np.zeros(len(points))
    np.maximum.at(worst, triples[holds], np.clip(shares[holds], 0.0, None))
    return tuple(float(v) for v in worst * force)


@lru_cache(maxsize=64)
def _triples(count: int) -> NDArray[np.int64]:
    import numpy as np

    return np.array(list(itertools.combinations(range(count), 3)), dtype=np.int64)


def _cross(u: Any, v: Any) -> Any:
    return u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
