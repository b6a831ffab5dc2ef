"""Where the outlines of an outline sheet go: clear of the square, each other and all words."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from wadforms.errors import NotMakeable
from wadforms.geometry.contour import Point
from wadforms.geometry.outline import Outline
from wadforms.templates import look, proof
from wadforms.templates.drawing import Text
from wadforms.templates.paper import Paper
from wadforms.templates.placing import Box
from wadforms.templates.words import plan_size, shortened

_GAP: Final = 5.0  # between outlines, and between them and the square [mm]
_CLEAR: Final = 3.0  # at least, between one large outline and the square [mm]
_LABEL_LINE: Final = 4.2  # from baseline to baseline [mm]
_LABEL_WIDTH: Final = 44.0  # a label may be wider than its outline, up to this [mm]


def centre(outline: Outline) -> Point:
    """Centre of the area, which the load should pass through [mm]."""
    centre = outline.polygon().centroid
    return centre.x, centre.y


def cross_size(outline: Outline) -> float:
    """Length of the lines of the mark at the centre [mm]."""
    return min(6.0, max(2.0, 0.4 * min(outline.size)))


def _label_at(lines: tuple[str, str], x: float, top: float, width: float) -> tuple[Text, Text]:
    """The two lines of a label, centred at `x`, below `top`."""
    first, second = (shortened(line, look.SMALL, width) for line in lines)
    y = top - look.SMALL.rise
    return (
        Text((x, y), first, look.SMALL, "middle"),
        Text((x, y - _LABEL_LINE), second, look.SMALL, "middle"),
    )


def _label_size(outline: Outline, labels: list[tuple[str, str]]) -> tuple[float, float]:
    widest = max(look.SMALL.width(line) for label in labels for line in label)
    return min(widest, max(_LABEL_WIDTH, outline.size[0])), look.SMALL.size + _LABEL_LINE


def _inside(outline: Outline, labels: list[tuple[str, str]]) -> float | None:
    """How far under the centre a label can begin so that it crosses no line; None if nowhere."""
    import shapely

    width, height = _label_size(outline, labels)
    x, y = centre(outline)
    edge = outline.polygon().boundary
    below = [-cross_size(outline) / 2 - 1.5]
    below += [height + cross_size(outline) / 2 + 1.5, height / 2]
    for top in below:
        box = shapely.box(x - width / 2, y + top - height, x + width / 2, y + top)
        cross = abs(top - height / 2) < height / 2 + 1.0
        on_cross = cross and top > 0.0 and top - height < 0.0
        if not on_cross and edge.distance(box) > 1.5 and _around(outline, box):
            return top
    return None


def _around(outline: Outline, box: object) -> bool:
    import shapely

    return bool(shapely.Polygon(outline.outer.flattened()).contains(box))


def most_by_area(outline: Outline, sheet: Paper, count: int) -> int:
    """`count`, or one more than the whole sheet could hold: what is too many needs no list.

    Examples
    --------
    >>> from wadforms.templates.paper import paper
    >>> most_by_area(Outline.circle(50), paper("either"), 1000)
    7
    """
    x0, y0, x1, y1 = sheet.box
    return min(count, int((x1 - x0) * (y1 - y0) / outline.area) + 1)


def placed_outlines(
    outline: Outline, labels: list[tuple[str, str]], sheet: Paper, count: int
) -> list[tuple[Outline, tuple[Text, ...]]]:
    """Every outline where it goes, with its label.

    Parameters
    ----------
    outline : Outline
        As drawn [mm].
    labels : list of (str, str)
        The two lines that stand at each.
    sheet : Paper
        The sheet; the square takes its lower left corner.
    count : int
        How many.

    Raises
    ------
    NotMakeable
        They do not fit.
    """
    most = 0
    for turned, cells in _rows(outline, labels, sheet, count):
        if len(cells) >= count:
            pairs = zip(_as_read(cells), labels, strict=False)
            return [_in_cell(turned, label, cell) for cell, label in pairs]
        most = max(most, len(cells))
    if count == 1:
        for degrees in (0.0, 90.0):
            alone = _alone(outline.turned(degrees), labels[0], sheet)
            if alone:
                return [alone]
    what = f"{plan_size(outline)} mm"
    if most == 0 and not (count > 1 and _fits_alone(outline, labels[0], sheet)):
        raise NotMakeable(
            f"an outline of {what} does not fit the sheet {sheet.name!r} beside the 100 mm "
            f"square; the largest of this form that does is "
            f"{plan_size(outline.scaled(_largest(outline, labels[0], sheet)))} mm"
        )
    raise NotMakeable(
        f"{count} outlines of {what} do not fit one sheet {sheet.name!r}; {max(most, 1)} do"
    )


def most_on_sheet(outline: Outline, labels: list[tuple[str, str]], sheet: Paper, count: int) -> int:
    """How many outlines one sheet takes, up to `count`; 0 where not even one fits.

    Parameters
    ----------
    outline : Outline
        As drawn [mm].
    labels : list of (str, str)
        The two lines that stand at each.
    sheet : Paper
        The sheet.
    count : int
        How many are wanted.
    """
    most = max(len(cells) for _, cells in _rows(outline, labels, sheet, count))
    return min(count, most or int(_fits_alone(outline, labels[0], sheet)))


def _rows(
    outline: Outline, labels: list[tuple[str, str]], sheet: Paper, count: int
) -> Iterator[tuple[Outline, list[Box]]]:
    """Yield the ways to fill a sheet with cells: the outline as it is turned there, and these."""
    for degrees in (0.0, 90.0):
        turned = outline.turned(degrees)
        for regions in _free_regions(sheet):
            yield (
                turned,
                [cell for region in regions for cell in _cells(turned, labels, region, count)],
            )


def _free_regions(sheet: Paper) -> list[list[Box]]:
    """The two ways to part the sheet, less the square, into rectangles."""
    x0, y0, x1, y1 = sheet.box
    right, above = x0 + proof.WIDTH + _GAP, y0 + proof.HEIGHT + _GAP
    return [
        [(x0, above, x1, y1), (right, y0, x1, above - _GAP)],
        [(right, y0, x1, y1), (x0, above, right - _GAP, y1)],
    ]


def _cells(outline: Outline, labels: list[tuple[str, str]], region: Box, count: int) -> list[Box]:
    """Rows of equal cells in a region, each for one outline and its label."""
    x0, y0, x1, y1 = region
    width, height = outline.size
    if _inside(outline, labels) is None:
        label_width, label_height = _label_size(outline, labels)
        width, height = max(width, label_width), height + label_height + 2.0
    columns = int((x1 - x0 + _GAP) / (width + _GAP) + 1e-9)
    rows = int((y1 - y0 + _GAP) / (height + _GAP) + 1e-9)
    if not columns or not rows:
        return []
    count = min(count, rows * columns)
    rows = math.ceil(count / columns)
    columns = math.ceil(count / rows)  # even rows look better than a full one and a rest
    pitch_x, pitch_y = (x1 - x0) / columns, min((y1 - y0) / rows, height + 4 * _GAP)
    top = y1 if rows > 1 else y1 - ((y1 - y0) - pitch_y) / 2
    return [
        (
            x0 + pitch_x * (k % columns),
            top - pitch_y * (k // columns + 1),
            x0 + pitch_x * (k % columns + 1),
            top - pitch_y * (k // columns),
        )
        for k in range(count)
    ]


def _as_read(cells: list[Box]) -> list[Box]:
    """The cells row by row from the upper left; those of two parts of a sheet may lie askew."""
    rows: list[list[Box]] = []
    for cell in sorted(cells, key=lambda cell: -cell[3]):
        first = rows[-1][0] if rows else None
        if first and (cell[1] + cell[3]) / 2 > first[1]:
            rows[-1].append(cell)
        else:
            rows.append([cell])
    return [cell for row in rows for cell in sorted(row)]


def _in_cell(
    outline: Outline, label: tuple[str, str], cell: Box
) -> tuple[Outline, tuple[Text, ...]]:
    """The outline and its label in the middle of a cell."""
    x0, y0, x1, y1 = cell
    inside = _inside(outline, [label])
    label_width, label_height = _label_size(outline, [label])
    extra = 0.0 if inside is not None else label_height + 2.0
    left, low, right, high = outline.bounds
    dx = (x0 + x1) / 2 - (left + right) / 2
    dy = (y0 + y1) / 2 + extra / 2 - (low + high) / 2
    placed = outline.moved(dx, dy)
    if inside is not None:
        x, y = centre(placed)
        return placed, _label_at(label, x, y + inside, label_width)
    return placed, _label_at(label, (x0 + x1) / 2, low + dy - 2.0, label_width)


def _alone(
    outline: Outline, label: tuple[str, str], sheet: Paper
) -> tuple[Outline, tuple[Text, ...]] | None:
    """One large outline in the upper right corner, if it fits.

    The square takes the lower left corner, so what does not fit in the opposite corner fits
    nowhere: moving a form right or up can only take it away from the square.
    """
    import shapely

    x0, y0, x1, y1 = sheet.box
    left, low, right, high = outline.bounds
    if right - left > x1 - x0 or high - low > y1 - y0:
        return None
    placed = outline.moved(x1 - right, y1 - high)
    square = shapely.box(x0, y0, x0 + proof.SQUARE, y0 + proof.HEIGHT)
    form = placed.polygon()
    if form.distance(square) < _CLEAR:
        return None
    width, height = _label_size(outline, [label])
    inside = _inside(outline, [label])
    if inside is not None:
        x, y = centre(placed)
        return placed, _label_at(label, x, y + inside, width)
    corners = ((x0, y1), (x1 - width, y0 + height), (x0, y0 + proof.HEIGHT + _GAP + height))
    for x, top in corners:
        box = shapely.box(x, top - height, x + width, top)
        if form.distance(box) > 1.5 and square.distance(box) > 1.5:
            return placed, _label_at(label, x + width / 2, top, width)
    return None


def _fits_alone(outline: Outline, label: tuple[str, str], sheet: Paper) -> bool:
    return any(_alone(outline.turned(degrees), label, sheet) for degrees in (0.0, 90.0))


def _largest(outline: Outline, label: tuple[str, str], sheet: Paper) -> float:
    """The largest factor at which the outline fits, within 0.1 %, rounded down."""
    low, high = 0.0, 1.0
    while high - low > 1e-3:
        middle = (low + high) / 2
        low, high = (
            (middle, high)
            if _fits_alone(outline.scaled(middle), label, sheet)
            else (
                low,
                middle,
            )
        )
    return low
