"""Measures the walls and floors of a part in its finished triangles."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.moulds.meshes.mesh import Mesh
from wadforms.moulds.part import Box
from wadforms.moulds.proofs.proof import facings
from wadforms.moulds.proofs.slices import slicer

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Triangles = NDArray[np.floating]

_BESIDE: Final = 2e-3  # slices lie this much beside a step [mm], where the outlines differ

_FLOOR: Final = 0.7072  # cosine of the slope up to which a facet is floor: just below 45°

_NEAR: Final = 0.01  # what lies within a box to this [mm] lies in it


class Thinnest(NamedTuple):
    """The thinnest wall that was found.

    Parameters
    ----------
    width : float
        Its thickness [mm]; infinite where the part has no wall.
    place : tuple of float
        Its middle [mm].
    """

    width: float
    place: tuple[float, float, float]


def thinnest_wall(
    mesh: Mesh, *, asked: float, words: Box | None = None, hollows: Sequence[Box] = ()
) -> Thinnest:
    """The thinnest wall between two hollows, or a hollow and the outside, in level slices.

    Slices are laid below and above each step of the part; walls are straight from step to step,
    or grow thicker from the rim down, so they are thinnest beside one.  Below the rim and
    above the bed the thinnest is measured, everywhere else it is only shown to be no thinner
    than asked, or measured if it is.

    Parameters
    ----------
    mesh : Mesh
        A closed part [mm].
    asked : float
        What the thinnest should have [mm]; only walls less than 1 mm thicker are measured.
    words : tuple of float, optional
        A box [mm]; hollows inside it are letters, and what stands between them is no wall.
    hollows : sequence of tuple of float, optional
        A box for each hollow [mm]: a ridge within one, as in the cavity of a cradle, shapes the
        clay and is no wall.

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.moulds.meshes.assembly import meshed
    >>> ring = family("ring")(diameter=60, width=9, draft=0).piece()
    >>> round(thinnest_wall(meshed(ring.body), asked=9).width, 2)
    9.0
    """
    import numpy as np

    cut = slicer(mesh)
    found = Thinnest(np.inf, (0.0, 0.0, 0.0))
    levels = _slices(mesh, without=None if words is None else words[2])
    for z in levels:
        rings = cut(z)
        if words is not None and rings:
            within = _within(rings, z, [words])[0]
            rings = [ring for ring, inside in zip(rings, within, strict=True) if not inside]
        if len(rings) > 1:
            below = asked + 1.0 if z in (levels[0], levels[-1]) else asked - _NEAR
            here = _thinnest_between(rings, z, below, _within(rings, z, hollows))
            found = min(found, here, key=lambda t: t.width)
    return found


def _within(rings: list[Any], z: float, boxes: Sequence[Box]) -> NDArray[np.bool_]:
    """Which rings of a slice lie within which boxes, (boxes, rings)."""
    import numpy as np

    low = np.array([ring.min(axis=0) for ring in rings]).reshape(1, -1, 2)
    high = np.array([ring.max(axis=0) for ring in rings]).reshape(1, -1, 2)
    edge: NDArray[np.float64] = np.array([list(b) for b in boxes], dtype=float).reshape(-1, 1, 6)
    plan = (low > edge[:, :, :2] - _NEAR).all(axis=2) & (high < edge[:, :, 3:5] + _NEAR).all(axis=2)
    level = (edge[..., 2] - _NEAR < z) & (z < edge[..., 5] + _NEAR)
    return np.asarray(plan & level, dtype=np.bool_)


def _slices(mesh: Mesh, *, without: float | None) -> list[float]:
    """Levels at which a part is looked at [mm]; none at the step where letters begin."""
    import numpy as np

    a, b, c = (mesh.points[mesh.facets[:, k], 2] for k in range(3))
    flat = np.maximum(np.maximum(a, b), c) - np.minimum(np.minimum(a, b), c) < _BESIDE
    steps = np.unique(np.round(a[flat], 3))
    bottom, top = float(mesh.points[:, 2].min()), float(mesh.points[:, 2].max())
    if without is not None:
        steps = steps[abs(steps - without) > _BESIDE]
    levels = [float(step) + beside for step in steps for beside in (-_BESIDE, _BESIDE)]
    return sorted(level for level in levels if bottom < level < top)


def _thinnest_between(
    rings: list[Any], z: float, below: float, hollows: NDArray[np.bool_]
) -> Thinnest:
    """The thinnest place between two rings of a slice, not of one hollow, with material there."""
    import numpy as np
    from shapely import STRtree, length, linearrings, polygons, prepare, shortest_line

    sizes = [len(ring) for ring in rings]
    # The library closes them: the first corner of each is its last too.
    lines = linearrings(np.concatenate(rings), indices=np.repeat(np.arange(len(rings)), sizes))
    prepare(lines)  # each is asked for its distance to several others
    first, second = STRtree(lines).query(lines, predicate="dwithin", distance=below)
    other = first < second
    first, second = first[other], second[other]
    apart = ~(hollows[:, first] & hollows[:, second]).any(axis=0)
    across = shortest_line(lines[first[apart]], lines[second[apart]])
    widths = length(across)
    areas = STRtree(polygons(lines))
    for k in np.argsort(widths):
        middle = across[k].interpolate(0.5, normalized=True)
        # Inside an odd number of rings is material; what lies between two parts is air.
        if len(areas.query(middle, predicate="within")) % 2:
            return Thinnest(float(widths[k]), (middle.x, middle.y, z))
    return Thinnest(np.inf, (0.0, 0.0, 0.0))


def lowest_upward(triangles: Triangles) -> float:
    """The lowest level at which a facet faces up [mm]: how thick the thinnest floor is.

    A slope up to 45° is floor and counts with its lowest corner; what is steeper is wall and
    counts with its highest, so that a drafted hole may go right through.

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.moulds.meshes.assembly import meshed
    >>> seat = family("disk")(diameter=40, height=9).piece()
    >>> lowest_upward(meshed(seat.body).triangles)
    9.0
    """
    import numpy as np

    facing = facings(triangles)
    share = facing[2] / np.maximum(np.sqrt((facing**2).sum(axis=0)), 1e-300)
    z = np.array(triangles[:, :, 2].T, order="C")
    levels = np.where(share > _FLOOR, z.min(axis=0), z.max(axis=0))
    # Facets that stand a quarter of a degree from upright are walls.
    up = share > 0.005
    return float(levels[up].min()) if up.any() else 0.0
