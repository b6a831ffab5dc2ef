"""Outlines to lay out, and a nest checked by shapely alone."""

from __future__ import annotations

import math
from functools import cache
from itertools import combinations

from shapely import Polygon, affinity, box

from wadforms.catalogue import find
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.nesting import Nest

CHORD = 1e-4
"""Between an arc and the polygon that stands for it here [mm]."""

ROUNDING = 1e-6
"""What sums and turns of doubles may lose on a board [mm]."""

NAMES = ("stand-4-100", "tripod-50", "tee-50", "angle-40", "crescent-40", "leaf-55", "wave-72")
"""Named shapes that lie in different ways: with arms, hollow, pointed, alike in a half turn."""


@cache
def named(name: str) -> Outline:
    """Outline of a named shape."""
    return find(name).piece().outline


def bar(length: float, width: float) -> Outline:
    """A rectangle with its corner at the origin [mm]."""
    return Outline(Contour.polygon([(0, 0), (length, 0), (length, width), (0, width)]))


def wavy(corners: int, size: float = 18.0) -> Outline:
    """An uneven outline of many short sides, hollow in places; `size` is a mean radius [mm]."""
    points = []
    for k in range(corners):
        a = math.tau * k / corners
        r = size * (1 + 0.22 * math.sin(3 * a) + 0.08 * math.sin(7 * a + 1))
        points.append((r * math.cos(a), r * math.sin(a)))
    return Outline(Contour.polygon(points))


def laid(outline: Outline, nest: Nest) -> list[Polygon]:
    """The copies as polygons, turned and moved by shapely."""
    polygon = Polygon(outline.outer.flattened(CHORD))
    turned = (affinity.rotate(polygon, s.turn, origin=(0, 0)) for s in nest.spots)
    return [affinity.translate(t, s.x, s.y) for t, s in zip(turned, nest.spots, strict=True)]


def faults(outline: Outline, nest: Nest, *, gap: float, width: float, height: float) -> list[str]:
    """What is wrong with a nest: copies outside the rectangle or nearer than the gap."""
    slack = CHORD + ROUNDING
    copies = laid(outline, nest)
    sheet = box(-slack, -slack, width + slack, height + slack)
    used = box(-slack, -slack, nest.width + slack, nest.height + slack)
    wrong = [f"{k} is outside" for k, copy in enumerate(copies) if not sheet.covers(copy)]
    wrong += [f"{k} is not in what is used" for k, c in enumerate(copies) if not used.covers(c)]
    for (i, a), (j, b) in combinations(enumerate(copies), 2):
        if a.distance(b) < gap - 2 * slack:
            wrong.append(f"{i} and {j} are {a.distance(b):.6f} mm apart")
        elif gap == 0.0 and a.intersection(b).area > slack * outline.perimeter:
            wrong.append(f"{i} and {j} overlap")
    return wrong
