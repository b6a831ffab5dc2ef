"""Several outlines on one rectangle: bands of rows, one band an outline, or a search where asked.

Bands are the same in every run.  The search may put more on the rectangle, and whatever it
finds is checked here before it counts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms.errors import BadInput, Fault
from wadforms.geometry.outline import Outline
from wadforms.nesting import search
from wadforms.nesting.blocks import nest
from wadforms.nesting.fitting import hull_turns
from wadforms.nesting.profile import grown
from wadforms.nesting.spots import SLACK, Nest, Spot, extent

if TYPE_CHECKING:
    from shapely import Polygon

_CHORD: Final = 1e-5  # between an arc and the polygon that stands for it in a check [mm]
_CLOSE: Final = 1.0  # a band is found as low as it can be to this [mm]
_MOST: Final = 100_000  # pieces; no slab holds more


class Mixed(NamedTuple):
    """Copies of several outlines on a rectangle that starts at the origin.

    Parameters
    ----------
    placed : tuple of (int, Spot)
        Which outline, and where.
    sets : int
        How often all the counts are there.
    how : str
        ``"bands"`` or ``"nested"``.
    """

    placed: tuple[tuple[int, Spot], ...]
    sets: int
    how: str


def mixed(
    outlines: Sequence[Outline],
    counts: Sequence[int],
    *,
    gap: float,
    width: float,
    height: float,
    sets: int | None = None,
    seconds: float = 0.0,
    seed: int = 0,
) -> Mixed:
    """As many whole sets of several outlines as a rectangle takes, or as are wanted.

    Parameters
    ----------
    outlines : sequence of Outline
        What is laid out [mm]; their holes stay empty.
    counts : sequence of int
        How many of each make a set.
    gap : float
        The least distance between two copies [mm]; none is kept from the rectangle's edge.
    width, height : float
        Of the rectangle, along x and y [mm].
    sets : int, optional
        How many sets are wanted at most.
    seconds : float
        How long to search for more sets than bands of rows give [s], in whole seconds.  0 for
        bands alone, which are the same in every run.
    seed : int
        Of that search.  It stops by the clock, so a second run may lay copies otherwise or find
        another number of sets, also with the same seed.

    Raises
    ------
    BadInput
        A size, the gap, a count or the time is out of bounds.

    Examples
    --------
    >>> both = [Outline.circle(10), Outline.circle(5)]
    >>> found = mixed(both, [2, 4], gap=0, width=80, height=40)
    >>> found.sets, len(found.placed), found.how
    (2, 12, 'bands')
    """
    _check(outlines, counts, gap, width, height, sets, seconds)
    room = (width + gap) * (height + gap)
    # Of grown pieces, which may stand out by half the gap, no more than the area holds.
    taken = math.fsum(
        grown(o, gap).buffer(-0.1).area * n for o, n in zip(outlines, counts, strict=True)
    )
    most = math.floor(room / taken) if taken > 0.0 else 0
    most = most if sets is None else min(most, sets)
    best = Mixed((), 0, "bands")
    for upright in (False, True):
        bands = _Bands(outlines, counts, gap, width, height, upright)
        found = bands.most(best.sets, most)
        if found is not None:
            best = found
    if seconds > 0.0 and best.sets < most:
        best = _searched(outlines, counts, gap, width, height, best, most, seconds, seed)
    return best


@dataclass
class _Bands:
    """Bands across the rectangle, one an outline; along y where `upright`."""

    outlines: Sequence[Outline]
    counts: Sequence[int]
    gap: float
    width: float
    height: float
    upright: bool
    kept: dict[tuple[int, float], Nest] = field(default_factory=dict)

    def most(self, beaten: int, most: int) -> Mixed | None:
        """The most sets that fit, more than are `beaten`; None where so many do not."""
        tall = self.width if self.upright else self.height
        full = [len(self._filled(k, tall).spots) for k in range(len(self.outlines))]
        if not all(full):
            return None
        # As if each took its share of a full rectangle: rarely off by more than a tenth.
        share = math.fsum(n / f for n, f in zip(self.counts, full, strict=True))
        low, high, best = beaten, most + 1, None
        tried = math.floor(1.0 / share)
        step = max(1, tried // 20)
        while low + 1 < high:
            tried = min(max(tried, low + 1), high - 1)
            found = self._laid(tried)
            if found is None:
                high = tried
                tried = max(tried - step, (low + high) // 2)
            else:
                best, low = found, tried
                tried = min(tried + step, (low + high) // 2)
        return best

    def _laid(self, sets: int) -> Mixed | None:
        """So many sets in bands, the largest pieces first; None where they do not fit."""
        tall = self.width if self.upright else self.height
        placed: list[tuple[int, Spot]] = []
        at = 0.0
        order = sorted(range(len(self.outlines)), key=lambda k: -self.outlines[k].area)
        for k in order:
            count = sets * self.counts[k]
            band = self._band(k, count, tall - at, last=k == order[-1])
            if band is None:
                return None
            dx, dy = (at, 0.0) if self.upright else (0.0, at)
            placed += [(k, Spot(s.x + dx, s.y + dy, s.turn)) for s in band.spots[:count]]
            at += self._depth(band) + self.gap
        return Mixed(tuple(placed), sets, "bands")

    def _band(self, k: int, count: int, room: float, *, last: bool) -> Nest | None:
        """The lowest band of so many copies, the last as it comes; None where there is no room."""
        if room <= 0.0:
            return None
        best = self._filled(k, room)
        if len(best.spots) < count:
            return None
        low, high, least = 0.0, self._depth(best), 0
        while high - low > _CLOSE and not last:
            # A band holds about as many as it is high.
            share = (count + 0.5 - least) / (len(best.spots) + 1 - least)
            guess = low + (high - low) * min(0.9, max(0.1, share))
            found = self._filled(k, guess)
            if len(found.spots) >= count:
                best, high = found, self._depth(found)
            else:
                low, least = guess, len(found.spots)
        return best

    def _depth(self, band: Nest) -> float:
        return band.width if self.upright else band.height

    def _filled(self, k: int, room: float) -> Nest:
        room = math.floor(room * 1e3 + 1e-5) / 1e3  # never more room than there is
        if (k, room) not in self.kept:
            width, height = (room, self.height) if self.upright else (self.width, room)
            self.kept[k, room] = nest(self.outlines[k], gap=self.gap, width=width, height=height)
        return self.kept[k, room]


def _searched(
    outlines: Sequence[Outline],
    counts: Sequence[int],
    gap: float,
    width: float,
    height: float,
    best: Mixed,
    most: int,
    seconds: float,
    seed: int,
) -> Mixed:
    """The bands, or more sets where the search has found room for them in time."""
    items = [(outline, grown(outline, gap)) for outline in outlines]
    turns = [search.every_turn(hull_turns(outline)) for outline in outlines]
    left = max(1, math.floor(seconds))
    low, high = best.sets, most + 1
    step, misses = max(1, best.sets // 16), 0
    while left > 0 and low + 1 < high:
        sets = min(low + step, high - 1)
        upright = (misses + (width > height)) % 2 == 1
        share = max(1, left // 3)
        left -= share
        found = search.packed(
            items,
            [sets * n for n in counts],
            width=width,
            height=height,
            turns=turns,
            seconds=share,
            seed=seed,
            upright=upright,
        )
        fitting = _fitting(outlines, found, gap, width, height) if found else None
        if fitting is not None:
            best, low, misses = Mixed(fitting, sets, "nested"), sets, 0
        else:
            misses += 1
            if misses == 2:  # neither along nor across: fewer
                if step == 1:
                    break
                high, step, misses = sets, max(1, step // 2), 0
    return best


def _fitting(
    outlines: Sequence[Outline],
    placed: Sequence[tuple[int, Spot]],
    gap: float,
    width: float,
    height: float,
) -> tuple[tuple[int, Spot], ...] | None:
    """The copies moved to the origin; None where they need more room or lie too near."""
    boxes = [
        extent(outline, [spot for k, spot in placed if k == index])
        for index, outline in enumerate(outlines)
    ]
    x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
    if max(b[2] for b in boxes) - x0 > width + SLACK:
        return None
    if max(b[3] for b in boxes) - y0 > height + SLACK:
        return None
    moved = tuple((k, Spot(s.x - x0, s.y - y0, s.turn)) for k, s in placed)
    return moved if mixed_apart(outlines, moved, gap) else None


def mixed_apart(
    outlines: Sequence[Outline], placed: Sequence[tuple[int, Spot]], gap: float
) -> bool:
    """Whether no two copies come nearer to each other than `gap` [mm]; holes count as filled.

    Examples
    --------
    >>> two = [Outline.circle(5), Outline.circle(3)]
    >>> mixed_apart(two, [(0, Spot(0, 0, 0)), (1, Spot(9, 0, 0))], 1.0)
    True
    """
    import numpy as np
    import shapely
    from shapely import affinity

    polygons: list[Polygon] = [Outline(o.outer).polygon(_CHORD) for o in outlines]
    laid = np.array(
        [
            affinity.translate(affinity.rotate(polygons[k], s.turn, origin=(0.0, 0.0)), s.x, s.y)
            for k, s in placed
        ]
    )
    tree = shapely.STRtree(laid)
    first, second = tree.query(laid, predicate="dwithin", distance=gap)
    pairs = first < second
    a, b = laid[first[pairs]], laid[second[pairs]]
    far = bool((shapely.distance(a, b) >= gap - 2 * _CHORD - SLACK).all())
    return far and bool((shapely.area(shapely.intersection(a, b)) <= 1e-3).all())


def _check(
    outlines: Sequence[Outline],
    counts: Sequence[int],
    gap: float,
    width: float,
    height: float,
    sets: int | None,
    seconds: float,
) -> None:
    """Whether there are outlines and the numbers are lengths and counts.

    Raises
    ------
    BadInput
        With all that is wrong.
    """
    faults = []
    if not outlines or len(outlines) != len(counts):
        given = f"{len(outlines)} outlines, {len(counts)} counts"
        faults.append(Fault("outlines", given, "give one or more, each with its count"))
    whole = [("count", n) for n in counts] + ([] if sets is None else [("sets", sets)])
    for where, number in whole:
        if not 1 <= number <= _MOST:
            faults.append(Fault(where, str(number), f"give 1 to {_MOST}"))
    for where, value in (("width", width), ("height", height)):
        if not (math.isfinite(value) and value > 0.0):
            faults.append(Fault(where, f"{value:g} mm", "give more than 0"))
    for where, value, unit in (("gap", gap, "mm"), ("seconds", seconds, "s")):
        if not (math.isfinite(value) and value >= 0.0):
            faults.append(Fault(where, f"{value:g} {unit}", "give 0 or more"))
    if faults:
        raise BadInput(*faults)
