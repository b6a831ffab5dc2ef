"""A printer that is not true: why, and what makes up for it."""

from __future__ import annotations

import math

import pytest

from wadforms.errors import BadInput, NotMakeable
from wadforms.templates import proof
from wadforms.templates.correction import Correction
from wadforms.templates.drawing import Region, Text
from wadforms.templates.paper import PAPERS
from wadforms.templates.proof_page import proof_page


@pytest.mark.parametrize(
    ("measured", "cause"),
    [
        # Common practice, no source; the figures are arithmetic of units to the inch.
        (97.0, "fit to page"),
        (100 * 90 / 96, "90 units to the inch for 96"),
        (100 * 72 / 96, "72 units to the inch for 96"),
        (100 * 96 / 90, "96 units to the inch for 90"),
        (100 * 96 / 72, "96 units to the inch for 72"),
        (100 * 279.4 / 297, "A4 page fitted to Letter"),  # ISO 216 and ANSI/ASME Y14.1
        (100.0, "true"),
        (99.8, "true"),
        (60.0, "none of the usual"),
        (112.0, "none of the usual"),
    ],
)
def test_likely_causes(measured: float, cause: str) -> None:
    found = Correction(measured)
    assert cause in found.cause
    # What a ruler cannot tell from 100 mm is not corrected.
    assert found.factor * (100.0 if cause == "true" else measured) == pytest.approx(100.0)


@pytest.mark.parametrize("measured", [0.0, -97.0, 49.9, 200.1, math.nan, math.inf])
def test_no_print_measures_that(measured: float) -> None:
    with pytest.raises(BadInput, match="give 50 mm to 200 mm"):
        Correction(measured)


@pytest.mark.parametrize("measured", [50.0, 57.0, 145.0, 200.0])
def test_where_the_square_has_no_room_it_is_said(measured: float) -> None:
    with pytest.raises(NotMakeable, match="set it to 100 %"):
        proof_page(correction=Correction(measured))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("measured", [75.0, 93.75, 97.0, 100.0, 106.7, 133.3])
def test_box_is_on_the_paper_wherever_the_page_is_put(measured: float, paper: str) -> None:
    """The page goes to a corner of the paper, or to its middle."""
    sheet = PAPERS[paper]
    shown = Correction(measured).paper(sheet)
    assert shown.width / sheet.width == pytest.approx(measured / 100)
    for share in (0.0, 0.5, 1.0):
        for k, side in ((0, sheet.width), (1, sheet.height)):
            shift = share * (side - (shown.width, shown.height)[k])
            low, high = shown.box[k] + shift, shown.box[k + 2] + shift
            assert low >= sheet.box[k] - 1e-9
            assert high <= sheet.box[k + 2] + 1e-9


@pytest.mark.parametrize("measured", [75.0, 93.75, 97.0, 106.7])
def test_the_square_and_all_words_are_drawn_corrected(measured: float) -> None:
    page = proof_page(paper="a4", correction=Correction(measured))
    assert (page.width, page.height) == pytest.approx((210.0, 297.0))
    sides = [item.outline.size[0] for item in page.primitives() if isinstance(item, Region)]
    assert sides == [pytest.approx(100.0 * 100.0 / measured)]
    texts = [item for item in page.primitives() if isinstance(item, Text)]
    said = " ".join(item.text for item in texts)
    assert f"the square measured {measured:g} mm" in said
    assert "Print just as before" in said
    assert "Print at 100 %, no scaling" not in said
    assert min(item.lettering.size for item in texts) * measured / 100 == pytest.approx(3.0)


@pytest.mark.parametrize("paper", PAPERS)
def test_words_of_the_test_page_lie_clear_of_the_square(paper: str) -> None:
    page = proof_page(paper=paper)
    x0, y0, x1, y1 = PAPERS[paper].box
    above = []
    for item in page.primitives():
        if isinstance(item, Text):
            left, low, right, high = item.box
            assert x0 <= left
            assert right <= x1
            assert y0 <= low
            assert high <= y1
            above += [low] if low > y0 + proof.HEIGHT else []
    said = " ".join(i.text for i in page.primitives() if isinstance(i, Text))
    assert len(above) > 8
    assert "--square-measured" in said
    assert "fit to page" in said
