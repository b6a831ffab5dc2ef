"""Reactions of rigid supports against a linear programme and least squares.

Source
------
P. Virtanen and others, SciPy 1.0, Nature Methods 17 (2020) 261: `linprog` (HiGHS) and `nnls`.

Computed here with SciPy, both ways independent of ours.  Of all sets of upward reactions that
balance a weight, one that loads a given support most is a corner of a polytope, and a corner has
at most three reactions that are not zero (three balances): so the worst three can be found by
maximising one reaction over all equilibria, with no triple ever listed.  Supports that give
alike share so that the sum of the squared reactions is least.
"""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from scipy.optimize import linprog, nnls

from wadforms.setting.load import even_share, worst_three
from wadforms.setting.shelves import post_loads

Point = tuple[float, float]
FORCE = 343.0

# HiGHS calls a balance kept that is within 1e-7 of its right side; lever arms here are up to 100
# mm, so a reaction may be off by some 1e-6 of the weight.
PROGRAMME = 1e-5 * FORCE

# The balances enter the least squares with this weight, and are broken by about its inverse
# squared.
STRESS = 1e4


def balances(points: list[Point], centre: Point) -> tuple[np.ndarray, np.ndarray]:
    """Left and right side of one force and two moment balances, arms in units of 100 mm."""
    left = np.array([[1.0, x / 100, y / 100] for x, y in points]).T
    return left, FORCE * np.array([1.0, centre[0] / 100, centre[1] / 100])


def most_by_programme(points: list[Point], centre: Point) -> list[float] | None:
    """For each support its largest reaction over all equilibria."""
    left, right = balances(points, centre)
    found = []
    for i in range(len(points)):
        goal = np.zeros(len(points))
        goal[i] = -1.0
        answer = linprog(goal, A_eq=left, b_eq=right, bounds=(0, None), method="highs")
        if answer.fun is None:
            return None
        found.append(-float(answer.fun))
    return found


def even_by_least_squares(points: list[Point], centre: Point) -> list[float]:
    """Reactions ≥ 0 of least squares among those that balance."""
    left, right = balances(points, centre)
    rows = np.vstack([np.eye(len(points)), STRESS * left])
    found, _ = nnls(rows, np.concatenate([np.zeros(len(points)), STRESS * right]))
    return [float(v) for v in found]


def settings() -> list[tuple[list[Point], Point]]:
    """Regular, two-ringed and scattered supports, with weight in the middle and off it."""
    chance = random.Random(20)  # noqa: S311 - the same supports in every run
    found: list[tuple[list[Point], Point]] = []
    for n in (3, 4, 5, 6, 8):
        around = [
            (60 * math.cos(math.tau * k / n), 60 * math.sin(math.tau * k / n)) for k in range(n)
        ]
        found += [(around, (0.0, 0.0)), (around, (7.0, -3.0)), (around, (25.0, 10.0))]
    for _ in range(25):
        n = chance.randint(4, 9)
        points = [(chance.uniform(-90, 90), chance.uniform(-90, 90)) for _ in range(n)]
        parts = [chance.random() ** 3 for _ in range(n)]
        centre = tuple(
            sum(w * p[axis] for w, p in zip(parts, points, strict=True)) / sum(parts)
            for axis in (0, 1)
        )
        found.append((points, (centre[0], centre[1])))
    return found


@pytest.mark.parametrize(("points", "centre"), settings())
def test_worst_three(points: list[Point], centre: Point) -> None:
    expected = most_by_programme(points, centre)
    assert expected is not None
    assert worst_three(points, FORCE, centre) == pytest.approx(expected, abs=PROGRAMME)


@pytest.mark.parametrize(("points", "centre"), settings())
def test_even_share(points: list[Point], centre: Point) -> None:
    expected = even_by_least_squares(points, centre)
    assert even_share(points, FORCE, centre) == pytest.approx(expected, abs=1e-6 * FORCE)


@pytest.mark.parametrize("n", [3, 4, 6])
def test_nothing_balances_a_weight_outside(n: int) -> None:
    points = [(60 * math.cos(math.tau * k / n), 60 * math.sin(math.tau * k / n)) for k in range(n)]
    for outside in ((61.0, 0.0), (200.0, 5.0)):
        assert most_by_programme(points, outside) is None
        assert worst_three(points, FORCE, outside) is None
        assert even_share(points, FORCE, outside) is None


def test_dropping_supports_one_by_one_would_fail_here() -> None:
    """Weight near two supports, where the plane first lifts a support that is needed."""
    points = [(-48.17, 45.19), (-19.39, 41.70), (45.95, 10.61), (26.13, 41.98)]
    centre = (45.05, 10.96)
    expected = even_by_least_squares(points, centre)
    assert even_share(points, FORCE, centre) == pytest.approx(expected, abs=1e-6 * FORCE)
    assert expected[2] > 0.9 * FORCE


def test_three_by_a_linear_solve() -> None:
    """Three supports are determinate: NumPy's solve of the three balances."""
    points = [(-40.0, -10.0), (50.0, -20.0), (5.0, 60.0)]
    left, right = balances(points, (4.0, 6.0))
    expected = np.linalg.solve(left, right)
    for ours in (even_share, worst_three, post_loads):
        assert ours(points, FORCE, (4.0, 6.0)) == pytest.approx(expected, rel=1e-10)


def test_four_posts_under_a_shelf() -> None:
    """Weight in the middle of a rectangle: any diagonal pair may carry half each (linprog)."""
    posts = [(0.0, 0.0), (400.0, 0.0), (400.0, 300.0), (0.0, 300.0)]
    expected = most_by_programme(posts, (200.0, 150.0))
    assert expected == pytest.approx([FORCE / 2] * 4, abs=PROGRAMME)
    assert post_loads(posts, FORCE, (200.0, 150.0)) == pytest.approx(expected, abs=PROGRAMME)
