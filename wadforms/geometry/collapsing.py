"""Which sides of a polygon vanish when it is offset, and what is left without them.

The sides move at one pace, each along its normal, and one that grows shorter is gone at a known
distance.  They are taken away in the order in which they go, the neighbours lengthened until
they meet: the edge events of a straight skeleton (Aichholzer, Aurenhammer, Alberts & Gärtner,
'A novel type of skeleton for polygons', J. Universal Computer Science 1 (1995); from memory).
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, NamedTuple

from wadforms.geometry.segment import Point

LEAST_SIDE: Final = 1e-4
"""A side shorter than this [mm] has vanished; the kernel and the meshes tell points that far."""

_PARALLEL: Final = 1e-9  # sine of the angle below which two lines have no meeting point


class Bend(NamedTuple):
    """A run of sides that vanish together.

    Parameters
    ----------
    points : tuple of (float, float)
        The run's points as drawn [mm].
    radius : float
        Offset at which the first of its sides is gone [mm]: of a bend of lines, its radius.
    stray : float
        How far the outline without these sides strays from the outline with them [mm];
        infinite where the outline has no meaning without them.
    """

    points: tuple[Point, ...]
    radius: float
    stray: float

    @property
    def middle(self) -> Point:
        """The place of the bend [mm]."""
        return self.points[len(self.points) // 2]


class Collapsed(NamedTuple):
    """What is left of a ring, and what went.

    Parameters
    ----------
    ring : tuple of (float, float)
        Its points without the sides that vanish [mm].
    bends : tuple of Bend
        What went.
    """

    ring: tuple[Point, ...]
    bends: tuple[Bend, ...]


@dataclass(slots=True)
class _Corner:
    """A vertex, and the side from it to the next one."""

    at: Point
    along: Point  # direction of its side
    run: list[Point]
    radius: float = math.inf
    before: int = 0
    after: int = 0
    version: int = 0
    alive: bool = True
    stuck: bool = False


def collapsed(ring: Sequence[Point], distance: float) -> Collapsed:
    """The ring without the sides that would vanish on the way outward by `distance` [mm].

    Parameters
    ----------
    ring : sequence of (float, float)
        Counter-clockwise [mm].
    distance : float
        Outward, inward where negative [mm].

    Examples
    --------
    >>> hollow = [(0, 0), (40, 0), (40, 40), (20.3, 40), (20, 39.7), (20, 20), (0, 20)]
    >>> gone = collapsed(hollow, 1.0)
    >>> len(gone.ring), [(bend.middle, round(bend.radius, 2)) for bend in gone.bends]
    (7, [])
    >>> gone = collapsed([(0, 0), (9, 0), (9, 9), (5, 9), (5, 5.1), (4.9, 5), (0, 5)], 1.0)
    >>> len(gone.ring), [round(bend.radius, 2) for bend in gone.bends]
    (6, [0.17])
    """
    corners = _corners(ring)
    far, way = abs(distance), math.copysign(1.0, distance)
    heap: list[tuple[float, int, int]] = []
    for i in range(len(corners)):
        _queue(heap, corners, i, way, far)
    left = len(corners)
    while heap and left > 3:
        radius, i, version = heapq.heappop(heap)
        corner = corners[i]
        if not corner.alive or corner.version != version:
            continue
        before, last = corners[corner.before], corners[corner.after]
        meeting = _meeting(before, last, corners[last.after].at)
        if meeting is None:
            corner.stuck, corner.radius = True, min(corner.radius, radius)
            continue
        # The side goes: its end takes the meeting point, and its start is no corner any more.
        last.at, last.run = meeting, corner.run + last.run
        last.radius = min(corner.radius, last.radius, radius)
        corner.alive = False
        left -= 1
        last.before = corner.before
        before.after = corner.after
        for j in (corner.before, corner.after):
            corners[j].version += 1
            corners[j].stuck = False
            _queue(heap, corners, j, way, far)
    kept = _in_order(corners)
    return Collapsed(tuple(c.at for c in kept), tuple(_bends(corners, kept)))


def _corners(ring: Sequence[Point]) -> list[_Corner]:
    """The corners of a ring; points that lie on each other are one."""
    points: list[Point] = []
    for p in ring:
        if not points or math.dist(points[-1], p) >= LEAST_SIDE:
            points.append(p)
    while len(points) > 3 and math.dist(points[-1], points[0]) < LEAST_SIDE:
        points.pop()
    count = len(points)
    corners = []
    for i, (a, b) in enumerate(zip(points, points[1:] + points[:1], strict=True)):
        long = math.dist(a, b)
        along = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
        corners.append(_Corner(a, along, [a], before=(i - 1) % count, after=(i + 1) % count))
    return corners


def _half_turn(a: Point, b: Point) -> float:
    """Tangent of half the turn from one direction to the next."""
    cross, dot = a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]
    # tan(t/2) = sin t / (1 + cos t), or (1 − cos t) / sin t, whichever keeps its digits.
    if dot > 0.0:
        return cross / (1.0 + dot)
    return (1.0 - dot) / cross if cross else math.inf


def _queue(
    heap: list[tuple[float, int, int]], corners: list[_Corner], i: int, way: float, far: float
) -> None:
    """Note when the side of a corner vanishes, if it does within reach."""
    corner = corners[i]
    before, after = corners[corner.before], corners[corner.after]
    rate = way * (_half_turn(before.along, corner.along) + _half_turn(corner.along, after.along))
    if not rate < 0.0:
        return
    dx, dy = after.at[0] - corner.at[0], after.at[1] - corner.at[1]
    length = dx * corner.along[0] + dy * corner.along[1]
    gone = max(0.0, (length - LEAST_SIDE) / -rate)
    if gone < far:
        heapq.heappush(heap, (gone, i, corner.version))


def _meeting(before: _Corner, after: _Corner, end: Point) -> Point | None:
    """Where the sides before and after a vanished one meet, if they go on from there."""
    a, b = before.along, after.along
    cross = a[0] * b[1] - a[1] * b[0]
    if abs(cross) < _PARALLEL:
        return None
    dx, dy = after.at[0] - before.at[0], after.at[1] - before.at[1]
    reach = (dx * b[1] - dy * b[0]) / cross
    if reach <= LEAST_SIDE:
        return None
    x, y = before.at[0] + reach * a[0], before.at[1] + reach * a[1]
    rest = (end[0] - x) * b[0] + (end[1] - y) * b[1]
    return (x, y) if rest > LEAST_SIDE else None


def _in_order(corners: list[_Corner]) -> list[_Corner]:
    first = next(i for i, c in enumerate(corners) if c.alive)
    kept: list[_Corner] = []
    i = first
    while not kept or i != first:
        kept.append(corners[i])
        i = corners[i].after
    return kept


def _bends(corners: list[_Corner], kept: list[_Corner]) -> list[Bend]:
    found = []
    for corner in kept:
        after = corners[corner.after]
        if corner.stuck:
            points = (*corner.run, *after.run)
            found.append(Bend(points, corner.radius, math.inf))
        elif len(corner.run) > 1:
            before = corners[corner.before]
            found.append(
                Bend(tuple(corner.run), corner.radius, _stray(corner, before.at, after.at))
            )
    return found


def _stray(corner: _Corner, before: Point, after: Point) -> float:
    """How far a corner and the run it stands for are apart [mm]."""
    run = [before, *corner.run, after]
    sides = list(pairwise(run))
    out = min(_from_side(corner.at, a, b) for a, b in sides)
    back = (
        min(_from_side(p, before, corner.at), _from_side(p, corner.at, after)) for p in corner.run
    )
    return max(out, *back)


def _from_side(p: Point, a: Point, b: Point) -> float:
    """Distance of a point from a side [mm]."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    share = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square if square else 0.0
    share = min(1.0, max(0.0, share))
    return math.hypot(p[0] - a[0] - share * dx, p[1] - a[1] - share * dy)
