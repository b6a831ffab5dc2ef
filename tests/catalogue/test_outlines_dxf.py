"""DXF drawings, written by ezdxf or by hand: what is read has the areas of closed forms."""

from __future__ import annotations

import io
import math
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from shapely import Polygon

from wadforms.catalogue.outlines import Drawn, read_drawn
from wadforms.catalogue.outlines.dxf import NO_UNIT
from wadforms.errors import BadInput

Draw = Callable[[Any, Any], None]

STADIUM = [(0, 0, 0), (40, 0, 1), (40, 20, 0), (0, 20, 1)]
STADIUM_AREA = 40 * 20 + math.pi * 100


def written(draw: Draw, release: str = "R2010", unit: int = 4) -> bytes:
    from ezdxf.filemanagement import new

    document: Any = new(release, units=unit)
    draw(document, document.modelspace())
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode()


def read(data: bytes, folder: Path) -> Drawn:
    file = folder / "drawing.dxf"
    file.write_bytes(data)
    return read_drawn(file)


def lines(document: Any, space: Any) -> None:
    """In no order, run either way, one end 0.02 mm off."""
    for ends in (((0, 0), (40, 0)), ((40, 30), (0, 30)), ((40, 30), (40, 0)), ((0, 30), (0, 0.02))):
        space.add_line(*ends)


def half_disk(document: Any, space: Any) -> None:
    space.add_line((-20, 0), (20, 0))
    space.add_arc((0, 0), 20, 0, 180)


def past_zero(document: Any, space: Any) -> None:
    space.add_arc((0, 0), 20, 270, 90)
    space.add_line((0, -20), (0, 20))


def half_ellipse(document: Any, space: Any) -> None:
    space.add_ellipse((0, 0), (20, 0), 0.5, 0, math.pi)
    space.add_line((-20, 0), (20, 0))


def block(document: Any, space: Any) -> None:
    document.blocks.new("INNER").add_circle((0, 0), 10)
    document.blocks.new("OUTER").add_blockref("INNER", (3, 3), dxfattribs={"xscale": 2})
    space.add_blockref("OUTER", (5, 5), dxfattribs={"rotation": 30, "yscale": -1})


def with_holes(document: Any, space: Any) -> None:
    space.add_circle((20, 0), 3)
    space.add_circle((0, 0), 30)
    space.add_circle((0, 0), 10)


def hidden(document: Any, space: Any) -> None:
    document.layers.add("NOTES").off()
    document.layers.add("GUIDES").freeze()
    space.add_text("a note", dxfattribs={"layer": "NOTES"})
    space.add_line((0, 0), (9, 0), dxfattribs={"layer": "guides"})
    space.add_line((0, 0), (9, 0), dxfattribs={"invisible": 1})
    space.add_circle((0, 0), 20)


def mirrored(document: Any, space: Any) -> None:
    space.add_lwpolyline(STADIUM, format="xyb", close=True, dxfattribs={"extrusion": (0, 0, -1)})


DRAWINGS: dict[str, tuple[Draw, float, int]] = {
    # what is drawn, its area by a closed form [mm²], and how many arcs are left in it
    "lines": (lines, 1200, 0),
    "circle": (lambda _, s: s.add_circle((5, 5), 20), math.pi * 400, 2),
    "arc and line": (half_disk, math.pi * 200, 1),
    "arc past 0°": (past_zero, math.pi * 200, 1),
    "light polyline": (
        lambda _, s: s.add_lwpolyline(STADIUM, format="xyb", close=True), STADIUM_AREA, 2
    ),
    "seen from below": (mirrored, STADIUM_AREA, 2),
    "old polyline": (
        lambda _, s: s.add_polyline2d(STADIUM, format="xyb", close=True), STADIUM_AREA, 2
    ),
    "flat polyline in space": (
        lambda _, s: s.add_polyline3d([(0, 0, 5), (40, 0, 5), (40, 20, 5)], close=True), 400, 0
    ),
    "ellipse": (lambda _, s: s.add_ellipse((0, 0), (20, 5), 0.5), math.pi * 425 / 2, 0),
    "half an ellipse": (half_ellipse, math.pi * 100, 0),
    "blocks": (block, math.pi * 200, 0),
    "holes": (with_holes, math.pi * (900 - 100 - 9), 6),
    "hidden beside it": (hidden, math.pi * 400, 2),
}  # fmt: skip


@pytest.mark.parametrize("release", ["R12", "R2000", "R2018"])
@pytest.mark.parametrize("case", DRAWINGS)
def test_areas_are_those_of_closed_forms(case: str, release: str, tmp_path: Path) -> None:
    draw, area, arcs = DRAWINGS[case]
    if release == "R12" and case in {"light polyline", "seen from below", "ellipse",
                                     "half an ellipse", "hidden beside it"}:  # fmt: skip
        pytest.skip("that release has no such thing")
    found = read(written(draw, release), tmp_path)
    # Lines that stand for a curve keep its area; in `lines` one end is moved by 0.02 mm.
    assert found.outline.area == pytest.approx(area, rel=1e-5, abs=0.5 if case == "lines" else 0)
    assert sum(b != 0 for c in found.outline.contours for b in c.bulges) == arcs
    assert found.notes == ((NO_UNIT,) if release == "R12" else ())


def test_splines_against_the_library_that_wrote_them(tmp_path: Path) -> None:
    from ezdxf.math import BSpline

    poles = [(0, 0), (30, -10), (60, 20), (30, 50), (-10, 30), (0, 0)]
    theirs = Polygon([(p.x, p.y) for p in BSpline(poles).approximate(4000)])
    found = read(written(lambda _, space: space.add_open_spline(poles)), tmp_path).outline
    assert found.area == pytest.approx(theirs.area, rel=2e-4)
    ours = found.moved(*theirs.centroid.coords[0]).polygon()
    assert ours.exterior.hausdorff_distance(theirs.exterior) < 0.05  # their steps


UNITS = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 13: 0.001, 14: 100.0}
"""AutoCAD's DXF reference, header variable $INSUNITS (from memory): inches, feet, mm, cm, m,
microns, dm."""


@pytest.mark.parametrize("code", UNITS)
def test_units_of_the_drawing(code: int, tmp_path: Path) -> None:
    side = 60 / UNITS[code]
    corners = [(0, 0), (side, 0), (side, side / 2), (0, side / 2)]
    draw: Draw = lambda _, space: space.add_lwpolyline(corners, close=True)  # noqa: E731
    assert read(written(draw, unit=code), tmp_path).outline.size == pytest.approx((60, 30))


def test_up_is_up(tmp_path: Path) -> None:
    draw: Draw = lambda _, s: s.add_lwpolyline([(0, 0), (30, 0), (15, 40)], close=True)  # noqa: E731
    outline = read(written(draw), tmp_path).outline
    assert max(outline.outer.vertices, key=lambda p: p[1]) == pytest.approx((0, 80 / 3))


def test_what_is_no_outline_is_named(tmp_path: Path) -> None:
    def draw(document: Any, space: Any) -> None:
        space.add_circle((0, 0), 20)
        space.add_mtext("hello")

    with pytest.raises(BadInput, match="a MTEXT was given; remove it, or put it on a layer that"):
        read(written(draw), tmp_path)


def test_reading_one_writes_nothing_anywhere(tmp_path: Path) -> None:
    """The library would keep a list of the machine's fonts in the user's cache."""
    (tmp_path / "drawing.dxf").write_bytes(written(lambda _, space: space.add_circle((0, 0), 20)))
    code = (
        "from pathlib import Path; from wadforms.catalogue.outlines import read_outline;"
        "print(round(read_outline(Path('drawing.dxf')).area))"
    )
    home = tmp_path / "home"
    home.mkdir()
    places = ("HOME", "USERPROFILE", "XDG_CACHE_HOME", "XDG_CONFIG_HOME", "LOCALAPPDATA")
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        env={**os.environ, **dict.fromkeys(places, str(home))},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.stdout, done.stderr) == ("1257\n", "")
    assert list(home.iterdir()) == []
