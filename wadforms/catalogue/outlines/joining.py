"""Joins runs end to end into closed ones, where their ends lie within `JOINING`."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Sequence
from typing import Final

from wadforms.catalogue.outlines.refusal import Refused
from wadforms.catalogue.outlines.tracing import Run
from wadforms.geometry.contour import Point

JOINING: Final = 0.05
"""How far apart two ends may lie that are one point [mm]; CAD programmes keep closer."""

_TOLD: Final = 3  # places that a message names; the others it counts

_End = tuple[int, int]  # which run, and 0 for its beginning or 1 for its end


def joined(
    runs: Sequence[Run], place: Callable[[Point], str], tolerance: float = JOINING
) -> list[Run]:
    """Closed runs, made of those that are closed and those whose ends meet.

    Parameters
    ----------
    runs : sequence of Run
        In any order, run either way.
    place : callable
        Tells a place for a message.
    tolerance : float
        How far apart two ends may lie that are one point [mm].

    Raises
    ------
    Refused
        An end meets no other, or more than one; with the places.

    Examples
    --------
    >>> up = Run(((0, 0), (9, 0), (9, 5)), (0, 0), closed=False)
    >>> back = Run(((0, 0), (0, 5), (9, 5.01)), (0, 0), closed=False)
    >>> len(joined([up, back], str)[0].points)
    4
    """
    found = [run for run in runs if run.closed]
    open_runs = [run for run in runs if not run.closed]
    partners = _partners(open_runs, place, tolerance)
    left = set(range(len(open_runs)))
    while left:
        first = min(left)
        found.append(_chained(open_runs, partners, first, left))
    return found


def _at(run: Run, side: int) -> Point:
    return run.points[-1 if side else 0]


def _partners(
    runs: Sequence[Run], place: Callable[[Point], str], tolerance: float
) -> dict[_End, _End]:
    """For each end the one that it meets."""
    cells: dict[tuple[int, int], list[_End]] = defaultdict(list)
    ends = [(i, side) for i in range(len(runs)) for side in (0, 1)]
    for end in ends:
        cells[_cell(_at(runs[end[0]], end[1]), tolerance)].append(end)
    partners: dict[_End, _End] = {}
    loose: list[Point] = []
    crowded: list[Point] = []
    for end in ends:
        at = _at(runs[end[0]], end[1])
        i, j = _cell(at, tolerance)
        near = [
            other
            for di in (-1, 0, 1)
            for dj in (-1, 0, 1)
            for other in cells.get((i + di, j + dj), ())[:8]
            if other != end and math.dist(_at(runs[other[0]], other[1]), at) <= tolerance
        ]
        if len(near) == 1:
            partners[end] = near[0]
        else:
            (crowded if near else loose).append(at)
    faults = []
    if crowded:
        right = "draw each line once, and no branches"
        faults.append((f"more than two ends that meet {_told(crowded, place)}", right))
    if loose:
        right = f"close the outline: ends may lie {tolerance:g} mm apart"
        faults.append((f"a line that ends without another {_told(loose, place)}", right))
    if faults:
        raise Refused(*faults)
    return partners


def _cell(point: Point, size: float) -> tuple[int, int]:
    return math.floor(point[0] / size), math.floor(point[1] / size)


def _told(points: Sequence[Point], place: Callable[[Point], str]) -> str:
    apart = list(dict.fromkeys(place(point) for point in points))
    more = f" and at {len(apart) - _TOLD} more places" if len(apart) > _TOLD else ""
    return f"at {', '.join(apart[:_TOLD])}{more}"


def _chained(runs: Sequence[Run], partners: dict[_End, _End], first: int, left: set[int]) -> Run:
    points: list[Point] = []
    bulges: list[float] = []
    here, side = first, 0  # runs from this side to the other
    while here in left:
        left.discard(here)
        run = runs[here]
        points += run.points[:-1] if side == 0 else run.points[:0:-1]
        bulges += run.bulges if side == 0 else (-b for b in reversed(run.bulges))
        here, side = partners[here, 1 - side]
    return Run(tuple(points), tuple(bulges), closed=True)
