"""Closed lines along the edges of facets."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Facets = NDArray[np.int64]


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
    order = np.argsort(edges[:, 0])
    starts = edges[order, 0]
    if (starts[1:] > starts[:-1]).all():
        following = order[np.searchsorted(starts, edges[:, 1])]
        return [edges[ring, 0] for ring in cycles(following.tolist())]
    # Rings that meet.
    ahead = dict(edges.tolist())
    further: dict[int, list[int]] = {}
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
    ordered = np.sort(there)
    found = np.minimum(np.searchsorted(ordered, back), len(ordered) - 1)
    return np.asarray(edges[ordered[found] != back])


def cycles(following: list[int]) -> list[list[int]]:
    """The closed walks in which each number leads to another, those of the last numbers first.

    Examples
    --------
    >>> cycles([2, 1, 3, 0])
    [[3, 0, 2], [1]]
    """
    seen = bytearray(len(following))
    found = []
    for start in reversed(range(len(following))):
        if seen[start]:
            continue
        cycle, at = [], start
        while not seen[at]:
            seen[at] = 1
            cycle.append(at)
            at = following[at]
        found.append(cycle)
    return found
