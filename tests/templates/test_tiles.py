"""Tiles: how many, that they join, and that joined they are the drawing again."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
import reading
from rendering import poppler

from wadforms.errors import NotMakeable
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.templates import look
from wadforms.templates.correction import Correction
from wadforms.templates.drawing import (
    Arc,
    Circle,
    Cross,
    Dimension,
    Drawing,
    Item,
    Lines,
    Region,
    Text,
    Window,
)
from wadforms.templates.paper import PAPERS, Paper
from wadforms.templates.pdf import pdf
from wadforms.templates.svg import svg
from wadforms.templates.tiles import MOST_SHEETS, OVERLAP, drawn_box, grid, tiled

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

EITHER = PAPERS["either"]
PER_MM = 4.0


def foot(diameter: float) -> Drawing:
    """A foot ring with wads, every kind of line and some words, as wide as high."""
    middle, radius = diameter / 2, diameter / 2 - 14.0
    ring = (
        Contour.circle(radius + 6, (middle, middle)),
        Contour.circle(radius - 6, (middle, middle)),
    )
    items: list[Item] = [Region(Outline(ring[0], (ring[1],)), look.FOOT)]
    for k in range(12):
        angle = math.radians(30 * k + 7)
        at = (middle + radius * math.cos(angle), middle + radius * math.sin(angle))
        items.append(Circle(at, 12.0, look.CUT))
        items.append(Cross(at, 5.0, look.FINE))
    items.append(Arc((middle, middle), radius / 2, 20, 290, look.DASHED))
    items.append(
        Lines((((middle, 0), (middle, diameter)), ((0, middle), (diameter, middle))), look.CENTRE)
    )
    items.append(
        Dimension(
            (middle, middle), (middle + radius, middle), 8, "radius", look.MEASURE, look.SMALL
        )
    )
    items.append(Text((middle, middle - radius / 3), "Middle of a wide foot", look.BODY, "middle"))
    return Drawing(
        title="Wide foot",
        description="A foot.",
        width=diameter,
        height=diameter,
        items=tuple(items),
    )


@pytest.mark.parametrize(
    ("width", "height", "sheets"),
    [
        (190, 231, (1, 1)),
        (191, 231, (2, 1)),
        (250, 200, (2, 1)),
        (250, 280, (2, 2)),
        (360, 360, (2, 2)),
        (365, 447, (2, 2)),
        (365.1, 447.1, (3, 3)),
        (600, 600, (4, 3)),
    ],
)
def test_how_many(width: float, height: float, sheets: tuple[int, int]) -> None:
    # A sheet shows 190 × 231 mm, a strip of 28 mm less than can be printed on; n sheets of b with
    # 15 mm overlap show n·b − (n − 1)·15: 190, 365, 540, 715; 231, 447, 663.
    found = grid(width, height, paper=EITHER)
    assert (found.columns, found.rows) == sheets
    assert found.size[0] >= width - 1e-9
    assert found.size[1] >= height - 1e-9


def joined(pages: list[NDArray[np.uint8]], diameter: float, paper: Paper) -> NDArray[np.uint8]:
    """The pages laid over each other where their boxes say, the darkest of each place."""
    import numpy as np

    found = grid(diameter, diameter, paper=paper)
    wide, high = (round(side * PER_MM) for side in found.size)
    whole = np.full((high, wide), 255, dtype=np.uint8)
    x0, _, _, y1 = paper.box
    left, top = round(x0 * PER_MM), round((paper.height - y1) * PER_MM)
    across, down = round(found.width * PER_MM), round(found.height * PER_MM)
    for k, page in enumerate(pages):
        row, column = divmod(k, found.columns)
        x = round(column * (found.width - OVERLAP) * PER_MM)
        y = round(row * (found.height - OVERLAP) * PER_MM)
        part = page[top : top + down, left : left + across]
        there = whole[y : y + part.shape[0], x : x + part.shape[1]]
        np.minimum(there, part[: there.shape[0], : there.shape[1]], out=there)
    return whole


def near(dark: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """All pixels within one of a dark one."""
    import numpy as np

    padded = np.pad(dark, 1)
    rows, columns = dark.shape
    shifts = [(i, j) for i in range(3) for j in range(3)]
    shifted = [padded[i : i + rows, j : j + columns] for i, j in shifts]
    found: NDArray[np.bool_] = np.any(shifted, axis=0)
    return found


@pytest.mark.parametrize(("diameter", "columns", "rows"), [(360.0, 2, 2), (600.0, 4, 3)])
@pytest.mark.parametrize("renderer", ["cairo", "poppler"])
def test_joined_they_are_the_drawing(
    diameter: float, columns: int, rows: int, renderer: str, tmp_path: Path
) -> None:
    import numpy as np

    # A box whose corners fall on whole pixels, as large as the usual one.
    paper = Paper("test", 210.0, 279.0, (10.0, 10.0, 200.0, 269.0))
    drawing = foot(diameter)
    pages = tiled(drawing, paper=paper)
    assert len(pages) == columns * rows
    content = [replace(p, items=tuple(i for i in p.items if isinstance(i, Window))) for p in pages]
    size = grid(diameter, diameter, paper=paper).size
    move = ((size[0] - diameter) / 2, (size[1] - diameter) / 2)
    assert all(float(m * PER_MM).is_integer() for m in move)

    def drawn(sheets: list[Drawing]) -> list[NDArray[np.uint8]]:
        if renderer == "cairo":
            return [reading.pixels(svg(sheet), PER_MM) for sheet in sheets]
        return poppler(pdf(sheets), PER_MM, tmp_path)

    (alone,) = drawn([drawing])
    reference = np.full((round(size[1] * PER_MM), round(size[0] * PER_MM)), 255, dtype=np.uint8)
    y = reference.shape[0] - round(move[1] * PER_MM) - alone.shape[0]
    x = round(move[0] * PER_MM)
    reference[y : y + alone.shape[0], x : x + alone.shape[1]] = alone
    # Without what the sheets add, they are the drawing, to the greys of a line's edges; of ten
    # thousands of pixels one or two may fall otherwise where a sheet ends.  A line that was
    # lost, or moved by half a millimetre, would be hundreds.
    assembled = joined(drawn(content), diameter, paper)
    missing = (reference < 150) & ~near(assembled < 230)
    added = (assembled < 150) & ~near(reference < 230)
    assert (reference < 150).sum() > 5000
    assert missing.sum() <= 3
    assert added.sum() <= 3
    # With it, nothing of the drawing is hidden.
    full = joined(drawn(list(pages)), diameter, paper)
    assert ((reference < 150) & ~near(full < 230)).sum() <= 3


def squares(page: Drawing) -> list[Region]:
    found = []
    for item in page.primitives():
        if isinstance(item, Region):
            x0, y0, x1, y1 = item.outline.bounds
            if (x1 - x0, y1 - y0) == pytest.approx((100.0, 100.0)):
                found.append(item)
    return found


def words(page: Drawing) -> list[str]:
    return [item.text for item in page.items if isinstance(item, Text)]


@pytest.mark.parametrize("paper", PAPERS)
def test_every_sheet_has_its_square_line_place_and_map(paper: str) -> None:
    sheet = PAPERS[paper]
    pages = tiled(foot(600), paper=sheet)
    found = grid(600, 600, paper=sheet)
    for k, page in enumerate(pages):
        row, column = divmod(k, found.columns)
        assert (page.width, page.height) == (sheet.width, sheet.height)
        (square,) = squares(page)
        paths = reading.paths(svg(page))
        # 4 in = 101.6 mm (international inch)
        assert [p for p in paths if reading.size(p)[0] == pytest.approx(101.6, abs=1e-3)]
        texts = words(page)
        where = f"Row {row + 1} of {found.rows}, column {column + 1} of {found.columns}"
        assert any(text.startswith(where) for text in texts)
        assert "Wide foot" in texts
        assert "4 in" in texts
        assert any("100 %" in text for text in texts)
        marked = [i for i in page.items if isinstance(i, Region) and i.style.name == "here"]
        cells = [i for i in page.items if isinstance(i, Region) and i.style == look.HAIR]
        assert len(marked) == 1
        assert len(cells) == found.rows * found.columns  # the other cells, and the frame
        x0, y0, x1, y1 = square.outline.bounds
        assert sheet.box[0] <= x0
        assert x1 <= sheet.box[2]
        assert sheet.box[1] <= y0
        assert y1 <= sheet.box[3]


def test_neighbours_share_their_crosses() -> None:
    pages = tiled(foot(360), paper=EITHER)
    found = grid(360, 360, paper=EITHER)
    seen: dict[tuple[float, float], int] = {}
    for k, page in enumerate(pages):
        left, low = found.corner(*divmod(k, found.columns))
        for item in page.items:
            if isinstance(item, Cross):
                x = round(item.centre[0] - drawn_box(EITHER)[0] + left, 6)
                y = round(item.centre[1] - drawn_box(EITHER)[1] + low, 6)
                seen[x, y] = seen.get((x, y), 0) + 1
    # Two strips: three crosses on each, of which they share the middle one, which is on all sheets.
    assert sorted(seen.values()) == [2, 2, 2, 2, 4]
    assert (182.5, 223.5) in seen  # 190 − 15/2, 231 − 15/2


def test_square_keeps_clear_where_there_is_room() -> None:
    import shapely

    for page in tiled(foot(360), paper=EITHER):
        (square,) = squares(page)
        form = square.outline.polygon()
        for item in page.primitives():
            if isinstance(item, Window):
                for part in item.parts:
                    if isinstance(part, Circle):
                        wad = shapely.Point(*part.centre).buffer(part.radius)
                        assert not form.intersects(wad)


def test_the_square_is_no_line_to_cut_along() -> None:
    page = tiled(foot(600), paper=EITHER)[5]  # in the middle of the ring, where there is room
    (square,) = squares(page)
    assert square.style.dash
    assert square.style != look.CUT
    assert "100 mm: to measure, not to cut" in words(page)
    # Its corners are whole lines, so that a ruler finds them: 100 mm apart each way.
    x0, y0, x1, y1 = square.outline.bounds
    (solid,) = [i for i in page.items if isinstance(i, Lines) and len(i.spans) == 8]
    assert not solid.style.dash
    ends = {end for span in solid.spans for end in span}
    assert {(x0, y0), (x1, y0), (x1, y1), (x0, y1)} <= ends


def test_crosses_keep_off_ticks_and_are_ringed() -> None:
    tick = Lines((((182.5, 6.0), (182.5, 440.0)), ((178.5, 6.0), (186.5, 6.0))), look.EDGE)
    wide = Drawing(title="", description="", width=365, height=447, items=(tick,))
    for page in tiled(wide, paper=EITHER):
        parts = [part for item in page.items if isinstance(item, Window) for part in item.parts]
        ticks = [b for p in parts if isinstance(p, Lines) for b in p.spans if b[0][1] == b[1][1]]
        crosses = [item for item in page.items if isinstance(item, Cross)]
        rings = {i.centre for i in page.items if isinstance(i, Circle) and i.radius == 3.0}
        assert {cross.centre for cross in crosses} == rings
        for (x0, y), (x1, _) in ticks:
            for cross in crosses:
                assert abs(cross.centre[1] - y) > 6.0 or not x0 - 6 < cross.centre[0] < x1 + 6


def test_each_sheet_tells_how_it_is_laid_on_the_others() -> None:
    pages = tiled(foot(360), paper=EITHER)
    told = [next(w for w in words(page) if "cross" in w) for page in pages]
    assert told[0].startswith("Lies lowest: cut nothing off")
    assert ["left" in told[k] for k in (1, 2, 3)] == [True, False, True]
    assert ["upper" in told[k] for k in (1, 2, 3)] == [False, True, True]


def test_what_fits_one_sheet_stays_on_one() -> None:
    (page,) = tiled(foot(180), paper=EITHER)
    assert page.title == "Wide foot"
    assert len(squares(page)) == 1
    assert not [item for item in page.items if isinstance(item, Cross)]


def test_an_empty_drawing_has_its_square() -> None:
    empty = Drawing(title="", description="", width=100, height=100, items=())
    (page,) = tiled(empty, paper=EITHER)
    assert len(squares(page)) == 1


def test_a_window_in_a_drawing_stays_cut() -> None:
    wide = Circle((150, 150), 100, look.CUT)
    window = Drawing(
        title="", description="", width=300, height=300, items=(Window((0, 0, 150, 300), (wide,)),)
    )
    pages = tiled(window, paper=EITHER)
    boxes = [item.box for page in pages for item in page.items if isinstance(item, Window)]
    assert boxes
    assert all(x1 - x0 <= 150 for x0, _, x1, _ in boxes)


def test_corrected_tiles_show_less_and_are_larger() -> None:
    plain = grid(360, 360, paper=EITHER)
    pages = tiled(foot(360), paper=EITHER, correction=Correction(97.0))
    # The sheet shows 210·0.97 − 20 = 183.7 mm across, so two of them 352.4: one more is needed.
    assert len(pages) > plain.columns * plain.rows
    assert all(page.width == pytest.approx(210.0) for page in pages)
    sides = [
        p.outline.size for p in pages[0].items if isinstance(p, Region) and p.style.name == "proof"
    ]
    assert sides == [pytest.approx((100 / 0.97, 100 / 0.97))]


def test_too_many_sheets_are_refused() -> None:
    huge = Drawing(title="", description="", width=2000, height=2600, items=())
    with pytest.raises(NotMakeable, match=rf"more than {MOST_SHEETS}"):
        tiled(huge, paper=EITHER)


@pytest.mark.parametrize("measured", [None, 62.0, 97.0, 133.0])
@pytest.mark.parametrize("diameter", [360.0, 600.0])
def test_words_lie_over_nothing(diameter: float, measured: float | None) -> None:
    import shapely

    correction = None if measured is None else Correction(measured)
    for page in tiled(foot(diameter), paper=EITHER, correction=correction):
        parts = [part for i in page.items if isinstance(i, Window) for part in i.parts]
        edges = [
            shapely.box(*item.outline.bounds).boundary
            for item in page.primitives()
            if isinstance(item, Region) and item.style.name in ("proof", "here", "hair")
        ]
        lines = [shapely.LineString(s) for p in parts if isinstance(p, Lines) for s in p.spans]
        rings = [o.polygon().boundary for p in parts if isinstance(p, Region) for o in [p.outline]]
        drawn = shapely.union_all([*edges, *lines, *rings])
        window = shapely.union_all(
            [shapely.box(*i.box) for i in page.items if isinstance(i, Window)]
        )
        drawn = shapely.union(drawn.intersection(window.buffer(0.1)), shapely.union_all(edges))
        told = [item for item in page.items if isinstance(item, Text)]
        assert len(told) >= 6
        for k, text in enumerate(told):
            box = shapely.box(*text.box)
            assert not box.buffer(-0.2).intersects(drawn), text
            assert shapely.box(0, 0, page.width, page.height).contains(box)
            for other in told[:k]:
                assert box.intersection(shapely.box(*other.box)).area < 0.3 * box.area, text


def test_half_a_number_is_left_to_the_sheet_that_has_all_of_it() -> None:
    # The first sheet ends 190 mm, the second begins 175 mm from the left.
    words = (
        Text((186, 100), "16", look.STRONG),  # cut by the edge of the first, whole on the second
        Text((172, 60), "17", look.STRONG),  # the other way round
        Text((150, 30), "longer than sheets overlap, so that both have a part", look.STRONG),
    )
    wide = Drawing(title="", description="", width=365, height=231, items=words)
    seen = []
    for page in tiled(wide, paper=EITHER):
        parts = [part for item in page.items if isinstance(item, Window) for part in item.parts]
        seen.append([part.text[:2] for part in parts if isinstance(part, Text)])
    assert seen == [["17", "lo"], ["16", "lo"]]
