"""A drawing as SVG: sizes, arcs and bytes, read back by others."""

from __future__ import annotations

import math
import os
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
import reading

from wadforms.errors import BadInput, WouldOverwrite
from wadforms.geometry.construct import arc_band, crescent, rounded, star
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.templates import look
from wadforms.templates.drawing import (
    Arc,
    Circle,
    Cross,
    Dimension,
    Drawing,
    Item,
    Lettering,
    Lines,
    Region,
    Text,
)
from wadforms.templates.shading import hatch, outlines_of
from wadforms.templates.svg import svg, write_svg

SVG = "{http://www.w3.org/2000/svg}"

OUTLINES = {
    "disk": Outline.circle(10),
    "ring": Outline(Contour.circle(31.5), (Contour.circle(23.5),)),
    "star": Outline(star(3, 52, 14, 7, 5)),
    "crescent": Outline(crescent(50, 16, 40, 3)),
    "band": Outline(arc_band(40, 8, 200)),
    "stadium": Outline(rounded([(-40, -6), (40, -6), (40, 6), (-40, 6)], 6)),
    "nearly half circles": Outline(Contour(((10, 0), (-10, 0)), (0.9999, 0.9999))),
}


def sheet(*items: Item) -> Drawing:
    return Drawing(title="A sheet", description="For tests.", width=200, height=150, items=items)


@pytest.mark.parametrize("name", OUTLINES)
def test_area_read_back(name: str) -> None:
    outline = OUTLINES[name]
    placed = outline.turned(17).moved(100, 75)
    (path,) = reading.paths(svg(sheet(Region(placed, look.CUT))))
    # Coordinates are rounded to 1e-4 mm, which is worth some 1e-5 of a piece's width.
    assert reading.area(path) == pytest.approx(outline.area, rel=5e-5)


@pytest.mark.parametrize("name", OUTLINES)
def test_bounds_read_back(name: str) -> None:
    placed = OUTLINES[name].moved(100, 75)
    (path,) = reading.paths(svg(sheet(Region(placed, look.CUT))))
    x0, y0, x1, y1 = (v * reading.MM for v in path.bbox(with_stroke=False))
    left, low, right, high = placed.bounds
    assert (x0, x1) == pytest.approx((left, right), abs=1e-3)
    assert (y0, y1) == pytest.approx((150 - high, 150 - low), abs=1e-3)  # y points down


@pytest.mark.parametrize(("start", "sweep"), [(0, 90), (-90, 12), (30, 250), (10, -75)])
def test_open_arc_read_back(start: float, sweep: float) -> None:
    (path,) = reading.paths(svg(sheet(Arc((100, 75), 20, start, sweep, look.FINE))))
    assert path.length() * reading.MM == pytest.approx(math.radians(abs(sweep)) * 20, abs=1e-3)
    end = path.point(1.0)
    angle = math.radians(start + sweep)
    assert end.x * reading.MM == pytest.approx(100 + 20 * math.cos(angle), abs=1e-3)
    assert end.y * reading.MM == pytest.approx(75 - 20 * math.sin(angle), abs=1e-3)


def test_every_kind_of_item_without_transforms() -> None:
    square = Outline(Contour.polygon([(10, 10), (30, 10), (30, 30), (10, 30)]))
    data = svg(
        sheet(
            Region(square, look.BEARING),
            hatch([square], look.PATCH_HATCH),
            Lines((((0, 0), (10, 10)),), look.DASHED),
            Circle((50, 50), 8, look.CENTRE),
            Arc((50, 50), 12, 0, 90, look.FINE),
            Cross((50, 50), 4, look.FINE),
            Text((60, 20), "wads < 8 mm & Ø 20", look.BODY, "middle"),
            Dimension((10, 60), (30, 60), 5, "20", look.MEASURE, look.SMALL),
        )
    )
    root = ET.fromstring(data)  # noqa: S314 - our own text
    assert (root.get("width"), root.get("height")) == ("200mm", "150mm")
    assert root.get("viewBox") == "0 0 200 150"
    assert not [e for e in root.iter() if "transform" in e.attrib or "style" in e.attrib]
    assert [e.text for e in root.iter(f"{SVG}title")] == ["A sheet"]
    assert [e.text for e in root.iter(f"{SVG}desc")] == ["For tests."]
    assert [e.text for e in root.iter(f"{SVG}text")] == ["wads < 8 mm & Ø 20", "20"]


def test_control_characters_are_refused() -> None:
    with pytest.raises(BadInput, match="control character"):
        svg(sheet(Text((0, 0), "disk\x07", look.BODY)))


def test_same_bytes_in_every_process() -> None:
    code = (
        "import hashlib\n"
        "from wadforms.families import family\n"
        "from wadforms.templates.outline_sheet import outline_sheet\n"
        "from wadforms.templates.svg import svg\n"
        "sheet = outline_sheet('tripod', family('tripod')().piece(), count=2)\n"
        "print(hashlib.sha256(svg(sheet.drawing)).hexdigest())\n"
    )
    digests = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "77")
    }
    assert len(digests) == 1


def test_not_written_over(tmp_path: Path) -> None:
    path = tmp_path / "sheet.svg"
    write_svg(sheet(), path, force=False)
    with pytest.raises(WouldOverwrite):
        write_svg(sheet(Cross((5, 5), 2, look.FINE)), path, force=False)
    assert path.read_bytes() == svg(sheet())


@pytest.mark.parametrize("lettering", [look.SMALL, look.TITLE])
@pytest.mark.parametrize(
    "text", ["tipping angle 13.6°, limit 8°", "WIDE WADS", "Ø 31.5 × 8 mm", "pressure at heat"]
)
def test_text_is_no_wider_than_estimated(text: str, lettering: Lettering) -> None:
    import numpy as np

    per_mm = 10.0
    drawn = reading.pixels(svg(sheet(Text((10, 75), text, lettering))), per_mm)
    inked = np.flatnonzero((drawn < 200).any(axis=0))
    width = (inked[-1] - inked[0] + 1) / per_mm
    assert 0.5 * lettering.width(text) < width <= lettering.width(text)


def test_hatching_stays_inside() -> None:
    import shapely

    ring = OUTLINES["ring"]
    lines = hatch([ring], look.PATCH_HATCH, spacing=1.0, degrees=30)
    drawn = shapely.MultiLineString([list(span) for span in lines.spans])
    assert drawn.difference(ring.polygon().buffer(1e-6)).length == pytest.approx(0.0, abs=1e-6)
    # Lines one spacing apart cover an area of about length × spacing.
    assert drawn.length * 1.0 == pytest.approx(ring.area, rel=0.02)


def test_regions_of_shapely_keep_their_area() -> None:
    import shapely

    both = shapely.union(
        shapely.box(0, 0, 10, 10).difference(shapely.box(2, 2, 4, 4)), shapely.box(20, 0, 25, 5)
    )
    found = outlines_of(both)
    assert sum(outline.area for outline in found) == pytest.approx(both.area, rel=1e-12)
    grazing = shapely.GeometryCollection([shapely.Point(0, 0), shapely.box(0, 0, 1, 1)])
    assert [outline.area for outline in outlines_of(grazing)] == [1.0]
