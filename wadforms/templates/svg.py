"""Writes a drawing as SVG: true to the millimetre, and the same bytes for the same drawing.

The root's width and height are in mm and its viewBox is in mm too, so one user unit is one mm
and no element carries a transform.  Arcs are written as arcs.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from wadforms.errors import BadInput, Fault
from wadforms.files import write_whole
from wadforms.geometry.contour import Point
from wadforms.templates.drawing import (
    Arc,
    Circle,
    Drawing,
    Lines,
    Primitive,
    Region,
    Style,
    Text,
    Window,
)

if TYPE_CHECKING:
    import svgwrite

FACES: Final = "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif"

_DIGITS: Final = 4  # after the point; 0.1 µm
_LONGEST: Final = math.radians(120.0)


def svg(drawing: Drawing) -> bytes:
    """The drawing as an SVG file.

    Raises
    ------
    BadInput
        A text holds a control character, which XML cannot.

    Examples
    --------
    >>> from wadforms.templates.look import CUT
    >>> sheet = Drawing(title="Ø 20", description="A disk.", width=30, height=30,
    ...                 items=(Circle((15, 10), 10, CUT),))
    >>> [line for line in svg(sheet).decode().splitlines() if "circle" in line]
    ['<circle cx="15" cy="20" fill="none" r="10" stroke="#1d1c1a" stroke-width="0.25" />']
    """
    import svgwrite

    width, height = _number(drawing.width), _number(drawing.height)
    out = svgwrite.Drawing(
        size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", debug=False
    )
    out.set_desc(title=_plain(drawing.title), desc=_plain(drawing.description))
    if drawing.background:
        out.add(out.rect((0, 0), (width, height), fill=drawing.background))
    for item in drawing.primitives():
        out.add(_element(out, item, drawing.height))
    # A line for each element: `><` stands only between tags, since texts are escaped.
    text = out.tostring().replace("><", ">\n<")
    return f'<?xml version="1.0" encoding="utf-8"?>\n{text}\n'.encode()


def write_svg(drawing: Drawing, path: Path, *, force: bool) -> None:
    """Write the drawing to `path`, whole or not at all.

    Raises
    ------
    WouldOverwrite
        A file is there and `force` is not given.
    BadInput
        The place cannot be written, or a text cannot.
    """
    write_whole(path, svg(drawing), force=force)


def _element(out: svgwrite.Drawing, item: Primitive, height: float) -> Any:
    match item:
        case Region(outline, style):
            pen = _PathPen(height)
            outline.draw(pen)
            return out.path(" ".join(pen.words), **_look(style))
        case Lines(spans, style):
            pen = _PathPen(height)
            for start, end in spans:
                pen.move_to(start)
                pen.line_to(end)
            return out.path(" ".join(pen.words), **_look(style))
        case Circle((x, y), radius, style):
            centre = (_number(x), _number(height - y))
            return out.circle(centre, _number(radius), **_look(style))
        case Arc(centre, radius, start, sweep, style):
            pen = _PathPen(height)
            pen.move_to(_on_circle(centre, radius, math.radians(start)))
            end = _on_circle(centre, radius, math.radians(start + sweep))
            pen.arc_to(end, centre, math.radians(sweep))
            return out.path(" ".join(pen.words), **_look(style))
        case Window((x0, y0, x1, y1), parts):
            # As many are defined already as there are windows before this one.
            name = f"window-{len(out.defs.elements) + 1}"
            edge = out.clipPath(id=name)
            corner = (_number(x0), _number(height - y1))
            edge.add(out.rect(corner, (_number(x1 - x0), _number(y1 - y0))))
            out.defs.add(edge)
            group = out.g(clip_path=f"url(#{name})")
            for part in parts:
                group.add(_element(out, part, height))
            return group
        case Text((x, y), text, lettering, anchor):
            look: dict[str, str] = {
                "font_family": FACES,
                "font_size": _number(lettering.size),
                "fill": lettering.ink,
            }
            if lettering.bold:
                look["font_weight"] = "bold"
            if anchor != "start":
                look["text_anchor"] = anchor
            place = (_number(x), _number(height - y))
            return out.text(_plain(text), insert=place, **look)


class _PathPen:
    """Writes path data, y turned down."""

    def __init__(self, height: float) -> None:
        self.height = height
        self.words: list[str] = []
        self.here: Point = (0.0, 0.0)

    def _to(self, command: str, point: Point) -> None:
        self.here = point
        self.words.append(f"{command}{_number(point[0])},{_number(self.height - point[1])}")

    def move_to(self, point: Point) -> None:
        self._to("M", point)

    def line_to(self, point: Point) -> None:
        self._to("L", point)

    def arc_to(self, point: Point, centre: Point, sweep: float) -> None:
        """Write an arc in parts of 120° at most.

        A reader finds the centre again from the end points and the radius.  Near a half circle
        that is ill-conditioned: rounding a radius of 10 mm by 0.05 µm can move the centre by 30 µm.
        """
        x, y = centre
        radius = math.dist(self.here, centre)
        start = math.atan2(self.here[1] - y, self.here[0] - x)
        parts = math.ceil(abs(sweep) / _LONGEST - 1e-9)
        turn = 0 if sweep > 0.0 else 1
        for k in range(1, parts + 1):
            last = k == parts
            end = point if last else _on_circle(centre, radius, start + sweep * k / parts)
            r = _number(radius)
            self._to(f"A{r},{r} 0 0,{turn} ", end)

    def close(self) -> None:
        self.words.append("Z")


def _on_circle(centre: Point, radius: float, angle: float) -> Point:
    return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)


def _look(style: Style) -> dict[str, str]:
    look = {"fill": style.fill or "none"}
    if style.opacity < 1.0:
        look["fill_opacity"] = _number(style.opacity)
    if style.stroke:
        look |= {"stroke": style.stroke, "stroke_width": _number(style.width)}
        if style.dash:
            look["stroke_dasharray"] = " ".join(map(_number, style.dash))
    return look


def _number(value: float) -> str:
    """A coordinate with fixed rounding, without needless zeros."""
    text = f"{value:.{_DIGITS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _plain(text: str) -> str:
    bad = next((c for c in text if ord(c) < 32 or 0xD800 <= ord(c) < 0xE000), None)
    if bad is not None:
        raise BadInput(Fault("text", repr(text), f"leave out the control character {bad!r}"))
    return text
