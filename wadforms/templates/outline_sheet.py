"""The outline sheet: a shape at full size, to cut out and cut by.

The square that proves the scale stands in the lower left corner and holds the words; all the
rest of the sheet is for outlines.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from wadforms import units
from wadforms.errors import BadInput, Fault, NotMakeable
from wadforms.families.base import Piece
from wadforms.geometry.contour import Point
from wadforms.geometry.outline import Outline
from wadforms.templates import look, proof
from wadforms.templates.drawing import Cross, Drawing, Item, Region, Text
from wadforms.templates.paper import Paper
from wadforms.templates.paper import paper as paper_named
from wadforms.templates.words import folded, measure, plan_size, shortened

_GAP: Final = 5.0  # between outlines, and between them and the square [mm]
_CLEAR: Final = 3.0  # at least, between one large outline and the square [mm]
_LABEL_LINE: Final = 4.2  # from baseline to baseline [mm]
_LABEL_WIDTH: Final = 44.0  # a label may be wider than its outline, up to this [mm]

_Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class OutlineSheet:
    """A sheet with outlines at full size.

    Parameters
    ----------
    drawing : Drawing
        The sheet.
    area : float
        Inside one of the outlines as drawn [mm²].
    factor : float
        Drawn size over set size.
    count : int
        Outlines on the sheet.
    """

    drawing: Drawing
    area: float
    factor: float
    count: int


def outline_sheet(
    name: str,
    piece: Piece,
    *,
    paper: str = "either",
    count: int = 1,
    shrinkage: float | None = None,
    facts: Sequence[str] = (),
) -> OutlineSheet:
    """A sheet that shows the outline of a piece at true scale, once or several times.

    Parameters
    ----------
    name : str
        Of the shape.
    piece : Piece
        At its set size.
    paper : str
        ``"a4"``, ``"letter"``, or ``"either"`` for a sheet that both can print.
    count : int
        How many outlines to draw.
    shrinkage : float or None
        Linear share S by which the piece shrinks between cutting and setting (ASTM C326):
        drying, and firing too where it is biscuit-fired first.  Where given, the outlines are
        drawn at wet size, set size/(1 − S).
    facts : sequence of str
        What else the sheet says under its title.

    Raises
    ------
    BadInput
        The paper is unknown, or count or shrinkage make no sense.
    NotMakeable
        The shape is too large for the sheet, or so many do not fit; the message says what does.

    Examples
    --------
    >>> from wadforms.families import family
    >>> sheet = outline_sheet("disk-20", family("disk")(diameter=20).piece(), count=3)
    >>> sheet.count, round(sheet.area, 2), sheet.drawing.width
    (3, 314.16, 210.0)
    """
    faults = []
    if count < 1:
        faults.append(Fault("count", str(count), "draw one outline or more"))
    if shrinkage is not None and not 0.0 <= shrinkage < 0.5:
        given = units.show(shrinkage, "share")
        faults.append(Fault("shrinkage", given, "give 0 % to less than 50 %"))
    if faults:
        raise BadInput(*faults)
    sheet = paper_named(paper)
    factor = 1.0 if shrinkage is None else 1.0 / (1.0 - shrinkage)
    outline = piece.outline.scaled(factor)
    size = f"{plan_size(piece.outline)} × {measure(piece.height)} mm"
    labels = [
        (name, f"set size {size}") if count == 1 else (f"{name}, {k} of {count}", f"set {size}")
        for k in range(1, _most_by_area(outline, sheet, count) + 1)
    ]
    items: list[Item] = [*proof.proof(sheet.box[:2]), *proof.instructions(sheet.box[:2])]
    items += _title(name, piece, outline, sheet, factor, count, shrinkage, facts)
    for placed, label in _placed(outline, labels, sheet, count):
        items += _cut_outline(placed, label)
    drawing = Drawing(
        title=f"{name}: outline sheet",
        description=(
            f"{count} outline{'s' if count > 1 else ''} of {name} at true scale, "
            f"{'set' if factor == 1.0 else 'wet'} size, with a 100 mm square and a 4 in line. "
            "Print at 100 %, no scaling, then measure the square."
        ),
        width=sheet.width,
        height=sheet.height,
        items=tuple(items),
    )
    return OutlineSheet(drawing, outline.area, factor, count)


def outline_only(piece: Piece) -> str | None:
    """A sentence for shapes that are more than their outline; None for those that are not.

    Examples
    --------
    >>> from wadforms.families import family
    >>> outline_only(family("cradle")().piece())
    'The outline only: the hollow is not cut this way'
    >>> outline_only(family("disk")().piece()) is None
    True
    """
    if piece.hollow_radius:
        what = "the hollow is"
    elif piece.tips and piece.tips.base_area:
        what = "the points are"
    elif piece.tips:
        what = "the pockets are"
    elif piece.body.pockets:
        what = "the slots are"
    else:
        return None
    return f"The outline only: {what} not cut this way"


def _title(
    name: str,
    piece: Piece,
    outline: Outline,
    sheet: Paper,
    factor: float,
    count: int,
    shrinkage: float | None,
    facts: Sequence[str],
) -> Iterator[Item]:
    """Yield what the shape is, inside the square."""
    x = sheet.box[0] + 6.0
    y = sheet.box[1] + proof.HEIGHT - 6.0
    width = proof.SQUARE - 12.0
    yield Text((x, y - 6.0), shortened(name, look.TITLE, width), look.TITLE)
    set_size = f"{plan_size(piece.outline)} × {measure(piece.height)} mm"
    if shrinkage is None:
        drawn = ["Drawn at set size, nothing added for shrinkage"]
    else:
        drawn = [
            f"Drawn at wet size: {plan_size(outline)} × {measure(piece.height * factor)} mm",
            f"= set size × {factor:.4f}, which is 1/(1 − {units.show(shrinkage, 'share')})",
        ]
    limit = outline_only(piece)
    lines = [
        *facts,
        f"Set size: {set_size}",
        *drawn,
        f"Area inside the line, as drawn: {outline.area:.0f} mm²",
        f"{count} on this sheet" if count > 1 else "One on this sheet",
        "Cut along the middle of the line",
        *([limit] if limit else []),
    ]
    rows = [row for line in lines for row in folded(line, look.BODY, width)]
    for k, row in enumerate(rows):
        yield Text((x, y - 15.0 - 5.6 * k), row, look.BODY)


def _cut_outline(outline: Outline, label: tuple[Text, ...]) -> Iterator[Item]:
    """Yield one outline with its centre mark and label."""
    yield Region(outline, look.CUT)
    yield Cross(_centre(outline), _cross_size(outline), look.FINE)
    yield from label


def _centre(outline: Outline) -> Point:
    """Centre of the area, which the load should pass through."""
    centre = outline.polygon().centroid
    return centre.x, centre.y


def _cross_size(outline: Outline) -> float:
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
    x, y = _centre(outline)
    edge = outline.polygon().boundary
    below = [-_cross_size(outline) / 2 - 1.5]
    below += [height + _cross_size(outline) / 2 + 1.5, height / 2]
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


def _most_by_area(outline: Outline, sheet: Paper, count: int) -> int:
    """`count`, or one more than the whole sheet could hold: what is too many needs no list."""
    x0, y0, x1, y1 = sheet.box
    return min(count, int((x1 - x0) * (y1 - y0) / outline.area) + 1)


def _placed(
    outline: Outline, labels: list[tuple[str, str]], sheet: Paper, count: int
) -> list[tuple[Outline, tuple[Text, ...]]]:
    """Every outline where it goes, with its label.

    Raises
    ------
    NotMakeable
        They do not fit.
    """
    most = 0
    for degrees in (0.0, 90.0):
        turned = outline.turned(degrees)
        for regions in _free_regions(sheet):
            cells = [cell for region in regions for cell in _cells(turned, labels, region, count)]
            if len(cells) >= count:
                pairs = zip(cells, labels, strict=False)
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


def _free_regions(sheet: Paper) -> list[list[_Box]]:
    """The two ways to part the sheet, less the square, into rectangles."""
    x0, y0, x1, y1 = sheet.box
    right, above = x0 + proof.WIDTH + _GAP, y0 + proof.HEIGHT + _GAP
    return [
        [(x0, above, x1, y1), (right, y0, x1, above - _GAP)],
        [(right, y0, x1, y1), (x0, above, right - _GAP, y1)],
    ]


def _cells(outline: Outline, labels: list[tuple[str, str]], region: _Box, count: int) -> list[_Box]:
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


def _in_cell(
    outline: Outline, label: tuple[str, str], cell: _Box
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
        x, y = _centre(placed)
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
        x, y = _centre(placed)
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
