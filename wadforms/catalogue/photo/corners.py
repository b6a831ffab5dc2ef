"""Finds the sharp corners of a curve of many points, and carries its sides on to meet there.

What turns quickly may be a tight bend.  Where its two sides meet when carried on tells: blur takes
only so much off a corner, and a round pen whose middle stood in it has left ink as wide as itself
all around, so there is no corner where the paper is nearer than that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely import Geometry

    Points = NDArray[np.float64]

_LEAST_TURN: Final = math.radians(30.0)  # what turns less is a bend
_SAME: Final = 0.72  # a corner turns as much over half the way; a bend half as much
_MOST: Final = 60  # corners; with more it is the grain that is seen
_HAZE: Final = 0.8  # of blur over the tangent of half the corner's angle, by which its tip recedes
_UNSURE: Final = 3.0  # times what a corner may recede, up to which a bend may be meant as one


def evenly(points: Points, step: float) -> Points:
    """Points at even distances along a closed curve.

    Parameters
    ----------
    points : array of float
        In order [mm].
    step : float
        About how far they shall be from each other [mm].

    Examples
    --------
    >>> import numpy as np
    >>> square = np.array([[0.0, 0], [2, 0], [2, 2], [0, 2]])
    >>> evenly(square, 1.0).tolist()[:3]
    [[0.0, 0.0], [1.0, 0.0], [2.0, 0.0]]
    """
    import numpy as np

    ring = np.vstack([points, points[:1]])
    way = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(ring, axis=0), axis=1))])
    count = max(16 if way[-1] > 16 * step else 4, round(way[-1] / step))
    at = np.linspace(0.0, way[-1], count, endpoint=False)
    return np.column_stack([np.interp(at, way, ring[:, c]) for c in (0, 1)])


def corners(ring: Points, *, step: float, tolerance: float, blunt: float) -> list[int]:
    """Which of the points of a closed curve are corners.

    Over an arm on each side the curve turns by 30° or more, and by nearly as much over half of
    it: a corner turns at once, a bend on all the way.

    Parameters
    ----------
    ring : array of float
        Evenly along the curve [mm].
    step : float
        From one to the next [mm].
    tolerance : float
        What is smaller is no shape [mm].
    blunt : float
        How far from a corner the points are led astray [mm].
    """
    import numpy as np

    arm = round(max(12 * step, 5 * tolerance, 3 * blunt) / step)
    arm = min(arm, len(ring) // 8)
    if arm < 6:
        return []
    whole, half = _turns(ring, arm), _turns(ring, arm // 2)
    # The corner of half the arm may lie a little beside that of the whole one.
    beside = np.max([np.roll(np.abs(half), k) for k in range(-arm // 4, arm // 4 + 1)], axis=0)
    size = np.abs(whole)
    sharp = (size >= _LEAST_TURN) & (beside >= _SAME * size)
    apart = arm * 2 // 3
    around = np.max([np.roll(size, k) for k in range(-apart, apart + 1)], axis=0)
    found = [int(k) for k in np.nonzero(sharp & (size >= around))[0]]
    lone: list[int] = []
    for k in found:  # equal neighbours count once
        if not lone or k - lone[-1] > arm // 2:
            lone.append(k)
    return lone if len(lone) <= _MOST else []


class Edge(NamedTuple):
    """What is seen of the edge that corners are looked for in.

    Parameters
    ----------
    ink : shapely geometry
        What is drawn [mm].
    pen : float
        How wide the line is whose middle is followed; 0 where the edge itself is [mm].
    haze : float
        Standard deviation of the blur of its edge [mm].
    slack : float
        How far it may be off for other reasons [mm].
    """

    ink: Geometry
    pen: float
    haze: float
    slack: float


def sorted_out(
    ring: Points, found: Sequence[int], edge: Edge, *, step: float, blunt: float
) -> tuple[list[int], list[int]]:
    """Which of the corners are some, and which are tight bends that might be meant as one.

    Parameters
    ----------
    ring : array of float
        Evenly along the curve [mm].
    found : sequence of int
        Which points may be corners.
    edge : Edge
        What they are compared with.
    step : float
        From one point to the next [mm].
    blunt : float
        How far from a corner the points are left out [mm].
    """
    import shapely

    boundary = edge.ink.boundary
    shapely.prepare(boundary)
    shapely.prepare(edge.ink)
    kept, doubtful = list(found), []
    while kept:
        places = _places(ring, kept, step=step, blunt=blunt)
        bends = []
        for k, (place, before, behind) in zip(kept, places, strict=True):
            tip = shapely.Point(*place)
            off = float(shapely.distance(boundary, tip))
            if edge.pen:
                # The farther beyond the ink, the farther out the corner would be drawn.
                off = edge.pen / 2 - (off if shapely.intersects(edge.ink, tip) else -off)
            allowed = edge.slack + _HAZE * edge.haze * _sharpness(before, behind)
            if edge.pen:
                allowed = min(allowed, 0.9 * edge.pen / 2)
            if off > allowed:
                bends.append((off / allowed, k))
        if not bends:
            break
        # The sides of the others are longer without the one that is least a corner.
        times, worst = max(bends)
        kept.remove(worst)
        if times <= _UNSURE:
            doubtful.append(worst)
    return kept, doubtful


def _sharpness(before: Points, behind: Points) -> float:
    """One over the tangent of half the angle that two sides enclose, 5 at most."""
    one, two = before[1], behind[1]
    long = math.hypot(*one) * math.hypot(*two)
    angle = math.acos(max(-1.0, min(1.0, float(one @ two) / max(long, 1e-12))))
    return min(5.0, 1.0 / max(math.tan(angle / 2.0), 1e-9))


def _places(
    ring: Points, found: Sequence[int], *, step: float, blunt: float
) -> list[tuple[Points, Points, Points]]:
    """Where the two sides of each corner meet, and these sides."""
    cut = max(3, math.ceil(blunt / step))
    lengths = _lengths(ring, found)
    places = []
    for i, k in enumerate(found):
        before = _side(ring, k, -1, cut, lengths[i - 1])
        behind = _side(ring, k, 1, cut, lengths[i])
        places.append((_meeting(before, behind, ring[k], 4.0 * cut * step), before, behind))
    return places


def _lengths(ring: Points, found: Sequence[int]) -> list[int]:
    """How many steps it is from each corner to the next."""
    pairs = zip(found, [*found[1:], found[0]], strict=True)
    return [(b - a - 1) % len(ring) + 1 for a, b in pairs]


def _turns(ring: Points, arm: int) -> NDArray[np.float64]:
    """By how much the curve turns at each point, between the arms before and behind it [rad]."""
    import numpy as np

    near = arm // 4
    before = np.roll(ring, near, axis=0) - np.roll(ring, arm, axis=0)
    behind = np.roll(ring, -arm, axis=0) - np.roll(ring, -near, axis=0)
    cross = before[:, 0] * behind[:, 1] - before[:, 1] * behind[:, 0]
    turned: NDArray[np.float64] = np.arctan2(cross, (before * behind).sum(axis=1))
    return turned


def carried_on(
    ring: Points, found: Sequence[int], *, step: float, blunt: float
) -> tuple[list[Points], list[float], NDArray[np.bool_]]:
    """The parts of a curve from corner to corner, each corner where its two sides meet.

    Parameters
    ----------
    ring : array of float
        Evenly along the curve [mm].
    found : sequence of int
        Which points are corners.
    step : float
        From one point to the next [mm].
    blunt : float
        How far from a corner the points are left out [mm].

    Returns
    -------
    list of arrays, list of float, array of bool
        The parts; how far each corner moved [mm]; which points were left out.
    """
    import numpy as np

    count = len(ring)
    cut = max(3, math.ceil(blunt / step))
    near = np.zeros(count, bool)
    lengths = _lengths(ring, found)
    places = _places(ring, found, step=step, blunt=blunt)
    moves = []
    for k, (place, _, _) in zip(found, places, strict=True):
        moves.append(float(np.hypot(*(place - ring[k]))))
        near[np.arange(k - cut, k + cut + 1) % count] = True
    sections = []
    for i, k in enumerate(found):
        follower = (i + 1) % len(found)
        inner = min(cut, lengths[i] // 3)
        points = ring[np.arange(k + inner, k + lengths[i] - inner + 1) % count]
        start, end = places[i][0], places[follower][0]
        parts = [
            start[None],
            _bridge(start, points[0], places[i][2], inner),
            points,
            _bridge(end, points[-1], places[follower][1], inner)[::-1],
            end[None],
        ]
        sections.append(np.vstack(parts))
    return sections, moves, near


def _side(ring: Points, k: int, way: int, cut: int, length: int) -> Points:
    """The parabola of one side of a corner, by the number of steps from it: three coefficients."""
    import numpy as np

    cut = min(cut, length // 3)
    reach = max(6, min(max(30, 5 * cut), length // 2 - cut))
    at = np.arange(cut, cut + reach + 1.0)
    points = ring[(k + way * at.astype(int)) % len(ring)]
    fit: Points = np.linalg.lstsq(np.vander(at, 3, increasing=True), points, rcond=None)[0]
    return fit


def _meeting(one: Points, two: Points, corner: Points, most: float) -> Points:
    """Where two sides meet, by Newton's method; the corner as seen where they do not [mm]."""
    import numpy as np

    s = np.zeros(2)
    for _ in range(20):
        p = one[0] + one[1] * s[0] + one[2] * s[0] ** 2
        q = two[0] + two[1] * s[1] + two[2] * s[1] ** 2
        slopes = np.column_stack([one[1] + 2 * one[2] * s[0], -two[1] - 2 * two[2] * s[1]])
        if abs(np.linalg.det(slopes)) < 1e-9 * np.abs(slopes).max() ** 2:
            return corner
        s = s + np.linalg.solve(slopes, q - p)
    place: Points = one[0] + one[1] * s[0] + one[2] * s[0] ** 2
    if not np.isfinite(place).all() or np.hypot(*(place - corner)) > most:
        return corner
    return place


def _bridge(corner: Points, first: Points, side: Points, steps: int) -> Points:
    """Points from a corner on to the first that is kept, along the side and ending on it."""
    import numpy as np

    if steps < 2:
        return np.empty((0, 2))
    at = np.linspace(0.0, 1.0, steps + 1)[1:-1, None]
    straight = corner + at * (first - corner)
    # The side's own bend over that way, which a straight line lacks.
    bend: Points = straight - side[2] * steps**2 * at * (1.0 - at)
    return bend
