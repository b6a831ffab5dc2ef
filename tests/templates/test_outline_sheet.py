"""The outline sheet: true to scale, and nothing on top of anything else."""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import Any

import pytest
import reading
import shapely

from wadforms.catalogue import shapes
from wadforms.errors import BadInput, NotMakeable
from wadforms.families.base import Piece
from wadforms.families.disk import Disk
from wadforms.families.ring import Ring
from wadforms.templates import proof
from wadforms.templates.drawing import Drawing, Lines, Region, Text
from wadforms.templates.outline_sheet import outline_sheet
from wadforms.templates.paper import PAPERS
from wadforms.templates.svg import svg

NAMED = shapes()


def disk(diameter: float = 20.0) -> Piece:
    return Disk(diameter=diameter).piece()


def squares(data: bytes) -> list[Any]:
    found = reading.paths(data)
    return [p for p in found if reading.size(p) == pytest.approx((100.0, 100.0), abs=1e-3)]


def regions(drawing: Drawing) -> list[Any]:
    return [i.outline.polygon() for i in drawing.primitives() if isinstance(i, Region)]


@pytest.mark.parametrize("paper", PAPERS)
def test_square_and_line_read_back(paper: str) -> None:
    data = svg(outline_sheet("disk-20", disk(), paper=paper).drawing)
    (square,) = squares(data)
    assert reading.area(square) == pytest.approx(10_000.0, rel=1e-5)  # its scale has six digits
    # 4 in = 101.6 mm (international inch)
    assert [p for p in reading.paths(data) if reading.size(p)[0] == pytest.approx(101.6, abs=1e-3)]


@pytest.mark.parametrize("paper", PAPERS)
def test_square_in_pixels(paper: str) -> None:
    per_mm = 12.0
    sheet = PAPERS[paper]
    drawn = reading.pixels(svg(outline_sheet("disk-20", disk(), paper=paper).drawing), per_mm)
    assert drawn.shape == pytest.approx((sheet.height * per_mm, sheet.width * per_mm), abs=1)
    left, bottom = sheet.box[0], sheet.box[1] + proof.HEIGHT - proof.SQUARE
    row = drawn[round((sheet.height - bottom - 20.0) * per_mm)]
    x0, x1 = reading.strokes(row, per_mm)
    assert x1 - x0 == pytest.approx(100.0, abs=0.1)
    column = drawn[:, round((left + 3.0) * per_mm)]
    high, low, _ = reading.strokes(column, per_mm)
    assert low - high == pytest.approx(100.0, abs=0.1)


def test_sheet_sizes() -> None:
    # ISO 216: A4 is 210 × 297 mm.  ANSI/ASME Y14.1: size A is 8.5 × 11 in.
    assert (PAPERS["a4"].width, PAPERS["a4"].height) == (210, 297)
    assert (PAPERS["letter"].width, PAPERS["letter"].height) == pytest.approx((215.9, 279.4))
    x0, y0, x1, y1 = PAPERS["either"].box
    assert (x1 - x0, y1 - y0) == pytest.approx((190.0, 259.0))
    assert PAPERS["either"].width <= min(PAPERS["a4"].width, PAPERS["letter"].width)
    assert PAPERS["either"].height <= min(PAPERS["a4"].height, PAPERS["letter"].height)


@pytest.mark.parametrize("name", NAMED)
def test_every_named_shape(name: str) -> None:
    piece = NAMED[name].piece()
    sheet = outline_sheet(name, piece)
    assert sheet.area == pytest.approx(piece.outline.area, rel=1e-12)
    matching = [
        path
        for path in reading.paths(svg(sheet.drawing))
        if reading.area(path) == pytest.approx(piece.outline.area, rel=5e-4)
    ]
    assert len(matching) == 1
    keeps_apart(sheet.drawing, PAPERS["either"].box)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(
    ("name", "count", "shrinkage"),
    [
        ("disk-5", 12, None),
        ("disk-20", 14, 0.06),
        ("disk-40", 12, 0.065),
        ("leaf-55", 6, 0.121),
        ("tripod-80", 2, 0.05),
        ("ring-63", 4, None),
        ("rail-160", 3, 0.06),
        ("wave-72", 5, None),
        ("stand-6-160", 1, None),
    ],
)
def test_several_outlines(name: str, count: int, shrinkage: float | None, paper: str) -> None:
    piece = NAMED[name].piece()
    sheet = outline_sheet(name, piece, count=count, shrinkage=shrinkage, paper=paper)
    factor = 1.0 / (1.0 - (shrinkage or 0.0))  # ASTM C326: S_d = (L_wet − L_dry)/L_wet
    assert sheet.factor == pytest.approx(factor)
    matching = [
        path
        for path in reading.paths(svg(sheet.drawing))
        if reading.area(path) == pytest.approx(piece.outline.area * factor**2, rel=5e-4)
    ]
    assert len(matching) == count
    keeps_apart(sheet.drawing, PAPERS[paper].box)


def keeps_apart(drawing: Drawing, box: tuple[float, float, float, float]) -> None:
    """Outlines, square, labels and cross marks lie clear of each other, within the box."""
    forms = regions(drawing)
    paper = shapely.box(*box).buffer(0.01)  # a flattened arc strays by up to 0.005 mm
    square = next(f for f in forms if f.bounds[2] - f.bounds[0] == pytest.approx(100.0))
    words = [shapely.box(*i.box) for i in drawing.primitives() if isinstance(i, Text)]
    for a, b in combinations(forms, 2):
        assert a.distance(b) > 1.0
    for word in words:
        assert paper.contains(word)
        for form in forms:
            assert form.boundary.distance(word) > 0.5
    for a, b in combinations(words, 2):
        assert not a.intersects(b)
    for item in drawing.primitives():
        if isinstance(item, Lines):
            lines = shapely.MultiLineString([list(span) for span in item.spans])
            assert paper.contains(lines)
            assert not lines.intersects(square)
    assert all(paper.contains(form) for form in forms)


@pytest.mark.parametrize(("name", "count"), [("leaf-55", 6), ("disk-31", 9), ("rail-63", 5)])
def test_copies_are_numbered_as_one_reads(name: str, count: int) -> None:
    drawing = outline_sheet(name, NAMED[name].piece(), count=count).drawing
    label = f" of {count}"
    told = [i for i in drawing.items if isinstance(i, Text) and i.text.endswith(label)]
    numbers = {int(i.text.removesuffix(label).rpartition(" ")[2]): i.at for i in told}
    assert sorted(numbers) == list(range(1, count + 1))
    places = [numbers[k] for k in sorted(numbers)]
    for (x0, y0), (x1, y1) in pairwise(places):
        # The next stands in the same row and further right, or in a lower row.
        assert (x1 > x0 and abs(y1 - y0) < 20.0) or y1 < y0 - 5.0


def test_says_what_it_is() -> None:
    drawing = outline_sheet("leaf", NAMED["leaf-55"].piece(), shrinkage=0.06).drawing
    words = " ".join(i.text for i in drawing.primitives() if isinstance(i, Text))
    wide, deep = NAMED["leaf-55"].piece().outline.size
    assert f"{wide / 0.94:.1f}" in words
    assert f"{deep / 0.94:.1f}" in words
    assert "set size × 1.0638, which is 1/(1 − 6 %)" in words  # 1/0.94 = 1.06383
    assert "Print at 100 %, no scaling" in words
    assert "4 in" in words


def test_too_large_names_the_largest_that_fits() -> None:
    too_large = Ring(diameter=190).piece()
    with pytest.raises(NotMakeable) as refusal:
        outline_sheet("ring-190", too_large)
    largest = float(str(refusal.value).split("Ø ")[-1].split()[0])
    assert 100 < largest < 190
    # What it names does fit, and 2 % more does not.
    fits = too_large.scaled((largest - 0.1) / 190)
    assert outline_sheet("ring", fits).count == 1
    with pytest.raises(NotMakeable):
        outline_sheet("ring", too_large.scaled(largest * 1.02 / 190))


def test_too_many_names_how_many_fit() -> None:
    with pytest.raises(NotMakeable, match=r"do not fit one sheet") as refusal:
        outline_sheet("disk-40", disk(40), count=60)
    most = int(str(refusal.value).split("; ")[1].split()[0])
    assert outline_sheet("disk-40", disk(40), count=most).count == most
    with pytest.raises(NotMakeable):
        outline_sheet("disk-40", disk(40), count=most + 1)


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ({"count": 0}, "one outline or more"),
        ({"shrinkage": 0.5}, "less than 50 %"),
        ({"shrinkage": float("nan")}, "less than 50 %"),
        ({"shrinkage": -0.01}, "less than 50 %"),
        ({"paper": "foolscap"}, "paper"),
    ],
)
def test_bad_input(arguments: dict[str, Any], message: str) -> None:
    with pytest.raises(BadInput, match=message):
        outline_sheet("disk-20", disk(), **arguments)
