"""Every length on a sheet, measured in the pixels of renderers that are not ours.

Expected values are those that the sheet promises: a square of 100 mm, a line of 4 in = 101.6 mm
(international inch), outlines of the set size.  The tolerance is that of a good print, 0.1 mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import pytest
import reading
from rendering import RENDERERS, inked, poppler, render

from wadforms.catalogue import shapes
from wadforms.families.disk import Disk
from wadforms.families.ring import Ring
from wadforms.setting.arrangement import Arrangement, circle
from wadforms.setting.checks import check
from wadforms.setting.feet import RingFoot
from wadforms.setting.mixes import mix
from wadforms.setting.pot import Pot, Setting
from wadforms.templates import proof
from wadforms.templates.correction import Correction
from wadforms.templates.drawing import Circle, Drawing, Lines, Region, Window
from wadforms.templates.guide_pages import guide_pages
from wadforms.templates.outline_pages import outline_pages
from wadforms.templates.outline_sheet import outline_sheet
from wadforms.templates.paper import PAPERS
from wadforms.templates.pdf import pdf
from wadforms.templates.placing import bounds, placed
from wadforms.templates.proof_page import proof_page
from wadforms.templates.setting_view import SettingView, setting_view
from wadforms.templates.slab_drawing import slab_drawing, slab_pages
from wadforms.templates.slab_layout import SlabItem, slab_layout
from wadforms.templates.stencil import Cutting, stencil

if TYPE_CHECKING:
    from shapely import Geometry

    Inked: TypeAlias = tuple[Region | Circle | Lines, Geometry]

PER_MM = 96 / 25.4 * 3  # a browser takes whole multiples of CSS pixels best
INK = 0.25  # width of the lines that are measured [mm]
AROUND = 1.0  # of a line's box, looked at for its ends [mm]

NAMED = shapes()
DISK = SlabItem("disk-25", NAMED["disk-25"].piece().outline)
SLAB = slab_layout([DISK], slab=(200.0, 60.0))


def setting(diameter: float, shape: str, count: int) -> SettingView:
    """A pot on a ring foot 10 mm wide, on wads under the middle of the ring."""
    pot = Pot(mass=900.0, foot=RingFoot(diameter, 10.0), height=60.0)
    wads = Arrangement(NAMED[shape].piece(), tuple(circle(count, diameter / 2 - 5.0)))
    asked = Setting(pot=pot, arrangement=wads, body="wet", mix=mix("open"))
    return setting_view(asked, check(asked), title="Pot", shape=shape)


BOWL, PLATTER = setting(60.0, "disk-10", 3), setting(240.0, "disk-16", 8)

SHEETS = {
    "outlines": outline_sheet("ring-63", NAMED["ring-63"].piece(), count=3, shrinkage=0.06).drawing,
    "leaf": outline_sheet("leaf-55", NAMED["leaf-55"].piece(), paper="a4").drawing,
    "tile": outline_pages("ring", Ring(diameter=300).piece(), paper="letter").pages[1],
    "square": proof_page(),
    "stencil": stencil("tripod", NAMED["tripod-50"].piece().outline, count=2).drawing,
    "slab": slab_drawing(SLAB, title="Slab"),
    "slab's tile": slab_pages(SLAB, title="Slab", paper=PAPERS["a4"])[2],
    "guide": guide_pages(BOWL, paper=PAPERS["either"], tiles=True)[0],
    "guide's tile": guide_pages(PLATTER, paper=PAPERS["letter"], tiles=True)[1],
}


def measured(sheet: Drawing) -> Iterator[Region | Circle | Lines]:
    """What a sheet shows whole, also in its windows."""
    for item in sheet.primitives():
        if isinstance(item, Region | Circle | Lines):
            yield item
        elif isinstance(item, Window):
            x0, y0, x1, y1 = item.box
            for part in item.parts:
                if isinstance(part, Region | Circle | Lines):
                    a, b, c, d = bounds(part)
                    if x0 < a and y0 < b and c < x1 and d < y1:
                        yield part


@pytest.mark.parametrize("renderer", RENDERERS)
@pytest.mark.parametrize("paper", PAPERS)
def test_square_and_line_through_three_renderers(renderer: str, paper: str, tmp_path: Path) -> None:
    sheet = PAPERS[paper]
    drawing = outline_sheet("disk-20", Disk(diameter=20).piece(), paper=paper).drawing
    drawn = render(drawing, renderer, PER_MM, tmp_path)
    left, bottom = sheet.box[0], sheet.box[1] + proof.HEIGHT - proof.SQUARE
    row = drawn[round((sheet.height - bottom - 20.0) * PER_MM)]
    x0, x1 = reading.strokes(row, PER_MM)
    assert x1 - x0 == pytest.approx(100.0, abs=0.1)
    column = drawn[:, round((left + 3.0) * PER_MM)]
    high, low, line = reading.strokes(column, PER_MM)
    assert low - high == pytest.approx(100.0, abs=0.1)
    ticks = reading.strokes(drawn[round((line + 0.9) * PER_MM)], PER_MM)
    assert ticks[1] - ticks[0] == pytest.approx(101.6, abs=0.1)


@pytest.mark.parametrize("renderer", RENDERERS)
def test_an_outline_through_three_renderers(renderer: str, tmp_path: Path) -> None:
    drawing = outline_sheet("ring", Ring(diameter=90, width=10).piece(), paper="a4").drawing
    circles = [i for i in drawing.primitives() if isinstance(i, Region) and i.outline.holes]
    (ring,) = circles
    x0, y0, x1, y1 = ring.outline.bounds
    drawn = render(drawing, renderer, PER_MM, tmp_path)
    # 5 mm off the middle, where no mark and no letter is.
    off = 20.0
    row = reading.strokes(drawn[round((297.0 - (y0 + y1) / 2 - off) * PER_MM)], PER_MM)
    outer, inner = (2 * (r**2 - off**2) ** 0.5 for r in (45.0, 35.0))  # chords
    assert row[-1] - row[0] == pytest.approx(outer, abs=0.1)
    assert row[-2] - row[1] == pytest.approx(inner, abs=0.1)
    assert (row[0] + row[-1]) / 2 == pytest.approx((x0 + x1) / 2, abs=0.1)


@pytest.mark.parametrize(
    ("pages", "paper"),
    [
        (guide_pages(PLATTER, paper=PAPERS["either"], tiles=True)[:2], "either"),
        (slab_pages(SLAB, title="Slab", paper=PAPERS["a4"])[1:], "a4"),
    ],
)
@pytest.mark.parametrize("renderer", RENDERERS)
def test_square_and_line_of_tiles(
    pages: tuple[Drawing, ...], paper: str, renderer: str, tmp_path: Path
) -> None:
    sheet = PAPERS[paper]
    for page in pages:
        square = next(i for i in page.items if isinstance(i, Region) and i.style.name == "proof")
        corners, line = (
            next(i for i in page.items if isinstance(i, Lines) and len(i.spans) == count)
            for count in (8, 3)
        )
        # Nothing else: on full tiles the drawing runs through the square.
        drawn = render(replace(page, items=(square, corners, line)), renderer, PER_MM, tmp_path)
        assert isinstance(square, Region)
        x0, _, _, y1 = square.outline.bounds
        # Its sides are dotted, so where its corners are.
        row = reading.strokes(drawn[round((sheet.height - y1 + 2.0) * PER_MM)], PER_MM)
        assert row[1] - row[0] == pytest.approx(100.0, abs=0.1)
        column = reading.strokes(drawn[:, round((x0 + 2.0) * PER_MM)], PER_MM)
        assert column[1] - column[0] == pytest.approx(100.0, abs=0.1)
        low = drawn[round((sheet.height - sheet.box[1] - 0.7) * PER_MM)]
        ticks = reading.strokes(low, PER_MM)
        assert ticks[1] - ticks[0] == pytest.approx(101.6, abs=0.1)


@pytest.mark.parametrize("renderer", ["cairo", "poppler"])
@pytest.mark.parametrize("name", SHEETS)
def test_each_line_of_a_sheet_lies_where_it_is_said_to(
    name: str, renderer: str, tmp_path: Path
) -> None:
    sheet = SHEETS[name]
    # The first of each size: the others are drawn by the same means.
    items: dict[tuple[type, float, float], Region | Circle | Lines] = {}
    for item in measured(sheet):
        x0, y0, x1, y1 = bounds(item)
        items.setdefault((type(item), round(x1 - x0, 2), round(y1 - y0, 2)), item)
    assert items
    per_mm = 12.0
    for layer in apart([(item, strip(item, INK)) for item in items.values()]):
        black = tuple(
            replace(i, style=replace(i.style, stroke="#000000", width=INK, fill=None, dash=()))
            for i, _ in layer
        )
        alone = replace(sheet, items=black, background="#ffffff")
        drawn = render(alone, renderer, per_mm, tmp_path)
        for _, ink in layer:
            x0, y0, x1, y1 = ink.bounds
            # Whole pixels round it, counted from the upper left; none beyond the sheet.
            low, high = (max(0, round((v - AROUND) * per_mm)) for v in (x0, sheet.height - y1))
            part = drawn[
                high : round((sheet.height - y0 + AROUND) * per_mm),
                low : round((x1 + AROUND) * per_mm),
            ]
            left, top, right, bottom = inked(part, per_mm)
            left, right = left + low / per_mm, right + low / per_mm
            top, bottom = top + high / per_mm, bottom + high / per_mm
            assert (right - left, bottom - top) == pytest.approx((x1 - x0, y1 - y0), abs=0.1)
            assert (left, right) == pytest.approx((x0, x1), abs=0.1)
            assert (sheet.height - bottom, sheet.height - top) == pytest.approx((y0, y1), abs=0.1)


def apart(items: list[Inked]) -> list[list[Inked]]:
    """All of them on few sheets, so that each one's outermost ink is nobody else's.

    Within `AROUND` of its box lies no other's ink, but well inside of the box it may.
    """
    import shapely

    def spoils(ink: Geometry, other: Geometry) -> bool:
        box = shapely.box(*other.bounds)
        return bool(ink.intersects(box.buffer(AROUND + 0.2) - box.buffer(-AROUND)))

    layers: list[list[Inked]] = []
    for item, ink in items:
        for layer in layers:
            if not any(spoils(ink, other) or spoils(other, ink) for _, other in layer):
                layer.append((item, ink))
                break
        else:
            layers.append([(item, ink)])
    return layers


def strip(item: Region | Circle | Lines, width: float) -> Geometry:
    """What a line of that width covers [mm]: flat ends, mitred corners, as SVG and PDF have them.

    The strip along the line is found by shapely.
    """
    import shapely

    match item:
        case Region(outline, _):
            form = shapely.union_all([shapely.LinearRing(c.flattened()) for c in outline.contours])
        case Circle(centre, radius, _):
            form = shapely.Point(*centre).buffer(radius, quad_segs=64).exterior
        case Lines(spans, _):
            form = shapely.MultiLineString([list(span) for span in spans])
    return form.buffer(width / 2, cap_style="flat", join_style="mitre", mitre_limit=4.0)


@pytest.mark.parametrize("measured", [97.0, 93.75, 75.0, 106.7])
def test_a_corrected_sheet_comes_out_true_on_the_same_printer(
    measured: float, tmp_path: Path
) -> None:
    """The printer is played by rendering at the scale that it prints at."""
    page = proof_page(paper="a4", correction=Correction(measured))
    assert (page.width, page.height) == pytest.approx((210.0, 297.0))
    per_mm = 12.0
    (drawn,) = poppler(pdf([page]), per_mm * measured / 100.0, tmp_path)
    shown = Correction(measured).paper(PAPERS["a4"])
    bottom = shown.box[1] + proof.HEIGHT - proof.SQUARE
    row = drawn[round((shown.height - bottom - 40.0) * per_mm)]
    x0, x1 = reading.strokes(row, per_mm)
    assert x1 - x0 == pytest.approx(100.0, abs=0.1)
    column = drawn[:, round((shown.box[0] + 3.0) * per_mm)]
    high, low, _ = reading.strokes(column, per_mm)[-3:]
    assert low - high == pytest.approx(100.0, abs=0.1)


def test_a_kerfed_hole_and_disk_in_pixels(tmp_path: Path) -> None:
    # Shop rule, seen: with a kerf of 0.3 a Ø 40 is drawn 40.3 outside, and 39.7 for a hole.
    from wadforms.geometry.contour import Contour
    from wadforms.geometry.outline import Outline

    washer = Outline(Contour.circle(30), (Contour.circle(20),))
    made = stencil("washer", washer, cutting=Cutting(kerf=0.3)).drawing
    drawn = render(replace(made, background="#ffffff"), "cairo", 20.0, tmp_path)
    row = reading.strokes(drawn[round(made.height / 2 * 20.0)], 20.0)
    assert row[3] - row[0] == pytest.approx(60.3, abs=0.03)
    assert row[2] - row[1] == pytest.approx(39.7, abs=0.03)


def test_moving_and_scaling_in_pixels(tmp_path: Path) -> None:
    ring = next(i for i in SHEETS["outlines"].primitives() if isinstance(i, Region))
    x0, y0, _, _ = bounds(ring)
    moved = placed(ring, factor=0.5, move=(10 - x0 / 2, 10 - y0 / 2))
    sheet = Drawing(title="", description="", width=80, height=80, items=(moved,))
    left, top, right, bottom = inked(render(sheet, "cairo", 20.0, tmp_path), 20.0)
    assert (right - left, bottom - top) == pytest.approx((50.125, 50.125), abs=0.05)
    assert np.isclose(left, 10.0, atol=0.3)
    assert np.isclose(80.0 - bottom, 10.0, atol=0.3)
