"""Drawings: what is read is what was drawn, and what cannot be read is said, with its place."""

from __future__ import annotations

import io
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon
from strategies import piece_of, sizes

from wadforms.catalogue import find
from wadforms.catalogue.outlines import CURVE_ERROR, read_outline
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


def body(elements: str, head: str = 'width="200mm" height="200mm" viewBox="0 0 200 200"') -> bytes:
    links = 'xmlns:xlink="http://www.w3.org/1999/xlink"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {links} {head}>{elements}</svg>'.encode()


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


def test_holes_are_told_by_where_they_lie(folder: Path) -> None:
    """Whichever way a contour runs, whatever its rule of filling, in one path or in two."""
    outer, same, other = "M10 10 H50 V50 H10 Z", "M20 20 H30 V30 H20 Z", "M20 20 V30 H30 V20 Z"
    found = read(drawing(outer + other), folder)
    assert found.area == 1500
    assert read(drawing(outer + same), folder) == found
    even = drawing(same + outer).replace(b"<path", b'<path fill-rule="evenodd"')
    assert read(even, folder) == found
    two = body(f'<path d="{outer}"/><g><path d="{same}" style="fill:#fff"/></g>')
    assert read(two, folder) == found


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
    "all but a full circle": "M50 30 A20 20 0 1 1 49.9 30 Z",
    "small arc, other way": "M20 20 H80 A60 60 0 0 0 80 80 H20 Z",
    "arc of no radius": "M20 20 L80 20 A0 9 0 0 1 60 70 Z",
    "negative radii": "M20 50 A-30 -20 0 0 1 80 50 A30 20 0 0 1 20 50 Z",
    "relative lines": "m20,20 50,0 l0 40-20 10 h-20 v-20z",
    "numbers without spaces": "M20.5.5L80-.5.5e2 60Z",
    "repeated commands": "M20 20 30 20 80 20 L80 60 60 80 20 60Z",
    "smooth after a line": "M20 50 L30 20 S70 10 80 50 L50 80 Z",
    "smooth after smooth": "M10 50 Q20 10 40 40 T60 40 T90 60 L90 90 L10 90 Z",
    "relative smooth": "m10 50 c5 -30 20 -30 30 0 s25 30 40 0 l0 40 h-70 z",
    "relative arcs": "m20 40 a20 10 30 0 1 40 0 a15 15 0 0 1 0 30 h-40 z",
    "a new part after closing": "M10 10 H90 V90 H10 Z m20 20 h20 v20 h-20 z",
    "absolute cubic twice": "M20 50 C20 20 50 20 50 35 50 20 80 20 80 50 80 80 20 80 20 50 Z",
}


def sampled(path: Any, steps: int = 400) -> Polygon:
    """A path of svgelements as a polygon, y turned up."""
    points = []
    for segment in path:
        if type(segment).__name__ != "Move" and segment.start != segment.end:
            points += [segment.point(k / steps) for k in range(steps)]
    return Polygon([(p.x, -p.y) for p in points])


def assert_same(outline: Outline, theirs: Polygon) -> None:
    """The same area and the same course, but for the place that we centre on."""
    assert outline.area == pytest.approx(theirs.area, rel=1e-4)
    ours = outline.moved(*theirs.centroid.coords[0]).polygon()
    # Our chord error, and their steps: 100 mm of an arc in 400 chords, at a radius of 10 mm.
    assert ours.exterior.hausdorff_distance(theirs.exterior) < CURVE_ERROR + 0.13
    assert ours.symmetric_difference(theirs).area < CURVE_ERROR * theirs.length


@pytest.mark.parametrize("case", CURVES)
def test_curves_against_another_reader(case: str, folder: Path) -> None:
    from svgelements import Path as Reader

    path = Reader(Reader(CURVES[case]).subpath(0))
    outer = Outline(read(drawing(CURVES[case]), folder).outer)
    assert_same(centred(outer), sampled(path.segments()))


def test_a_smooth_quadratic_after_another_curve_is_straight(folder: Path) -> None:
    """SVG 2, §9.3.7: without a quadratic before it, its control point is the current point."""
    after = read(drawing("M20 50 L30 20 S70 10 80 50 T50 80 Z"), folder)
    straight = read(drawing("M20 50 L30 20 C30 20 70 10 80 50 L50 80 Z"), folder)
    assert after.outer.area == pytest.approx(straight.outer.area, rel=1e-12)


def test_a_part_may_begin_where_the_last_one_closed(folder: Path) -> None:
    """SVG 2, §9.3.4: what follows a closing begins at the same point as what was closed."""
    found = read(drawing("M10 10 m20 20 H40 V40 H30 Z m-20 -20 H90 V90 H10 Z"), folder)
    assert found.area == 6400 - 100
    with pytest.raises(BadInput, match="crosses or touches the outline"):
        read(drawing("M10 10 H90 V90 H10 Z L30 20 V40 Z"), folder)


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


SHAPES = {
    "rect": '<rect x="10" y="20" width="60" height="30"/>',
    "rounded rect": '<rect x="10" y="20" width="60" height="30" rx="8" ry="5"/>',
    "rect of one radius": '<rect x="10" y="20" width="60" height="30" rx="8"/>',
    "rect of the other radius": '<rect x="10" y="20" width="60" height="30" ry="8"/>',
    "rect all round": '<rect x="10" y="20" width="60" height="30" rx="99"/>',
    "circle": '<circle cx="50" cy="60" r="25"/>',
    "ellipse": '<ellipse cx="50" cy="60" rx="25" ry="12"/>',
    "polygon": '<polygon points="10,10 60,10 60 50, 20 70"/>',
    "closed polyline": '<polyline points="10,10 60,10 60 50 20 70 10 10"/>',
    "group": '<g transform="translate(20,10)"><circle cx="50" cy="60" r="25"/></g>',
    "groups in groups": '<g transform="translate(60 40)"><g transform="rotate(30)"><g '
    'transform="scale(1.5 .5)"><rect x="-20" y="-10" width="40" height="30"/></g></g></g>',
    "list of transforms": '<path transform="translate(90,90) rotate(-20 5 5),scale(.7)'
    ' skewX(20) skewY(-10)" d="M0 0 C30 -40 60 10 50 50 Q20 70 0 0 Z"/>',
    "matrix": '<path transform="matrix(0.8 0.3 -0.5 1.1 60 30)" d="M0 0 C30 -40 60 10 50 50Z"/>',
    "mirrored": '<path transform="scale(-1 1)" d="M-90 50 A30 30 0 0 1 -30 50 L-60 90 Z"/>',
    "circle turned oval": '<circle transform="scale(2,1)" cx="40" cy="40" r="20"/>',
    "oval turned circle": '<ellipse transform="scale(2,1)" cx="40" cy="40" rx="10" ry="20"/>',
    "use": '<defs><path id="a" d="M0 0 H30 V40 L15 50 Z"/></defs><use href="#a" x="30" y="20"/>',
    "use, linked the old way": '<defs><g id="a"><path d="M0 0 H30 V40 L15 50 Z"/></g></defs>'
    '<use xlink:href="#a" transform="rotate(15) scale(2)" x="30" y="20"/>',
    "use of use": '<defs><circle id="a" r="9"/><use id="b" href="#a" x="5"/></defs>'
    '<use href="#b" transform="translate(50,50) scale(3)"/>',
    "hidden beside it": '<circle cx="50" cy="60" r="25"/><rect display="none" width="9" height="9"'
    '/><g style="display: none"><line x1="5"/></g><defs><text>a</text></defs><clipPath id="c">'
    "<rect/></clipPath>",
}  # fmt: skip


@pytest.mark.parametrize("case", SHAPES)
def test_shapes_and_transforms_against_another_reader(case: str, folder: Path) -> None:
    """Another library reads the same text, places and flattens it its own way."""
    from svgelements import SVG, Shape
    from svgelements import Path as Reader

    data = body(SHAPES[case])
    # They count 1/96 in as one; theirs is then in mm by the viewBox.
    drawn = [
        e
        for e in SVG.parse(io.BytesIO(data), ppi=25.4).elements(lambda e: isinstance(e, Shape))
        if e.values.get("display") != "none" and "none" not in str(e.values.get("style"))
    ]
    (path,) = [Reader(e) for e in drawn if abs(e.bbox()[2] - e.bbox()[0]) > 9.1]
    assert_same(read(data, folder), sampled(path.segments()))


def test_an_ellipse_that_is_skewed(folder: Path) -> None:
    """Its area is π a b times the determinant (our other reader takes it for another ellipse)."""
    skewed = '<ellipse transform="matrix(0.8 0.3 -0.5 1.1 60 30)" rx="30" ry="20"/>'
    area = math.pi * 30 * 20 * (0.8 * 1.1 + 0.3 * 0.5)
    assert read(body(skewed), folder).area == pytest.approx(area, rel=1e-5)


def test_units_of_a_shape_grow_with_the_view(folder: Path) -> None:
    """CSS Values 3, §5.2: 1 in is 96 px, and a px is a user unit."""
    circle = '<circle cx="10mm" cy="1in" r="2cm"/>'
    assert read(body(circle, ""), folder).size == pytest.approx((40, 40))
    head = 'width="50mm" height="50mm" viewBox="0 0 96 96"'
    assert read(body(circle, head), folder).size == pytest.approx((40 * 50 / 25.4,) * 2)


def test_arcs_stay_arcs_where_they_stay_circular(folder: Path) -> None:
    arcs = {
        "circle": True, "oval turned circle": True, "mirrored": True,
        "circle turned oval": False, "ellipse": False,
    }  # fmt: skip
    for case, round_ in arcs.items():
        found = read(body(SHAPES[case]), folder)
        assert any(found.outer.bulges) == round_, case
    circle = read(body(SHAPES["oval turned circle"]), folder)
    assert circle.area == pytest.approx(math.pi * 400, rel=1e-12)


VIEWS = {
    # SVG 2, §8.6: a viewBox of 20 × 10 in a viewport of 40 × 40 mm.
    "": (2.0, 2.0),
    "xMidYMid": (2.0, 2.0),
    "xMinYMax meet": (2.0, 2.0),
    "xMidYMid slice": (4.0, 4.0),
    "none": (2.0, 4.0),
}


@pytest.mark.parametrize("aspect", VIEWS)
def test_a_viewport_of_another_proportion(aspect: str, folder: Path) -> None:
    head = f'width="40mm" height="40mm" viewBox="0 0 20 10" preserveAspectRatio="{aspect}"'
    outline = read(drawing("M1 1 H11 V6 H1 Z", head), folder)
    assert outline.size == pytest.approx((10 * VIEWS[aspect][0], 5 * VIEWS[aspect][1]))


def test_drawings_within_drawings_and_symbols(folder: Path) -> None:
    """SVG 2, §5.5 and §8.6: an inner viewBox is fitted into the inner viewport."""
    square = '<rect width="10" height="5"/>'
    inner = f'<svg x="5" y="5" width="100" height="50" viewBox="0 0 20 10">{square}</svg>'
    assert read(body(inner), folder).size == pytest.approx((50, 25))
    symbol = f'<symbol id="s" viewBox="0 0 20 10">{square}</symbol><use href="#s" {{}}/>'
    sized = body(symbol.format('width="60" height="30"'))
    assert read(sized, folder).size == pytest.approx((30, 15))
    assert read(body(symbol.format("")), folder).size == pytest.approx((100, 50))
    share = '<rect width="50%" height="10%"/>'
    assert read(body(share), folder).size == pytest.approx((100, 20))


def test_a_sheet_of_a4_is_one(folder: Path) -> None:
    """CSS Values 3: 793.7008 × 1122.5197 px are 210 × 297 mm (ISO 216), to 4 decimals of a px."""
    head = 'width="793.7008" height="1122.5197px" viewBox="0 0 210 297"'
    outline = read(drawing("M0 0 H210 V297 H0 Z", head), folder)
    assert outline.size == pytest.approx((210, 297), abs=1e-4)


@pytest.mark.parametrize("enlarged", [1.0, 10.0])
def test_a_small_drawing_is_read_as_finely_as_it_will_be_enlarged(
    enlarged: float, folder: Path
) -> None:
    size = 40 / enlarged
    head = f'width="{size}mm" height="{size}mm" viewBox="0 0 100 100"'
    (folder / "small.svg").write_bytes(drawing(CURVES["cubic"], head))
    big = read(drawing(CURVES["cubic"], 'width="40mm" height="40mm" viewBox="0 0 100 100"'), folder)
    changes = {"outline": folder / "small.svg", "width": big.size[0], "draft": 0.0}
    piece = find("custom").piece(changes)
    # The extent of the coarse lines, by which it is scaled, may stray by the chord error.
    assert piece.outline.size[0] == pytest.approx(big.size[0], abs=3 * CURVE_ERROR)
    assert piece.outline.area == pytest.approx(big.area, rel=1e-3)
    lines = len(big.outer.vertices)
    assert len(piece.outline.outer.vertices) == pytest.approx(lines, abs=0.02 * lines)


def test_width_or_depth_scales(folder: Path) -> None:
    (folder / "plate.svg").write_bytes(drawing("M10 10 H50 V30 H10 Z"))
    custom = find("custom")
    outline = {"outline": folder / "plate.svg"}
    assert custom.piece({**outline, "width": "60mm"}).outline.size == pytest.approx((60, 30))
    assert custom.piece({**outline, "depth": "60mm"}).outline.size == pytest.approx((120, 60))
    with pytest.raises(BadInput, match="depth: a width too was given; give one of them"):
        custom.piece({**outline, "width": "60mm", "depth": "30mm"})
    with pytest.raises(BadInput, match="outline: one of 400 × 200 mm was given"):
        custom.piece({**outline, "depth": "200mm"})


@settings(max_examples=200)
@given(text=st.text(alphabet="MmLlHhVvCcSsQqTtAaZz0123456789.-+e, \n", max_size=60))
def test_any_path_is_read_or_refused(text: str, folder: Path) -> None:
    try:
        outline = read(drawing(text), folder)
    except BadInput:
        return
    assert outline.area >= 1.0
    assert outline.polygon().is_valid
