"""Full circles in rows, by closed forms.

Rows of pitch p, each moved against the last by p/2, lie √(D² − p²/4) apart, where D is the
diameter with its gap.  A row need not be tight: a larger p brings the rows nearer to each
other.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from wadforms.geometry.contour import Point
from wadforms.geometry.outline import Outline
from wadforms.nesting.rows import TINY
from wadforms.nesting.spots import EMPTY, Nest, Spot, settled
from wadforms.nesting.taste import spread


def circle_of(outline: Outline) -> tuple[Point, float] | None:
    """Centre and radius [mm] of an outline that is a full circle outside; None of any other.

    Examples
    --------
    >>> circle_of(Outline.circle(5, (1, 2)))
    ((1.0, 2.0), 5.0)
    """
    segments = outline.outer.segments
    if not all(s.bulge > 0.0 for s in segments):
        return None
    (x, y), radius = segments[0].centre, segments[0].radius
    near = 1e-9 * radius
    for s in segments[1:]:
        if math.dist(s.centre, (x, y)) > near or abs(s.radius - radius) > near:
            return None
    return (x, y), radius


class _Rows(NamedTuple):
    """Rows along x from the lower left: first some straight above each other, then moved ones."""

    size: float  # diameter
    tight: float  # with its gap: from a row to one straight above it
    pitch: float
    full: int  # discs in a row that starts at the left edge
    short: int  # in a row moved by half a pitch
    straight: int  # rows straight above the first
    moved: int  # rows after those, each moved against the last

    @property
    def up(self) -> float:
        """Height from a row to the next, moved one; rows two apart must not touch either."""
        rise = math.sqrt(max(self.tight**2 - self.pitch**2 / 4, 0.0))
        return max(rise, self.tight / 2)

    @property
    def discs(self) -> int:
        """How many there are: of the moved rows each second one is a full one again."""
        return (1 + self.straight + self.moved // 2) * self.full + -(-self.moved // 2) * self.short

    @property
    def width(self) -> float:
        width = (self.full - 1) * self.pitch + self.size
        return max(width, (self.short - 0.5) * self.pitch + self.size) if self.moved else width

    @property
    def height(self) -> float:
        return self.straight * self.tight + self.moved * self.up + self.size

    @property
    def how(self) -> str:
        return "staggered rows" if self.moved else "square rows"

    def centres(self) -> Iterator[Point]:
        for j in range(1 + self.straight + self.moved):
            over = max(0, j - self.straight)
            y = self.size / 2 + (j - over) * self.tight + over * self.up
            start = self.size / 2 + (self.pitch / 2 if over % 2 else 0.0)
            for k in range(self.short if over % 2 else self.full):
                yield start + k * self.pitch, y


def fill(
    outline: Outline, *, gap: float, width: float, height: float, count: int | None
) -> Nest | None:
    """As many circles as rows along x or along y take; None where the outline is none.

    Parameters
    ----------
    outline : Outline
        A full circle [mm].
    gap : float
        Between any two [mm].
    width, height : float
        Of the rectangle [mm].
    count : int or None
        How many are wanted at most.

    Examples
    --------
    >>> nest = fill(Outline.circle(10), gap=0, width=210, height=297, count=None)
    >>> len(nest.spots), nest.how
    (168, 'staggered rows')
    """
    found = circle_of(outline)
    if found is None:
        return None
    size = 2 * found[1]
    best: tuple[tuple[float, ...], _Rows, bool] | None = None
    for sides, upright in (((width, height), False), ((height, width), True)):
        for rows in _fillings(size, gap, *sides):
            used = spread(rows.width, rows.height)
            rank = (-rows.discs, rows.how != "square rows", used)
            if best is None or rank < best[0]:
                best = rank, rows, upright
    if best is None:
        return EMPTY
    if count is not None and count < best[1].discs:
        block = _block(size, gap, count, width, height)
        if block is not None:
            best = (), *block
    return _placed(outline, found[0], best[1], upright=best[2], count=count)


def block(outline: Outline, *, gap: float, count: int) -> Nest | None:
    """A compact block of circles in rows; None where the outline is no circle.

    Parameters
    ----------
    outline : Outline
        A full circle [mm].
    gap : float
        Between any two [mm].
    count : int
        How many.

    Examples
    --------
    >>> nest = block(Outline.circle(10), gap=2, count=4)
    >>> nest.how, nest.width, nest.height
    ('square rows', 42.0, 42.0)
    """
    found = circle_of(outline)
    if found is None:
        return None
    best = _block(2 * found[1], gap, count, math.inf, math.inf)
    if best is None:  # a single row of any length is among those tried
        raise AssertionError("no rows")
    return _placed(outline, found[0], best[0], upright=best[1], count=count)


def _placed(
    outline: Outline, centre: Point, rows: _Rows, *, upright: bool, count: int | None
) -> Nest:
    points = list(rows.centres())[:count]
    if upright:
        points = [(y, x) for x, y in points]
    spots = [Spot(x - centre[0], y - centre[1], 0.0) for x, y in points]
    return settled(outline, spots, rows.how)


def _fillings(size: float, gap: float, width: float, height: float) -> Iterator[_Rows]:
    """Every way of rows along x that fills the rectangle, tight or loose."""
    if size > width + TINY or size > height + TINY:
        return
    pitch = size + gap
    most = math.floor((width - size) / pitch + TINY) + 1
    for full in range(1, most + 1):
        wide = (width - size) / (full - 1) if full > 1 else math.inf
        half = (width - size) / (full - 0.5)
        # Once both kinds of rows hold as many, once the moved ones hold one less.
        for loose, short in ((half, full), (wide, full - 1), (pitch, full - 1)):
            if loose >= pitch - TINY and (loose < 2 * pitch or full == 1):
                at = max(pitch, min(loose, 2 * pitch))
                yield from _stacked(size, gap, at, full, short, height)


def _stacked(
    size: float, gap: float, pitch: float, full: int, short: int, height: float
) -> Iterator[_Rows]:
    """Rows of one pitch up to the height: some straight above each other, then moved ones."""
    first = _Rows(size, size + gap, pitch, full, short, 0, 0)
    room = height - size + TINY
    for straight in range(math.floor(room / first.tight) + 1):
        moved = math.floor((room - straight * first.tight) / first.up) if short else 0
        yield first._replace(straight=straight, moved=moved)


def _block(
    size: float, gap: float, count: int, width: float, height: float
) -> tuple[_Rows, bool] | None:
    """The most compact rows of `count`, lying or upright, that fit the rectangle."""
    best: tuple[tuple[float, ...], _Rows, bool] | None = None
    for rows in _blocks(size, gap, count):
        for upright in (False, True):
            across, high = (rows.height, rows.width) if upright else (rows.width, rows.height)
            if across > width + TINY or high > height + TINY:
                continue
            rank = (round(spread(across, high), 9), rows.how != "square rows", across < high)
            if best is None or rank < best[0]:
                best = rank, rows, upright
    return best and best[1:]


def _blocks(size: float, gap: float, count: int) -> Iterator[_Rows]:
    """Tight rows of `count` discs, one disc a row, two, and so on."""
    for full in range(1, count + 1):
        first = _Rows(size, size + gap, size + gap, full, full, 0, 0)
        yield first._replace(straight=-(-count // full) - 1)
        for short in (full, full - 1):
            if short:
                pairs, rest = divmod(count, full + short)
                rows = 2 * pairs + (rest > 0) + (rest > full)
                yield first._replace(short=short, moved=rows - 1)
