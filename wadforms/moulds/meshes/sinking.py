"""Cavities sunk into the top face of a block, without cutting.

Where cavities open at the top face alone, the part is the block without that face, the cavities
without their mouths and turned inside out, and a new face with holes that joins the two.  A
board of many cavities takes a fraction of the time that cutting takes, and its corners are those
of the block and of the cavities, to the bit.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

from wadforms.moulds.meshes.mesh import Mesh
from wadforms.moulds.part import Part, Placed
from wadforms.moulds.proofs.proof import altitudes
from wadforms.moulds.proofs.rings import rings_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from wadforms.geometry.body import Body

_FLAT: Final = 1e-5  # a facet lower than this [mm] may have no area in a file's short numbers

_LEVEL: Final = 1e-9  # what is this near to a level [mm] lies on it


def sunk(part: Part, whole: Callable[[Part], Mesh], meshed: Callable[[Body], Mesh]) -> Mesh | None:
    """The triangles of a part whose cavities open at its top face alone; None for any other.

    Parameters
    ----------
    part : Part
        Its solids and cuts [mm].
    whole : callable
        Makes the triangles of a part by cutting: here of the block with its words.
    meshed : callable
        Makes the triangles of one body.
    """
    import numpy as np
    from manifold3d import triangulate

    top = part.size[2]
    if not part.cuts or not all(_opens_above(cut, top) for cut in part.cuts):
        return None
    block = whole(replace(part, cuts=()))
    lid = _at(block, top)
    rings = rings_of(block.facets[lid])
    points, facets, start = [block.points], [block.facets[~lid]], len(block.points)
    kept: dict[int, tuple[Mesh, Any, list[Any]]] = {}
    for cut in part.cuts:
        if id(cut.body) not in kept:
            mesh = meshed(cut.body)
            mouth = _at(mesh, 0.0)
            kept[id(cut.body)] = mesh, mesh.facets[~mouth][:, ::-1], rings_of(mesh.facets[mouth])
        mesh, walls, mouths = kept[id(cut.body)]
        points.append(_moved(mesh.points, cut))
        facets.append(walls + start)
        # The mouth faces up now; run backwards, its edge is a hole in the lid, and the edge of a
        # hole in the mouth, where a pin stands, is a piece of lid.
        rings += [ring[::-1] + start for ring in mouths]
        start += len(mesh.points)
    every = np.concatenate(points)
    lid_facets = triangulate([every[ring][:, :2] for ring in rings])
    lid_corners = np.concatenate(rings)[lid_facets]
    if (altitudes(every[lid_corners]) < _FLAT).any():
        return None  # three corners in a line, which a cut has other corners for
    facets.append(lid_corners)
    joined = np.concatenate(facets)
    used, renamed = np.unique(joined, return_inverse=True)
    return Mesh(every[used], renamed.reshape(-1, 3))


def _opens_above(cut: Placed, top: float) -> bool:
    """Whether a cavity hangs from the top face and ends above the bed."""
    return cut.over and abs(cut.z - top) < _LEVEL and cut.body.height < top - _LEVEL


def _at(mesh: Mesh, level: float) -> NDArray[np.bool_]:
    """Which facets lie at a level."""
    import numpy as np

    return np.asarray((abs(mesh.points[:, 2] - level) < _LEVEL)[mesh.facets].all(axis=1))


def _moved(points: NDArray[np.float64], cut: Placed) -> NDArray[np.float64]:
    """Corners of a body where it belongs, turned over."""
    import numpy as np

    turn = np.radians(cut.turn)
    c, s = np.cos(turn), np.sin(turn)
    x, y, z = -points[:, 0], points[:, 1], -points[:, 2]
    return np.stack([c * x - s * y + cut.x, s * x + c * y + cut.y, z + cut.z], axis=1)
