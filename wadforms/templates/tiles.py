"""A drawing that is larger than a sheet of paper, on several sheets to be joined.

Neighbours share a strip, and each sheet carries crosses along the middle of those strips.  Paper
is not clear: a sheet is cut through its crosses and laid on its neighbour, so that half crosses
make whole ones.  At its foot, below the drawing, stands its place in words and on a map and how to
print and join it.  The square that proves its scale stands where the drawing leaves most room, and
is dotted, so that nobody cuts along it: nothing of the drawing is hidden or left out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from wadforms.errors import NotMakeable
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.templates import look, proof
from wadforms.templates.correction import Correction
from wadforms.templates.drawing import (
    Arc,
    Circle,
    Cross,
    Drawing,
    Item,
    Lines,
    Primitive,
    Region,
    Text,
    Window,
)
from wadforms.templates.paper import Paper
from wadforms.templates.placing import Box, bounds, placed
from wadforms.templates.tile_room import clearest, ink_in, quiet_place
from wadforms.templates.tile_strip import HEIGHT as STRIP
from wadforms.templates.tile_strip import strip_map, strip_words, words_width

if TYPE_CHECKING:
    from shapely import Geometry

OVERLAP: Final = 15.0
"""Width of the strip that two neighbours share [mm]."""

MOST_SHEETS: Final = 120
"""More than that nobody joins; the drawing was meant smaller."""

JOIN: Final = (
    "Join the sheets row by row, the upper left one lowest: cut each further one through the "
    "middles of the crosses along its left and upper edges, and lay that edge on its neighbours so "
    "that half crosses make whole ones. Or lay whole sheets cross on cross against a window."
)
"""How the sheets become one."""

_CROSS: Final = 9.0  # [mm]
_RING: Final = 3.0  # radius of the circle that tells these crosses from all others [mm]
_ALONG: Final = (0.0, 4.5, 9.0, 13.5, 18.0, 22.5)  # tried for a cross near an end [mm]


@dataclass(frozen=True, slots=True)
class Grid:
    """How many sheets a drawing takes, and where they lie.

    Parameters
    ----------
    columns, rows : int
        Of sheets.
    width, height : float
        Of what one sheet shows [mm].
    """

    columns: int
    rows: int
    width: float
    height: float

    @property
    def size(self) -> tuple[float, float]:
        """What all sheets together show, along x and y [mm]."""
        return (
            self.width + (self.columns - 1) * (self.width - OVERLAP),
            self.height + (self.rows - 1) * (self.height - OVERLAP),
        )

    def corner(self, row: int, column: int) -> Point:
        """Lower left of a sheet among all of them [mm]; rows are counted from the top, from 0."""
        up = self.rows - 1 - row
        return column * (self.width - OVERLAP), up * (self.height - OVERLAP)

    @property
    def boxes(self) -> Iterator[Box]:
        """What each sheet shows, among all of them [mm]."""
        for row in range(self.rows):
            for column in range(self.columns):
                x, y = self.corner(row, column)
                yield x, y, x + self.width, y + self.height

    def crosses(self, ink: Geometry | None = None) -> tuple[Point, ...]:
        """Where the shared strips meet each other, and near their ends, clear of `ink` [mm]."""
        (right, top), half = self.size, OVERLAP / 2
        xs = [(k + 1) * (self.width - OVERLAP) + half for k in range(self.columns - 1)]
        ys = [(k + 1) * (self.height - OVERLAP) + half for k in range(self.rows - 1)]
        inner = [(x, y) for x in xs for y in ys]
        ends = [[(x, half + way) for way in _ALONG] for x in xs]
        ends += [[(x, top - half - way) for way in _ALONG] for x in xs]
        ends += [[(half + way, y) for way in _ALONG] for y in ys]
        ends += [[(right - half - way, y) for way in _ALONG] for y in ys]
        return (*inner, *(clearest(places, ink, _CROSS) for places in ends))


def drawn_box(paper: Paper) -> Box:
    """What one of several sheets shows of a drawing, above the strip with its words [mm].

    Examples
    --------
    >>> from wadforms.templates.paper import paper
    >>> drawn_box(paper("a4"))
    (10.0, 38.0, 200.0, 287.0)
    """
    x0, y0, x1, y1 = paper.box
    return x0, y0 + STRIP, x1, y1


def grid(width: float, height: float, *, paper: Paper) -> Grid:
    """How many sheets a drawing takes.

    Parameters
    ----------
    width, height : float
        Of the drawing [mm].
    paper : Paper
        The sheets.

    Examples
    --------
    >>> from wadforms.templates.paper import paper
    >>> [(found.columns, found.rows) for found in
    ...  (grid(side, side, paper=paper("either")) for side in (180, 360, 600))]
    [(1, 1), (2, 2), (4, 3)]
    """
    x0, y0, x1, y1 = drawn_box(paper)
    return Grid(_many(width, x1 - x0), _many(height, y1 - y0), x1 - x0, y1 - y0)


def _many(length: float, room: float) -> int:
    # A hair too long, by rounding alone, takes no further sheet.
    return max(1, math.ceil((length - OVERLAP) / (room - OVERLAP) - 1e-9))


def tiled(
    drawing: Drawing, *, paper: Paper, correction: Correction | None = None
) -> tuple[Drawing, ...]:
    """The drawing at true size on as many sheets as it takes, row by row from the top left.

    Parameters
    ----------
    drawing : Drawing
        What to show; its own sheet may have any size.
    paper : Paper
        The sheets.
    correction : Correction or None
        Makes up for a printer that does not print true.

    Raises
    ------
    NotMakeable
        It takes more than `MOST_SHEETS`, or the printer is so far from true that a sheet has no
        room for the square.

    Examples
    --------
    >>> from wadforms.templates.paper import paper
    >>> large = Drawing(title="Ring", description="A ring.", width=360, height=360,
    ...                 items=(Circle((180, 180), 175, look.CUT),))
    >>> pages = tiled(large, paper=paper("either"))
    >>> len(pages), pages[3].title, pages[3].width
    (4, 'Ring, row 2 of 2, column 2 of 2', 210.0)
    """
    shown = correction.paper(paper) if correction else paper
    sheets = grid(drawing.width, drawing.height, paper=shown)
    if sheets.columns * sheets.rows > MOST_SHEETS:
        raise NotMakeable(
            f"a drawing of {drawing.width:.0f} × {drawing.height:.0f} mm takes "
            f"{sheets.columns} × {sheets.rows} sheets of paper, and more than {MOST_SHEETS} are "
            "too many to join"
        )
    width, height = sheets.size
    middle = ((width - drawing.width) / 2, (height - drawing.height) / 2)
    items = [placed(item, move=middle) for item in drawing.primitives()]
    whole = replace(drawing, width=width, height=height, items=tuple(items))
    box = (0.0, 0.0, width, height)
    crosses: tuple[Point, ...] = ()
    if sheets.columns * sheets.rows > 1:
        crosses = sheets.crosses(ink_in(tuple(_seen(whole.primitives(), box)), box))
    pages = (
        _page(whole, sheets, crosses, shown, row, column, correction)
        for row in range(sheets.rows)
        for column in range(sheets.columns)
    )
    return tuple(correction.drawing(page) if correction else page for page in pages)


def _page(
    whole: Drawing,
    sheets: Grid,
    crosses: Sequence[Point],
    paper: Paper,
    row: int,
    column: int,
    correction: Correction | None,
) -> Drawing:
    box = drawn_box(paper)
    left, low = sheets.corner(row, column)
    move = (box[0] - left, box[1] - low)
    shown = (placed(p, move=move) for p in whole.primitives())
    content = tuple(_seen(_uncut(shown, sheets, box, move), box))
    single = sheets.rows == sheets.columns == 1
    where = "" if single else f"row {row + 1} of {sheets.rows}, column {column + 1} of "
    where += "" if single else str(sheets.columns)
    page = row * sheets.columns + column + 1
    frame, *marks = _frame([(x + move[0], y + move[1]) for x, y in crosses], box)
    items: list[Item] = [*content, frame, *marks]
    ink = ink_in((*content, Window(box, tuple(part for m in marks for part in _parts(m)))), box)
    corner = quiet_place(ink, box, (proof.SQUARE, proof.SQUARE))[0]
    items += proof.dotted_square(corner)
    items += _square_words(corner, ink)
    strip = (box[0], paper.box[1], box[2], box[1])
    place = f"{where.capitalize()}; sheet {page} of {sheets.rows * sheets.columns}" if where else ""
    items += strip_words(
        whole.title,
        place,
        _join(row, column) if where else "",
        strip[:2],
        words_width(strip[2] - strip[0]),
        correction.words if correction else None,
    )
    if where:
        cells = {
            (r, c): _cell(sheets, r, c) for r in range(sheets.rows) for c in range(sheets.columns)
        }
        items += strip_map(whole, cells, (row, column), strip)
        items += _place_again(where.capitalize(), ink, box, corner)
    return Drawing(
        title=f"{whole.title}, {where}" if where else whole.title,
        description=whole.description
        + (f" Sheet {page} of {sheets.rows * sheets.columns}: {where}." if where else ""),
        width=paper.width,
        height=paper.height,
        items=tuple(items),
        background=whole.background,
    )


def _join(row: int, column: int) -> str:
    """How the sheet in that place is joined to those before it."""
    if not row and not column:
        return "Lies lowest: cut nothing off. Its neighbours, cut through their crosses, lie on it."
    sides = " and ".join(["left"] * bool(column) + ["upper"] * bool(row))
    edge = f"{sides} edges" if row and column else f"{sides} edge"
    return f"Cut through the crosses along its {edge} and lay it on: half crosses make whole ones."


def _square_words(corner: Point, ink: Geometry) -> Iterator[Text]:
    """Yield what the square is for, along one of its sides, where there is room."""
    import shapely

    words, (x, y) = "100 mm: to measure, not to cut", corner
    width, height = look.SMALL.width(words), look.SMALL.size + 1.0
    lefts = [x + 6.0 + k * (proof.SQUARE - 12.0 - width) / 4 for k in range(5)]
    for low in (y + 1.0, y + proof.SQUARE - 1.0 - height):
        for left in lefts:
            if not ink.intersects(shapely.box(left - 1.0, low, left + width + 1.0, low + height)):
                yield Text((left, low + 1.2), words, look.SMALL)
                return


def _parts(item: Item) -> Iterator[Lines | Circle]:
    """Yield the lines of a mark."""
    if isinstance(item, Cross):
        yield from item.parts()
    elif isinstance(item, Circle):
        yield item


def _uncut(items: Iterable[Primitive], sheets: Grid, box: Box, move: Point) -> Iterator[Primitive]:
    """Yield all but the words that the sheet's edge would cut and another sheet shows whole.

    Half a number is another number.
    """
    for item in items:
        if isinstance(item, Text) and not _holds(box, item.box):
            x0, y0, x1, y1 = item.box
            there = (x0 - move[0], y0 - move[1], x1 - move[0], y1 - move[1])
            if any(_holds(sheet, there) for sheet in sheets.boxes):
                continue
        yield item


def _holds(outer: Box, inner: Box) -> bool:
    return (
        outer[0] <= inner[0]
        and outer[1] <= inner[1]
        and inner[2] <= outer[2]
        and inner[3] <= outer[3]
    )


def _place_again(words: str, ink: Geometry, box: Box, corner: Point) -> Iterator[Item]:
    """Yield the sheet's place on what stays when the strip is cut off, where there is room."""
    import shapely

    size = (look.SMALL.width(words) + 2.0, look.SMALL.size + 2.0)
    taken = [proof.square(corner, look.PROOF).outline.polygon().boundary]
    taken += [shapely.box(*item.box) for item in _square_words(corner, ink)]
    (x, y), clear = quiet_place(shapely.union_all([ink, *taken]), box, size)
    if clear:
        yield Text((x + 1.0, y + 1.6), words, look.SMALL)


def _seen(items: Iterable[Primitive], box: Box) -> Iterator[Window]:
    """Yield what can be seen in a box, in windows that follow each other as the items do."""
    together: list[Region | Lines | Circle | Arc | Text] = []
    for item in items:
        if not _meet(bounds(item), box):
            continue
        if not isinstance(item, Window):
            together.append(item)
            continue
        if together:
            yield Window(box, tuple(together))
            together = []
        yield Window(_common(item.box, box), item.parts)
    if together:
        yield Window(box, tuple(together))


def _meet(a: Box, b: Box) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def _common(a: Box, b: Box) -> Box:
    return max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3])


def _frame(crosses: Iterable[Point], box: Box) -> Iterator[Item]:
    """Yield the edge of what the sheet shows, and the crosses on it."""
    x0, y0, x1, y1 = box
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    yield Region(Outline(Contour.polygon(corners)), look.HAIR)
    for x, y in crosses:
        if x0 < x < x1 and y0 < y < y1:
            yield Cross((x, y), _CROSS, look.FINE)
            yield Circle((x, y), _RING, look.FINE)


def _cell(sheets: Grid, row: int, column: int) -> Box:
    """The part of a sheet up to the middles of the strips that it shares [mm]."""
    (x, y), half = sheets.corner(row, column), OVERLAP / 2
    return (
        x + (half if column else 0.0),
        y + (half if row < sheets.rows - 1 else 0.0),
        x + sheets.width - (half if column < sheets.columns - 1 else 0.0),
        y + sheets.height - (half if row else 0.0),
    )
