"""Puts the arcs back into rings that were worked on as polygons."""

from __future__ import annotations

from collections.abc import Sequence

from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline


def restored(rings: Sequence[Sequence[Point]], source: Outline) -> Outline:
    """The outline of rings that came from a flattened one, with every arc that is still whole.

    An arc of which a part is gone stays the lines that stood for it.

    Parameters
    ----------
    rings : sequence of sequence of (float, float)
        The outside and the holes, counter-clockwise [mm].
    source : Outline
        What was flattened.

    Examples
    --------
    >>> disk = Outline.circle(5)
    >>> restored([disk.outer.flattened()], disk).outer.bulges
    (1.0, 1.0)
    """
    arcs: dict[Point, list[tuple[tuple[Point, ...], float]]] = {}
    for contour in source.contours:
        flat, k = contour.flattened(), 0
        count = len(flat)
        for segment in contour.segments:
            start = k
            k += 1
            while flat[k % count] != segment.end:
                k += 1
            if segment.bulge:
                line = tuple(flat[i % count] for i in range(start, k + 1))
                arcs.setdefault(line[0], []).append((line, segment.bulge))
                arcs.setdefault(line[-1], []).append((line[::-1], -segment.bulge))
    outer, *holes = (_with_arcs(list(ring), arcs) for ring in rings)
    return Outline(outer, tuple(holes))


def _with_arcs(
    ring: list[Point], arcs: dict[Point, list[tuple[tuple[Point, ...], float]]]
) -> Contour:
    count = len(ring)
    if not arcs:
        return Contour.polygon(ring)
    inside = {p for found in arcs.values() for line, _ in found for p in line[1:-1]}
    # Begin where no arc can be under way.
    first = next((i for i, p in enumerate(ring) if p not in inside), 0)
    ring = ring[first:] + ring[:first]
    vertices: list[Point] = []
    bulges: list[float] = []
    k = 0
    while k < count:
        bulge, step = 0.0, 1
        for line, turn in arcs.get(ring[k], ()):
            n = len(line)
            if k + n - 1 <= count and all(ring[(k + j) % count] == line[j] for j in range(n)):
                bulge, step = turn, n - 1
                break
        vertices.append(ring[k])
        bulges.append(bulge)
        k += step
    return Contour(tuple(vertices), tuple(bulges))
