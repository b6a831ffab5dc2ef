"""Reads a mesh file back and shows that it is what was meant.

Plain arithmetic on the triangles of the file; the kernel that made them has no say here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from wadforms.errors import ProofFailed
from wadforms.moulds.meshes.mesh import Mesh

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Triangles = NDArray[np.floating]

VOLUME_TOLERANCE: Final = 1e-3
"""How far the volume of a file may be from that of its solid, as a share."""

_THIN = 1e-7  # a facet lower than this [mm] has no area worth the name
_MIX = (0x9E3779B97F4A7C15, 0xC2B2AE3D27D4EB4F, 0x165667B19E3779F9)  # odd, and unlike
_FACING_DOWN = 1e-3  # a wall that leans over by less than 0.06° is upright but for rounding


@dataclass(frozen=True, slots=True, eq=False)
class Proof:
    """What a file was shown to be.

    Parameters
    ----------
    facets : int
        Number of triangles.
    volume : float
        Enclosed volume [mm³].
    low, high : tuple of float
        Corners of the box around it [mm].
    mesh : Mesh
        Its facets, which share their corners.
    """

    facets: int
    volume: float
    low: tuple[float, float, float]
    high: tuple[float, float, float]
    mesh: Mesh


def read_triangles(path: Path) -> Triangles:
    """The triangles of an STL file, (n, 3, 3) [mm].

    Raises
    ------
    ProofFailed
        The file cannot be read as STL.
    """
    import numpy as np
    from stl.mesh import Mesh

    try:
        vectors = Mesh.from_file(str(path), calculate_normals=False).vectors
    except (OSError, RuntimeError, ValueError, AssertionError) as error:
        raise ProofFailed(f"{path.name}: cannot be read back as STL ({error})") from error
    return np.asarray(vectors, dtype=np.float64)


def prove(triangles: Triangles, name: str) -> Proof:
    """Show that triangles enclose one body, facing outward.

    Parameters
    ----------
    triangles : array of shape (n, 3, 3)
        Corners [mm], as read from a file: those that are meant to be one are equal to the bit.
    name : str
        Of the file, for the message.

    Raises
    ------
    ProofFailed
        There is a gap, a facet without area, a second body, or the inside is out; the message
        tells which, with a place.

    Examples
    --------
    >>> import numpy as np
    >>> o, x, y, z = np.vstack([np.zeros(3), np.eye(3)])
    >>> prove(np.array([[o, y, x], [o, x, z], [o, z, y], [x, y, z]]), "corner").volume * 6
    1.0
    >>> prove(np.array([[o, y, x], [o, x, z], [o, z, y]]), "corner")
    Traceback (most recent call last):
    ...
    wadforms.errors.ProofFailed: corner: is not closed: 3 edges lack a neighbour, one at \
(0.00, 1.00, 0.00) mm
    """
    import numpy as np

    if len(triangles) == 0:
        raise ProofFailed(f"{name}: has no facets")
    if not np.isfinite(triangles).all():
        raise ProofFailed(f"{name}: has corners that are no numbers")
    flat = altitudes(triangles) < _THIN
    if flat.any():
        place = place_of(triangles[flat][0, 0])
        raise ProofFailed(f"{name}: has {flat.sum()} facets without area, one at {place}")
    corners, facets = shared_corners(triangles)
    lonely = unmatched_edges(facets)
    if len(lonely):
        place = place_of(corners[lonely[0, 0]])
        raise ProofFailed(
            f"{name}: is not closed: {len(lonely)} edges lack a neighbour, one at {place}"
        )
    if (bodies := body_count(facets)) != 1:
        raise ProofFailed(f"{name}: is {bodies} bodies instead of one")
    volume = enclosed_volume(triangles)
    if volume <= 0.0:
        raise ProofFailed(f"{name}: is inside out")
    low, high = corners.min(axis=0), corners.max(axis=0)
    return Proof(len(triangles), volume, _triple(low), _triple(high), Mesh(corners, facets))


def enclosed_volume(triangles: Triangles) -> float:
    """Volume by the divergence theorem: a sum of tetrahedra on the box's middle [mm³]."""
    import numpy as np

    at = np.array(triangles.transpose(2, 1, 0), dtype=np.float64, order="C")
    middle = (at.min(axis=(1, 2)) + at.max(axis=(1, 2))) / 2
    a = at[:, 0] - middle[:, None]
    return float(np.vdot(a, facings(triangles))) / 6.0


def altitudes(triangles: Triangles) -> NDArray[np.float64]:
    """Smallest height of each triangle [mm]: twice its area over its longest side."""
    import numpy as np

    at = np.array(triangles.transpose(2, 1, 0), order="C")
    longest = np.sqrt(((at - at[:, [1, 2, 0]]) ** 2).sum(axis=0).max(axis=0))
    twice_area = np.sqrt((facings(triangles) ** 2).sum(axis=0))
    return np.asarray(twice_area / np.maximum(longest, 1e-300))


def facings(triangles: Triangles) -> NDArray[np.float64]:
    """By axis, (3, n), where each triangle faces: as long as twice its area [mm²].

    Sums along an axis of three take numpy many times as long as sums of three columns.

    Examples
    --------
    >>> import numpy as np
    >>> facings(np.array([[(0, 0, 0), (3, 0, 0), (0, 2, 0)]], dtype=float))[:, 0].tolist()
    [0.0, 0.0, 6.0]
    """
    import numpy as np

    at = np.array(triangles.transpose(1, 2, 0), dtype=np.float64, order="C")
    (ux, uy, uz), (vx, vy, vz) = at[1] - at[0], at[2] - at[0]
    return np.array([uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx])


def shared_corners(triangles: Triangles) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """The different corners (k, 3), and for each triangle which three they are."""
    import numpy as np

    # + 0.0 turns −0.0 into 0.0, which is the same place.
    flat = np.ascontiguousarray(triangles.reshape(-1, 3) + 0.0)
    # One whole number stands for the bits of a place: sorting it is ten times as fast as
    # sorting places, and should two places ever share it, the slow way is taken.
    bits = flat.view(np.uint64)
    bits = bits ^ (bits >> np.uint64(31))  # the low bits of what was a 32-bit number are empty
    mixed = (bits * np.array(_MIX, dtype=np.uint64)).sum(axis=1, dtype=np.uint64)
    _, first, which = np.unique(mixed, return_index=True, return_inverse=True)
    corners = flat[first]
    if not np.array_equal(corners[which], flat):
        corners, which = np.unique(flat, axis=0, return_inverse=True)
    return corners, which.reshape(-1, 3)


def unmatched_edges(facets: NDArray[np.int64]) -> NDArray[np.int64]:
    """Directed edges (from, to) that no other triangle runs back along, exactly once."""
    import numpy as np

    edges = np.concatenate([facets[:, [0, 1]], facets[:, [1, 2]], facets[:, [2, 0]]])
    count = int(facets.max()) + 1
    there = edges[:, 0] * count + edges[:, 1]
    back = edges[:, 1] * count + edges[:, 0]
    ordered = np.sort(there)
    if (ordered[1:] > ordered[:-1]).all() and np.array_equal(ordered, np.sort(back)):
        return edges[:0]
    keys, times = np.unique(there, return_counts=True)
    once = np.isin(there, keys[times == 1])
    return np.asarray(edges[~(once & np.isin(back, keys[times == 1]))])


def body_count(facets: NDArray[np.int64]) -> int:
    """How many bodies hang together by their corners."""
    import numpy as np

    # Each corner leads to one of a lower number, or to itself where it leads a body; triangles
    # whose corners have one leader have nothing more to join.
    leader = np.arange(int(facets.max()) + 1)
    left = facets.T
    while True:
        led = leader[left]
        least = np.minimum(np.minimum(led[0], led[1]), led[2])
        apart = (led != least).any(axis=0)
        if not apart.any():
            return len(np.unique(leader[facets[:, 0]]))
        left, led, least = left[:, apart], led[:, apart], least[apart]
        for one in led:
            np.minimum.at(leader, one, least)
        while not np.array_equal(further := leader[leader], leader):
            leader = further


def facing_down(triangles: Triangles, *, above: float) -> NDArray[np.bool_]:
    """Which facets face down and reach higher than the level `above` [mm].

    What has none can be drawn straight up out of a mould.
    """
    import numpy as np

    facing = facings(triangles)
    down = facing[2] < -_FACING_DOWN * np.sqrt((facing**2).sum(axis=0))
    return np.asarray(down & (triangles[:, :, 2] > above + 1e-4).any(axis=1))


def _triple(point: Triangles) -> tuple[float, float, float]:
    x, y, z = (float(v) for v in point)
    return x, y, z


def place_of(point: Iterable[float]) -> str:
    """A place in a file, for a message; x, y and z [mm].

    Examples
    --------
    >>> place_of((1.0, 2.5, 0.0))
    '(1.00, 2.50, 0.00) mm'
    """
    return "({:.2f}, {:.2f}, {:.2f}) mm".format(*point)
