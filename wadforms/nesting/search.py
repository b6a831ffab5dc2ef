"""More copies than rows give, by a search; whatever it finds is checked here before it counts.

The search is that of `spyrrow`: it packs copies into a strip of fixed height and tries to make
it short.  It is asked for one copy more than there are, once along the rectangle and once
across, until the time is up.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from wadforms.geometry.outline import Outline
from wadforms.nesting.spots import SLACK, Nest, Spot, are_apart, settled

if TYPE_CHECKING:
    from shapely import Polygon

_STEP: Final = 15.0  # between turns that the search may use, besides those of the rows [deg]


def beyond(
    outline: Outline,
    polygon: Polygon,
    found: Nest,
    *,
    gap: float,
    width: float,
    height: float,
    turns: Sequence[float],
    count: int | None,
    seconds: float,
    seed: int,
) -> Nest:
    """The nest of rows, or a better one where the search has found it in time.

    Parameters
    ----------
    outline : Outline
        What is laid out [mm].
    polygon : Polygon
        The same grown by half the gap or more [mm].
    found : Nest
        What rows give.
    gap : float
        Between two copies [mm].
    width, height : float
        Of the rectangle [mm].
    turns : sequence of float
        Those of the rows [deg].
    count : int or None
        How many are wanted at most.
    seconds : float
        How long to search, in whole seconds, at least 1 [s].
    seed : int
        Of the search.
    """
    left = max(1, math.floor(seconds))
    most = math.floor((width + gap) * (height + gap) / polygon.buffer(-0.1).area)
    most = most if count is None else min(most, count)
    every = sorted({*(t % 360.0 for t in turns), *(k * _STEP for k in range(24))})
    best, misses = found, 0
    while left > 0 and misses < 2 and len(best.spots) < most:
        upright = (misses + (width > height)) % 2 == 1
        share = max(1, left // 2) if misses == 0 else left
        left -= share
        spots = _packed(
            outline, polygon, len(best.spots) + 1, width, height, every, share, seed, upright
        )
        better = settled(outline, spots, "nested")
        fits = better.width <= width + SLACK and better.height <= height + SLACK
        if len(spots) > len(best.spots) and fits and are_apart(outline, better.spots, gap):
            best, misses = better, 0
        else:
            misses += 1
    return best


def _packed(
    outline: Outline,
    polygon: Polygon,
    count: int,
    width: float,
    height: float,
    turns: Sequence[float],
    seconds: int,
    seed: int,
    upright: bool,
) -> list[Spot]:
    """Copies in a strip along x, or along y where `upright`; it may be longer than was asked."""
    import spyrrow

    x0, y0, x1, y1 = outline.bounds
    a0, b0, a1, b1 = polygon.bounds
    # The grown polygon may stand out of the rectangle by what it was grown.
    margin = max(x0 - a0, y0 - b0, a1 - x1, b1 - y1)
    quarter = 90.0 if upright else 0.0
    strip = (width if upright else height) + 2.0 * margin
    allowed = []
    for turn in turns:
        low, high = outline.turned(turn).bounds[1::2]
        if high - low + 2.0 * margin <= strip - 1e-3:
            allowed.append(turn)
    if not allowed:
        return []
    item = spyrrow.Item("copy", list(polygon.exterior.coords)[:-1], count, allowed)
    instance = spyrrow.StripPackingInstance("nest", strip, [item])
    config = spyrrow.StripPackingConfig(
        total_computation_time=seconds, num_workers=1, seed=seed, early_termination=True
    )
    solved = instance.solve(config)
    spots = [Spot(*p.translation, p.rotation % 360.0) for p in solved.placed_items]
    if upright:
        spots = [Spot(s.y, -s.x, (s.turn - quarter) % 360.0) for s in spots]
    return spots
