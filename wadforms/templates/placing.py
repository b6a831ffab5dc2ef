"""Moves and scales what is drawn, and tells where it lies."""

from __future__ import annotations

import math
from dataclasses import replace

from wadforms.geometry.contour import Point
from wadforms.templates.drawing import (
    Arc,
    Circle,
    Drawing,
    Lettering,
    Lines,
    Primitive,
    Region,
    Style,
    Text,
    Window,
)

Box = tuple[float, float, float, float]
"""Smallest x, smallest y, largest x, largest y [mm]."""


def placed(item: Primitive, *, factor: float = 1.0, move: Point = (0.0, 0.0)) -> Primitive:
    """The item scaled about the origin, lines and letters too, and then moved.

    Parameters
    ----------
    item : Primitive
        What is drawn.
    factor : float
        New size over old.
    move : (float, float)
        Along x and y [mm].

    Examples
    --------
    >>> hair = Style("hair", "#000000", 0.2)
    >>> placed(Circle((10, 5), 4, hair), factor=2, move=(1, 0))
    Circle(centre=(21, 10), radius=8, style=Style(name='hair', stroke='#000000', width=0.4, \
fill=None, dash=(), opacity=1.0))
    """

    def at(point: Point) -> Point:
        return point[0] * factor + move[0], point[1] * factor + move[1]

    match item:
        case Region(outline, style):
            if factor != 1.0:
                outline = outline.scaled(factor)
            return Region(outline.moved(*move), _styled(style, factor))
        case Lines(spans, style):
            return Lines(tuple((at(a), at(b)) for a, b in spans), _styled(style, factor))
        case Circle(centre, radius, style):
            return Circle(at(centre), radius * factor, _styled(style, factor))
        case Arc(centre, radius, start, sweep, style):
            return Arc(at(centre), radius * factor, start, sweep, _styled(style, factor))
        case Text(point, text, lettering, anchor):
            return Text(at(point), text, _lettered(lettering, factor), anchor)
        case Window((x0, y0, x1, y1), parts):
            moved = (placed(part, factor=factor, move=move) for part in parts)
            box = (*at((x0, y0)), *at((x1, y1)))
            return Window(box, tuple(part for part in moved if not isinstance(part, Window)))


def scaled(drawing: Drawing, factor: float) -> Drawing:
    """The drawing with its sheet and all that is on it at another size; `factor` new over old.

    Examples
    --------
    >>> sheet = Drawing(title="", description="", width=20, height=30, items=())
    >>> scaled(sheet, 1.5).height
    45.0
    """
    if factor == 1.0:
        return drawing
    return replace(
        drawing,
        width=drawing.width * factor,
        height=drawing.height * factor,
        items=tuple(placed(item, factor=factor) for item in drawing.primitives()),
    )


def bounds(item: Primitive) -> Box:
    """What an item may reach, with the width of its lines; no less than it does [mm].

    Examples
    --------
    >>> bounds(Circle((10, 5), 4, Style("line", "#000000", 0.5)))
    (5.75, 0.75, 14.25, 9.25)
    """
    if isinstance(item, Window):
        return item.box
    if isinstance(item, Text):
        return item.box
    if isinstance(item, Region):
        x0, y0, x1, y1 = item.outline.bounds
    elif isinstance(item, Lines):
        points = [point for span in item.spans for point in span]
        if not points:
            return math.inf, math.inf, -math.inf, -math.inf
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        x0, y0, x1, y1 = min(xs), min(ys), max(xs), max(ys)
    else:
        (x, y), r = item.centre, item.radius
        x0, y0, x1, y1 = x - r, y - r, x + r, y + r
    # A mitred corner of 30° reaches out by four half widths; blunter ones by less.
    reach = item.style.width * (2.0 if isinstance(item, Region) else 0.5)
    reach = item.style.width / 2 if isinstance(item, Circle | Arc) else reach
    return x0 - reach, y0 - reach, x1 + reach, y1 + reach


def _styled(style: Style, factor: float) -> Style:
    if factor == 1.0:
        return style
    return replace(
        style, width=style.width * factor, dash=tuple(length * factor for length in style.dash)
    )


def _lettered(lettering: Lettering, factor: float) -> Lettering:
    return lettering if factor == 1.0 else replace(lettering, size=lettering.size * factor)
