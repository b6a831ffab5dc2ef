"""Outlines at full size on as many sheets as they take: several to a sheet, or one over several."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from wadforms.errors import NotMakeable
from wadforms.families.base import Piece
from wadforms.geometry.outline import Outline
from wadforms.templates import look
from wadforms.templates.correction import Correction
from wadforms.templates.drawing import Cross, Drawing, Item, Region, Text
from wadforms.templates.outline_places import centre, cross_size
from wadforms.templates.outline_sheet import most_outlines, outline_sheet, told
from wadforms.templates.paper import Paper
from wadforms.templates.paper import paper as paper_named
from wadforms.templates.placing import Box
from wadforms.templates.tiles import Grid, grid, tiled

MOST_PAGES: Final = 50
"""More than that nobody cuts by hand; a mould or a cutter is the tool then."""

_EDGE: Final = 2.0  # between a large outline and the edge of its drawing [mm]
_LINE: Final = 5.6  # from baseline to baseline [mm]
_STEP: Final = 4.0  # between places that are tried for the words [mm]
_ROOM: Final = 3.0  # between the words and the outline [mm]


@dataclass(frozen=True, slots=True)
class OutlinePages:
    """Sheets with outlines at full size.

    Parameters
    ----------
    pages : tuple of Drawing
        The sheets.
    area : float
        Inside one of the outlines as it comes out of the printer [mm²].
    factor : float
        Size as it comes out over set size.
    count : int
        Outlines on all sheets together.
    grid : Grid or None
        How the sheets are joined where one outline takes several.
    """

    pages: tuple[Drawing, ...]
    area: float
    factor: float
    count: int
    grid: Grid | None


def outline_pages(
    name: str,
    piece: Piece,
    *,
    paper: str = "either",
    count: int = 1,
    shrinkage: float | None = None,
    facts: Sequence[str] = (),
    correction: Correction | None = None,
) -> OutlinePages:
    """The outline of a piece at true scale, on one sheet or on several.

    Many outlines fill sheet after sheet; one that is larger than a sheet is spread over several
    that are joined.

    Parameters
    ----------
    name, piece, count, facts
        As for `outline_sheet`.
    shrinkage : float or None
        A linear share, as there.
    paper : str
        ``"a4"``, ``"letter"``, or ``"either"`` for sheets that both can print.
    correction : Correction or None
        Makes up for a printer that does not print true.

    Raises
    ------
    BadInput
        As for `outline_sheet`.
    NotMakeable
        That would take too many sheets, or it is several outlines each larger than a sheet.

    Examples
    --------
    >>> from wadforms.families import family
    >>> disk = family("disk")
    >>> len(outline_pages("disk-40", disk(diameter=40).piece(), count=30).pages)
    3
    >>> found = outline_pages("ring-300", family("ring")(diameter=300).piece())
    >>> found.grid.columns, found.grid.rows, len(found.pages)
    (2, 2, 4)
    """
    sheet = paper_named(paper)
    shown = correction.paper(sheet) if correction else sheet
    words = correction.words if correction else None

    def page(count: int, more: Sequence[str] = ()) -> Drawing:
        made = outline_sheet(
            name,
            piece,
            paper=shown,
            count=count,
            shrinkage=shrinkage,
            facts=[*facts, *more],
            corrected=words,
        ).drawing
        return correction.drawing(made) if correction else made

    factor = 1.0 if shrinkage is None else 1.0 / (1.0 - shrinkage)
    area = piece.outline.area * factor**2
    if count < 2:
        page_count = most_outlines(name, piece, paper=shown, count=1, shrinkage=shrinkage)
        if count < 1 or page_count:
            return OutlinePages((page(count),), area, factor, count, None)
        return _joined(name, piece, shown, shrinkage, facts, correction)
    most = most_outlines(name, piece, paper=shown, count=count, shrinkage=shrinkage)
    if not most:
        raise NotMakeable(
            f"{count} outlines of {name}, each larger than a sheet of paper, would make too many "
            "sheets; ask for one, and cut by it as often as you need"
        )
    sheets = -(-count // most)
    if sheets > MOST_PAGES:
        raise NotMakeable(
            f"{count} outlines take {sheets} sheets of paper; give {most * MOST_PAGES} at most"
        )
    each = [min(most, count - k * most) for k in range(sheets)]
    pages = tuple(
        page(n, [f"Sheet {k} of {len(each)}"] if len(each) > 1 else [])
        for k, n in enumerate(each, 1)
    )
    return OutlinePages(pages, area, factor, count, None)


def _joined(
    name: str,
    piece: Piece,
    paper: Paper,
    shrinkage: float | None,
    facts: Sequence[str],
    correction: Correction | None,
) -> OutlinePages:
    """One outline over several sheets, turned by a quarter where that takes fewer."""
    factor = 1.0 if shrinkage is None else 1.0 / (1.0 - shrinkage)
    lines = told(piece, shrinkage, facts)
    outline = piece.outline.scaled(factor)
    drawings = [_large(name, outline.turned(degrees), lines, paper) for degrees in (0.0, 90.0)]

    def sheets(drawing: Drawing) -> int:
        taken = grid(drawing.width, drawing.height, paper=paper)
        return taken.columns * taken.rows

    drawing = min(drawings, key=sheets)
    original = paper if correction is None else paper_named(paper.name)
    pages = tiled(drawing, paper=original, correction=correction)
    taken = grid(drawing.width, drawing.height, paper=paper)
    return OutlinePages(pages, piece.outline.area * factor**2, factor, 1, taken)


def _large(name: str, outline: Outline, lines: Sequence[str], paper: Paper) -> Drawing:
    """A drawing as large as the outline, with the words where they cross no line and no edge."""
    rows = [name, *lines]
    width = max(look.BODY.width(row) for row in rows)
    height = _LINE * len(rows)
    left, low, right, high = outline.bounds
    shapes = (right - left + 2 * _EDGE, high - low + 2 * _EDGE)
    seen = [(x0 + left, y0 + low, x1 + left, y1 + low) for x0, y0, x1, y1 in _seen(shapes, paper)]
    at = _free_place(outline, width, height, seen)
    if at:
        size = shapes
        corner = (at[0] + _EDGE - left, at[1] + _EDGE - low)
    else:
        size = (max(shapes[0], width + 2 * (_ROOM + _EDGE)), shapes[1] + height + 2 * _ROOM)
        corner = (_beneath(width, size, paper), _EDGE + _ROOM)
    placed = outline.moved(_EDGE - left, size[1] - _EDGE - high)
    return Drawing(
        title=f"{name}: outline sheet",
        description=f"The outline of {name} at true scale, on sheets to be joined.",
        width=size[0],
        height=size[1],
        items=(
            Region(placed, look.CUT),
            Cross(centre(placed), cross_size(placed), look.FINE),
            *_block(rows, corner[0], corner[1] + height),
        ),
    )


def _seen(size: tuple[float, float], paper: Paper) -> list[Box]:
    """What each sheet shows of a drawing of that size, from the outline's lower left [mm]."""
    taken = grid(*size, paper=paper)
    dx, dy = ((all_ - side) / 2 + _EDGE for all_, side in zip(taken.size, size, strict=True))
    return [(x0 - dx, y0 - dy, x1 - dx, y1 - dy) for x0, y0, x1, y1 in taken.boxes]


def _beneath(width: float, size: tuple[float, float], paper: Paper) -> float:
    """How far from the left words begin that stand below the outline, on one sheet if they can."""
    first, last = _EDGE + _ROOM, size[0] - _EDGE - _ROOM - width
    lefts = [box[0] + _EDGE + _ROOM for box in _seen(size, paper)]
    rights = [box[2] + _EDGE - _ROOM for box in _seen(size, paper)]
    for x in (first, *lefts):
        whole = any(a <= x and x + width <= b for a, b in zip(lefts, rights, strict=True))
        if first <= x <= last and whole:
            return x
    return first


def _block(rows: Sequence[str], x: float, top: float) -> Iterator[Item]:
    for k, row in enumerate(rows):
        yield Text((x, top - _LINE * (k + 1) + 1.2), row, look.STRONG if k == 0 else look.BODY)


def _free_place(
    outline: Outline, width: float, height: float, seen: Sequence[Box]
) -> tuple[float, float] | None:
    """Lower left of a box of that size that crosses no line, nearest to the middle; or None.

    One of the sheets, which show what is in `seen`, shows all of it.
    """
    import numpy as np
    import shapely

    x0, y0, x1, y1 = outline.bounds
    if x1 - x0 < width or y1 - y0 < height:
        return None
    xs = np.arange(x0, x1 - width, _STEP)
    ys = np.arange(y0, y1 - height, _STEP)
    x, y = (a.ravel() for a in np.meshgrid(xs, ys))
    edge = outline.polygon().boundary
    mark = shapely.Point(*centre(outline)).buffer(cross_size(outline) / 2)
    boxes = shapely.box(x, y, x + width, y + height)
    free = (shapely.distance(boxes, edge) > _ROOM) & (shapely.distance(boxes, mark) > _ROOM)
    whole = [
        (x >= a + _ROOM) & (y >= b + _ROOM) & (x + width <= c - _ROOM) & (y + height <= d - _ROOM)
        for a, b, c, d in seen
    ]
    free &= np.any(whole, axis=0)
    if not free.any():
        return None
    off = np.hypot(x + (width - x0 - x1) / 2, y + (height - y0 - y1) / 2)
    best = int(np.argmin(np.where(free, off, np.inf)))
    return float(x[best]), float(y[best])
