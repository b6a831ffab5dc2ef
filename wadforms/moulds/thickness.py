"""Measures the walls and floors of a part in its finished triangles."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.moulds.mesh import Mesh
from wadforms.moulds.part import Box

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Triangles = NDArray[np.floating]

_BESIDE: Final = 2e-3  # slices lie this much beside a step [mm], where the outlines differ

_BETWEEN: Final = 4  # slices between the lowest and the highest level, beside those at steps


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
    mesh: Mesh, *, below: float, words: Box | None = None, hollows: Sequence[Box] = ()
) -> Thinnest:
    """The thinnest wall between two hollows, or a hollow and the outside, in level slices.

    Slices are laid below and above each step of the part and between them; walls are straight
    from step to step, so they are thinnest beside one.

    Parameters
    ----------
    mesh : Mesh
        A closed part [mm].
    below : float
        Only walls thinner than this [mm] are looked for.
    words : tuple of float, optional
        A box [mm]; hollows inside it are letters, and what stands between them is no wall.
    hollows : sequence of tuple of float, optional
        A box for each hollow [mm]: a ridge within one, as in the cavity of a cradle, shapes the
        clay and is no wall.

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.moulds.assembly import meshed
    >>> ring = family("ring")(outer=60, width=9, draft=0).piece()
    >>> round(thinnest_wall(meshed(ring.body), below=12).width, 2)
    9.0
    """
    import numpy as np
    from manifold3d import Manifold, Mesh64

    solid = Manifold(Mesh64(mesh.points, mesh.facets.astype(np.uint64)))
    found = Thinnest(np.inf, (0.0, 0.0, 0.0))
    for z in _slices(mesh):
        rings = [
            r for r in solid.slice(z).to_polygons() if words is None or not _inside(r, z, words)
        ]
        if len(rings) > 1:
            found = min(found, _thinnest_between(rings, z, below, hollows), key=lambda t: t.width)
    return found


def _inside(ring: Any, z: float, box: Box) -> bool:
    """Whether a ring of a slice lies within a box."""
    (x0, y0), (x1, y1) = ring.min(axis=0), ring.max(axis=0)
    near = 0.01
    return bool(
        x0 > box[0] - near and y0 > box[1] - near and x1 < box[3] + near and y1 < box[4] + near
        and box[2] - near < z < box[5] + near
    )  # fmt: skip


def _slices(mesh: Mesh) -> list[float]:
    """Levels at which a part is looked at [mm]."""
    import numpy as np

    z = mesh.triangles[:, :, 2]
    bottom, top = float(z.min()), float(z.max())
    flat = z[np.ptp(z, axis=1) < _BESIDE, 0]
    steps = np.unique(np.round(flat, 3))
    levels = [float(s) + d for s in steps for d in (-_BESIDE, _BESIDE)]
    levels += list(np.linspace(bottom, top, _BETWEEN + 2)[1:-1])
    return sorted(level for level in levels if bottom < level < top)


def _thinnest_between(rings: list[Any], z: float, below: float, hollows: Sequence[Box]) -> Thinnest:
    """The thinnest place between two rings of a slice where there is material."""
    import numpy as np
    from shapely import LinearRing, Point, Polygon, STRtree, shortest_line

    lines = np.array([LinearRing(ring) for ring in rings])
    areas = STRtree([Polygon(ring) for ring in rings])
    first, second = STRtree(lines).query(lines, predicate="dwithin", distance=below)
    best = Thinnest(np.inf, (0.0, 0.0, 0.0))
    for i, j in zip(first, second, strict=True):
        if i >= j or any(_inside(rings[i], z, h) and _inside(rings[j], z, h) for h in hollows):
            continue
        across = shortest_line(lines[i], lines[j])
        middle = across.interpolate(0.5, normalized=True)
        # Inside an odd number of rings is material; what lies between two parts is air.
        around = len(areas.query(Point(middle.x, middle.y), predicate="within"))
        if around % 2 and across.length < best.width:
            best = Thinnest(float(across.length), (middle.x, middle.y, z))
    return best


def lowest_upward(triangles: Triangles) -> float:
    """The lowest level at which a facet faces up [mm]: how thick the thinnest floor is.

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.moulds.assembly import meshed
    >>> seat = family("disk")(diameter=40, height=9).piece()
    >>> lowest_upward(meshed(seat.body).triangles)
    9.0
    """
    import numpy as np

    sides = np.roll(triangles, -1, axis=1) - triangles
    normals = np.cross(sides[:, 0], sides[:, 1])
    # Facets that stand a quarter of a degree from upright are walls.
    up = normals[:, 2] > 0.005 * np.linalg.norm(normals, axis=1)
    return float(triangles[up][:, :, 2].max(axis=1).min()) if up.any() else 0.0
