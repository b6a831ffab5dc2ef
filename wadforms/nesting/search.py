"""More copies than rows give, by a search; whatever it finds is checked here before it counts.

The search is that of `spyrrow`: it packs copies into a strip of fixed height and tries to make
it short.  It is asked for one copy more than there are, once along the rectangle and once
across, until the time is up.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
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
    every = every_turn(turns)
    best, misses = found, 0
    while left > 0 and misses < 2 and len(best.spots) < most:
        upright = (misses + (width > height)) % 2 == 1
        share = max(1, left // 2) if misses == 0 else left
        left -= share
        copies = packed(
            [(outline, polygon)],
            [len(best.spots) + 1],
            width=width,
            height=height,
            turns=[every],
            seconds=share,
            seed=seed,
            upright=upright,
        )
        spots = [spot for _, spot in copies]
        better = settled(outline, spots, "nested")
        fits = better.width <= width + SLACK and better.height <= height + SLACK
        if len(spots) > len(best.spots) and fits and are_apart(outline, better.spots, gap):
            best, misses = better, 0
        else:
            misses += 1
    return best


def every_turn(turns: Iterable[float]) -> list[float]:
    """Some turns [deg], and those that any search may use.

    Examples
    --------
    >>> len(every_turn([])), every_turn([-10.0])[-1]
    (24, 350.0)
    """
    return sorted({*(t % 360.0 for t in turns), *(k * _STEP for k in range(24))})


def packed(
    items: Sequence[tuple[Outline, Polygon]],
    counts: Sequence[int],
    *,
    width: float,
    height: float,
    turns: Sequence[Sequence[float]],
    seconds: int,
    seed: int,
    upright: bool,
) -> list[tuple[int, Spot]]:
    """Copies of several outlines in a strip, which may be longer than was asked.

    Parameters
    ----------
    items : sequence of (Outline, Polygon)
        What is laid out, and the same grown by half the gap or more [mm].
    counts : sequence of int
        How many of each.
    width, height : float
        Of the rectangle [mm].
    turns : sequence of sequence of float
        Those that each may have [deg].
    seconds : int
        How long to search [s].
    seed : int
        Of the search.
    upright : bool
        Whether the strip runs along y; else along x.

    Returns
    -------
    list of (int, Spot)
        Which item, and where; empty where one of them fits the strip at no turn.
    """
    import spyrrow

    # A grown polygon may stand out of the rectangle by what it was grown.
    margin = max(_stands_out(outline, polygon) for outline, polygon in items)
    quarter = 90.0 if upright else 0.0
    strip = (width if upright else height) + 2.0 * margin
    asked = []
    for k, ((outline, polygon), count) in enumerate(zip(items, counts, strict=True)):
        allowed = []
        for turn in turns[k]:
            low, high = outline.turned(turn).bounds[1::2]
            if high - low + 2.0 * margin <= strip - 1e-3:
                allowed.append(turn)
        if not allowed:
            return []
        asked.append(spyrrow.Item(str(k), list(polygon.exterior.coords)[:-1], count, allowed))
    instance = spyrrow.StripPackingInstance("nest", strip, asked)
    config = spyrrow.StripPackingConfig(
        total_computation_time=seconds, num_workers=1, seed=seed, early_termination=True
    )
    solved = instance.solve(config)
    spots = [(int(p.id), Spot(*p.translation, p.rotation % 360.0)) for p in solved.placed_items]
    if upright:
        spots = [(k, Spot(s.y, -s.x, (s.turn - quarter) % 360.0)) for k, s in spots]
    return spots


def _stands_out(outline: Outline, polygon: Polygon) -> float:
    """By how much a grown polygon's box is larger on its worst side [mm]."""
    x0, y0, x1, y1 = outline.bounds
    a0, b0, a1, b1 = polygon.bounds
    return float(max(x0 - a0, y0 - b0, a1 - x1, b1 - y1))
