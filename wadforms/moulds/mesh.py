"""Triangles of a solid, and the STL file that carries them."""

from __future__ import annotations

import io
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from wadforms.moulds import kernel

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

LINEAR: Final = 0.01
"""How far a facet may stray from the surface at most [mm]; a printed layer is ten times thicker."""

ANGULAR: Final = 0.2
"""Largest turn from one facet to the next [rad], for the look of small bends."""

VOLUME_SHARE: Final = 5e-4
"""What share of a piece's volume its facets may cut off: half of what a proof allows."""

_WELD = 1e-5  # corners nearer than this [mm] are one; the coarsest step of a 32-bit coordinate


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """Triangles that share their corners.

    Parameters
    ----------
    points : array of shape (n, 3)
        Corners [mm].
    facets : array of shape (m, 3)
        Indices into `points`, counter-clockwise seen from outside.
    """

    points: NDArray[np.float64]
    facets: NDArray[np.int64]

    @property
    def triangles(self) -> NDArray[np.float64]:
        """The corners of each facet, (m, 3, 3) [mm]."""
        return self.points[self.facets]

    @property
    def volume(self) -> float:
        """Enclosed volume [mm³]."""
        from wadforms.moulds.proof import enclosed_volume

        return enclosed_volume(self.triangles)


def fine_enough(shape: Any) -> float:
    """How far facets may stray from a solid so that its volume is kept [mm].

    On an arc they stray by two thirds of the sagitta s on average, so the curved faces, of
    area A, lose ⅔ s A; this gives the s at which that is `VOLUME_SHARE` of the volume.

    Parameters
    ----------
    shape : cadquery.Shape
        The piece, wet or set; for a mould the piece as well, not the block around it.
    """
    curved = sum(face.Area() for face in shape.Faces() if face.geomType() != "PLANE")
    if curved == 0.0:
        return LINEAR
    return min(LINEAR, 1.5 * VOLUME_SHARE * float(shape.Volume()) / float(curved))


def tessellate(shape: Any, *, linear: float = LINEAR, angular: float = ANGULAR) -> Mesh:
    """Triangles of a solid.

    Parameters
    ----------
    shape : cadquery.Shape
        A closed solid.
    linear : float
        How far a facet may stray [mm]: absolute, where CadQuery's own exporter takes it
        relative to the length of each edge.
    angular : float
        Largest turn between neighbouring facets [rad].

    Raises
    ------
    KernelMissing
        The kernel cannot be loaded.
    """
    import numpy as np

    wanted = kernel.ocp("IMeshTools").IMeshTools_Parameters()
    wanted.Deflection, wanted.Angle, wanted.Relative = linear, angular, False
    # The edges and the grid on a cone or sphere keep to the deflection already; the kernel's
    # second look would only add corners to flat walls.
    wanted.ControlSurfaceDeflection = False
    kernel.ocp("BRepMesh").BRepMesh_IncrementalMesh(shape.wrapped, wanted)
    points: list[tuple[float, float, float]] = []
    facets: list[tuple[int, int, int]] = []
    for face in shape.Faces():
        _add_face(face.wrapped, points, facets)
    return _welded(np.array(points, dtype=np.float64), np.array(facets, dtype=np.int64))


def _add_face(
    face: Any, points: list[tuple[float, float, float]], facets: list[tuple[int, int, int]]
) -> None:
    """Append the triangles that the kernel keeps with one face."""
    place = kernel.ocp("TopLoc").TopLoc_Location()
    found = kernel.ocp("BRep").BRep_Tool.Triangulation_s(face, place)
    if found is None:
        return  # the missing face leaves a gap, which the proof reports
    move, first = place.Transformation(), len(points) - 1  # the kernel counts from 1
    for i in range(1, found.NbNodes() + 1):
        node = found.Node(i).Transformed(move)
        points.append((node.X(), node.Y(), node.Z()))
    inside_out = face.Orientation() == kernel.ocp("TopAbs").TopAbs_Orientation.TopAbs_REVERSED
    for triangle in found.Triangles():
        a, b, c = (first + triangle.Value(k) for k in (1, 2, 3))
        facets.append((a, c, b) if inside_out else (a, b, c))


def _welded(points: NDArray[np.float64], facets: NDArray[np.int64]) -> Mesh:
    """One corner where the faces meet, instead of one for each face."""
    import numpy as np

    # The cells are shifted by an odd share, so that round coordinates do not lie on their borders.
    cells = np.floor(points / _WELD + 0.37).astype(np.int64)
    _, kept, which = np.unique(cells, axis=0, return_index=True, return_inverse=True)
    joined = which.reshape(-1)[facets]
    a, b, c = joined.T
    # A sliver whose ends fell together is a line; without it its two neighbours meet there.
    return Mesh(points[kept], joined[(a != b) & (b != c) & (c != a)])


def stl_bytes(mesh: Mesh, title: str) -> bytes:
    """A mesh as the bytes of a binary STL file, mm.

    Parameters
    ----------
    mesh : Mesh
        The triangles.
    title : str
        Goes into the header; ASCII.
    """
    import numpy as np
    from stl import Mode
    from stl import mesh as stl_mesh

    rows = np.zeros(len(mesh.facets), dtype=stl_mesh.Mesh.dtype)
    rows["vectors"] = triangles = mesh.triangles
    # numpy-stl would write normals as long as the facet is large; readers expect unit length.
    normals = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    rows["normals"] = normals / np.linalg.norm(normals, axis=1, keepdims=True)
    stream = io.BytesIO()
    made = stl_mesh.Mesh(rows, calculate_normals=False)
    made.save(title, fh=stream, mode=Mode.BINARY, update_normals=False)
    return stream.getvalue()
