"""Level slices of a closed mesh, by plain arithmetic."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from wadforms.moulds.meshes.mesh import Mesh
from wadforms.moulds.proofs.rings import cycles

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Ring = NDArray[np.float64]


def slicer(mesh: Mesh) -> Callable[[float], list[Ring]]:
    """A function that gives the closed lines in which a level [mm] cuts a mesh.

    A corner that lies at the level counts as above it, so that no facet is cut at a corner.

    Parameters
    ----------
    mesh : Mesh
        Closed: along each edge of a facet another one runs back [mm].

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.moulds.meshes.assembly import meshed
    >>> ring = family("ring")(diameter=60, width=9, draft=0).piece()
    >>> inner, outer = sorted(slicer(meshed(ring.body))(4.0), key=lambda line: line.max())
    >>> inner.max(axis=0).round(2).tolist(), outer.max(axis=0).round(2).tolist()
    ([21.0, 21.0], [30.0, 30.0])
    """
    import numpy as np

    points, facets = mesh.points, mesh.facets
    heights = points[:, 2]
    corners = np.array(facets.T, order="C")
    low, high = heights[corners].min(axis=0), heights[corners].max(axis=0)

    def cut(z: float) -> list[Ring]:
        through = corners[:, (low < z) & (high >= z)]
        above = heights[through] >= z
        ahead, above_ahead = through[[1, 2, 0]], above[[1, 2, 0]]
        # Around each facet that is cut, one side rises through the level and one falls.
        every = np.arange(through.shape[1])
        rising = (~above & above_ahead).argmax(axis=0)
        falling = (above & ~above_ahead).argmax(axis=0)
        start, end = through[rising, every], ahead[rising, every]
        up = start * len(points) + end
        # The side that falls is the one that rises in the facet next to it.
        down = ahead[falling, every] * len(points) + through[falling, every]
        order = np.argsort(up)
        following = order[np.searchsorted(up, down, sorter=order)]
        share = (z - heights[start]) / (heights[end] - heights[start])
        places = points[start, :2] + share[:, None] * (points[end, :2] - points[start, :2])
        return [places[ring] for ring in cycles(following.tolist())]

    return cut
