"""The basic shapes of SVG 2, §10, each drawn as its path is told there."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from wadforms.catalogue.outlines.refusal import refused
from wadforms.catalogue.outlines.svg_measures import Viewport, length, numbers
from wadforms.catalogue.outlines.svg_path import draw_path
from wadforms.catalogue.outlines.tracing import Tracer
from wadforms.errors import quoted

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element


def _path(element: Element, view: Viewport, tracer: Tracer) -> None:
    draw_path(element.get("d", ""), tracer)


def _rect(element: Element, view: Viewport, tracer: Tracer) -> None:
    x, y = length(element, "x", view.width), length(element, "y", view.height)
    width = length(element, "width", view.width)
    height = length(element, "height", view.height)
    _above_zero("rect", "width", width)
    _above_zero("rect", "height", height)
    rx = length(element, "rx", view.width, default=-1.0)
    ry = length(element, "ry", view.height, default=-1.0)
    rx, ry = (rx if rx >= 0.0 else max(0.0, ry)), (ry if ry >= 0.0 else max(0.0, rx))
    rx, ry = min(rx, width / 2), min(ry, height / 2)
    if not rx or not ry:
        tracer.move((x, y))
        for corner in ((x + width, y), (x + width, y + height), (x, y + height)):
            tracer.line(corner)
    else:
        right, foot = x + width, y + height
        tracer.move((x + rx, y))
        for along, round_to in (
            ((right - rx, y), (right, y + ry)),
            ((right, foot - ry), (right - rx, foot)),
            ((x + rx, foot), (x, foot - ry)),
            ((x, y + ry), (x + rx, y)),
        ):
            tracer.line(along)
            tracer.arc(rx, ry, 0.0, False, True, round_to)
    tracer.close()


def _circle(element: Element, view: Viewport, tracer: Tracer) -> None:
    radius = length(element, "r", view.diagonal)
    _above_zero("circle", "r", radius)
    _round(element, view, tracer, radius, radius)


def _ellipse(element: Element, view: Viewport, tracer: Tracer) -> None:
    rx = length(element, "rx", view.width, default=-1.0)
    ry = length(element, "ry", view.height, default=-1.0)
    rx, ry = (rx if rx >= 0.0 else ry), (ry if ry >= 0.0 else rx)
    _above_zero("ellipse", "rx", rx)
    _above_zero("ellipse", "ry", ry)
    _round(element, view, tracer, rx, ry)


def _round(element: Element, view: Viewport, tracer: Tracer, rx: float, ry: float) -> None:
    x, y = length(element, "cx", view.width), length(element, "cy", view.height)
    tracer.move((x + rx, y))
    for end in ((x - rx, y), (x + rx, y)):
        tracer.arc(rx, ry, 0.0, False, True, end)
    tracer.close()


def _corners(element: Element, tracer: Tracer) -> None:
    text = element.get("points", "")
    found = numbers(text)
    if found is None or len(found) % 2 or len(found) < 6:
        right = "give three points or more, as pairs of numbers"
        raise refused(f"points {quoted(text, 40)}", right)
    points = list(zip(found[::2], found[1::2], strict=True))
    tracer.move(points[0])
    for point in points[1:]:
        tracer.line(point)


def _polygon(element: Element, view: Viewport, tracer: Tracer) -> None:
    _corners(element, tracer)
    tracer.close()


def _polyline(element: Element, view: Viewport, tracer: Tracer) -> None:
    _corners(element, tracer)
    tracer.end()


def _above_zero(shape: str, name: str, value: float) -> None:
    if value <= 0.0:
        raise refused(f"a <{shape}> whose {name} is nothing", f"give {name} above 0, or remove it")


SHAPES: Final[dict[str, Callable[[Element, Viewport, Tracer], None]]] = {
    "path": _path,
    "rect": _rect,
    "circle": _circle,
    "ellipse": _ellipse,
    "polygon": _polygon,
    "polyline": _polyline,
}
"""What draws an outline, by the name of its element."""
