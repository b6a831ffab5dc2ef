"""Drawings: what is read is what was drawn, and what cannot be read is said, with its place."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon
from strategies import piece_of, sizes

from wadforms.catalogue.outline_file import CURVE_ERROR, LARGEST, read_outline
from wadforms.errors import BadInput
from wadforms.families import families
from wadforms.geometry.construct import centred
from wadforms.geometry.contour import Point as Place
from wadforms.geometry.outline import Outline


class PathPen:
    """Writes the d of a path, in drawing units of `unit` mm, y down."""

    def __init__(self, unit: float = 1.0) -> None:
        self.d: list[str] = []
        self.unit = unit

    def at(self, point: Place) -> str:
        return f"{point[0] / self.unit!r} {-point[1] / self.unit!r}"

    def move_to(self, point: Place) -> None:
        self.d.append(f"M{self.at(point)}")

    def line_to(self, point: Place) -> None:
        self.d.append(f"L{self.at(point)}")

    def arc_to(self, point: Place, centre: Place, sweep: float) -> None:
        radius = math.dist(point, centre) / self.unit
        large, clockwise = int(abs(sweep) > math.pi), int(sweep < 0)
        self.d.append(f"A{radius!r} {radius!r} 0 {large} {clockwise} {self.at(point)}")

    def close(self) -> None:
        self.d.append("Z")


def drawing(d: str, head: str = 'width="100mm" height="100mm" viewBox="0 0 100 100"') -> bytes:
    text = f'<svg xmlns="http://www.w3.org/2000/svg" {head}><path d="{d}"/></svg>'
    return text.encode()


def read(data: bytes, folder: Path) -> Outline:
    file = folder / "drawing.svg"
    file.write_bytes(data)
    return read_outline(file)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("drawings")


@pytest.mark.parametrize("name", families())
@settings(max_examples=10)
@given(data=st.data())
def test_an_outline_drawn_and_read_is_the_same(
    name: str, data: st.DataObject, folder: Path
) -> None:
    """Arcs come back as arcs; the drawing's unit and place do not matter."""
    outline = centred(piece_of(data.draw(sizes(families()[name]))).outline)
    unit = data.draw(st.sampled_from((1.0, 25.4 / 96, 0.01)), label="unit")
    pen = PathPen(unit)
    outline.moved(data.draw(st.floats(-200, 200)), data.draw(st.floats(-200, 200))).draw(pen)
    head = f'width="{300 * unit}mm" height="{200 * unit}mm" viewBox="0 0 300 200"'
    back = read(drawing(" ".join(pen.d), head), folder)
    assert back.area == pytest.approx(outline.area, rel=1e-6)
    assert back.bounds == pytest.approx(outline.bounds, abs=0.003)
    assert [len(c.segments) for c in back.contours] == [len(c.segments) for c in outline.contours]
    arcs = [sum(b != 0 for b in c.bulges) for c in outline.contours]
    assert [sum(b != 0 for b in c.bulges) for c in back.contours] == arcs


@pytest.mark.parametrize(
    ("width", "mm"),
    [("40mm", 40), ("4cm", 40), ("2in", 50.8), ("96px", 25.4), ("96", 25.4), ("72pt", 25.4),
     ("6pc", 25.4), ("40Q", 10), ("4e1 mm", 40)],
)  # fmt: skip
def test_units_of_the_drawing(width: str, mm: float, folder: Path) -> None:
    """CSS Values and Units 3, §5.2: 1 in = 2.54 cm = 101.6 Q = 6 pc = 72 pt = 96 px."""
    head = f'width="{width}" height="{width}" viewBox="5 5 20 20"'
    outline = read(drawing("M5 5 H25 V25 H5 Z", head), folder)
    assert outline.size == pytest.approx((mm, mm))


def test_without_a_viewbox_a_unit_is_a_pixel(folder: Path) -> None:
    outline = read(drawing("M0 0 H96 V48 H0 Z", 'width="500mm"'), folder)
    assert outline.size == pytest.approx((25.4, 12.7))


def test_up_is_up_and_outside_runs_counterclockwise(folder: Path) -> None:
    """A triangle whose point is at the top of the drawing points to +y, either way round."""
    for d in ("M50 10 L60 30 L40 30 Z", "M50 10 L40 30 L60 30 Z"):
        outline = read(drawing(d), folder)
        assert outline.area == pytest.approx(200)
        top = max(outline.outer.vertices, key=lambda p: p[1])
        assert top == pytest.approx((0, 40 / 3))


def test_holes(folder: Path) -> None:
    outer, same, other = "M10 10 H50 V50 H10 Z", "M20 20 H30 V30 H20 Z", "M20 20 V30 H30 V20 Z"
    assert read(drawing(outer + other), folder).area == 1500
    even = drawing(outer + same).replace(b"<path", b'<path fill-rule="evenodd"')
    assert read(even, folder) == read(drawing(outer + other), folder)


CURVES = {
    "cubic": "M20 50 C20 20 80 20 80 50 C80 85 20 85 20 50 Z",
    "smooth cubic": "M20 50 C20 30 40 30 50 30 S80 40 80 50 S70 80 50 70 S20 60 20 50 Z",
    "quadratic": "M20 50 Q50 10 80 50 T20 50 Z".replace("T20 50", "Q50 95 20 50"),
    "smooth quadratic": "M20 50 q15 -30 30 0 t30 0 v25 h-60 z",
    "relative": "m20 50 c0 -30 60 -30 60 0 c0 35 -60 35 -60 0 z",
    "ellipse": "M20 50 A30 20 0 0 1 80 50 A30 20 0 0 1 20 50 Z",
    "tilted ellipse": "M30 40 A35 15 30 1 1 70 60 A35 15 30 0 1 30 40 Z",
    "packed arc flags": "M20 50a30 30 0 0160 0a30 30 0 01-60 0z",
    "arc too small": "M20 50 A5 5 0 0 1 80 50 A5 5 0 0 1 20 50 Z",
    "large arc": "M45 50 A20 20 0 1 1 55 50 Z",
}


@pytest.mark.parametrize("case", CURVES)
def test_curves_against_another_reader(case: str, folder: Path) -> None:
    """Points of the path by svgelements lie on what we read, and ours lie on theirs."""
    from svgelements import Path as Reader

    path = Reader(CURVES[case])
    n = 4000
    points = [path.point(k / n) for k in range(n)]
    theirs = Polygon([(p.x, -p.y) for p in points])
    outline = read(drawing(CURVES[case]), folder)
    x, y = theirs.centroid.coords[0]
    ours = outline.moved(x, y).polygon(0.001)
    # Our chord error, the ellipse's by way of curves, and that of the centroid.
    allowed = CURVE_ERROR + 0.0003 * 35 + 0.01
    assert ours.area == pytest.approx(theirs.area, abs=allowed * theirs.length)
    assert ours.exterior.hausdorff_distance(theirs.exterior) < allowed + 0.03  # their own steps
    near = LineString(ours.exterior.coords)
    assert max(near.distance(Point(p.x, -p.y)) for p in points) < allowed


def test_circular_arcs_stay_arcs(folder: Path) -> None:
    outline = read(drawing(CURVES["packed arc flags"]), folder)
    assert outline.area == pytest.approx(math.pi * 900, rel=1e-12)
    assert outline.outer.bulges == pytest.approx((1.0, 1.0))


def test_what_a_drawing_programme_adds_does_not_matter(folder: Path) -> None:
    plain = read(drawing("M10 10 H50 V30 H10 Z"), folder)
    data = b"""<?xml version="1.0" encoding="UTF-8"?>
    <!-- drawn by hand -->
    <svg xmlns="http://www.w3.org/2000/svg" xmlns:own="urn:own" width="100mm" height="100mm"
         viewBox="0 0 100 100"><title>t</title><desc>d</desc><defs><circle r="5"/></defs>
    <metadata><own:a/></metadata><own:view zoom="2"/>
    <g id="layer"><path style="fill:none;stroke:#000" d="M 10,10
      H 50 V 30.0005 L 50,30 H 10 Z"/></g></svg>"""
    assert read(data, folder).area == pytest.approx(plain.area, abs=0.03)


SOUND = 'width="100mm" height="100mm" viewBox="0 0 100 100"'
SQUARE = "M10 10 H50 V50 H10 Z"


def inside(element: str) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {SOUND}>{element}</svg>'.encode()


REFUSED = {
    "open": (drawing("M10 10 H50 V50 H10"), "ends at (10.00, 50.00) mm and began at (10"),
    "open hole": (drawing(SQUARE + "M20 20 V30 H30"), "close it"),
    "self-crossing": (drawing("M10 10 L50 50 H10 L50 10 Z"), "itself near (30.00, 30.00) mm"),
    "touching itself": (
        drawing("M10 10 H50 V50 L30 10 L10 50 Z"),
        "crosses itself near (30.00, 10.00) mm",
    ),
    "two pieces": (drawing(SQUARE + "M60 60 V70 H70 V60 Z"), "second piece near (60.00, 60.00) mm"),
    "hole across": (drawing(SQUARE + "M40 20 V30 H60 V20 Z"), "crosses the outline"),
    "hole in a hole": (
        drawing(SQUARE + "M15 15 V45 H45 V15 Z M20 20 V40 H40 V20 Z"),
        "draw lines that neither cross nor touch",
    ),
    "filled hole": (drawing(SQUARE + "M20 20 H30 V30 H20 Z"), "runs the same way"),
    "no area": (drawing("M10 10 H50 Z"), "a part without area near (10.00, 10.00) mm"),
    "a speck": (drawing("M10 10 H10.5 V10.5 Z"), "draw one of more than 1 mm²"),
    "a line beside": (drawing(SQUARE + "M20 20 H30 Z"), "a part without area near (20.00, 20.00)"),
    "empty path": (drawing(""), "an empty path"),
    "starts with a line": (drawing("L10 10 H50 Z"), "a path that is not sound"),
    "too few numbers": (drawing("M10 10 L50"), "a path that is not sound"),
    "broken arc": (drawing("M10 10 A5 5 0 0"), "a path that is not sound"),
    "a word": (drawing("M10 10 L nan 50 Z"), "'n' in the path"),
    "odd numbers": (drawing("M10 10 L50. 20 L5 50 Z"), "'.' in the path"),
    "beyond numbers": (drawing("M10 10 H1e999 V50 Z"), "stay within 10000 mm"),
    "far away": (drawing("M10 10 H50 C1e9 0 1e9 9 10 50 Z"), "stay within 10000 mm"),
    "transform": (inside(f'<path transform="scale(2)" d="{SQUARE}"/>'), "not read yet"),
    "group moved": (inside(f'<g transform="rotate(9)"><path d="{SQUARE}"/></g>'), "not read yet"),
    "style moved": (inside(f'<path style="transform:none" d="{SQUARE}"/>'), "not read yet"),
    "circle": (inside('<circle r="20"/>'), "<circle> was given; not read yet"),
    "text beside": (inside(f'<path d="{SQUARE}"/><text>a</text>'), "<text> was given; not read"),
    "two paths": (inside(f'<path d="{SQUARE}"/>' * 2), "2 paths was given; draw one path"),
    "no path": (inside("<title>none</title>"), "no path was given; draw one path"),
    "path without d": (inside("<path/>"), "an empty path"),
    "no size": (drawing(SQUARE, 'viewBox="0 0 9 9"'), 'no width was given; give the true width'),
    "size in percent": (
        drawing(SQUARE, 'width="100%" height="100%" viewBox="0 0 9 9"'),
        "give the true width",
    ),
    "uneven": (
        drawing(SQUARE, 'width="9mm" height="18mm" viewBox="0 0 9 9"'),
        "in the proportion of the viewBox",
    ),
    "viewBox of three": (drawing(SQUARE, 'viewBox="0 0 9"'), "give four numbers"),
    "viewBox of words": (drawing(SQUARE, 'viewBox="0 0 nan 9"'), "give four numbers"),
    "viewBox of nothing": (
        drawing(SQUARE, 'width="9mm" height="9mm" viewBox="0 0 0 9"'),
        "wider and higher than nothing",
    ),
    "viewBox without end": (
        drawing(SQUARE, 'width="9mm" height="9mm" viewBox="0 0 1e999 9"'),
        "wider and higher than nothing",
    ),
    "not XML": (b"M 0 0 L 10 10", "give an SVG file"),
    "empty file": (b"", "give an SVG file"),
    "another XML": (b"<html/>", "a file of <html>"),
    "no encoding": (b'<?xml version="1.0" encoding="nope"?><svg/>', "give an SVG file"),
    "entities": (
        b'<!DOCTYPE svg [<!ENTITY a "aaa"><!ENTITY b "&a;&a;">]><svg>&b;</svg>',
        "save it as plain SVG",
    ),
    "too large": (b"<svg>" + b" " * LARGEST + b"</svg>", f"give at most {LARGEST} bytes"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_read_is_said(case: str, folder: Path) -> None:
    data, right = REFUSED[case]
    with pytest.raises(BadInput) as caught:
        read(data, folder)
    (fault,) = caught.value.faults
    assert fault.where == str(folder / "drawing.svg")
    assert right in str(fault), str(fault)


def test_a_drawing_that_is_not_there(folder: Path) -> None:
    for path in (folder / "nothing.svg", folder):
        with pytest.raises(BadInput, match="give a drawing that can be read"):
            read_outline(path)


@settings(max_examples=200)
@given(text=st.text(alphabet="MmLlHhVvCcSsQqTtAaZz0123456789.-+e, \n", max_size=60))
def test_any_path_is_read_or_refused(text: str, folder: Path) -> None:
    try:
        outline = read(drawing(text), folder)
    except BadInput:
        return
    assert outline.area >= 1.0
    assert outline.polygon().is_valid
