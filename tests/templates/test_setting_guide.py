"""Setting guides: places and sizes measured in the file, sheets of paper, and the mirrored mark.

Sources
-------
- What is measured in the SVG: svgelements, at 96 px to the inch (CSS Values 3).
- Where wads stand on a circle: x = r cos φ, y = r sin φ.
- How many sheets: one shows 190 × 231 mm (what A4 and Letter have in common, less margins and a
  strip of words) and shares 15 mm with the next, so n sheets show 175 n + 15 and 216 n + 15 mm.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import combinations
from typing import Any

import pytest
import reading
import shapely

from wadforms.catalogue import find
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.setting.arrangement import Arrangement, Spot, circle
from wadforms.setting.checks import check
from wadforms.setting.feet import (
    FlatFoot,
    Foot,
    GalleryFoot,
    OutlineFoot,
    RingFoot,
    RoundFoot,
    SideFoot,
)
from wadforms.setting.mixes import mix
from wadforms.setting.pot import Pot, Setting
from wadforms.templates.correction import Correction
from wadforms.templates.drawing import Circle, Drawing, Lines, Region, Text, Window
from wadforms.templates.guide_pages import guide_pages
from wadforms.templates.paper import PAPERS, paper
from wadforms.templates.setting_guide import setting_guide
from wadforms.templates.setting_notes import setting_notes, table_rows
from wadforms.templates.setting_view import SettingView, setting_view
from wadforms.templates.svg import svg

EITHER = paper("either")
TRAY = OutlineFoot(Outline(Contour.polygon([(-90, -90), (90, -90), (90, 90), (-90, 90)])))


def view(
    foot: Foot, shape: str, spots: list[Spot], body: str = "wet", of: str = "open"
) -> SettingView:
    pot = Pot(mass=900.0, foot=foot, height=60.0)
    wads = Arrangement(find(shape).piece(), tuple(spots))
    asked = Setting(pot=pot, arrangement=wads, body=body, mix=mix(of))
    return setting_view(asked, check(asked), title="Pot", shape=shape)


VIEWS = {
    "tea bowl": view(RingFoot(50.0, 5.0), "disk-10", circle(3, 22.5), "dry"),
    "platter": view(FlatFoot(600.0), "disk-31", circle(16, 265) + circle(8, 130)),
    "wide ring": view(RingFoot(360.0, 12.0), "disk-12", circle(15, 174)),
    "lid": view(GalleryFoot(180.0, 10.0), "disk-8", circle(8, 85)),
    "tray on rails": view(TRAY, "rail-100", [Spot(0, 55, 0), Spot(0, -55, 0)]),
    "on its side": view(SideFoot(130.0), "rail-63", circle(2, 41.8)),
    "round jar": view(RoundFoot(200.0), "disk-20", circle(3, 40)),
    "on points": view(FlatFoot(120.0), "pointed-tripod-63", [Spot(0, 0)], "solid", "fireclay"),
    "many": view(FlatFoot(600.0), "disk-8", circle(40, 280) + circle(24, 190)),
}


@cache
def guide(name: str, sheet: str = "either", *, square: bool = True) -> Drawing:
    """The guide of one of the views; numbers of many wads take seconds to place."""
    return setting_guide(VIEWS[name], paper=PAPERS[sheet], square=square)


@cache
def tiled(name: str, sheet: str = "either") -> tuple[Drawing, ...]:
    return tuple(guide_pages(VIEWS[name], paper=PAPERS[sheet], tiles=True))


def boxes(data: bytes) -> list[tuple[float, float, float, float]]:
    """Smallest x, smallest y, largest x, largest y of every path [mm], y down."""
    found = []
    for path in reading.paths(data):
        found.append(tuple(v * reading.MM for v in path.bbox(with_stroke=False)))
    return found


def has(found: list[Any], wanted: tuple[float, float, float, float]) -> bool:
    return any(box == pytest.approx(wanted, abs=0.01) for box in found)


def lines(drawing: Drawing) -> tuple[Any, Any]:
    """The two lines that levels are aligned by: across, and from front to back."""
    (crossing,) = [
        i.spans
        for i in drawing.primitives()
        if isinstance(i, Lines) and i.style.name == "centre" and len(i.spans) == 2
    ]
    return crossing


@pytest.mark.parametrize("name", VIEWS)
def test_every_wad_is_where_it_belongs_at_its_size(name: str) -> None:
    shown = VIEWS[name]
    drawing = guide(name)
    found = boxes(svg(drawing))
    across, back = lines(drawing)
    x, y = back[0][0], across[0][1]
    for spot in shown.spots:
        # Corners turned here, not by the code under test.
        c, s = math.cos(math.radians(spot.turn)), math.sin(math.radians(spot.turn))
        ring = shapely.Polygon(shown.piece.body.base.outer.flattened(1e-4))
        turned = shapely.transform(ring, lambda p, c=c, s=s: p @ [[c, s], [-s, c]])
        x0, y0, x1, y1 = turned.bounds
        left, right = x + spot.x + x0, x + spot.x + x1
        top, low = y + spot.y + y1, y + spot.y + y0
        assert has(found, (left, drawing.height - top, right, drawing.height - low))


@pytest.mark.parametrize(
    ("name", "side"),
    [("tea bowl", 50), ("platter", 600), ("wide ring", 360), ("lid", 180), ("tray on rails", 180)],
)
def test_the_foot_has_its_size(name: str, side: float) -> None:
    drawing = guide(name)
    sizes = [reading.size(path) for path in reading.paths(svg(drawing))]
    assert any(size == pytest.approx((side, side), abs=0.01) for size in sizes)


def test_three_wads_of_a_tea_bowl() -> None:
    drawing = guide("tea bowl")
    across, back = lines(drawing)
    x, y = back[0][0], drawing.height - across[0][1]
    found = boxes(svg(drawing))
    radius = find("disk-10").piece().body.base.size[0] / 2
    for degrees in (90, 210, 330):
        cx = x + 22.5 * math.cos(math.radians(degrees))
        cy = y - 22.5 * math.sin(math.radians(degrees))
        assert has(found, (cx - radius, cy - radius, cx + radius, cy + radius))


@pytest.mark.parametrize("name", VIEWS)
def test_the_lines_run_beyond_all_and_end_in_ticks(name: str) -> None:
    shown = VIEWS[name]
    drawing = guide(name)
    (left, right), (front, back) = lines(drawing)
    shapes = [i.outline for i in drawing.primitives() if isinstance(i, Region)]
    on_plan = [o for o in shapes if o.bounds[1] > front[1]]  # the square lies below
    assert len(on_plan) >= len(shown.spots)
    for outline in on_plan:
        x0, y0, x1, y1 = outline.bounds
        assert left[0] + 2.0 < x0 < x1 < right[0] - 2.0
        assert front[1] + 9.0 < y0 < y1 < back[1] - 9.0
    ticks = [i.spans for i in drawing.primitives() if isinstance(i, Lines) and len(i.spans) == 4]
    middles = {
        (round((a[0] + b[0]) / 2, 6), round((a[1] + b[1]) / 2, 6))
        for spans in ticks
        for a, b in spans
    }
    ends = {(round(p[0], 6), round(p[1], 6)) for p in (left, right, front, back)}
    assert ends <= middles


def test_levels_of_a_stack_share_the_crossing() -> None:
    """The wads of both levels stand in one vertical line where their sheets are laid so."""
    lower = guide("wide ring")
    upper = setting_guide(view(RingFoot(360.0, 12.0), "disk-16", circle(15, 174)), paper=EITHER)

    def centres(drawing: Drawing) -> list[tuple[float, float]]:
        across, back = lines(drawing)
        x, y = back[0][0], across[0][1]
        wads = [i.outline for i in drawing.items if isinstance(i, Region) and not i.outline.holes]
        found = [((b[0] + b[2]) / 2 - x, (b[1] + b[3]) / 2 - y) for b in (w.bounds for w in wads)]
        return sorted((round(a, 3), round(b, 3)) for a, b in found if math.hypot(a, b) < 180)

    assert centres(lower) == centres(upper)
    assert len(centres(lower)) == 30  # base and top of each


@pytest.mark.parametrize("name", VIEWS)
def test_numbers_are_all_there_and_apart(name: str) -> None:
    shown = VIEWS[name]
    drawing = guide(name)
    texts = [i for i in drawing.items if isinstance(i, Text)]
    numbers = [t for t in texts if t.text.isdecimal()]
    assert [t.text for t in numbers] == [str(k + 1) for k in range(len(shown.spots))]
    found = [shapely.box(*t.box) for t in numbers]
    assert not any(a.intersection(b).area > 0.5 for a, b in combinations(found, 2))
    words = " ".join(t.text for t in texts)
    assert f"{len(shown.spots)} × {shown.shape}, {shown.body}" in words
    assert "front" in words
    assert shown.title in words


def test_numbers_of_leaves_stand_off_their_crosses_and_on_every_sheet() -> None:
    shown = view(RingFoot(360.0, 12.0), "leaf-55", circle(15, 174))
    pages = guide_pages(shown, paper=PAPERS["a4"], tiles=True)[:6]
    least = 0.0
    for page in pages:
        parts = [(i.box, p) for i in page.items if isinstance(i, Window) for p in i.parts]
        numbers = [p for _, p in parts if isinstance(p, Text) and p.text.isdecimal()]
        boxes = [
            shapely.box(n.box[0], n.at[1], n.box[2], n.at[1] + n.lettering.rise) for n in numbers
        ]
        assert not any(a.intersects(b) for a, b in combinations(boxes, 2))
        for box, part in parts:
            # The edge of a wad at its base: each has a number where a good part of it is seen.
            if isinstance(part, Region) and part.style.name == "edge":
                seen = part.outline.polygon(0.05).intersection(shapely.box(*box))
                if seen.area > 250.0:
                    assert any(seen.intersects(number) for number in boxes)
            if isinstance(part, Lines) and len(part.spans) == 2 and part.style.name == "fine":
                cross = shapely.MultiLineString([list(span) for span in part.spans])
                near = [cross.distance(number) for number in boxes]
                least = min([least or 9.0, *near])
    assert least > 0.35


@pytest.mark.parametrize("name", VIEWS)
@pytest.mark.parametrize("square", [True, False])
def test_no_line_runs_through_a_number(name: str, square: bool) -> None:
    drawing = guide(name, square=square)
    rings = [
        i.outline.polygon(0.01).boundary for i in drawing.primitives() if isinstance(i, Region)
    ]
    circles = [
        shapely.Point(i.centre).buffer(i.radius, 256).boundary
        for i in drawing.primitives()
        if isinstance(i, Circle)
    ]
    spans = [
        shapely.LineString(span)
        for i in drawing.primitives()
        if isinstance(i, Lines)
        for span in i.spans
    ]
    drawn = shapely.union_all([*rings, *circles, *spans])
    for text in drawing.items:
        if isinstance(text, Text) and text.text.isdecimal():
            half = text.lettering.width(text.text) / 2
            (x, y), rise = text.at, text.lettering.rise
            assert not shapely.box(x - half, y, x + half, y + rise).intersects(drawn), text


@pytest.mark.parametrize("name", VIEWS)
def test_only_black_lines_on_white(name: str) -> None:
    for item in guide(name).primitives():
        if not isinstance(item, Text | Window):
            assert item.style.fill is None


def test_what_is_not_safe_is_said_on_the_sheet() -> None:
    shown = VIEWS["platter"]
    assert shown.verdict == "unsafe"
    for square in (True, False):
        drawing = guide("platter", square=square)
        words = " ".join(i.text for i in drawing.items if isinstance(i, Text))
        assert "The check says unsafe" in words


@pytest.mark.parametrize(("name", "sheets"), [("tea bowl", 1), ("wide ring", 4), ("platter", 12)])
def test_how_many_sheets(name: str, sheets: int) -> None:
    pages = tiled(name)
    guide = [page for page in pages if page.title.startswith("Setting guide")]
    assert len(guide) == sheets
    assert len(pages) == sheets + 1
    assert {(page.width, page.height) for page in pages} == {(EITHER.width, EITHER.height)}
    columns, rows = {1: (1, 1), 4: (2, 2), 12: (4, 3)}[sheets]
    if sheets > 1:
        assert pages[sheets - 1].title.endswith(
            f"row {rows} of {rows}, column {columns} of {columns}"
        )


@pytest.mark.parametrize("sheet", PAPERS)
@pytest.mark.parametrize("name", ["tea bowl", "round jar", "on its side", "many"])
def test_all_stays_on_the_sheet(name: str, sheet: str) -> None:
    shown = VIEWS[name]
    whole = guide(name, sheet)
    pages = setting_notes(shown, paper=PAPERS[sheet])
    for drawing in (whole, *pages):
        on_paper = (drawing.width, drawing.height) == (PAPERS[sheet].width, PAPERS[sheet].height)
        x0, y0, x1, y1 = PAPERS[sheet].box if on_paper else (0, 0, drawing.width, drawing.height)
        for item in drawing.primitives():
            match item:
                case Region(outline, _):
                    box = outline.bounds
                case Text():
                    box = item.box
                case _:
                    continue
            assert x0 - 0.01 <= box[0] and box[2] <= x1 + 0.01, item  # noqa: PT018
            assert y0 - 0.7 <= box[1] and box[3] <= y1 + 0.7, item  # noqa: PT018


def test_the_mark_is_mirrored() -> None:
    """An angle whose arms point right and up on the shelf shows them left and up on the pot."""
    shown = view(TRAY, "angle-40", [Spot(50, 40, 0), Spot(-55, 30, 90), Spot(-40, -60, 180)], "dry")
    (page,) = setting_notes(shown, paper=EITHER)
    marks = [i for i in page.items if isinstance(i, Region) and i.style.name == "solid white"]
    assert len(marks) == 3
    foot = next(i.outline for i in page.items if isinstance(i, Region) and i.style.name == "fine")
    x = (foot.bounds[0] + foot.bounds[2]) / 2
    y = (foot.bounds[1] + foot.bounds[3]) / 2
    scale = foot.size[0] / 180.0
    assert scale < 1.0
    faces = [
        shapely.union_all([spot.place(face).polygon(1e-4) for face in shown.piece.faces])
        for spot in shown.spots
    ]
    for face in faces:
        flipped = shapely.transform(face, lambda p: p * [-scale, scale] + [x, y])
        drawn = max(
            (mark.outline.polygon(1e-4) for mark in marks),
            key=lambda mark: mark.intersection(flipped).area,
        )
        assert drawn.symmetric_difference(flipped).area < 0.01 * flipped.area
        straight = shapely.transform(face, lambda p: p * [scale, scale] + [x, y])
        assert drawn.symmetric_difference(straight).area > 0.2 * straight.area


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("lid", "wet wads bed to the pot"),
        ("tea bowl", "dry wads stay hard"),
        ("on points", "each tip leaves a pale point"),
        ("on its side", "held in 2 places"),
    ],
)
def test_the_mark_in_words(name: str, says: str) -> None:
    page = setting_notes(VIEWS[name], paper=EITHER)[0]
    words = " ".join(i.text for i in page.items if isinstance(i, Text))
    assert says in words
    assert "common practice, without a source" in words
    assert "turned over sideways" in words


def test_the_table_tells_the_places() -> None:
    rows = table_rows(circle(4, 100.0, first=0.0))
    assert [row[1:] for row in rows] == [
        ("100.0", "0.0", "100.0", "0.0", "141.4"),
        ("0.0", "100.0", "100.0", "90.0", "141.4"),
        ("-100.0", "0.0", "100.0", "180.0", "141.4"),
        ("0.0", "-100.0", "100.0", "270.0", "141.4"),
    ]
    assert table_rows([Spot(0.0, 0.0)]) == [("1", "0.0", "0.0", "0.0", "0.0", "")]
    pages = setting_notes(VIEWS["many"], paper=EITHER)
    assert len(pages) > 1
    cells = [i.text for page in pages for i in page.items if isinstance(i, Text)]
    assert all(str(k) in cells for k in range(1, 65))


def test_rows_of_the_table_keep_off_the_rule_above_them() -> None:
    (page,) = setting_notes(VIEWS["tea bowl"], paper=EITHER)
    texts = [i for i in page.items if isinstance(i, Text)]
    title = next(t for t in texts if t.text == "next")
    rule = max(
        a[1]
        for i in page.items
        if isinstance(i, Lines)
        for a, b in i.spans
        if a[1] == b[1] < title.at[1] and a[0] < title.at[0] <= b[0] + 0.01
    )
    first = max(
        t.at[1] + t.lettering.rise for t in texts if t.at[0] == title.at[0] and t.at[1] < rule
    )
    assert title.at[1] - rule >= 1.0
    assert rule - first >= 1.0
    assert "next the distance to the next number" in " ".join(t.text for t in texts)


@pytest.mark.parametrize("name", ["wide ring", "platter"])
@pytest.mark.parametrize("sheet", PAPERS)
def test_one_sheet_has_all_of_the_verdict(name: str, sheet: str) -> None:
    whole = guide(name, sheet, square=False)
    said = [i.text for i in whole.items if isinstance(i, Text) and not i.text.isdecimal()]
    assert any(text.startswith(f"{len(VIEWS[name].spots)} × ") for text in said)
    seen = []
    for page in tiled(name, sheet)[:-1]:
        for window in (item for item in page.items if isinstance(item, Window)):
            for part in window.parts:
                if isinstance(part, Text):
                    x0, y0, x1, y1 = part.box
                    a, b, c, d = window.box
                    assert a <= x0 and b <= y0 and x1 <= c and y1 <= d, part.text  # noqa: PT018
                    seen.append(part.text)
    assert set(said) <= set(seen)


def test_a_printer_that_shrinks_is_made_up_for() -> None:
    plain, *_ = tiled("tea bowl")
    larger, *_ = guide_pages(
        VIEWS["tea bowl"], paper=EITHER, tiles=True, correction=Correction(97.0)
    )

    def widest(page: Drawing) -> float:
        holed = [i for i in page.primitives() if isinstance(i, Region) and i.outline.holes]
        return max(i.outline.size[0] for i in holed)

    assert widest(plain) == pytest.approx(50.0)
    assert widest(larger) * 0.97 == pytest.approx(50.0)
    words = " ".join(i.text for i in larger.items if isinstance(i, Text))
    assert "Corrected, × 1.0309: the square measured 97 mm." in words
