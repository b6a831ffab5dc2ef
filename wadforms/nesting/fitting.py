"""Whether one outline fits a rectangle, how it must be turned, and how much larger it could be."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from wadforms.geometry.outline import Outline

_STEP: Final = 0.25  # between turns that are tried, before the best are refined [deg]
_TINY: Final = 1e-9


def largest_factor(outline: Outline, *, width: float, height: float) -> float:
    """By what factor an outline could be scaled and still fit, turned as suits it best.

    More than 1 where it fits with room to spare.

    Parameters
    ----------
    outline : Outline
        [mm].
    width, height : float
        Of the rectangle [mm].

    Examples
    --------
    >>> from wadforms.geometry.contour import Contour
    >>> bar = Outline(Contour.polygon([(0, 0), (100, 0), (100, 20), (0, 20)]))
    >>> round(largest_factor(bar, width=30, height=150), 9)
    1.5
    """
    return max(factor for _, factor in _turns(outline, width, height))


def fit_turn(outline: Outline, *, width: float, height: float) -> float | None:
    """The turn at which an outline fits a rectangle [deg]; None where it fits at none.

    As it stands where it fits so, else turned by a quarter, else as it fits with most room.

    Parameters
    ----------
    outline : Outline
        [mm].
    width, height : float
        Of the rectangle [mm].

    Examples
    --------
    >>> from wadforms.geometry.contour import Contour
    >>> bar = Outline(Contour.polygon([(0, 0), (100, 0), (100, 20), (0, 20)]))
    >>> fit_turn(bar, width=30, height=150), fit_turn(bar, width=30, height=90)
    (90.0, None)
    """
    found = list(_turns(outline, width, height))
    for turn, factor in found[:2]:
        if factor >= 1.0 - _TINY:
            return turn
    turn, factor = max(found, key=lambda entry: entry[1])
    return turn if factor >= 1.0 - _TINY else None


def hull_turns(outline: Outline) -> tuple[float, ...]:
    """The turns that lay the outline's narrowest box along x and along y [deg], from 0 to 180.

    Examples
    --------
    >>> from wadforms.geometry.contour import Contour
    >>> bar = Outline(Contour.polygon([(0, 0), (100, 0), (100, 20), (0, 20)])).turned(20)
    >>> [round(turn, 6) for turn in hull_turns(bar)]
    [70.0, 160.0]
    """
    box = outline.polygon().minimum_rotated_rectangle
    (ax, ay), (bx, by) = box.exterior.coords[:2]
    turn = -math.degrees(math.atan2(by - ay, bx - ax)) % 90.0
    if min(turn, 90.0 - turn) < 1e-6:
        turn = 0.0
    return turn, turn + 90.0


def _turns(outline: Outline, width: float, height: float) -> Iterator[tuple[float, float]]:
    """Turns with the factor at each, exactly: 0, 90, those of the narrowest box, and the best."""
    import numpy as np

    def factor(turn: float) -> float:
        w, h = outline.turned(turn).size
        return min(width / w, height / h)

    for turn in (0.0, 90.0, *hull_turns(outline)):
        yield turn, factor(turn)
    points = np.asarray(outline.polygon().convex_hull.exterior.coords)
    turns = np.arange(0.0, 180.0, _STEP)
    angle = np.radians(turns)
    xs = np.outer(points[:, 0], np.cos(angle)) - np.outer(points[:, 1], np.sin(angle))
    ys = np.outer(points[:, 0], np.sin(angle)) + np.outer(points[:, 1], np.cos(angle))
    factors = np.minimum(width / np.ptp(xs, axis=0), height / np.ptp(ys, axis=0))
    peaks = (factors >= np.roll(factors, 1)) & (factors >= np.roll(factors, -1))
    best = sorted(np.flatnonzero(peaks), key=lambda k: -factors[k])[:4]
    for k in best:
        low, high = turns[k] - _STEP, turns[k] + _STEP
        while high - low > 1e-7:  # one peak between its neighbours
            first, second = low + (high - low) / 3, high - (high - low) / 3
            if factor(first) < factor(second):
                low = first
            else:
                high = second
        turn = (low + high) / 2
        yield float(turn % 180.0), factor(turn)
