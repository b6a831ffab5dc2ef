"""A drawing that is larger than a sheet of paper, on several sheets to be joined.

Neighbours share a strip.  Each sheet carries crosses in the corners of those strips, and at its
foot, below the drawing, its place in words and on a map and how to print and join it.  The square
that proves its scale stands where the drawing leaves most room, without words: nothing of the
drawing is hidden or left out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
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
from wadforms.templates.tile_strip import HEIGHT as STRIP
from wadforms.templates.tile_strip import strip_map, strip_words, words_width

if TYPE_CHECKING:
    from shapely import Geometry

OVERLAP: Final = 15.0
"""Width of the strip that two neighbours share [mm]."""

MOST_SHEETS: Final = 120
"""More than that nobody joins; the drawing was meant smaller."""

_CROSS: Final = 9.0  # [mm]
_CLEAR: Final = 3.0  # between the square and the edges of what a sheet shows [mm]
_AWAY: Final = 12.0  # so far from the drawing the square is far enough [mm]
_BARELY: Final = 1e-3  # away from all lines is more than this [mm]
_STEP: Final = 6.0  # between places that are tried for the square [mm]
_BETWEEN: Final = 0.3  # lines that stand for words [mm]
_COARSE: Final = 0.2  # chord error where only the room on the sheet is looked for [mm]


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

    @property
    def crosses(self) -> tuple[Point, ...]:
        """Where the shared strips meet each other, and near their ends [mm]."""
        (right, top), half = self.size, OVERLAP / 2
        xs = [(k + 1) * (self.width - OVERLAP) + half for k in range(self.columns - 1)]
        ys = [(k + 1) * (self.height - OVERLAP) + half for k in range(self.rows - 1)]
        across = [(x, y) for x in xs for y in (half, *ys, top - half)]
        ends = [(x, y) for x in (half, right - half) for y in ys]
        return (*across, *ends)


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
    pages = (
        _page(whole, sheets, shown, row, column, correction)
        for row in range(sheets.rows)
        for column in range(sheets.columns)
    )
    return tuple(correction.drawing(page) if correction else page for page in pages)


def _page(
    whole: Drawing, sheets: Grid, paper: Paper, row: int, column: int, correction: Correction | None
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
    frame, *crosses = _frame(sheets, box, move)
    items: list[Item] = [*content, frame, *crosses]
    marks = tuple(part for cross in crosses if isinstance(cross, Cross) for part in cross.parts())
    ink = _ink_in((*content, Window(box, marks)), box)
    corner = _quiet_place(ink, box, (proof.SQUARE, proof.SQUARE))[0]
    items.append(proof.square(corner, look.FINE))
    strip = (box[0], paper.box[1], box[2], box[1])
    place = f"{where.capitalize()}; sheet {page} of {sheets.rows * sheets.columns}" if where else ""
    items += strip_words(
        whole.title,
        place,
        f"Sheets overlap by {OVERLAP:g} mm: cut along the frame, then lay cross on cross."
        if where
        else "",
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
    square = proof.square(corner, look.FINE).outline.polygon().boundary
    (x, y), clear = _quiet_place(shapely.union(ink, square), box, size)
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


def _frame(sheets: Grid, box: Box, move: Point) -> Iterator[Item]:
    """Yield the edge of what the sheet shows, and the crosses on it."""
    x0, y0, x1, y1 = box
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    yield Region(Outline(Contour.polygon(corners)), look.HAIR)
    for x, y in sheets.crosses:
        at = (x + move[0], y + move[1])
        if x0 < at[0] < x1 and y0 < at[1] < y1:
            yield Cross(at, _CROSS, look.FINE)


def _cell(sheets: Grid, row: int, column: int) -> Box:
    """The part of a sheet up to the middles of the strips that it shares [mm]."""
    (x, y), half = sheets.corner(row, column), OVERLAP / 2
    return (
        x + (half if column else 0.0),
        y + (half if row < sheets.rows - 1 else 0.0),
        x + sheets.width - (half if column < sheets.columns - 1 else 0.0),
        y + sheets.height - (half if row else 0.0),
    )


def _ink_in(content: tuple[Window, ...], box: Box) -> Geometry:
    """All lines that are seen in a box."""
    import shapely

    lines = shapely.union_all([line for window in content for line in _ink(window)])
    ink = shapely.clip_by_rect(lines, *box)
    shapely.prepare(ink)
    return ink


def _quiet_place(ink: Geometry, box: Box, size: tuple[float, float]) -> tuple[Point, bool]:
    """Where something crosses least of the drawing, its lower left corner, and whether nothing."""
    import numpy as np
    import shapely

    x0, y0, x1, y1 = box
    width, height = size
    room = (x1 - x0 - width, y1 - y0 - height)
    edge = [min(_CLEAR, side / 2) for side in room]
    xs = np.linspace(x0 + edge[0], x0 + room[0] - edge[0], 1 + int((room[0] - 2 * edge[0]) / _STEP))
    ys = np.linspace(y0 + edge[1], y0 + room[1] - edge[1], 1 + int((room[1] - 2 * edge[1]) / _STEP))
    x, y = (a.ravel() for a in np.meshgrid(xs, ys))
    places = shapely.box(x, y, x + width, y + height)
    # Where several places cross nothing, one that is well away from everything is best.
    away = np.nan_to_num(shapely.distance(places, ink), nan=_AWAY)  # from nothing: no number
    crossed = np.zeros(len(places))
    if not (away > _BARELY).any():  # else what is crossed elsewhere is of no matter, and slow
        crossed = np.round(shapely.length(shapely.intersection(ink, places)), 6)
    best = int(np.argmin(np.round(crossed - 1e-3 * np.minimum(away, _AWAY), 6)))
    return (float(x[best]), float(y[best])), bool(crossed[best] == 0.0)


def _ink(window: Window) -> Iterator[Geometry]:
    """Yield the lines of what is seen, and lines that stand for its words."""
    import shapely

    for item in window.parts:
        match item:
            case Region(outline, _):
                yield outline.polygon(_COARSE).boundary
            case Lines(spans, _):
                yield shapely.MultiLineString([list(span) for span in spans])
            case Circle(centre, radius, _):
                yield Outline.circle(radius, centre).polygon(_COARSE).boundary
            case Arc(centre, radius, start, sweep, _):
                angles = [math.radians(start + sweep * k / 32) for k in range(33)]
                (x, y) = centre
                yield shapely.LineString(
                    [(x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles]
                )
            case Text():
                # Words on words cannot be read: each counts as if its box were full of lines.
                x0, y0, x1, y1 = item.box
                rows = math.ceil((y1 - y0) / _BETWEEN)
                levels = [y0 + (y1 - y0) * k / rows for k in range(rows + 1)]
                yield shapely.MultiLineString([[(x0, y), (x1, y)] for y in levels])
