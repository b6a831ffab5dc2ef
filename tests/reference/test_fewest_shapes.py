"""The programme's optimum against every possible answer, one by one, on small firings.

Source
------
Exhaustive search, computed here: of all ways to give each need one of its ways, the fewest
moulds, then the least mix.  It shares no code with the programme but the data.
"""

from __future__ import annotations

import itertools
import random
from collections import Counter
from typing import Any

import pytest

from wadforms.firing.plan import Plan
from wadforms.firing.programme import TimeRanOutError, Way, _Programme, fewest, within

MOULDS = [("disk-16", "wet"), ("disk-16", "dry"), ("tee-50", "wet"), ("tripod-50", "solid")]
MASS = dict(zip(MOULDS, (2.5, 2.75, 11.0, 31.0), strict=True))

# HiGHS calls a whole answer the best when it is within 1e-6 of the bound (its default); masses
# here are whole quarters of a gram.
ALIKE = 1e-5

Needs = list[list[Way]]


def drawn(number: int) -> random.Random:
    return random.Random(number)  # noqa: S311  (the same firings in every run)


def some_needs(random_: random.Random) -> Needs:
    needs = []
    for _ in range(random_.randint(1, 5)):
        count = random_.randint(1, 6)
        ways = []
        for mould in random_.sample(MOULDS, random_.randint(1, len(MOULDS))):
            pieces = count * random_.randint(1, 6)
            tight = count * (random_.random() < 0.3)
            ways.append(Way(mould, pieces, pieces * MASS[mould], tight))
        needs.append(ways)
    return needs


def every_answer(needs: Needs, stock: dict[tuple[str, str], int]) -> list[tuple[int, float, int]]:
    """Moulds to make, mass of the mix [g] and tight touches of each possible answer."""
    found = []
    for ways in itertools.product(*needs):
        used: Counter[tuple[str, str]] = Counter()
        for way in ways:
            used[way.mould] += way.pieces
        made = {m: n - stock.get(m, 0) for m, n in used.items() if n > stock.get(m, 0)}
        mass = sum(MASS[mould] * pieces for mould, pieces in made.items())
        found.append((len(made), mass, sum(way.tight for way in ways)))
    return found


def some_stock(random_: random.Random) -> dict[tuple[str, str], int]:
    boxed = random_.sample(MOULDS, random_.randint(0, 2))
    return {mould: random_.randint(1, 25) for mould in boxed}


@pytest.mark.parametrize("number", range(120))
def test_fewest_moulds_then_least_mix(number: int) -> None:
    random_ = drawn(number)
    needs, stock = some_needs(random_), some_stock(random_)
    moulds, mass, _ = min(every_answer(needs, stock))
    found = fewest(needs, stock)
    assert len(found.made) == moulds
    assert found.mass == pytest.approx(mass, abs=ALIKE)
    assert found.gap == 0.0


@pytest.mark.parametrize("number", range(120))
def test_with_so_many_moulds_fewest_tight_then_least_mix(number: int) -> None:
    random_ = drawn(1000 + number)
    needs, stock = some_needs(random_), some_stock(random_)
    most = random_.randint(0, 3)
    right = [(tight, mass) for n, mass, tight in every_answer(needs, stock) if n <= most]
    found = within(needs, stock, most=most)
    if not right:
        assert found is None
        return
    assert found is not None
    tight, mass = min(right)
    assert found.tight == tight
    assert found.mass == pytest.approx(mass, abs=ALIKE)
    assert len(found.made) <= most


def test_what_it_says_is_what_its_ways_come_to() -> None:
    random_ = drawn(7)
    for _ in range(40):
        needs, stock = some_needs(random_), some_stock(random_)
        found = fewest(needs, stock)
        used: Counter[tuple[str, str]] = Counter()
        for ways, index in zip(needs, found.ways, strict=True):
            used[ways[index].mould] += ways[index].pieces
        assert all(found.from_stock.get(m, 0) == min(n, stock.get(m, 0)) for m, n in used.items())
        assert set(found.made) == {m for m, n in used.items() if n > stock.get(m, 0)}


def test_without_time_the_answer_serves_and_says_that_nothing_is_proven() -> None:
    random_ = drawn(3)
    needs = [ways for _ in range(60) for ways in some_needs(random_)]
    found = fewest(needs, {}, seconds=0.0)
    assert len(found.ways) == len(needs)
    assert 0.0 <= found.gap <= 1.0
    served = {ways[index].mould for ways, index in zip(needs, found.ways, strict=True)}
    assert served == set(found.made)


def test_moulds_that_are_not_proven_are_told_apart_from_mix(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """HiGHS stopped in the first stage with a bound, by hand: 1.5 moulds prove 2, 0.9 do not."""
    needs = [[Way(MOULDS[0], 3, 7.5)], [Way(MOULDS[2], 3, 33.0), Way(MOULDS[3], 1, 31.0)]]
    solve = _Programme.solve
    for bound, is_fewest in ((1.5, True), (0.9, False)):

        def stopped(
            self: _Programme, costs: Any, most: Any, seconds: float, b: float = bound
        ) -> Any:
            found: Any = solve(self, costs, most, seconds)
            if most is None and found is not None:
                found.status, found.mip_dual_bound = 1, b
            return found

        monkeypatch.setattr(_Programme, "solve", stopped)
        found = fewest(needs)
        assert (len(found.made), found.is_fewest, found.gap) == (2, is_fewest, 0.0)
        plan = Plan(chosen=(), from_stock={}, gap=found.gap, is_fewest=found.is_fewest,
                    one_fewer="", one_more="")  # fmt: skip
        not_proven = "It is not proven that fewer shapes would not do; time ran out."
        assert plan.unproven == (() if is_fewest else (not_proven,))


def test_no_time_is_not_taken_for_no_answer() -> None:
    random_ = drawn(3)
    needs = [ways for _ in range(60) for ways in some_needs(random_)]
    assert within(needs, {}, most=0, seconds=10.0) is None
    with pytest.raises(TimeRanOutError):
        within(needs, {}, most=len(fewest(needs, {}).made), seconds=0.0)
