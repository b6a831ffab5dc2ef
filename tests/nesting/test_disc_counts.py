"""How many discs rows take, against what others have published or proven.

Sources
-------
- Circles of unit diameter in a square of side 8: OEIS A084616, 68; in squares of side 1 to 5
  no more than the square grid's (Kirchner & Wengerodt 1987 for the larger ones; from memory).
- N. Oler, "An inequality in the geometry of numbers", Acta Math. 105 (1961): of points at least 1
  apart in a convex region of area A and perimeter P there are at most 2A/√3 + P/2 + 1 (from
  memory).
- Counts on ISO 216 A4: the rows' own arithmetic, written out below.
- The larger board, once more discs in rows that are spread: our own arithmetic, below.
"""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from nest_proofs import ROUNDING

from wadforms.geometry.outline import Outline
from wadforms.nesting import Nest, compact, nest

A4 = (210.0, 297.0)
"""ISO 216 [mm]."""


def count(diameter: float, width: float, height: float, gap: float = 0.0) -> int:
    found = nest(Outline.circle(diameter / 2), gap=gap, width=width, height=height)
    return len(found.spots)


def proven(disc: Outline, found: Nest, *, gap: float, width: float, height: float) -> bool:
    """Whether all centres are a diameter and the gap apart, and half of that off the edges."""
    x0, y0, x1, y1 = disc.bounds
    radius = (x1 - x0) / 2
    centres = [(s.x + (x0 + x1) / 2, s.y + (y0 + y1) / 2) for s in found.spots]
    apart = 2 * radius + gap - ROUNDING
    return all(math.dist(a, b) >= apart for a, b in combinations(centres, 2)) and all(
        radius - ROUNDING <= at <= side - radius + ROUNDING
        for centre in centres
        for at, side in zip(centre, (width, height), strict=True)
    )


def test_68_circles_of_unit_diameter_in_a_square_of_side_8() -> None:
    found = nest(Outline.circle(0.5), gap=0.0, width=8.0, height=8.0)
    assert len(found.spots) == 68
    assert found.how == "staggered rows"
    assert proven(Outline.circle(0.5), found, gap=0.0, width=8.0, height=8.0)


@pytest.mark.parametrize("side", [1, 2, 3, 4, 5])
def test_small_squares_take_the_square_grid(side: int) -> None:
    found = nest(Outline.circle(0.5), gap=0.0, width=side, height=side)
    assert (len(found.spots), found.how) == (side * side, "square rows")


@pytest.mark.parametrize(
    ("diameter", "square", "staggered"), [(20, 140, 160), (25, 88, 99), (30, 63, 72), (40, 35, 36)]
)
def test_discs_on_a4(diameter: float, square: int, staggered: int) -> None:
    across, along = (math.floor(side / diameter) for side in A4)
    assert across * along == square
    by_rows = []
    for width, height in (A4, A4[::-1]):
        rows = 1 + math.floor((height - diameter) / (diameter * math.sqrt(0.75)))
        full, moved = math.floor(width / diameter), math.floor(width / diameter - 0.5)
        by_rows.append(full * -(-rows // 2) + moved * (rows // 2))
    assert max(by_rows) == staggered
    # Rows that are spread until they end at the edge can hold more yet.
    assert count(diameter, *A4) >= staggered


def test_rows_spread_to_the_edge_hold_more() -> None:
    """Fourteen discs and the half pitch of a moved row fill the length of 297 mm."""
    pitch = (297.0 - 20.0) / 13.5
    up = math.sqrt(20.0**2 - (pitch / 2) ** 2)
    rows = 1 + math.floor((210.0 - 20.0) / up)
    assert 14 * rows == 168 == count(20.0, *A4)


sides = st.floats(10.0, 200.0)


@given(diameter=st.floats(8.0, 60.0), gap=st.floats(0.0, 6.0), width=sides, height=sides)
def test_never_more_than_olers_bound(
    diameter: float, gap: float, width: float, height: float
) -> None:
    found = nest(Outline.circle(diameter / 2), gap=gap, width=width, height=height)
    a, b = width - diameter, height - diameter  # where centres may lie
    if min(a, b) < 0.0:
        assert not found.spots
        return
    unit = diameter + gap
    bound = 2 / math.sqrt(3) * a * b / unit**2 + (a + b) / unit + 1
    assert 1 <= len(found.spots) <= bound + 1e-6
    circle = Outline.circle(diameter / 2)
    assert proven(circle, found, gap=gap, width=width, height=height)


@given(
    diameter=st.floats(8.0, 60.0), gap=st.floats(0.0, 6.0), width=sides, height=sides,
    more=st.floats(0.0, 60.0),
)  # fmt: skip
def test_a_larger_rectangle_never_takes_fewer(
    diameter: float, gap: float, width: float, height: float, more: float
) -> None:
    least = count(diameter, width, height, gap)
    assert count(diameter, width + more, height, gap) >= least
    assert count(diameter, height, width + more, gap) >= least


@given(number=st.integers(1, 40), gap=st.floats(0.0, 5.0))
def test_a_compact_block_of_discs(number: int, gap: float) -> None:
    disc = Outline.circle(10.0, (3.0, -4.0))
    block = compact(disc, gap=gap, count=number)
    assert len(block.spots) == number
    assert proven(disc, block, gap=gap, width=block.width, height=block.height)
    # Never worse than the square grid nearest to a square, whose weight is that of its area.
    across = math.ceil(math.sqrt(number))
    rows = math.ceil(number / across)
    grid = [n * (20.0 + gap) - gap for n in (across, rows)]
    longer = (max(grid) / min(grid)) ** (1 / 6)
    assert block.width * block.height <= grid[0] * grid[1] * longer * (1 + 1e-9)
