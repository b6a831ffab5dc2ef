"""Finds facets of a closed mesh that run through each other."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Facets = NDArray[np.int64]
    Pairs = NDArray[np.int64]

_DEEP: Final = 1e-4
"""Facets that pass through each other by less [mm] only touch: a file's rounding does as much."""

_ALIKE: Final = 1e-6  # facets whose normals turn by less than 0.08° may lie in one plane

_SWEPT: Final = 2_000_000  # pairs of a sweep held at once

_AT_ONCE: Final = 100_000  # pairs looked at in one go; more would only take memory


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

    a, b, c = (corners[facets[:, k]] for k in range(3))
    low, high = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
    level = high[:, 2] - low[:, 2] < _DEEP
    if level.any():
        place = _overlapping_levels(corners, facets[level], low[level, 2])
        if place is not None:
            return place
    triangles = np.stack([a, b, c], axis=1)
    for some in _near(low, high, level):
        apart = _shared(facets, some) < 2
        if (place := _first_crossing(triangles, some[apart])) is not None:
            return place
        if (place := _first_overlap(triangles, some, apart)) is not None:
            return place
    return None


def _near(low: Floats, high: Floats, level: NDArray[np.bool_]) -> Iterator[Pairs]:
    """Pairs of facets whose boxes overlap, in portions; two level ones are no pair here."""
    import numpy as np

    steep = np.flatnonzero(~level)
    yield from _overlapping(low, high, steep)
    flats = np.flatnonzero(level)
    # Only what passes through a level can cross it; most walls begin or end there.
    for z in np.unique(np.round(low[flats, 2], 4)):
        through = steep[(low[steep, 2] < z - _DEEP) & (high[steep, 2] > z + _DEEP)]
        if len(through):
            yield from _across(low, high, through, flats[abs(low[flats, 2] - z) < _DEEP])


def _overlapping(low: Floats, high: Floats, some: Pairs) -> Iterator[Pairs]:
    """Pairs among some facets whose boxes overlap, by a sweep along the part's longer side."""
    import numpy as np

    if len(some) == 0:
        return
    axis = int(np.ptp(high[some, 1]) > np.ptp(high[some, 0]))
    order = some[np.argsort(low[some, axis])]
    ends = np.searchsorted(low[order, axis], high[order, axis], side="right")
    begins = np.arange(1, len(order) + 1)
    counts = np.maximum(ends - begins, 0)
    done = np.concatenate([[0], np.cumsum(counts)])
    start = 0
    while start < len(order):
        stop = max(start + 1, int(np.searchsorted(done, done[start] + _SWEPT, side="right")) - 1)
        taken = counts[start:stop]
        first = np.repeat(np.arange(start, stop), taken)
        within = np.arange(len(first)) - np.repeat(done[start:stop] - done[start], taken)
        second = begins[first] + within
        yield from _kept(low, high, order[first], order[second])
        start = stop


def _across(low: Floats, high: Floats, ones: Pairs, others: Pairs) -> Iterator[Pairs]:
    """Pairs of one of these and one of those facets whose boxes overlap."""
    import numpy as np

    # Few of the walls that pass a level pass near what lies at it.
    for axis in (0, 1):
        ones = ones[(high[ones, axis] >= low[others, axis].min())]
        ones = ones[(low[ones, axis] <= high[others, axis].max())]
    step = max(1, _SWEPT // max(1, len(others)))
    for k in range(0, len(ones), step):
        some = ones[k : k + step]
        yield from _kept(low, high, np.repeat(some, len(others)), np.tile(others, len(some)))


def _kept(low: Floats, high: Floats, first: Pairs, second: Pairs) -> Iterator[Pairs]:
    """Of given pairs those whose boxes overlap, in portions."""
    import numpy as np

    for axis in (1, 0, 2):
        meet = (low[first, axis] <= high[second, axis]) & (low[second, axis] <= high[first, axis])
        first, second = first[meet], second[meet]
    for k in range(0, len(first), _AT_ONCE):
        yield np.stack([first[k : k + _AT_ONCE], second[k : k + _AT_ONCE]], axis=1)


def _shared(facets: Facets, pairs: Pairs) -> NDArray[np.int64]:
    """How many corners the facets of each pair have in common."""
    import numpy as np

    a, b = facets[pairs[:, 0]], facets[pairs[:, 1]]
    return np.asarray((a[:, :, None] == b[:, None, :]).sum(axis=(1, 2)))


def _first_crossing(triangles: Floats, pairs: Pairs) -> Floats | None:
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


def _first_overlap(triangles: Floats, pairs: Pairs, apart: NDArray[np.bool_]) -> Floats | None:
    """Where two facets of one plane lie on each other, for the first pair that does so."""
    import numpy as np

    sides = np.roll(triangles, -1, axis=1) - triangles
    normals = np.cross(sides[:, 0], sides[:, 1])
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-300)
    alike = np.einsum("nj,nj->n", normals[pairs[:, 0]], normals[pairs[:, 1]])
    some = pairs[(alike > 1.0 - _ALIKE) & apart | (alike < _ALIKE - 1.0) & ~apart]
    for one, other in ((0, 1), (1, 0)):
        target, normal = triangles[some[:, one]], normals[some[:, one]]
        there = triangles[some[:, other]][:, :, None, :] - target[:, None, :, :]
        plane = abs(np.einsum("nckj,nj->nck", there, normal)).max(axis=(1, 2)) < _DEEP
        inward = np.cross(normal[:, None, :], sides[some[:, one]])
        inward /= np.maximum(np.linalg.norm(inward, axis=2, keepdims=True), 1e-300)
        # Beyond one of its sides lies all of the other: then they are side by side.
        reach = np.einsum("nckj,nkj->nck", there, inward).max(axis=1)
        some = some[plane & (reach > _DEEP).all(axis=1)]
    return np.asarray(triangles[some[0]].mean(axis=(0, 1))) if len(some) else None


def _overlapping_levels(corners: Floats, facets: Facets, level: Floats) -> Floats | None:
    """A place at a level where facets that face the same way lie on each other.

    The edge of what they cover winds once around every point that is covered once; where they
    overlap, it crosses itself or encloses less than the facets' sum.
    """
    import numpy as np
    from shapely import area, build_area, is_valid, linestrings, multilinestrings

    a, b, c = np.moveaxis(corners[facets], 1, 0)
    twice = np.cross(b - a, c - a)[:, 2]
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
