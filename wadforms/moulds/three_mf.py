"""3MF files, through lib3mf: meshes with their names and a unit that no reader has to guess.

3MF Core Specification 1.3.  lib3mf is the reference library of those who wrote it.
"""

from __future__ import annotations

import hashlib
import uuid
from collections.abc import Sequence
from functools import cache
from typing import Any, Final

from wadforms.errors import BadInput, Fault, KernelMissing, ProofFailed
from wadforms.moulds.meshes.mesh import Mesh

_OURS: Final = uuid.uuid5(uuid.NAMESPACE_URL, "wadforms:3mf")


def three_mf_bytes(meshes: Sequence[tuple[str, Mesh]]) -> bytes:
    """Meshes as the bytes of one 3MF file, mm: an object and a build item for each.

    The same meshes give the same bytes: identifiers are drawn from names and corners.

    Parameters
    ----------
    meshes : sequence of (str, Mesh)
        Name and triangles [mm] of each part, where it is to stand on the bed.

    Raises
    ------
    BadInput
        There is no mesh, or one without a name.
    ProofFailed
        A mesh is not closed or its facets do not all face outward (Core Specification §4.1).
    KernelMissing
        lib3mf cannot be loaded; there are wheels for x86-64 Linux, macOS and Windows only.

    Examples
    --------
    >>> import numpy as np
    >>> facets = np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> corner = Mesh(np.vstack([np.zeros(3), np.eye(3)]), facets)
    >>> three_mf_bytes([("corner", corner)])[:2]
    b'PK'
    """
    if not meshes:
        raise BadInput(Fault("meshes", "none", "give one at least"))
    if not all(name.strip() for name, _ in meshes):
        raise BadInput(Fault("name of a mesh", "none", "give each mesh a name"))
    library = _lib3mf()
    wrapper = library.get_wrapper()
    model = wrapper.CreateModel()
    model.SetUnit(library.ModelUnit.MilliMeter)
    model.SetLanguage("en")
    seeds = []
    for number, (name, mesh) in enumerate(meshes):
        part = model.AddMeshObject()
        part.SetName(name)
        part.SetGeometry(*(corners_and_facets := _arrays(library, mesh)))
        if not part.IsManifoldAndOriented():
            raise ProofFailed(f"{name}: is not closed, or not all of its facets face outward")
        if mesh.volume <= 0.0:
            raise ProofFailed(f"{name}: is inside out")
        content = b"".join(map(bytes, corners_and_facets))
        seeds.append(f"{number} {name} {hashlib.sha256(content).hexdigest()}")
        part.SetUUID(_identifier(f"object {seeds[-1]}"))
        item = model.AddBuildItem(part, wrapper.GetIdentityTransform())
        item.SetUUID(_identifier(f"item {seeds[-1]}"))
    model.SetBuildUUID(_identifier("build " + " ".join(seeds)))
    writer = model.QueryWriter("3mf")
    writer.SetStrictModeActive(True)
    written = bytes(writer.WriteToBuffer())
    if count := writer.GetWarningCount():
        raise ProofFailed(f"{meshes[0][0]}: lib3mf warned {count} times while it wrote")
    return written


def _arrays(library: Any, mesh: Mesh) -> tuple[Any, Any]:
    """Corners and facets as lib3mf takes them, copied at once, not number by number."""
    import numpy as np

    corners = np.ascontiguousarray(mesh.points + 0.0, dtype="<f4")  # −0.0 becomes 0.0
    facets = np.ascontiguousarray(mesh.facets, dtype="<u4")
    return (
        (library.Position * len(corners)).from_buffer_copy(corners.tobytes()),
        (library.Triangle * len(facets)).from_buffer_copy(facets.tobytes()),
    )


def _identifier(seed: str) -> str:
    return str(uuid.uuid5(_OURS, seed))


@cache
def _lib3mf() -> Any:
    try:
        import lib3mf
    except (ImportError, OSError) as error:
        raise KernelMissing(
            f"3MF files need the package lib3mf, which cannot be loaded here ({error}): install "
            "it with 'pip install lib3mf' on x86-64 Linux, macOS or Windows, for which there are "
            "wheels; STL and STEP are written without it"
        ) from error
    return lib3mf
