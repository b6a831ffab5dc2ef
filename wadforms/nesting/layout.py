"""Blocks of rows of one outline at many turns, and the best of them."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.nesting.fitting import hull_turns
from wadforms.nesting.lay import Lay
from wadforms.nesting.profile import Way, grown
from wadforms.nesting.rows import TINY, Rows, joined
from wadforms.nesting.spots import EMPTY, SLACK, Nest, Spot, settled
from wadforms.nesting.taste import LENGTH_COUNTS, spread

if TYPE_CHECKING:
    from shapely import Polygon

TURNS: Final = (0.0, 30.0, 45.0, 60.0, 90.0, 120.0, 135.0, 150.0)
"""Turns that rows are tried at, besides those of the outline's own narrowest box [deg]."""

FINE_TURNS: Final = tuple(7.5 * k for k in range(24))
"""The same for outlines that half a turn lays on themselves: they make no pairs, which take most
of the time, and lie nearest at odd turns [deg]."""

MOST_ROWS: Final = 1000
"""No board holds more."""

_KEPT: Final = 16  # ways of rows of each turn that a compact block is made of
_CLOSER: Final = 12  # best blocks that are found again exactly
_SPARSEST: Final = 1.45  # rows that take so much more room than the best are left out
_ALIKE: Final = 3  # of so many equally full ones the smallest is taken
_TABLE_ERROR: Final = 0.1  # by how much a table may be off [mm]
_WIDTHS_KEPT: Final = 8  # widths whose blocks are kept for the next height
_HAIR: Final = 1e-7  # so that a width made of pitches holds them, whatever the rounding [mm]


class Block(NamedTuple):
    """Some rows of one way, laid along x.

    Parameters
    ----------
    rows : Rows
        The way.
    many : int
        How many rows.
    copies : int
        How many copies they hold.
    height : float
        What they take up [mm].
    """

    rows: Rows
    many: int
    copies: int
    height: float

    @property
    def how(self) -> str:
        """In plain words."""
        return "rows turned by halves" if self.rows.pair or self.rows.turned else "rows"


@dataclass(frozen=True)
class Layout:
    """An outline at all turns that are tried.

    Parameters
    ----------
    outline : Outline
        [mm].
    polygon : Polygon
        The same grown by half the gap [mm].
    gap : float
        Between two copies [mm].
    lays : tuple of Lay
        One a turn.
    """

    outline: Outline
    polygon: Polygon
    gap: float
    lays: tuple[Lay, ...]

    @classmethod
    def of(cls, outline: Outline, gap: float) -> Layout:
        """All turns of an outline whose copies keep a `gap` [mm]; kept for the next rectangle."""
        return _all_turns(outline, gap)

    @classmethod
    def _made(cls, outline: Outline, gap: float) -> Layout:
        polygon = grown(outline, gap)
        same = _unchanged_by_half_turn(outline.outer)
        tried = FINE_TURNS if same else TURNS
        turns = sorted({round(t % 180.0, 6) for t in (*tried, *hull_turns(outline))})
        ways = {turn: Way(polygon, outline, gap, turn) for turn in turns}
        lays = []
        for index, (turn, way) in enumerate(ways.items()):
            forward = turn < 90.0
            other = round(turn + 90.0 if forward else turn - 90.0, 6)
            lays.append(Lay(index, way, ways[other], forward, same))
        return cls(outline, polygon, gap, tuple(lays))

    @cached_property
    def _kept(self) -> dict[tuple[float, tuple[int, ...]], tuple[float, list[Block]]]:
        """Blocks of some widths and lays, and up to which height they were looked for."""
        return {}

    def filled(self, width: float, height: float) -> Nest:
        """The most copies that one or two blocks of rows give, rows along x or along y [mm]."""
        best: tuple[tuple[float, ...], Nest] = ((0.0, math.inf), EMPTY)
        for upright, (across, high) in ((False, (width, height)), (True, (height, width))):
            for blocks in self._promising(across, high, len(best[1].spots)):
                made = self._nest(blocks, across, upright=upright)
                rank = (-float(len(made.spots)), spread(made.width, made.height))
                if rank < best[0]:
                    best = rank, made
        return best[1]

    def _promising(self, width: float, height: float, least: int) -> Iterator[list[Block]]:
        """One block or two above each other, the fullest first, found exactly.

        Those that turn out to hold less than others already found, or than `least`, are left
        out.  The tables are first taken as if they asked for too much, then for too little.
        """
        lays = tuple(
            lay.index
            for lay in self.lays
            if lay.way.width <= width + TINY and lay.way.height <= height + TINY
        )
        if not lays:
            return
        most, given = least, 0
        for margin in (_TABLE_ERROR, -_TABLE_ERROR):
            ranked = self._ranked(self._fullest(lays, width, height + margin), height + margin)
            for count, _, blocks in ranked[:_CLOSER]:
                if count < most or (count == most and given >= _ALIKE):
                    break
                exact = self._exactly(blocks, width, height)
                found = sum(block.copies for block in exact)
                if found and found >= most:
                    given = 1 if found > most else given + 1
                    most = found
                    yield exact
            if not ranked or most >= ranked[0][0]:
                return

    def _ranked(self, lower: list[Block], height: float) -> list[tuple[int, float, list[Block]]]:
        """Count, height and blocks, by the tables, the fullest first."""
        heights = [block.height for block in lower]
        ranked = []
        for block in lower:
            ranked.append((block.copies, block.height, [block]))
            at = bisect_right(heights, height - block.height - self.gap) - 1
            if at >= 0:
                high = block.height + self.gap + lower[at].height
                ranked.append((block.copies + lower[at].copies, high, [block, lower[at]]))
        ranked.sort(key=lambda entry: (-entry[0], len(entry[2]), entry[1]))
        return ranked

    def _fullest(self, lays: tuple[int, ...], width: float, height: float) -> list[Block]:
        """`_fullest` of these lays; of the last widths it is kept, for a lower height is less."""
        known = self._kept.get((width, lays))
        if known is None or known[0] < height:
            known = height, _fullest(self._ways(lays, width), width, height)
            if len(self._kept) >= _WIDTHS_KEPT:
                self._kept.pop(next(iter(self._kept)), None)
            self._kept[width, lays] = known
        blocks = known[1]
        return blocks[: bisect_right(blocks, height, key=lambda block: block.height)]

    def _ways(self, lays: tuple[int, ...], width: float) -> Rows:
        """All ways of rows of these lays that make sense."""
        found = []
        for lay in (self.lays[index] for index in lays):
            loose = lay.loose(width)
            found += [lay.tight] if loose is None else [lay.tight, loose]
        ways = joined(found)
        return ways.chosen((ways.density <= _SPARSEST * ways.density.min()) | (ways.shift == 0.0))

    def _exactly(self, blocks: list[Block], width: float, height: float) -> list[Block]:
        """The blocks with exact distances, less the rows that do not fit after all."""
        found = []
        room = height
        for block in blocks:
            rows = self.lays[int(block.rows.lay)].exact(block.rows)
            many = block.many
            while many and float(rows.level(many - 1) + rows.thick) > room + TINY:
                many -= 1
            if not many:
                continue
            count = sum(int(rows.held(j, width)) for j in range(many))
            high = float(rows.level(many - 1) + rows.thick)
            found.append(Block(rows, many, count, high))
            room -= high + self.gap
        return found

    def compact(
        self, count: int, width: float, height: float, *, around: float = 0.0
    ) -> Nest | None:
        """The most compact block of rows of `count` copies that fits [mm]; None where none does.

        A rim `around` it [mm] counts for what is compact, not for what fits.
        """
        import numpy as np

        kept = []
        for lay in self.lays:
            best = np.argsort(lay.tight.density, kind="stable")[:_KEPT]
            plain = np.flatnonzero(lay.tight.shift == 0.0)[:1]
            kept.append(lay.tight.chosen(np.unique([*best, *plain])))
        ways = joined(kept)
        ranks, widths = [], []
        for across, high in _widths(ways, count):
            for w, h in ((across, high), (high, across)):
                fits = (w <= width + _TABLE_ERROR) & (h <= height + _TABLE_ERROR)
                whole_w, whole_h = w + 2 * around, h + 2 * around
                ratio = np.maximum(whole_w / whole_h, whole_h / whole_w) ** LENGTH_COUNTS
                # Of two alike that lie or stand, the lying one.
                size = whole_w * whole_h * ratio * np.where(w < h, 1 + 1e-9, 1.0)
                ranks.append(np.where(fits, size, np.inf))
                widths.append(across)
        rank = np.array(ranks)
        order = np.argsort(rank.min(axis=0), kind="stable")
        best_nest: tuple[float, Nest] | None = None
        for index in order[:_CLOSER]:
            way = ways.chosen(int(index))
            exact = self.lays[int(way.lay)].exact(way)
            for k in np.argsort(rank[:, index], kind="stable")[:2]:
                if not np.isfinite(rank[k, index]):
                    continue
                # The same number of pitches as in the table, each at its exact length.
                across = exact.wide + (widths[k][index] - way.wide) * exact.pitch / way.pitch
                block = _enough(exact, float(across) + _HAIR, count)
                made = self._nest([block], float(across) + _HAIR, upright=bool(k % 2), count=count)
                if made.width > width + SLACK or made.height > height + SLACK:
                    continue
                whole = made.width + 2 * around, made.height + 2 * around
                size = spread(*whole) * (1 + 1e-9 * (made.width < made.height))
                if best_nest is None or size < best_nest[0] * (1 - 1e-10):
                    best_nest = size, made
        return best_nest and best_nest[1]

    def _nest(
        self, blocks: Iterable[Block], across: float, *, upright: bool, count: int | None = None
    ) -> Nest:
        spots: list[Spot] = []
        words: list[str] = []
        base = 0.0
        for block in blocks:
            way = self.lays[int(block.rows.lay)].way
            for place in block.rows.places(block.many, across):
                sign, half = (-1.0, 180.0) if place.half else (1.0, 0.0)
                x, y = place.x - sign * way.middle[0], place.y - sign * way.middle[1]
                spots.append(Spot(x, y + base, (way.turn + half) % 360.0))
            base += block.height + self.gap
            if block.how not in words:
                words.append(block.how)
        spots = spots[:count]
        if upright:  # turned back by a quarter: what ran along x runs along y
            spots = [Spot(s.y, -s.x, (s.turn - 90.0) % 360.0) for s in spots]
        return settled(self.outline, spots, " and ".join(words))


@lru_cache(maxsize=16)
def _all_turns(outline: Outline, gap: float) -> Layout:
    return Layout._made(outline, gap)


def _fullest(ways: Rows, width: float, height: float) -> list[Block]:
    """For each height the block that holds most, by the tables; lower ones first."""
    import numpy as np

    total: Any = np.zeros_like(ways.pitch)
    left, index = ways, np.arange(len(ways.pitch))
    highs, counts, which, many = [], [], [], []
    for j in range(MOST_ROWS):
        high = left.level(j) + left.thick
        fits = np.flatnonzero(high <= height)
        if not len(fits):
            break
        if len(fits) < len(index):  # what has no room for this row has none for the next
            left, index, total, high = left.chosen(fits), index[fits], total[fits], high[fits]
        total = total + left.held(j, width)
        # Of those that hold alike the lowest are enough.
        number = total.astype(int)
        lowest = np.full(number.max() + 1, np.inf)
        np.minimum.at(lowest, number, high)
        best = np.flatnonzero(high == lowest[number])
        highs.append(high[best])
        counts.append(total[best])
        which.append(index[best])
        many.append(np.full(len(best), j + 1))
    if not highs:
        return []
    every, number = np.concatenate(highs), np.concatenate(counts)
    ways_of, rows = np.concatenate(which), np.concatenate(many)
    order = np.lexsort((-number, every))
    most = np.maximum.accumulate(number[order])
    risen = order[np.concatenate([[True], np.diff(most) > 0])]
    return [
        Block(ways.chosen(int(ways_of[k])), int(rows[k]), int(number[k]), float(every[k]))
        for k in risen
    ]


def _widths(rows: Rows, count: int) -> Iterator[tuple[Any, Any]]:
    """Widths for one copy a row, two … with the height that `count` copies take then."""
    import numpy as np

    for across in range(1, count + 1):
        half, odd = divmod(across - 1, 2)
        pairs = half * rows.pitch + (np.mod(rows.u, rows.pitch) if odd else 0.0)
        reach = np.where(rows.pair, pairs, (across - 1) * rows.pitch)
        for extra in (0.0, rows.shift):
            width = rows.wide + reach + extra
            held = np.zeros_like(width)
            high = np.full_like(width, np.inf)
            for j in range(count):
                held = held + rows.held(j, width + _HAIR)
                done = np.isinf(high) & (held >= count)
                high = np.where(done, rows.level(j) + rows.thick, high)
                if (held >= count).all():
                    break
            yield width, high


def _enough(rows: Rows, width: float, count: int) -> Block:
    """As many rows as `count` copies take."""
    held = many = 0
    while held < count:
        held += int(rows.held(many, width))
        many += 1
    return Block(rows, many, held, float(rows.level(many - 1) + rows.thick))


def _unchanged_by_half_turn(contour: Contour) -> bool:
    """Whether half a turn about the middle of its box lays the contour on itself."""
    x0, y0, x1, y1 = contour.bounds
    sx, sy = x0 + x1, y0 + y1
    near = 1e-6 * max(x1 - x0, y1 - y0)
    half, odd = divmod(len(contour.vertices), 2)
    if odd:
        return False
    for k in range(len(contour.vertices)):
        (ax, ay), (bx, by) = contour.vertices[k], contour.vertices[k - half]
        if abs(ax + bx - sx) > near or abs(ay + by - sy) > near:
            return False
        if abs(contour.bulges[k] - contour.bulges[k - half]) > 1e-6:
            return False
    return True
