"""Finds facets of a closed mesh that run through each other."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms.moulds.proofs.near import LEVEL, Pairs, near
from wadforms.moulds.proofs.proof import facings

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
    for pairs in near(low, high):
        through, alike = planes.suspects(pairs)
        some = _chosen(pairs, through)
        if (place := _first_crossing(triangles, some[_shared(facets, some) < 2])) is not None:
            return place
        some = _chosen(pairs, alike)
        if (place := _first_overlap(triangles, some, _shared(facets, some) < 2)) is not None:
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

    def suspects(self, pairs: Pairs) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
        """Which pairs could run through each other, and which could lie in one plane.

        A facet of which no corner is beyond the other's plane does not run through it.
        """
        one, other = pairs
        a, b = self.normals[:, one], self.normals[:, other]
        through = self._pass(one, b, self.levels[other]) | self._pass(other, a, self.levels[one])
        return through, abs((a * b).sum(axis=0)) > 1.0 - 2 * _ALIKE

    def _pass(self, some: Facets, normals: Floats, levels: Floats) -> NDArray[np.bool_]:
        """Which facets have corners on both sides of a plane."""
        import numpy as np

        away = [sum(self.at[j, k][some] * normals[j] for j in range(3)) - levels for k in range(3)]
        most, least = np.maximum(*away[:2]), np.minimum(*away[:2])
        above, below = np.maximum(most, away[2]), np.minimum(least, away[2])
        return np.asarray((above > _NEARLY) & (below < -_NEARLY))


def _chosen(pairs: Pairs, which: NDArray[np.bool_]) -> Facets:
    """Some of given pairs, (m, 2)."""
    import numpy as np

    return np.stack([side[which] for side in pairs], axis=1)


def _shared(facets: Facets, pairs: Facets) -> NDArray[np.int64]:
    """How many corners the facets of each pair have in common."""
    import numpy as np

    a, b = facets[pairs[:, 0]], facets[pairs[:, 1]]
    return np.asarray((a[:, :, None] == b[:, None, :]).sum(axis=(1, 2)))


def _first_crossing(triangles: Floats, pairs: Facets) -> Floats | None:
    """Where an edge of one facet passes through the other, for the first pair that does so."""
    import numpy as np

    for one, other in (pairs.T, pairs.T[::-1]):
        target = triangles[other]
        sides = np.roll(target, -1, axis=1) - target
        normal = np.cross(sides[:, 0], sides[:, 1])
        size = np.linalg.norm(normal, axis=1, keepdims=True)
        normal = normal / np.maximum(size, 1e-300)
        inward = np.cross(normal[:, None, :], sides)
        inward /= np.maximum(np.linalg.norm(inward, axis=2, keepdims=True), 1e-300)
        away = np.einsum("nkj,nj->nk", triangles[one] - target[:, :1], normal)
        for k in range(3):
            a, b = away[:, k], away[:, (k + 1) % 3]
            passes = (a * b < 0.0) & (np.minimum(abs(a), abs(b)) > _DEEP)
            if not passes.any():
                continue
            share = (a / np.where(passes, a - b, 1.0))[:, None]
            start, end = triangles[one, k], triangles[one, (k + 1) % 3]
            place = start + share * (end - start)
            depth = np.einsum("nkj,nkj->nk", place[:, None, :] - target, inward).min(axis=1)
            hit = passes & (depth > _DEEP)
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
    side = np.where(twice > 0.0, 1.0, -1.0)
    for z, up in np.unique(np.stack([np.round(level, 4), side], axis=1), axis=0):
        here = (abs(level - z) < _DEEP) & (side == up)
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


def rings_of(facets: Facets) -> list[Facets]:
    """The edges of a patch of facets as rings of corners.

    Where rings meet in a corner, one of them is followed into another; what they enclose is the
    same.

    Examples
    --------
    >>> import numpy as np
    >>> [sorted(ring.tolist()) for ring in rings_of(np.array([[0, 1, 2], [2, 1, 3]]))]
    [[0, 1, 2, 3]]
    """
    import numpy as np

    edges = edges_of(facets)
    ahead = dict(edges.tolist())
    further: dict[int, list[int]] = {}
    if len(ahead) < len(edges):  # rings that meet
        for start, end in edges.tolist():
            if ahead[start] != end:
                further.setdefault(start, []).append(end)
    rings = []
    while ahead:
        start, corner = ahead.popitem()
        ring = [start]
        while corner != start or start in further:
            ring.append(corner)
            if corner in further:
                onward = further[corner].pop()
                if not further[corner]:
                    del further[corner]
            else:
                onward = ahead.pop(corner)
            corner = onward
        rings.append(np.array(ring, dtype=np.int64))
    return rings


def edges_of(facets: Facets) -> Facets:
    """Directed edges (from, to) of a patch of facets that no other of them runs back along.

    Examples
    --------
    >>> import numpy as np
    >>> edges_of(np.array([[0, 1, 2], [2, 1, 3]])).tolist()
    [[0, 1], [1, 3], [2, 0], [3, 2]]
    """
    import numpy as np

    edges = np.concatenate([facets[:, [0, 1]], facets[:, [1, 2]], facets[:, [2, 0]]])
    count = int(facets.max()) + 1
    there, back = edges[:, 0] * count + edges[:, 1], edges[:, 1] * count + edges[:, 0]
    return np.asarray(edges[~np.isin(there, back)])
