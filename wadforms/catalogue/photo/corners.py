"""Finds the sharp corners of a curve of many points, and carries its sides on to meet there."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_LEAST_TURN: Final = math.radians(30.0)  # what turns less is a bend
_SAME: Final = 0.72  # a corner turns as much over half the way; a bend half as much
_MOST: Final = 60  # corners; with more it is the grain that is seen


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
    lengths = [(b - a - 1) % count + 1 for a, b in zip(found, [*found[1:], found[0]], strict=True)]
    places, moves = [], []
    for i, k in enumerate(found):
        before = _side(ring, k, -1, cut, lengths[i - 1])
        behind = _side(ring, k, 1, cut, lengths[i])
        place = _meeting(before, behind, ring[k], 4.0 * cut * step)
        moves.append(float(np.hypot(*(place - ring[k]))))
        places.append((place, before, behind))
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
