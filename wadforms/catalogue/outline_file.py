"""Reads an outline from a drawing: one SVG path, perhaps with holes.

What is not read yet (transforms, groups of several paths, other elements) is refused by name;
nothing is repaired.  Places are given in mm from the upper left corner of the drawing, as a
drawing programme shows them.

Sizes follow CSS Values and Units 3, §5.2 (1 in = 25.4 mm = 96 px = 72 pt) and SVG 2, §8.2
(viewBox); arcs follow SVG 2, appendix B.2.
"""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING, Final, NamedTuple
from xml.etree.ElementTree import ParseError

from wadforms.errors import BadInput, Fault
from wadforms.files import read_at_most
from wadforms.geometry.construct import centred
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable
    from xml.etree.ElementTree import Element

LARGEST: Final = 1_000_000
"""Largest drawing that is read [bytes]."""

CURVE_ERROR: Final = 0.01
"""How far the lines that stand for a curve may stray from it [mm]."""

SAME: Final = 0.001
"""Points closer than this are one point [mm]; drawing programmes round to about as much."""

FARTHEST: Final = 10_000.0
"""How far from the upper left corner a drawing may reach [mm]."""

MOST_POINTS: Final = 100_000
"""As many lines and arcs may an outline have; one beyond that is no shape of clay."""

LEAST_AREA: Final = 1.0
"""Smallest outline that is taken for one [mm²]."""

_MM: Final = {
    "mm": 1.0,
    "cm": 10.0,
    "in": 25.4,
    "px": 25.4 / 96,
    "": 25.4 / 96,
    "pt": 25.4 / 72,
    "pc": 25.4 / 6,
    "Q": 0.25,
}
_SVG: Final = "{http://www.w3.org/2000/svg}"
_SILENT: Final = ("title", "desc", "metadata", "defs")
_NUMBER: Final = r"[-+]?(?:(?:0|[1-9]\d*)(?:\.\d+)?|\.\d+)(?:[eE][-+]?\d+)?"


class _Scale(NamedTuple):
    """Drawing units to mm, y up, from the upper left corner."""

    left: float
    top: float
    mm: float

    def point(self, p: Point) -> Point:
        return (p[0] - self.left) * self.mm, -(p[1] - self.top) * self.mm


class _Refused(Exception):
    """What is wrong with a drawing, before it is known which file it is."""

    def __init__(self, given: str, right: str) -> None:
        super().__init__(given, right)
        self.given, self.right = given, right


def read_outline(file: Traversable) -> Outline:
    """Read the outline of a drawing, centred on its area.

    Parameters
    ----------
    file : Path or Traversable
        An SVG file with one path; its subpaths inside the outer one are holes.

    Returns
    -------
    Outline
        Circular arcs stay arcs; other curves become lines within `CURVE_ERROR` [mm].

    Raises
    ------
    BadInput
        With what is wrong, where in the drawing, and what would be right.

    Examples
    --------
    >>> from wadforms.catalogue import own_folder
    >>> leaf = read_outline(own_folder().joinpath("outlines", "leaf.svg"))
    >>> len(leaf.outer.segments), [round(side, 3) for side in leaf.size]
    (2, [55.0, 28.0])
    """
    data = read_at_most(file, LARGEST, "a drawing")
    try:
        return outline_of(data)
    except _Refused as refused:
        raise BadInput(Fault(str(file), refused.given, refused.right)) from None


def outline_of(data: bytes) -> Outline:
    """The outline of a drawing's bytes; `read_outline` names the file of a refusal."""
    if len(data) > LARGEST:
        raise _Refused(f"a drawing of more than {LARGEST} bytes", f"give at most {LARGEST} bytes")
    root = _parsed(data)
    path = _one_path(root)
    pen = _Pen(_scale(root))
    _draw(path.get("d", ""), pen)
    return _assembled(pen.contours, even_odd=path.get("fill-rule") == "evenodd")


def _parsed(data: bytes) -> Element:
    from defusedxml.common import EntitiesForbidden
    from defusedxml.ElementTree import fromstring

    try:
        root: Element = fromstring(data)
    except EntitiesForbidden:
        right = "save it as plain SVG, without lines that begin with <!ENTITY"
        raise _Refused("a drawing that declares entities", right) from None
    except (ParseError, ValueError, LookupError) as error:
        right = f"give an SVG file ({str(error).splitlines()[0]})"
        raise _Refused("a file that is not sound XML", right) from None
    if _local(root) != "svg":
        raise _Refused(f"a file of <{_local(root)}>", "give an SVG file")
    return root


def _local(element: Element) -> str:
    """An element's name without SVG's namespace; foreign ones keep theirs."""
    return str(element.tag).removeprefix(_SVG)


def _one_path(root: Element) -> Element:
    paths: list[Element] = []
    waiting = [root]
    while waiting:
        element = waiting.pop()
        name = _local(element)
        if name in _SILENT or name.startswith("{"):
            continue
        if element.get("transform") or "transform" in element.get("style", ""):
            right = f"not read yet: move the <{name}> itself, so that it has no transform"
            raise _Refused("a transform", right)
        if name == "path":
            paths.append(element)
        elif element is root or name == "g":
            waiting += list(element)
        else:
            raise _Refused(f"<{name}>", "not read yet: turn it into a path")
    if len(paths) != 1:
        given = f"{len(paths)} paths" if paths else "no path"
        raise _Refused(given, "draw one path; its subpaths may be holes")
    return paths[0]


def _scale(root: Element) -> _Scale:
    box = root.get("viewBox")
    if box is None:
        return _Scale(0.0, 0.0, _MM["px"])
    numbers = re.split(r"[\s,]+", box.strip())
    if len(numbers) != 4 or not all(re.fullmatch(_NUMBER, n) for n in numbers):
        raise _Refused(f"viewBox {box!r}", "give four numbers: left, top, width, height")
    left, top, wide, high = map(float, numbers)
    width, height = _side(root, "width"), _side(root, "height")
    sound = all(map(math.isfinite, (left, top, wide, high))) and wide > 0 and high > 0
    if not sound or width <= 0 or height <= 0:
        given = f"viewBox {box!r} with {width:g} × {height:g} mm"
        raise _Refused(given, "give a drawing wider and higher than nothing")
    if not math.isclose(width / wide, height / high, rel_tol=1e-3):
        given = f"viewBox {box!r} with {width:g} × {height:g} mm"
        raise _Refused(given, "give width and height in the proportion of the viewBox")
    return _Scale(left, top, width / wide)


def _side(root: Element, name: str) -> float:
    """Width or height of the drawing [mm]."""
    text = root.get(name, "").strip()
    match = re.fullmatch(rf"({_NUMBER})\s*({'|'.join(_MM)})", text)
    if match is None:
        given = f"{name} {text!r}" if text else f"no {name}"
        raise _Refused(given, f'give the true {name}, such as {name}="55mm"')
    return float(match[1]) * _MM[match[2]]


def _draw(d: str, pen: _Pen) -> None:
    from fontTools.svgLib.path import parse_path

    rest = re.sub(_NUMBER, " ", re.sub(r"[MmZzLlHhVvCcSsQqTtAa]", " ", d))
    odd = rest.replace(",", " ").split()
    if odd:
        raise _Refused(f"{odd[0][:20]!r} in the path", "give commands and numbers such as 0.5")
    if not d.strip():
        raise _Refused("an empty path", "draw the outline")
    try:
        parse_path(" ".join(d.split()), pen)
    except (ValueError, IndexError, ArithmeticError) as error:
        raise _Refused("a path that is not sound", f"mend it ({str(error)[:120]})") from None


class _Pen:
    """Collects contours from a path's commands; the names are those that fontTools calls."""

    def __init__(self, scale: _Scale) -> None:
        self.contours: list[Contour] = []
        self._scale = scale
        self._here: Point = (0.0, 0.0)
        self._vertices: list[Point] = []
        self._bulges: list[float] = []
        self._drawn = 0

    def moveTo(self, pt: Point) -> None:  # noqa: N802
        self._here = self._point(pt)
        self._vertices, self._bulges = [self._here], []

    def lineTo(self, pt: Point) -> None:  # noqa: N802
        self._add(self._point(pt), 0.0)

    def curveTo(self, *points: Point) -> None:  # noqa: N802
        a, b, end = (self._point(p) for p in points)
        start = self._here
        # |B''| ≤ 6 max(|second differences|), and a chord strays by at most step² |B''| / 8.
        bend = 6 * max(_second(start, a, b), _second(a, b, end))
        n = max(1, math.ceil(math.sqrt(bend / (8 * CURVE_ERROR))))
        for k in range(1, n + 1):
            t = k / n
            u = 1 - t
            w = (u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t)
            x = w[0] * start[0] + w[1] * a[0] + w[2] * b[0] + w[3] * end[0]
            y = w[0] * start[1] + w[1] * a[1] + w[2] * b[1] + w[3] * end[1]
            self._add((x, y) if k < n else end, 0.0)

    def qCurveTo(self, *points: Point) -> None:  # noqa: N802
        control, end = (self._point(p) for p in points)
        start = self._here
        bend = 2 * _second(start, control, end)
        n = max(1, math.ceil(math.sqrt(bend / (8 * CURVE_ERROR))))
        for k in range(1, n + 1):
            t = k / n
            u = 1 - t
            x = u * u * start[0] + 2 * u * t * control[0] + t * t * end[0]
            y = u * u * start[1] + 2 * u * t * control[1] + t * t * end[1]
            self._add((x, y) if k < n else end, 0.0)

    def arcTo(  # noqa: N802
        self, rx: float, ry: float, rotation: float, large: bool, sweep: bool, pt: Point
    ) -> None:
        end = self._point(pt)
        chord = math.dist(self._here, end)
        if chord < SAME:
            return
        if not rx or not ry:
            self._add(end, 0.0)
        elif math.isclose(rx, ry, rel_tol=1e-9):
            radius = max(rx * self._scale.mm, chord / 2)
            if large and radius > 2 * FARTHEST:
                right = f"stay within {FARTHEST:g} mm of the upper left corner"
                raise _Refused(f"an arc of radius {radius:g} mm", right)
            turn = 2 * math.asin(min(1.0, chord / (2 * radius)))
            turn = math.tau - turn if large else turn
            if chord / 2 * math.tan(turn / 4) < SAME / 10:  # so flat that its centre is lost
                self._add(end, 0.0)
                return
            # The drawing's y points down: what turns clockwise there is negative here.
            self._add(end, math.copysign(math.tan(turn / 4), -1.0 if sweep else 1.0))
        else:
            self._ellipse(rx, ry, rotation, large, sweep, pt)

    def _ellipse(
        self, rx: float, ry: float, rotation: float, large: bool, sweep: bool, pt: Point
    ) -> None:
        """An arc of an ellipse, by way of curves that stray from it by 0.03 % of its size."""
        from fontTools.svgLib.path.arc import EllipticalArc

        x, y = self._here
        start = complex(
            x / self._scale.mm + self._scale.left, -y / self._scale.mm + self._scale.top
        )
        arc = EllipticalArc(start, rx, ry, rotation, large, sweep, complex(*pt))
        arc.draw(self)

    def closePath(self) -> None:  # noqa: N802
        if math.dist(self._vertices[-1], self._vertices[0]) < SAME and self._bulges:
            self._vertices.pop()
        else:
            self._bulges.append(0.0)
        self.contours.append(Contour(tuple(self._vertices), tuple(self._bulges)))
        self._here = self._vertices[0]

    def endPath(self) -> None:  # noqa: N802
        first, last = self._vertices[0], self._vertices[-1]
        if not self._bulges:
            return  # a pen that was moved and drew nothing
        if math.dist(first, last) < SAME:
            self.closePath()
            return
        given = f"a path that ends at {_place(last)} and began at {_place(first)}"
        raise _Refused(given, "close it")

    def _point(self, pt: Point) -> Point:
        point = self._scale.point(pt)
        if not all(abs(ordinate) <= FARTHEST for ordinate in point):
            given = f"a point at {_place(point)}"
            raise _Refused(given, f"stay within {FARTHEST:g} mm of the upper left corner")
        return point

    def _add(self, point: Point, bulge: float) -> None:
        if math.dist(self._here, point) < SAME:
            return
        self._drawn += 1
        if self._drawn > MOST_POINTS:
            raise _Refused(f"an outline of more than {MOST_POINTS} lines", "draw a simpler one")
        self._here = point
        self._vertices.append(point)
        self._bulges.append(bulge)


def _second(a: Point, b: Point, c: Point) -> float:
    return math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1])


def _place(point: Point) -> str:
    return f"({point[0]:.2f}, {-point[1] + 0.0:.2f}) mm"


def _assembled(contours: list[Contour], *, even_odd: bool) -> Outline:
    """One outer contour and its holes, checked."""
    for contour in contours:
        if len(contour.vertices) < 3 and not any(contour.bulges):
            given = f"a part without area near {_place(contour.vertices[0])}"
            raise _Refused(given, "remove it")
        _check_simple(Outline(contour))
    if not contours or max(abs(contour.area) for contour in contours) < LEAST_AREA:
        raise _Refused("an outline without area", f"draw one of more than {LEAST_AREA:g} mm²")
    outer, *holes = sorted(contours, key=lambda contour: -abs(contour.area))
    for hole in holes:
        if not even_odd and hole.area * outer.area > 0:
            given = f"a hole near {_place(hole.vertices[0])} that runs the same way as the outline"
            raise _Refused(given, 'reverse it, or give the path fill-rule="evenodd"')
    turned = [c if c.area > 0 else c.reversed() for c in (outer, *holes)]
    _check_inside(turned[0], turned[1:])
    outline = Outline(turned[0], tuple(turned[1:]))
    _check_simple(outline)
    return centred(outline)


def _check_simple(outline: Outline) -> None:
    from shapely import is_valid_reason

    polygon = outline.polygon()
    if polygon.is_valid and polygon.area > 0:
        return
    found = re.search(r"\[(\S+) (\S+)\]", str(is_valid_reason(polygon)))
    place = (float(found[1]), float(found[2])) if found else outline.outer.vertices[0]
    right = "draw lines that neither cross nor touch"
    raise _Refused(f"an outline that crosses itself near {_place(place)}", right)


def _check_inside(outer: Contour, holes: list[Contour]) -> None:
    region = Outline(outer).polygon()
    for hole in holes:
        inside = Outline(hole).polygon()
        if region.contains(inside):
            continue
        place = _place(hole.vertices[0])
        if region.disjoint(inside):
            raise _Refused(f"a second piece near {place}", "draw one piece in a file")
        raise _Refused(f"a hole near {place} that crosses the outline", "draw it wholly inside")


__all__ = ["CURVE_ERROR", "LARGEST", "outline_of", "read_outline"]
