"""Copies of any outline on a rectangle: apart, inside, as many as asked, however it is drawn."""

from __future__ import annotations

import math
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from nest_proofs import NAMES, bar, faults, named, wavy

from wadforms.errors import BadInput
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.nesting import compact, fit_turn, largest_factor, nest
from wadforms.nesting.taste import spread

outlines = st.one_of(
    st.sampled_from(NAMES).map(named),
    st.builds(wavy, st.integers(5, 120), st.floats(6.0, 30.0)),
    st.builds(bar, st.floats(5.0, 60.0), st.floats(5.0, 30.0)),
)
gaps = st.one_of(st.just(0.0), st.floats(0.4, 6.0))
sides = st.floats(20.0, 180.0)


@settings(max_examples=12)
@given(outline=outlines, gap=gaps, width=sides, height=sides)
def test_copies_are_inside_and_apart(
    outline: Outline, gap: float, width: float, height: float
) -> None:
    found = nest(outline, gap=gap, width=width, height=height)
    assert not faults(outline, found, gap=gap, width=width, height=height)
    assert found.width <= width + 1e-6
    assert found.height <= height + 1e-6
    assert bool(found.spots) == (fit_turn(outline, width=width, height=height) is not None)
    assert len(found.spots) * outline.area <= width * height * (1 + 1e-9)


@settings(max_examples=8)
@given(outline=outlines, gap=gaps, count=st.integers(1, 24))
def test_a_compact_block(outline: Outline, gap: float, count: int) -> None:
    block = compact(outline, gap=gap, count=count)
    assert len(block.spots) == count
    assert not faults(outline, block, gap=gap, width=block.width, height=block.height)
    assert compact(outline, gap=gap, count=count) == block
    # Plain rows at turn 0 are among what is tried.
    w, h = outline.size
    plain = []
    for across in range(1, count + 1):
        size = [n * (s + gap) - gap for n, s in ((across, w), (math.ceil(count / across), h))]
        plain.append(size[0] * size[1] * (max(size) / min(size)) ** (1 / 6))
    longer = max(block.width / block.height, block.height / block.width)
    assert block.width * block.height * longer ** (1 / 6) <= min(plain) * (1 + 1e-6)


@settings(max_examples=8)
@given(outline=outlines, gap=gaps, count=st.integers(1, 30))
def test_the_count_is_kept(outline: Outline, gap: float, count: int) -> None:
    every = nest(outline, gap=gap, width=150.0, height=150.0)
    some = nest(outline, gap=gap, width=150.0, height=150.0, count=count)
    assert len(some.spots) == min(count, len(every.spots))
    assert not faults(outline, some, gap=gap, width=150.0, height=150.0)


@settings(max_examples=8)
@given(outline=outlines, gap=gaps, width=sides, height=sides, more=st.floats(0.0, 60.0))
def test_a_larger_rectangle_hardly_takes_fewer(
    outline: Outline, gap: float, width: float, height: float, more: float
) -> None:
    # Rows are tried from a table of turns and shifts, and spread to the edge: the best of the
    # smaller rectangle need not be among those of the larger one, so 5 % is allowed.
    least = len(nest(outline, gap=gap, width=width, height=height).spots)
    larger = len(nest(outline, gap=gap, width=width + more, height=height).spots)
    assert larger >= least - max(1, round(0.05 * least))


@settings(max_examples=8)
@given(
    outline=outlines, gap=gaps, dx=st.floats(-200, 200), dy=st.floats(-200, 200), width=sides,
    height=sides, mirrored=st.booleans(), turns=st.integers(0, 3),
)  # fmt: skip
def test_where_and_how_it_is_drawn_makes_no_odds(
    outline: Outline, gap: float, dx: float, dy: float, width: float, height: float,
    mirrored: bool, turns: int,
) -> None:  # fmt: skip
    before = len(nest(outline, gap=gap, width=width, height=height).spots)
    changed = outline.mirrored() if mirrored else outline
    changed = changed.turned(90.0 * turns).moved(dx, dy)
    found = nest(changed, gap=gap, width=width, height=height)
    assert not faults(changed, found, gap=gap, width=width, height=height)
    # Grown outlines are thinned within a tolerance, which may fall to either side of a fit.
    assert abs(len(found.spots) - before) <= max(1, round(0.05 * before))


def test_bars_that_fill_a_rectangle_exactly() -> None:
    for gap in (0.0, 2.5):
        width, height = 4 * 30.0 + 3 * gap, 7 * 10.0 + 6 * gap
        found = nest(bar(30.0, 10.0), gap=gap, width=width, height=height)
        assert len(found.spots) == 28
        upright = nest(bar(30.0, 10.0), gap=gap, width=height, height=width)
        assert len(upright.spots) == 28


def test_a_strip_left_over_is_filled_with_turned_ones() -> None:
    """Seven bars stand, two lie above them; lying ones alone are eight, standing ones seven."""
    found = nest(bar(30.0, 10.0), gap=0.0, width=70.0, height=40.0)
    assert len(found.spots) == 9
    assert {round(s.turn) % 180 for s in found.spots} == {0, 90}


def test_triangles_alternate() -> None:
    """Right triangles of 30 and 20 mm, in pairs, tile rectangles; all the same way only half."""
    triangle = Outline(Contour.polygon([(0, 0), (30, 0), (0, 20)]))
    found = nest(triangle, gap=0.0, width=90.0, height=80.0)
    assert found.how == "rows turned by halves"
    assert len(found.spots) == 24
    assert len(found.spots) * triangle.area == pytest.approx(90.0 * 80.0)


LEAST = [
    # A bed of 180, 220 or 256 mm less 5 mm at each edge, and the board's own border of 3 mm.
    (170.0, 8),
    (210.0, 15),
    (246.0, 18),
]


@pytest.mark.parametrize(("board", "least"), LEAST)
def test_leaf_boards(board: float, least: int) -> None:
    """A leaf of 55 × 28 mm, wet 12.1 % larger, 5° of draft over 8.8 mm, walls of 3 mm."""
    bulge = 14.0 / 27.5
    leaf = Outline(Contour(((-27.5, 0.0), (27.5, 0.0)), (bulge, bulge))).scaled(1 / (1 - 0.121))
    assert leaf.size == pytest.approx((62.6, 31.9), abs=0.05)
    mouth = leaf.offset(8.8 * math.tan(math.radians(5.0)))
    side = board - 6.0
    # By boxes alone, three columns: what was counted by hand.
    w, h = mouth.size
    by_boxes = math.floor((side + 3.0) / (w + 3.0)) * math.floor((side + 3.0) / (h + 3.0))
    assert by_boxes >= least
    for width, height in ((side, side), (side - 12.0, side), (side, side - 12.0)):
        found = nest(mouth, gap=3.0, width=width, height=height)
        assert not faults(mouth, found, gap=3.0, width=width, height=height)
        assert len(found.spots) >= least


class TestFitting:
    """Whether one copy fits, and how."""

    def test_a_bar_across_a_square(self) -> None:
        """A thin bar lies along the diagonal: its ends cost half its width each."""
        side, width = 100.0, 6.0
        longest = side * math.sqrt(2.0) - width
        assert fit_turn(bar(longest - 0.01, width), width=side, height=side) == pytest.approx(
            45.0, abs=0.2
        ) or fit_turn(bar(longest - 0.01, width), width=side, height=side) == pytest.approx(
            135.0, abs=0.2
        )
        assert fit_turn(bar(longest + 0.01, width), width=side, height=side) is None

    @settings(max_examples=8)
    @given(outline=outlines, width=sides, height=sides)
    def test_scaled_by_the_largest_factor_it_just_fits(
        self, outline: Outline, width: float, height: float
    ) -> None:
        factor = largest_factor(outline, width=width, height=height)
        for scale, fits in ((1 - 1e-6, True), (1 + 1e-3, False)):
            turn = fit_turn(outline.scaled(factor * scale), width=width, height=height)
            assert (turn is not None) == fits
            if turn is not None:
                w, h = outline.scaled(factor * scale).turned(turn).size
                assert w <= width * (1 + 1e-9)
                assert h <= height * (1 + 1e-9)

    def test_a_circle_fits_by_its_diameter(self) -> None:
        assert largest_factor(Outline.circle(10.0), width=30.0, height=50.0) == pytest.approx(1.5)

    def test_a_piece_that_only_fits_slantwise_is_laid_so(self) -> None:
        found = nest(bar(130.0, 5.0), gap=3.0, width=100.0, height=100.0)
        assert len(found.spots) >= 1
        assert not faults(bar(130.0, 5.0), found, gap=3.0, width=100.0, height=100.0)


class TestSearch:
    """What is found beyond rows."""

    def test_it_finds_one_more(self) -> None:
        shape = named("stand-4-100")
        rows = nest(shape, gap=3.0, width=220.0, height=220.0)
        more = nest(shape, gap=3.0, width=220.0, height=220.0, seconds=3.0, seed=1)
        assert len(more.spots) > len(rows.spots)
        assert more.how == "nested"
        assert not faults(shape, more, gap=3.0, width=220.0, height=220.0)

    def test_it_never_gives_fewer(self) -> None:
        shape = bar(30.0, 10.0)
        found = nest(shape, gap=0.0, width=60.0, height=50.0, seconds=1.0)
        assert len(found.spots) == 10
        assert not faults(shape, found, gap=0.0, width=60.0, height=50.0)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"gap": -1.0}, "gap: -1 mm was given; give 0 or more"),
        ({"width": 0.0}, "width: 0 mm was given; give more than 0"),
        ({"height": math.inf}, "height: inf mm was given"),
        ({"width": math.nan}, "width: nan mm was given"),
        ({"count": 0}, "count: 0 was given; give a whole number from 1"),
        ({"seconds": -2.0}, "seconds: -2 s was given; give 0 or more"),
    ],
)
def test_bad_input_is_refused(wrong: dict[str, float], words: str) -> None:
    given = {"gap": 3.0, "width": 100.0, "height": 100.0, **wrong}
    with pytest.raises(BadInput, match=words.replace("(", r"\(")):
        nest(bar(30.0, 10.0), **given)  # type: ignore[arg-type]


def test_all_faults_are_told_at_once() -> None:
    with pytest.raises(BadInput) as told:
        compact(bar(30.0, 10.0), gap=-1.0, count=0)
    assert len(told.value.faults) == 2


def test_an_outline_of_300_corners_is_laid_in_a_moment() -> None:
    """Measured at 0.13 s on one core; four times that leaves room for a busy machine."""
    shape = wavy(300)
    nest(wavy(40), gap=3.0, width=100.0, height=100.0)  # libraries are loaded by now
    start = time.process_time()
    found = nest(shape, gap=3.0, width=220.0, height=220.0)
    between = time.process_time()
    block = compact(shape, gap=3.0, count=24)
    end = time.process_time()
    assert len(found.spots) >= 24
    assert len(block.spots) == 24
    assert between - start < 0.6
    assert end - between < 0.6


def test_a_rim_counts_for_what_is_compact() -> None:
    """With a wide rim around it one long row is no compact block any more."""
    corners = [(-30, 0), (30, 0), (30, 10), (5, 10), (5, 45), (-5, 45), (-5, 10), (-30, 10)]
    tee, nearer = Outline(Contour.polygon(corners)), 0
    for count in range(2, 8):
        bare, rimmed = (compact(tee, gap=8, count=count, around=rim) for rim in (0.0, 60.0))
        assert len(bare.spots) == len(rimmed.spots) == count
        a, b = (spread(n.width + 120, n.height + 120) for n in (bare, rimmed))
        assert b <= a * (1 + 1e-9)
        nearer += b < a * 0.99
    assert nearer
