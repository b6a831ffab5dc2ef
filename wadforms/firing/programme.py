"""Which shapes a whole firing is made with: the fewest moulds, then the least mix.

A mixed-integer programme for HiGHS.  A mould makes pieces of one shape for one way of setting
them, since wet and dry pieces shrink differently; pieces that lie in the boxes need none.

For every need that nothing in the boxes can serve, the ways are ranked by what they cost.  A
yes-or-no variable then says "none of the first k moulds is made", and costs the step from the
k-th way to the next; needs that rank alike share it, so that thousands of needs take hardly more
variables than one.

Source
------
The ranking is the usual one for choosing places that serve at least cost: Cornuéjols, Nemhauser
& Wolsey, SIAM Journal on Algebraic and Discrete Methods 1 (1980) 261 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final, NamedTuple, TypeAlias

from wadforms.firing.deadline import Deadline

if TYPE_CHECKING:
    from scipy.optimize import OptimizeResult

Mould: TypeAlias = tuple[str, str]
"""A shape, and how its pieces are set."""

_NONE: Final[Mapping[Mould, int]] = {}

_WHOLE: Final = 1e-6  # HiGHS calls a number whole that is so near to one

_NO_TIME: Final = 1  # what HiGHS says where a limit stopped it


class TimeRanOutError(Exception):
    """Whether there is an answer was not found out in the time given."""


class Way(NamedTuple):
    """One way to serve a need.

    Parameters
    ----------
    mould : (str, str)
        The shape, and how it is set.
    pieces : int
        How many it takes in all.
    mass : float
        Of the wet mix of all these pieces [g].
    tight : int
        How many touches would be tight though they could be sound.
    """

    mould: Mould
    pieces: int
    mass: float
    tight: int = 0


class Solved(NamedTuple):
    """The answer of the programme.

    Parameters
    ----------
    ways : tuple of int
        For each need, the number of its way.
    made : tuple of (str, str)
        The moulds of which pieces are made.
    from_stock : dict of (str, str) to int
        Pieces taken out of the boxes.
    mass : float
        Of the wet mix of all pieces made [g].
    tight : int
        Touches that are tight though they could be sound.
    gap : float
        How far, as a share, the mix may be from the least; 0 where proven.
    is_fewest : bool
        Whether it is proven that fewer moulds would not do; it is asked of `fewest` only.
    """

    ways: tuple[int, ...]
    made: tuple[Mould, ...]
    from_stock: dict[Mould, int]
    mass: float
    tight: int
    gap: float
    is_fewest: bool = True


def fewest(
    needs: Sequence[Sequence[Way]],
    stock: Mapping[Mould, int] = _NONE,
    *,
    seconds: float = 10.0,
) -> Solved:
    """Serve every need with the fewest moulds, and of these ways with the least mix.

    Parameters
    ----------
    needs : sequence of sequence of Way
        For each need the ways to serve it, one or more.
    stock : mapping of (str, str) to int
        Pieces in the boxes.
    seconds : float
        Of time that it may take [s].

    Examples
    --------
    >>> mug = [Way(("disk-16", "wet"), 36, 120.0), Way(("disk-20", "wet"), 36, 189.0)]
    >>> jar = [Way(("disk-20", "wet"), 12, 63.0)]
    >>> found = fewest([mug, jar])
    >>> found.made, found.mass
    ((('disk-20', 'wet'),), 252.0)
    """
    if not needs:
        return _answer((), stock, (), 0.0)
    deadline = Deadline(seconds)
    programme = _programme(needs, stock, 0.0)
    answer = programme.solve(programme.moulds, None, deadline.left(0.5))
    if answer is None:  # no answer in time: at least one that is right
        every = {way.mould for ways in needs for way in ways}
        taken = _cheapest(needs, _cover(needs, every))
        return _answer(needs, stock, taken, 1.0)._replace(is_fewest=False)
    ways = programme.ways(answer)
    most = len(_answer(needs, stock, ways, 0.0).made)
    # Moulds are whole: a bound of 4.3 of them proves 5.
    is_fewest = not answer.status or most <= math.ceil(float(answer.mip_dual_bound) - _WHOLE)
    # With what the first search did not need.
    lightest = programme.solve(programme.masses, most, deadline.left())
    if lightest is None:
        return _answer(needs, stock, ways, 1.0)._replace(is_fewest=is_fewest)
    gap = _gap(lightest, programme.least)
    found = _answer(needs, stock, programme.ways(lightest), gap)
    return found._replace(is_fewest=is_fewest)


def within(
    needs: Sequence[Sequence[Way]],
    stock: Mapping[Mould, int] = _NONE,
    *,
    most: int,
    seconds: float = 10.0,
) -> Solved | None:
    """Serve every need with so many moulds at most: the fewest touches tight, then the least mix.

    Parameters
    ----------
    needs : sequence of sequence of Way
        For each need the ways to serve it, one or more.
    stock : mapping of (str, str) to int
        Pieces in the boxes.
    most : int
        How many moulds may be made.
    seconds : float
        Of time that it may take [s].

    Returns
    -------
    Solved or None
        None where so few moulds cannot serve.

    Raises
    ------
    TimeRanOutError
        Whether they can was not found out in time.

    Examples
    --------
    >>> mug = [Way(("disk-16", "wet"), 36, 120.0), Way(("disk-20", "wet"), 36, 189.0)]
    >>> jar = [Way(("disk-20", "wet"), 12, 63.0)]
    >>> within([mug, jar], most=2).mass, within([mug, jar], most=0)
    (183.0, None)
    """
    if not needs:
        return _answer((), stock, (), 0.0)
    # One touch more weighs heavier than all the mix that there can be.
    heavy = 1.0 + sum(max(way.mass for way in ways) for ways in needs)
    programme = _programme(needs, stock, heavy)
    answer = programme.solve(programme.masses, most, seconds)
    if answer is None:
        if programme.ran_out:
            raise TimeRanOutError
        return None
    return _answer(needs, stock, programme.ways(answer), _gap(answer, programme.least))


@dataclass(slots=True)
class _Programme:
    """Variables, their costs and their rows, gathered one by one.

    Parameters
    ----------
    needs : sequence of sequence of Way
        What is asked.
    heavy : float
        Cost of one tight touch [g].
    upper, whole, masses, moulds : list
        Of each variable: its largest value, whether it is whole, what it costs in mix [g], and
        in moulds.
    made : dict
        Number of the variable that says whether a mould is made.
    taken : dict
        Number of the variable of a way, for needs that the boxes may serve.
    rows : list
        The variables with their factors, and the least that they must come to.
    least : float
        Cost of the cheapest way of each ranked need [g].
    ran_out : bool
        Whether the last solving ended without an answer because its time was over.
    """

    needs: Sequence[Sequence[Way]]
    heavy: float
    upper: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    masses: list[float] = field(default_factory=list)
    moulds: list[float] = field(default_factory=list)
    made: dict[Mould, int] = field(default_factory=dict)
    taken: dict[tuple[int, int], int] = field(default_factory=dict)
    rows: list[tuple[dict[int, float], float]] = field(default_factory=list)
    least: float = 0.0
    ran_out: bool = False

    def cost(self, way: Way) -> float:
        """What a way costs in mix and in tight touches [g]."""
        return way.mass + self.heavy * way.tight

    def variable(self, upper: float, *, whole: bool, mass: float = 0.0, moulds: float = 0.0) -> int:
        """A new variable from 0 to `upper`, and its number; `mass` in g."""
        self.upper.append(upper)
        self.whole.append(whole)
        self.masses.append(mass)
        self.moulds.append(moulds)
        return len(self.upper) - 1

    def ranked(self, numbers: Sequence[int]) -> None:
        """Needs that nothing in the boxes can serve."""
        steps: dict[frozenset[Mould], float] = {}
        must = set()
        for number in numbers:
            ways = sorted(self.needs[number], key=self.cost)
            self.least += self.cost(ways[0])
            first: set[Mould] = set()
            for way, following in pairwise(ways):
                first.add(way.mould)
                step = self.cost(following) - self.cost(way)
                if step > 0.0:
                    key = frozenset(first)
                    steps[key] = steps.get(key, 0.0) + step
            must.add(frozenset(way.mould for way in ways))
        for moulds, step in steps.items():
            none = self.variable(1.0, whole=False, mass=step)
            self.rows.append(({none: 1.0} | {self.made[mould]: 1.0 for mould in moulds}, 1.0))
        for moulds in must:
            if not any(other < moulds for other in must):  # else the smaller set says more
                self.rows.append(({self.made[mould]: 1.0 for mould in moulds}, 1.0))

    def stocked(self, numbers: Sequence[int], stock: Mapping[Mould, int]) -> None:
        """Needs that the boxes may serve: which way is taken, and how many pieces are made."""
        used: dict[Mould, dict[int, float]] = {}
        each: dict[Mould, float] = {}
        for number in numbers:
            one = {}
            for index, way in enumerate(self.needs[number]):
                free = way.mould in stock
                mass = self.heavy * way.tight if free else self.cost(way)
                taken = self.variable(1.0, whole=True, mass=mass)
                one[taken] = 1.0
                self.taken[number, index] = taken
                if free:
                    used.setdefault(way.mould, {})[taken] = -float(way.pieces)
                    each[way.mould] = way.mass / way.pieces
                else:
                    self.rows.append(({self.made[way.mould]: 1.0, taken: -1.0}, 0.0))
            self.rows.append((one, 1.0))
        for mould, pieces in used.items():
            most = -sum(pieces.values())
            made = self.variable(most, whole=False, mass=each[mould])
            self.rows.append(({made: 1.0} | pieces, -float(stock[mould])))
            self.rows.append(({self.made[mould]: most, made: -1.0}, 0.0))

    def solve(
        self, costs: Sequence[float], most: int | None, seconds: float
    ) -> OptimizeResult | None:
        """Let HiGHS find the least cost, with `most` moulds at most; None where it finds none."""
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        rows = list(self.rows)
        if most is not None:
            rows.append((dict.fromkeys(self.made.values(), -1.0), -float(most)))
        starts = np.cumsum([0, *(len(row) for row, _ in rows)])
        factors = np.array([factor for row, _ in rows for factor in row.values()])
        columns = np.array([column for row, _ in rows for column in row])
        matrix = csr_array((factors, columns, starts), shape=(len(rows), len(self.upper)))
        found = milp(
            np.array(costs),
            integrality=np.array(self.whole, dtype=int),
            bounds=Bounds(np.zeros(len(self.upper)), np.array(self.upper)),
            constraints=LinearConstraint(matrix, lb=np.array([least for _, least in rows])),
            options={"time_limit": seconds, "mip_rel_gap": 0.0},
        )
        self.ran_out = found.x is None and found.status == _NO_TIME
        return None if found.x is None else found

    def ways(self, found: OptimizeResult) -> list[int]:
        """Which way each need is served: the one taken, else the cheapest whose mould is made."""
        values: Any = found.x
        made = {mould for mould, number in self.made.items() if values[number] > 0.5}
        ways = []
        for number, every in enumerate(self.needs):
            if (number, 0) in self.taken:
                shares = [values[self.taken[number, index]] for index in range(len(every))]
                ways.append(max(range(len(every)), key=shares.__getitem__))
            else:
                usable = [k for k, way in enumerate(every) if way.mould in made]
                ways.append(min(usable, key=lambda k: (self.cost(every[k]), every[k].pieces)))
        return ways


def _programme(
    needs: Sequence[Sequence[Way]], stock: Mapping[Mould, int], heavy: float
) -> _Programme:
    programme = _Programme(needs, heavy)
    for mould in sorted({way.mould for ways in needs for way in ways}):
        programme.made[mould] = programme.variable(1.0, whole=True, moulds=1.0)
    boxed = [n for n, ways in enumerate(needs) if any(way.mould in stock for way in ways)]
    programme.ranked(sorted(set(range(len(needs))) - set(boxed)))
    programme.stocked(boxed, stock)
    return programme


def _gap(found: OptimizeResult, least: float) -> float:
    """How far, as a share of the whole cost, the answer may be from the least [g]."""
    whole = float(found.fun) + least
    bound = float(found.mip_dual_bound) + least if found.status else whole
    return 0.0 if whole <= bound else (whole - bound) / whole


def _cheapest(needs: Sequence[Sequence[Way]], moulds: set[Mould]) -> list[int]:
    """For each need its lightest way among some moulds."""
    return [min((w.mass, k) for k, w in enumerate(ways) if w.mould in moulds)[1] for ways in needs]


def _cover(needs: Sequence[Sequence[Way]], moulds: set[Mould]) -> set[Mould]:
    """Moulds that serve every need, each time the one that serves most of what is left."""
    left = [{way.mould for way in ways} for ways in needs]
    taken: set[Mould] = set()
    while left:
        best = max(sorted(moulds), key=lambda mould: sum(mould in served for served in left))
        taken.add(best)
        left = [served for served in left if best not in served]
    return taken


def _answer(
    needs: Sequence[Sequence[Way]],
    stock: Mapping[Mould, int],
    ways: Sequence[int],
    gap: float,
) -> Solved:
    """What the ways taken come to, counted from the needs themselves."""
    used: dict[Mould, int] = {}
    each: dict[Mould, float] = {}
    tight = 0
    for every, index in zip(needs, ways, strict=True):
        way = every[index]
        used[way.mould] = used.get(way.mould, 0) + way.pieces
        each[way.mould] = way.mass / way.pieces
        tight += way.tight
    taken = {mould: min(stock.get(mould, 0), pieces) for mould, pieces in used.items()}
    made = {mould: used[mould] - taken[mould] for mould in used if used[mould] > taken[mould]}
    return Solved(
        ways=tuple(ways),
        made=tuple(sorted(made)),
        from_stock={mould: pieces for mould, pieces in sorted(taken.items()) if pieces},
        mass=sum(pieces * each[mould] for mould, pieces in made.items()),
        tight=tight,
        gap=gap,
    )
