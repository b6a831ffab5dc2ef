"""Outlines on as many sheets as they take."""

from __future__ import annotations

import pytest
import reading
import shapely

from wadforms.catalogue import shapes
from wadforms.errors import BadInput, NotMakeable
from wadforms.families.base import Family
from wadforms.families.disk import Disk
from wadforms.families.rail import Rail
from wadforms.families.ring import Ring
from wadforms.templates.correction import Correction
from wadforms.templates.drawing import Region, Text, Window
from wadforms.templates.outline_pages import MOST_PAGES, outline_pages
from wadforms.templates.outline_sheet import most_outlines, outline_sheet
from wadforms.templates.paper import PAPERS
from wadforms.templates.svg import svg


def test_many_outlines_fill_sheet_after_sheet() -> None:
    piece = Disk(diameter=40).piece()
    made = outline_pages("disk-40", piece, count=30)
    drawn = []
    for page in made.pages:
        found = [
            path
            for path in reading.paths(svg(page))
            if reading.area(path) == pytest.approx(piece.outline.area, rel=5e-4)
        ]
        drawn.append(len(found))
    assert sum(drawn) == made.count == 30
    assert drawn[:-1] == [most_outlines("disk-40", piece, paper="either", count=30)] * 2
    said = [" ".join(i.text for i in p.items if isinstance(i, Text)) for p in made.pages]
    assert all(f"Sheet {k} of 3" in text for k, text in enumerate(said, 1))


@pytest.mark.parametrize("name", ["disk-63", "leaf-55", "ring-100", "rail-160", "stand-6-160"])
def test_the_most_is_what_fits(name: str) -> None:
    piece = shapes()[name].piece()
    most = most_outlines(name, piece, paper="a4", count=200)
    assert outline_sheet(name, piece, paper="a4", count=most).count == most
    with pytest.raises(NotMakeable):
        outline_sheet(name, piece, paper="a4", count=most + 1)


@pytest.mark.parametrize("piece", [Ring(diameter=300).piece(), Rail(length=300).piece()])
def test_one_large_outline_is_spread(piece) -> None:  # type: ignore[no-untyped-def]
    made = outline_pages("large", piece, shrinkage=0.05, facts=["To be set dry"])
    assert made.grid is not None
    assert len(made.pages) == made.grid.columns * made.grid.rows > 1
    assert made.area == pytest.approx(piece.outline.area / 0.95**2)
    for page in made.pages:
        for item in page.items:
            if isinstance(item, Window):
                for part in item.parts:
                    if isinstance(part, Region):
                        # The whole outline is there; the window shows its part of it.
                        assert part.outline.area == pytest.approx(made.area)
    words = [
        part.text
        for page in made.pages
        for item in page.items
        if isinstance(item, Window)
        for part in item.parts
        if isinstance(part, Text)
    ]
    assert any("set size × 1.0526" in text for text in words)
    assert "To be set dry" in words


def test_words_on_a_large_outline_cross_no_line() -> None:
    from wadforms.templates.outline_pages import _large

    for piece in (Ring(diameter=300).piece(), Rail(length=300).piece()):
        words = ["One line of words", "and one more"]
        drawing = _large("large", piece.outline, words, PAPERS["either"])
        (form,) = [i.outline for i in drawing.items if isinstance(i, Region)]
        edge = form.polygon().boundary
        for item in drawing.items:
            if isinstance(item, Text):
                assert edge.distance(shapely.box(*item.box)) > 0.5
                x0, y0, x1, y1 = item.box
                assert min(x0, y0) >= 0.0
                assert x1 <= drawing.width
                assert y1 <= drawing.height


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("piece", [Ring(diameter=300), Ring(diameter=390), Rail(length=320)])
def test_one_sheet_has_all_words_of_a_large_outline(piece: Family, paper: str) -> None:
    made = outline_pages("large", piece.piece(), paper=paper)
    told = []
    for page in made.pages:
        for window in page.items:
            if isinstance(window, Window):
                texts = [part for part in window.parts if isinstance(part, Text)]
                for text in texts:
                    x0, y0, x1, y1 = text.box
                    a, b, c, d = window.box
                    assert a <= x0 and b <= y0 and x1 <= c and y1 <= d  # noqa: PT018
                told += [text.text for text in texts]
    assert "Cut along the middle of the line" in told
    assert "large" in told


def test_several_large_ones_and_far_too_many_are_refused() -> None:
    with pytest.raises(NotMakeable, match="ask for one"):
        outline_pages("ring", Ring(diameter=300).piece(), count=2)
    most = most_outlines("disk-40", Disk(diameter=40).piece(), paper="either", count=99)
    with pytest.raises(NotMakeable, match=f"give {most * MOST_PAGES} at most"):
        outline_pages("disk-40", Disk(diameter=40).piece(), count=5000)


def test_bad_input_is_refused_as_on_one_sheet() -> None:
    with pytest.raises(BadInput, match="one outline or more"):
        outline_pages("disk", Disk().piece(), count=0)
    with pytest.raises(BadInput, match="paper"):
        outline_pages("disk", Disk().piece(), paper="foolscap")


@pytest.mark.parametrize("measured", [93.75, 97.0, 106.7])
def test_corrected_outlines_come_out_at_set_size(measured: float) -> None:
    piece = Disk(diameter=40).piece()
    made = outline_pages("disk", piece, count=3, paper="a4", correction=Correction(measured))
    (page,) = made.pages
    assert (page.width, page.height) == pytest.approx((PAPERS["a4"].width, PAPERS["a4"].height))
    printed = measured / 100
    sizes = [
        i.outline.size[0] * printed
        for i in page.items
        if isinstance(i, Region) and i.outline.size[0] * printed == pytest.approx(40.0)
    ]
    assert len(sizes) == 3
    assert made.area == pytest.approx(piece.outline.area)
