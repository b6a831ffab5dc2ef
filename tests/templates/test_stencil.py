"""Stencils: what a cutter is given, read back by libraries that are not ours."""

from __future__ import annotations

import io
import math
import xml.etree.ElementTree as ET
from itertools import pairwise
from typing import Any

import pytest
import reading

from wadforms.catalogue import shapes
from wadforms.errors import BadInput, NotMakeable
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.templates.dxf import dxf
from wadforms.templates.stencil import Cutting, Stencil, colour, stencil
from wadforms.templates.svg import svg

NAMED = shapes()
SVG = "{http://www.w3.org/2000/svg}"
WASHER = Outline(Contour.circle(30), (Contour.circle(20),))


def closed(path: Any) -> bool:
    import svgelements

    return isinstance(path[-1], svgelements.Close)


def pieces_of(path: Any) -> list[tuple[Any, ...]]:
    """Each line and arc of a path by its ends and its middle, the same run either way [mm]."""
    import svgelements

    found = []
    for segment in path:
        if isinstance(segment, svgelements.Move) or segment.length() * reading.MM < 1e-6:
            continue
        ends = sorted(
            (round(p.x * reading.MM, 2), round(p.y * reading.MM, 2))
            for p in (segment.start, segment.end)
        )
        middle = segment.point(0.5)
        middle = (round(middle.x * reading.MM, 2), round(middle.y * reading.MM, 2))
        found.append((*ends, middle))
    return found


def total_area(paths: list[Any]) -> float:
    """Area of what is cut out, holes taken out [mm²]: a path inside another one is a hole."""
    import shapely

    forms = [
        shapely.Polygon(
            [
                (p.x * reading.MM, p.y * reading.MM)
                for p in (path.point(k / 400) for k in range(400))
            ]
        )
        for path in paths
    ]
    signs = [
        -1 if any(other is not form and other.contains(form) for other in forms) else 1
        for form in forms
    ]
    return sum(s * reading.area(path) for s, path in zip(signs, paths, strict=True))


@pytest.mark.parametrize("name", NAMED)
def test_every_named_shape_reads_back(name: str) -> None:
    outline = NAMED[name].piece().outline
    paths = reading.paths(svg(stencil(name, outline).drawing))
    assert len(paths) == 1 + len(outline.holes)
    assert all(map(closed, paths))
    # 0.05 %: coordinates are rounded to 0.1 µm, and the reader finds centres from them.
    assert total_area(paths) == pytest.approx(outline.area, rel=5e-4)
    drawn = [segment for path in paths for segment in pieces_of(path)]
    assert len(drawn) == len(set(drawn))


@pytest.mark.parametrize("name", ["leaf-55", "square-25", "hexagon-40", "ring-63", "tripod-50"])
@pytest.mark.parametrize("kerf", [0.0, 0.2])
def test_copies_share_no_line(name: str, kerf: float) -> None:
    import shapely

    outline = NAMED[name].piece().outline
    made = stencil(name, outline, count=7, cutting=Cutting(kerf=kerf, gap=1.0))
    paths = reading.paths(svg(made.drawing))
    assert len(paths) == 7 * (1 + len(outline.holes))
    drawn = [segment for path in paths for segment in pieces_of(path)]
    assert len(drawn) == len(set(drawn))
    outer = [i.outline for i in made.drawing.primitives() if i.style.name == "cut"]  # type: ignore[union-attr]
    forms = [o.polygon() for o in outer]
    apart = min(a.distance(b) for k, a in enumerate(forms) for b in forms[:k])
    assert apart >= 1.0 + kerf - 0.011  # two flattened arcs stray by 0.005 mm each
    sheet = shapely.box(0, 0, made.drawing.width, made.drawing.height)
    assert min(sheet.boundary.distance(f) for f in forms) == pytest.approx(1.0 + kerf / 2, abs=0.01)


def test_nothing_but_closed_paths_and_holes_first() -> None:
    made = stencil("washer", WASHER, count=3, cutting=Cutting(stroke="RED", hole_stroke="#00f"))
    root = ET.fromstring(svg(made.drawing))  # noqa: S314 - our own text
    # A title and a description are told by no reader that draws; defs is empty.
    drawn = [e for e in root if e.tag not in {f"{SVG}title", f"{SVG}desc", f"{SVG}defs"}]
    assert {e.tag for e in drawn} == {f"{SVG}path"}
    assert not list(root.find(f"{SVG}defs") or ())
    assert [e.get("stroke") for e in drawn] == ["#0000ff", "#ff0000"] * 3
    assert {e.get("fill") for e in drawn} == {"none"}
    assert all((e.get("d") or "").count("M") == 1 for e in drawn)
    widths = [reading.size(p)[0] for p in reading.paths(svg(made.drawing))]
    assert all(hole < outer for hole, outer in zip(widths[::2], widths[1::2], strict=True))


def test_kerf_by_the_shop_rule() -> None:
    # Seen in a workshop's advice: with a kerf of 0.3 mm a Ø 40 is drawn 40.3, its hole 39.7.
    disk = reading.paths(svg(stencil("d", Outline.circle(20), cutting=Cutting(kerf=0.3)).drawing))
    assert reading.size(disk[0])[0] == pytest.approx(40.3, abs=1e-3)
    hole, _ = reading.paths(svg(stencil("w", WASHER, cutting=Cutting(kerf=0.3)).drawing))
    assert reading.size(hole)[0] == pytest.approx(39.7, abs=1e-3)
    plain = stencil("w", WASHER)
    assert (plain.area, plain.drawn_area) == (WASHER.area, WASHER.area)


def test_kerf_agrees_with_an_offset_of_shapely() -> None:
    outline = NAMED["tripod-50"].piece().outline
    made = stencil("tripod", outline, cutting=Cutting(kerf=0.4))
    # Steiner: a corner that is mitred has more than one that is rounded; shapely mitres too.
    grown = outline.polygon(1e-5).buffer(0.2, join_style="mitre", mitre_limit=20)
    assert made.drawn_area == pytest.approx(grown.area, rel=1e-5)


def test_kerf_wider_than_a_hole() -> None:
    ring = Outline(Contour.circle(10), (Contour.circle(0.5),))
    with pytest.raises(NotMakeable, match="kerf of 2 mm takes more than there is"):
        stencil("ring", ring, cutting=Cutting(kerf=2.0))


def test_a_board_takes_so_many() -> None:
    disk = Outline.circle(20)
    made = stencil("disk", disk, count=6, cutting=Cutting(board=(140.0, 100.0)))
    assert (made.drawing.width, made.drawing.height) == (140.0, 100.0)
    with pytest.raises(NotMakeable, match="; 6 do"):
        stencil("disk", disk, count=7, cutting=Cutting(board=(140.0, 100.0)))
    with pytest.raises(NotMakeable, match="does not fit"):
        stencil("disk", disk, cutting=Cutting(board=(45.0, 100.0)))
    with pytest.raises(NotMakeable, match="does not fit"):
        stencil("disk", disk, cutting=Cutting(board=(4.0, 4.0)))


@pytest.mark.parametrize(
    ("given", "message"),
    [
        ({"kerf": -0.1}, "kerf: -0.1 mm"),
        ({"kerf": math.nan}, "kerf"),
        ({"kerf": 11.0}, "0 mm to 10 mm"),
        ({"gap": 0.0}, "gap: 0 mm"),
        ({"gap": math.inf}, "gap"),
        ({"board": (0.0, 100.0)}, "board"),
        ({"board": (math.nan, 100.0)}, "board"),
        ({"stroke": "rust"}, "stroke: 'rust'"),
        ({"stroke": "#12345"}, "stroke"),
        ({"stroke": "#ff0000; fill:url(x)"}, "stroke"),
        ({"hole_stroke": ""}, "hole stroke: ''"),
        ({"stroke_width": 0.0}, "stroke width"),
        ({"stroke_width": 6.0}, "up to 5 mm"),
    ],
)
def test_bad_cutting(given: dict[str, Any], message: str) -> None:
    with pytest.raises(BadInput, match=message):
        Cutting(**given)


def test_all_faults_at_once() -> None:
    with pytest.raises(BadInput) as caught:
        Cutting(kerf=99, gap=0, stroke="x", stroke_width=-1)
    assert len(caught.value.faults) == 4


@pytest.mark.parametrize("count", [0, -1, 501])
def test_bad_counts(count: int) -> None:
    with pytest.raises(BadInput, match="1 to 500"):
        stencil("disk", Outline.circle(5), count=count)


def test_colours_are_those_of_the_standard() -> None:
    # CSS Color Module Level 3, 4.1: the basic colour keywords, also in Pillow's own table.
    from PIL import ImageColor

    for name in ("black", "gray", "maroon", "lime", "teal", "aqua", "fuchsia", "olive", "silver"):
        red, green, blue = ImageColor.getrgb(name)[:3]
        assert colour(name) == f"#{red:02x}{green:02x}{blue:02x}"


def read_dxf(made: Stencil) -> Any:
    import ezdxf

    library: Any = ezdxf
    return library.read(io.StringIO(dxf(made.drawing).decode("utf-8")))


@pytest.mark.parametrize("name", ["disk-20", "ring-63", "leaf-55", "tripod-50", "gingko-50"])
def test_dxf_read_back(name: str) -> None:
    from ezdxf import path as paths
    from shapely import Polygon

    outline = NAMED[name].piece().outline
    document = read_dxf(stencil(name, outline, count=2))
    assert document.header["$INSUNITS"] == 4  # millimetres, in the DXF reference
    assert not document.audit().errors
    lines = list(document.modelspace())
    assert {line.dxftype() for line in lines} == {"LWPOLYLINE"}
    assert all(line.closed for line in lines)
    forms = [Polygon([(v.x, v.y) for v in paths.make_path(e).flattening(1e-4)]) for e in lines]
    signs = [-1 if line.dxf.layer == "cut-a-hole" else 1 for line in lines]
    area = sum(s * form.area for s, form in zip(signs, forms, strict=True))
    assert area == pytest.approx(2 * outline.area, rel=5e-4)
    # Holes come before what surrounds them.
    if outline.holes:
        assert all(b.contains(a) for a, b in list(pairwise(forms))[::2])


def test_dxf_is_the_same_each_time() -> None:
    made = stencil("ring", WASHER)
    assert dxf(made.drawing) == dxf(made.drawing)
