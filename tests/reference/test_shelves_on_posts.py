"""Loads of a stack of shelves on posts, against the equations of statics solved as one system.

Source
------
Equilibrium of every shelf (force, and moments about x and y) and of every post, written out as
one matrix and solved by numpy's `linalg.solve` and, in fractions, by SymPy (Meurer et al., SymPy:
symbolic computing in Python, PeerJ Computer Science 3 (2017) e103).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pytest
import sympy as sp
from hypothesis import given, settings
from hypothesis import strategies as st
from kiln_rows import THREE, firing, posts, shelf, three_levels, ware

from wadforms.firing.rows import FLOOR, FiringList, Row
from wadforms.firing.touches import ON_POST, UNDER_POST, audit
from wadforms.geometry.contour import Point
from wadforms.setting.load import weight
from wadforms.setting.shelves import tipping_load


@dataclass(frozen=True, slots=True)
class Level:
    """One level, told afresh: what it weighs with its ware, where, on posts of which weight."""

    load: int
    at: tuple[int, int]
    post: int


PLACES = tuple((int(x), int(y)) for x, y in THREE)

OURS = (
    Level(load=9500 + 2 * 5 * 900, at=(200, 155), post=1200),
    Level(load=8000 + 2 * (2400 + 600 + 700), at=(300, 190), post=2100),
    Level(load=7000 + 6 * 450, at=(300, 225), post=2100),
)
"""The three levels of the invented kiln, from below, added up by hand for one bay."""


def system(levels: Sequence[Level]) -> tuple[list[list[int]], list[int]]:
    """All equations of one bay; unknown are the force on each post's top, and on each foot.

    For level k the tops are unknowns 6 k to 6 k + 2, the feet 6 k + 3 to 6 k + 5.
    """
    size = 6 * len(levels)
    matrix, right = [], []
    for k, level in enumerate(levels):
        above = k + 1 < len(levels)
        for arm, lever in ((0, 1), (1, level.at[0]), (2, level.at[1])):
            line = [0] * size
            for n, place in enumerate(PLACES):
                turned = (1, *place)[arm]
                line[6 * k + n] = turned
                if above:  # the feet of the next level stand on this shelf
                    line[6 * (k + 1) + 3 + n] = -turned
            matrix.append(line)
            right.append(level.load * lever)
        for n in range(3):
            line = [0] * size
            line[6 * k + 3 + n], line[6 * k + n] = 1, -1
            matrix.append(line)
            right.append(level.post)
    return matrix, right


def ours(kiln: FiringList, level: int) -> tuple[list[float], list[float]]:
    """What the audit says of the tops and feet of the posts of one level, place by place [g]."""
    tops, feet = {}, {}
    answer = audit(kiln)
    name = kiln.shelves[level].name
    for touch in answer.touches:
        for place in THREE:
            if touch.pot is None or f"({place[0]:g}, {place[1]:g})" not in touch.name:
                continue
            if touch.kind == ON_POST and touch.row.name == name:
                tops[place] = touch.pot.mass
            if touch.kind == UNDER_POST and f"under {name} at" in touch.upper:
                feet[place] = touch.pot.mass
    return [tops[place] for place in THREE], [feet[place] for place in THREE]


def test_three_levels_by_a_linear_solve() -> None:
    matrix, right = system(OURS)
    solved = np.linalg.solve(np.array(matrix, float), np.array(right, float))
    for level in range(3):
        tops, feet = ours(three_levels(), level)
        assert tops == pytest.approx(solved[6 * level : 6 * level + 3], rel=1e-12)
        assert feet == pytest.approx(solved[6 * level + 3 : 6 * level + 6], rel=1e-12)


def test_three_levels_in_fractions() -> None:
    """In newton too: what wads carry is this mass under standard gravity."""
    matrix, right = system(OURS)
    exact = sp.Matrix(matrix).LUsolve(sp.Matrix(right))
    gravity = sp.Rational("9.80665") / 1000
    for level in range(3):
        tops, feet = ours(three_levels(), level)
        for n, load in enumerate((*tops, *feet)):
            assert weight(load) == pytest.approx(float(exact[6 * level + n] * gravity), rel=1e-12)
    total = sum(level.load + 3 * level.post for level in OURS)
    assert sum(exact[3:6]) == total
    assert total == 59800


def kiln_of(levels: Sequence[Level]) -> FiringList:
    """The same bay as rows of a list, half of each load the shelf's own."""
    rows: list[Row] = []
    for k, level in enumerate(levels):
        below, at = f"Shelf {k - 1}" if k else FLOOR, (float(level.at[0]), float(level.at[1]))
        rows.append(posts(f"Post {k}", 3, below, float(level.post)))
        rows.append(shelf(f"Shelf {k}", 1, f"Post {k}", level.load / 2, load_at=at))
        rows.append(ware(f"Pot {k}", 1, f"Shelf {k}", level.load / 2))
    return firing(*rows)


def within(shares: tuple[int, int, int]) -> Point:
    """A place between the posts."""
    total = sum(shares)
    x, y = (sum(s * p[k] for s, p in zip(shares, PLACES, strict=True)) / total for k in (0, 1))
    return x, y


share = st.integers(1, 50)
level = st.builds(
    lambda load, shares, post: Level(load, tuple(map(round, within(shares))), post),  # type: ignore[arg-type]
    st.integers(500, 60000),
    st.tuples(share, share, share).filter(lambda s: min(s) * 10 > max(s)),
    st.integers(100, 4000),
)


@settings(deadline=None)
@given(st.lists(level, min_size=1, max_size=5))
def test_any_stack_by_a_linear_solve(levels: list[Level]) -> None:
    matrix, right = system(levels)
    solved = np.linalg.solve(np.array(matrix, float), np.array(right, float))
    kiln = kiln_of(levels)
    for k in range(len(levels)):
        tops, feet = ours(kiln, k)
        assert tops == pytest.approx(solved[6 * k : 6 * k + 3], rel=1e-9)
        assert feet == pytest.approx(solved[6 * k + 3 : 6 * k + 6], rel=1e-9)
    assert sum(ours(kiln, 0)[1]) == pytest.approx(sum(v.load + 3 * v.post for v in levels))


@given(
    st.tuples(share, share, share),
    st.tuples(st.floats(-200.0, 800.0), st.floats(-200.0, 700.0)),
    st.floats(0.05, 20.0),
)
def test_a_shelf_tips_where_a_post_would_have_to_pull(
    shares: tuple[int, int, int], place: Point, part: float
) -> None:
    """The tipping weight is where the solved reaction of one post passes zero."""
    centre = within(shares)
    holds = tipping_load(THREE, 1000.0, centre, place)
    other = 1000.0 * part if math.isinf(holds) else holds * part
    matrix = np.array([[1.0] * 3, *np.transpose(THREE)])
    right = [
        1000.0 + other,
        *(1000.0 * c + other * p for c, p in zip(centre, place, strict=True)),
    ]
    lowest = min(np.linalg.solve(matrix, right))
    if math.isinf(holds) or part < 1.0 - 1e-6:
        assert lowest > -1e-6
    elif part > 1.0 + 1e-6:
        assert lowest < 0.0
    else:
        assert lowest == pytest.approx(0.0, abs=1e-3 * other)
