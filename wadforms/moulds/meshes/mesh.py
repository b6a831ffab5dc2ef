"""Triangles that share their corners, and the STL file that carries them."""

from __future__ import annotations

import io
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


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
        from wadforms.moulds.proofs.proof import enclosed_volume

        return enclosed_volume(self.triangles)


def turned_over(mesh: Mesh) -> Mesh:
    """A mesh turned by half about the y axis, so that what lay below is above.

    Parameters
    ----------
    mesh : Mesh
        The triangles [mm].

    Examples
    --------
    >>> import numpy as np
    >>> corner = Mesh(np.vstack([np.zeros(3), np.eye(3)]), np.array([[0, 2, 1]]))
    >>> turned_over(corner).points[2].tolist()
    [0.0, 1.0, 0.0]
    """
    import numpy as np

    return Mesh(mesh.points * np.array([-1.0, 1.0, -1.0]) + 0.0, mesh.facets)


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
    # The library's header tells the time, so that no two files would be the same.
    return title.encode("ascii", "replace").ljust(80)[:80] + stream.getvalue()[80:]
