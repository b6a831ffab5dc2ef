"""Finds facets of a closed mesh that run through each other."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms.moulds.proofs.near import LEVEL, near
from wadforms.moulds.proofs.proof import facings
from wadforms.moulds.proofs.rings import rings_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Facets = NDArray[np.int64]

_DEEP: Final = 1e-4
"""Facets that pass through each other by less [mm] only touch: a file's rounding does as much."""

_NEARLY: Final = 0.9 * _DEEP  # what is looked at closely, whichever way it was rounded

_ALIKE: Final = 1e-6  # facets whose normals turn by less than 0.08° may lie in one plane


def crossing(corners: Floats, facets: Facets) -> Floats | None:
    """A place where two facets run through each other, or None.

    Level facets are compared by area, all others by the boxes around them and then edge against
    facet.  Facets in one plane run through each other where they face the same way, or share a
    side and are folded upon it; those that face each other only touch.

    Parameters
    ----------
    corners : array of shape (k, 3)
        The different corners [mm].
    facets : array of shape (n, 3)
        Which three of them each facet has.

    Returns
    -------
    array of shape (3,) or None
        The place [mm].

    Examples
    --------
    >>> import numpy as np
    >>> floor = [(0, 0, 0), (9, 0, 0), (0, 9, 0)]
    >>> blade = [(2, 2, -1), (3, 2, 1), (2, 3, 1)]
    >>> through = crossing(np.array(floor + blade, dtype=float), np.array([[0, 1, 2], [3, 4, 5]]))
    >>> [float(v) for v in through]
    [2.5, 2.0, 0.0]
    >>> crossing(np.array(floor + blade, dtype=float) + 0.0, np.array([[0, 1, 2]])) is None
    True
    """
    import numpy as np

    # By axis, corner and facet: numbers that are used together lie together.
    at = np.take(corners.T, facets.T, axis=1)
    low, high = at.min(axis=1), at.max(axis=1)
    level = high[2] - low[2] < LEVEL
    if level.any():
        place = _overlapping_levels(corners, facets[level], low[2, level])
        if place is not None:
            return place
    planes = _Planes.of(at)
    triangles = at.transpose(2, 1, 0)
    for one, other in near(low, high):
        for some, target in ((one, other), (other, one)):
            pairs = _chosen(some, target, planes.passed(some, target))
            apart = _shared(facets, pairs) < 2
            if (place := _first_crossing(triangles, pairs[apart])) is not None:
                return place
        pairs = _chosen(one, other, planes.alike(one, other))
        place = _first_overlap(triangles, pairs, _shared(facets, pairs) < 2)
        if place is not None:
            return place
    return None


class _Planes(NamedTuple):
    """The plane of each facet.

    Parameters
    ----------
    at : array of shape (3, 3, n)
        Corners by axis, corner and facet [mm].
    normals : array of shape (3, n)
        Of unit length, by axis.
    levels : array of shape (n,)
        How far each plane is from the origin along its normal [mm].
    """

    at: Floats
    normals: Floats
    levels: Floats

    @classmethod
    def of(cls, at: Floats) -> _Planes:
        """The planes of facets, by axis, corner and facet."""
        import numpy as np

        normals = facings(at.transpose(2, 1, 0))
        normals /= np.maximum(np.sqrt((normals**2).sum(axis=0)), 1e-300)
        return cls(at, normals, (normals * at[:, 0]).sum(axis=0))

    def passed(self, some: Facets, others: Facets) -> NDArray[np.bool_]:
        """Which facets have corners on both sides of the others' planes; none else runs through."""
        import numpy as np

        x, y, z = self.normals[:, others]
        levels = self.levels[others]
        (ax, bx, cx), (ay, by, cy), (az, bz, cz) = self.at
        corners = (ax, ay, az), (bx, by, bz), (cx, cy, cz)
        a, b, c = (u[some] * x + v[some] * y + w[some] * z - levels for u, v, w in corners)
        above = np.maximum(np.maximum(a, b), c) > _NEARLY
        below = np.minimum(np.minimum(a, b), c) < -_NEARLY
        return np.asarray(above & below)

    def alike(self, some: Facets, others: Facets) -> NDArray[np.bool_]:
        """Which facets may lie in one plane with the others."""
        import numpy as np

        x, y, z = self.normals
        cosine = x[some] * x[others] + y[some] * y[others] + z[some] * z[others]
        return np.asarray(abs(cosine) > 1.0 - 2 * _ALIKE)


def _chosen(some: Facets, others: Facets, which: NDArray[np.bool_]) -> Facets:
    """Some of given pairs, (m, 2)."""
    import numpy as np

    return np.stack([some[which], others[which]], axis=1)


def _shared(facets: Facets, pairs: Facets) -> NDArray[np.int64]:
    """How many corners the facets of each pair have in common."""
    import numpy as np

    a, b = facets[pairs[:, 0]].T, facets[pairs[:, 1]].T
    same = np.zeros(len(pairs), dtype=np.int64)
    for one in a:
        for other in b:
            same += one == other
    return same


def _first_crossing(triangles: Floats, pairs: Facets) -> Floats | None:
    """Where an edge of a facet passes through the other, for the first pair that does so."""
    import numpy as np

    target = triangles[pairs[:, 1]]
    normal = facings(target).T
    normal = normal / np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-300)
    away = np.einsum("nkj,nj->nk", triangles[pairs[:, 0]] - target[:, :1], normal)
    for k in range(3):
        a, b = away[:, k], away[:, (k + 1) % 3]
        passes = np.flatnonzero((a * b < 0.0) & (np.minimum(abs(a), abs(b)) > _DEEP))
        if not len(passes):
            continue
        share = (a[passes] / (a[passes] - b[passes]))[:, None]
        passing = pairs[passes, 0]
        start, end = triangles[passing, k], triangles[passing, (k + 1) % 3]
        place = start + share * (end - start)
        sides = np.roll(target[passes], -1, axis=1) - target[passes]
        inward = np.cross(normal[passes, None, :], sides)
        inward /= np.maximum(np.linalg.norm(inward, axis=2, keepdims=True), 1e-300)
        depth = np.einsum("nkj,nkj->nk", place[:, None, :] - target[passes], inward).min(axis=1)
        hit = depth > _DEEP
        if hit.any():
            return np.asarray(place[hit.argmax()])
    return None


def _first_overlap(triangles: Floats, pairs: Facets, apart: NDArray[np.bool_]) -> Floats | None:
    """Where two facets of one plane lie on each other, for the first pair that does so."""
    import numpy as np

    if not len(pairs):
        return None
    normals = facings(triangles[pairs.reshape(-1)]).T.reshape(-1, 2, 3)
    normals /= np.maximum(np.linalg.norm(normals, axis=2, keepdims=True), 1e-300)
    alike = np.einsum("nj,nj->n", normals[:, 0], normals[:, 1])
    lying = (alike > 1.0 - _ALIKE) & apart | (alike < _ALIKE - 1.0) & ~apart
    some, normals = pairs[lying], normals[lying]
    for one, other in ((0, 1), (1, 0)):
        target, normal = triangles[some[:, one]], normals[:, one]
        sides = np.roll(target, -1, axis=1) - target
        there = triangles[some[:, other]][:, :, None, :] - target[:, None, :, :]
        plane = abs(np.einsum("nckj,nj->nck", there, normal)).max(axis=(1, 2)) < _DEEP
        inward = np.cross(normal[:, None, :], sides)
        inward /= np.maximum(np.linalg.norm(inward, axis=2, keepdims=True), 1e-300)
        # Beyond one of its sides lies all of the other: then they are side by side.
        reach = np.einsum("nckj,nkj->nck", there, inward).max(axis=1)
        still = plane & (reach > _DEEP).all(axis=1)
        some, normals = some[still], normals[still]
    return np.asarray(triangles[some[0]].mean(axis=(0, 1))) if len(some) else None


def _overlapping_levels(corners: Floats, facets: Facets, level: Floats) -> Floats | None:
    """A place at a level where facets that face the same way lie on each other.

    The edge of what they cover winds once around every point that is covered once; where they
    overlap, it crosses itself or encloses less than the facets' sum.
    """
    import numpy as np
    from shapely import area, build_area, is_valid, linestrings, multilinestrings

    twice = facings(corners[facets])[2]
    for z, up in product(np.unique(np.round(level, 4)), (False, True)):
        here = (abs(level - z) < _DEEP) & ((twice > 0.0) == up)
        if not here.any():
            continue
        rings = [corners[[*ring, ring[0]], :2] for ring in rings_of(facets[here])]
        covered = build_area(multilinestrings([linestrings(ring) for ring in rings]))
        total = float(abs(twice[here]).sum()) / 2
        differs = abs(total - float(area(covered))) > _DEEP * max(1.0, total**0.5)
        if differs or not is_valid(covered):
            return _widest_overlap(corners[facets[here]])
    return None


def _widest_overlap(triangles: Floats) -> Floats:
    """The middle of the largest overlap of level facets."""
    import numpy as np
    from shapely import STRtree, area, centroid, get_coordinates, intersection, polygons

    flats = polygons(triangles[:, :, :2])
    first, second = STRtree(flats).query(flats, predicate="intersects")
    first, second = first[first < second], second[first < second]
    common = intersection(flats[first], flats[second])
    middle = get_coordinates(centroid(common[area(common).argmax()]))[0]
    return np.array([*middle, triangles[0, 0, 2]])
