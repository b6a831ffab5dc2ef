"""Openings in a round plate: one or more copies of an outline inside a circle.

Rings, with or without one in the middle, are tried first: clay flows evenly through openings
that all lie as far from the barrel's wall.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.geometry.outline import Outline
from wadforms.nesting import Spot, compact, nest
from wadforms.nesting.spots import are_apart

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_CHORD: Final = 1e-3  # between an arc and the polygon that stands for it [mm]

_HAIR: Final = 1e-6  # what rounding may take from a distance [mm]

_TURNS: Final = (0.0, 90.0, 180.0, 270.0)  # of an outline in a ring, against its radius [deg]

_SHIFTS: Final = 12  # places of the circle over rows that are tried, each way


class Openings(NamedTuple):
    """Copies of an outline about the middle of a circle.

    Parameters
    ----------
    spots : tuple of Spot
        Where each goes.
    reach : float
        How far from the middle they come [mm].
    """

    spots: tuple[Spot, ...]
    reach: float


def centred(outline: Outline) -> Outline:
    """The outline with the middle of the smallest circle around it on the origin.

    Examples
    --------
    >>> [round(v, 6) for v in centred(Outline.circle(5, (3, 0))).bounds]
    [-5.0, -5.0, 5.0, 5.0]
    """
    import shapely

    middle = shapely.minimum_bounding_circle(outline.polygon(_CHORD)).centroid
    return outline.moved(-float(middle.x), -float(middle.y))


def openings(outline: Outline, *, gap: float, radius: float, count: int | None) -> Openings:
    """So many copies inside a circle, or as many as are found to fit; fewer where fewer fit.

    Parameters
    ----------
    outline : Outline
        Centred on the origin [mm]; see `centred`.
    gap : float
        Between two copies at least [mm].
    radius : float
        Of the circle [mm].
    count : int or None
        How many are asked; None for as many as fit.

    Examples
    --------
    >>> found = openings(Outline.circle(10), gap=2, radius=34, count=7)
    >>> len(found.spots), round(found.reach, 2)
    (7, 32.0)
    >>> len(openings(Outline.circle(10), gap=2, radius=30, count=7).spots)
    5
    """
    one = Openings((Spot(0.0, 0.0, 0.0),), _reach(outline, [Spot(0.0, 0.0, 0.0)]))
    if one.reach > radius + _HAIR:
        return Openings((), 0.0)
    if count == 1:
        return one
    if count is not None and (found := _smallest(outline, gap, count)).reach <= radius + _HAIR:
        return found
    best = _from_rows(outline, gap, radius)
    if count is not None and len(best.spots) > count:
        near = sorted(best.spots, key=lambda s: math.hypot(s.x, s.y))[:count]
        return Openings(tuple(near), _reach(outline, near))
    best = best if best.spots else one
    while count is None or len(best.spots) < count:
        more = _smallest(outline, gap, len(best.spots) + 1)
        if more.reach > radius + _HAIR:
            break
        best = more
    return best


@lru_cache(maxsize=64)
def _smallest(outline: Outline, gap: float, count: int) -> Openings:
    """So many copies in the smallest circle that is found."""
    ways = [*_rings(outline, gap, count), _block(outline, gap, count)]
    return min(ways, key=lambda way: round(way.reach, 3))


def _rings(outline: Outline, gap: float, count: int) -> Iterator[Openings]:
    """Copies in a ring, each turned like a spoke; with and without one in the middle."""
    for middle in (False, True):
        around = count - middle
        if around < 2:
            continue
        for turn in _TURNS:
            distance = _ring_radius(outline, gap, around, turn, middle)
            spots = [Spot(0.0, 0.0, 0.0)] if middle else []
            for k in range(around):
                angle = 360.0 * k / around
                x, y = _point(distance, angle)
                spots.append(Spot(x, y, (turn + angle) % 360.0))
            if are_apart(outline, spots, gap - 3 * _CHORD):
                yield Openings(tuple(spots), _reach(outline, spots))


def _ring_radius(outline: Outline, gap: float, around: int, turn: float, middle: bool) -> float:
    """How far from the middle the copies of a ring must lie [mm]."""
    from shapely import affinity, distance

    polygon = outline.polygon(_CHORD)
    step = 360.0 / around
    first = affinity.rotate(polygon, turn, origin=(0.0, 0.0))
    second = affinity.rotate(polygon, turn + step, origin=(0.0, 0.0))
    opposite = affinity.rotate(polygon, turn + step * (around // 2), origin=(0.0, 0.0))

    def clear(r: float) -> bool:
        here = affinity.translate(first, r, 0.0)
        there = affinity.translate(second, *_point(r, step))
        beyond = affinity.translate(opposite, *_point(r, step * (around // 2)))
        near = min(distance(here, there), distance(here, beyond))
        if middle:
            near = min(near, distance(here, polygon))
        return bool(near >= gap)

    across = 2.0 * _reach(outline, [Spot(0.0, 0.0, 0.0)]) + gap
    low, high = 0.0, across * max(1.0, 1.0 / (2.0 * math.sin(math.pi / around))) + 1.0
    while high - low > 1e-4:
        half = (low + high) / 2
        low, high = (low, half) if clear(half) else (half, high)
    return high


def _block(outline: Outline, gap: float, count: int) -> Openings:
    """Rows, as on a rectangular board, about the middle of the circle around them."""
    import shapely

    spots = compact(outline, gap=gap, count=count).spots
    corners = shapely.multipoints(_corners(outline, spots).reshape(-1, 2))
    middle = shapely.minimum_bounding_circle(corners).centroid
    moved = [Spot(s.x - float(middle.x), s.y - float(middle.y), s.turn) for s in spots]
    return Openings(tuple(moved), _reach(outline, moved))


def _from_rows(outline: Outline, gap: float, radius: float) -> Openings:
    """What lies inside the circle when it is laid on wide rows, at the best of many places."""
    import numpy as np

    side = 4.0 * radius
    spots = nest(outline, gap=gap, width=side, height=side).spots
    if not spots:
        return Openings((), 0.0)
    corners = _corners(outline, spots)
    width, depth = (extent + gap for extent in outline.size)
    steps = np.arange(_SHIFTS) / _SHIFTS
    best: tuple[int, float, float, float] = (0, 0.0, 0.0, 0.0)
    for x in side / 2 + width * steps:
        for y in side / 2 + depth * steps:
            far = np.hypot(corners[:, :, 0] - x, corners[:, :, 1] - y).max(axis=1)
            inside = far <= radius
            number = int(inside.sum())
            reach = float(far[inside].max()) if number else 0.0
            if (number, -reach) > (best[0], -best[1]):
                best = number, reach, float(x), float(y)
    _, reach, x, y = best
    kept = np.hypot(corners[:, :, 0] - x, corners[:, :, 1] - y).max(axis=1) <= radius
    inner = (Spot(s.x - x, s.y - y, s.turn) for s, k in zip(spots, kept, strict=True) if k)
    return Openings(tuple(inner), reach)


def _reach(outline: Outline, spots: Sequence[Spot]) -> float:
    """How far copies come from the origin [mm]."""
    import numpy as np

    corners = _corners(outline, spots)
    return float(np.hypot(corners[:, :, 0], corners[:, :, 1]).max())


def _corners(outline: Outline, spots: Sequence[Spot]) -> NDArray[np.float64]:
    """Corners of the hull of every copy, (copies, corners, 2)."""
    import numpy as np

    hull = _hull(outline)
    turns = np.radians([s.turn for s in spots])[:, None]
    places = np.array([(s.x, s.y) for s in spots])[:, None, :]
    c, s = np.cos(turns), np.sin(turns)
    x, y = hull[:, 0], hull[:, 1]
    return np.asarray(np.stack([c * x - s * y, s * x + c * y], axis=2) + places)


@lru_cache(maxsize=64)
def _hull(outline: Outline) -> Any:
    import numpy as np

    return np.array(outline.polygon(_CHORD).convex_hull.exterior.coords)[:-1]


def _point(radius: float, degrees: float) -> tuple[float, float]:
    angle = math.radians(degrees)
    return radius * math.cos(angle), radius * math.sin(angle)
