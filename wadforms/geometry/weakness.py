"""Where clay of an outline breaks or tears: narrow necks, tight hollows, sharp hollow corners.

These are no matter of walls or draft (`wadforms.geometry.tightness` tells those): a piece with
such places can be made, and is lost when it is taken up or dries.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from wadforms.geometry.collapsing import LEAST_SIDE
from wadforms.geometry.contour import CHORD_ERROR, Contour, Point, Segment
from wadforms.geometry.corners import LEAST_TURN, hollow_corners
from wadforms.geometry.outline import Outline
from wadforms.geometry.tightness import tight_places

NECK: Final = "neck"
BEND: Final = "bend"
CORNER: Final = "corner"

_ROUND: Final = math.radians(355.0)  # arcs of one circle that turn by more are a round hole
_SHARE: Final = 0.93  # of a width, so that a bend of just the least radius is no narrow slot
_EXACT: Final = 0.98  # radii of lines are found so exactly: they may stand a little off their bend
_ALIKE: Final = 1.03  # two measures of one hollow differ by less
_JITTER: Final = 20 * CHORD_ERROR  # what turns back within this is noise of a tracing [mm]
_SLACK: Final = 0.01  # a neck or bend of just the least size is none too small [mm]


class WeakPlace(NamedTuple):
    """One place where clay is weak.

    Parameters
    ----------
    kind : str
        `NECK`, `BEND` or `CORNER`: too narrow, a tight hollow, a sharp hollow corner.
    at : (float, float)
        Where it is [mm].
    measure : float
        Width of a neck, radius of a bend, 0 for a corner [mm].
    """

    kind: str
    at: Point
    measure: float

    def __str__(self) -> str:
        """The place in words."""
        x, y = (round(ordinate, 1) + 0.0 for ordinate in self.at)
        at = f"at ({x:.1f}, {y:.1f}) mm"
        if self.kind == NECK:
            return f"clay only {self.measure:.2f} mm wide {at}"
        if self.kind == BEND:
            return f"a hollow of radius {self.measure:.2f} mm {at}"
        return f"a sharp hollow corner {at}"


def weak_places(outline: Outline, *, neck: float, bend: float) -> tuple[WeakPlace, ...]:
    """The places of an outline that are narrower, or more tightly hollow, than is sound.

    A tip that runs out to a point is none; a stalk is.  The radius of a hollow that is drawn of
    short lines is the least that a stretch of it has which turns by 30° or more, its length over
    its turn: the same whatever is asked for.

    Parameters
    ----------
    outline : Outline
        Counted in mm.
    neck, bend : float
        Narrowest clay, and smallest radius of a hollow, that are sound [mm]; 0 asks for none.

    Examples
    --------
    >>> from wadforms.geometry.contour import Contour
    >>> bone = Contour.polygon([(0, 0), (20, 0), (20, 8), (40, 8), (40, 0), (60, 0), (60, 20),
    ...     (40, 20), (40, 11), (20, 11), (20, 20), (0, 20)])
    >>> [(place.kind, place.measure) for place in weak_places(Outline(bone), neck=4, bend=0)]
    [('neck', 3.0)]
    """
    return _weak(outline, neck, bend)


@lru_cache(maxsize=64)
def _weak(outline: Outline, neck: float, bend: float) -> tuple[WeakPlace, ...]:
    found: list[WeakPlace] = []
    if neck > _SLACK:
        for place in tight_places(outline, -(neck - _SLACK) / 2):
            if place.kind == "gap":
                found.append(WeakPlace(NECK, place.at, place.width))
    if bend > _SLACK:
        found += _hollows(outline, bend - _SLACK)
    return tuple(found)


def _hollows(outline: Outline, bend: float) -> list[WeakPlace]:
    """Hollow arcs, other bends, slots by their width, and sharp hollow corners."""
    found: list[WeakPlace] = []
    arcs: dict[tuple[float, ...], list[Segment]] = defaultdict(list)
    for way, contour in ((1.0, outline.outer), *((-1.0, hole) for hole in outline.holes)):
        for arc in contour.segments:
            if arc.bulge * way < 0.0 and arc.radius < bend:
                circle = (*arc.centre, arc.radius)
                arcs[tuple(round(measure, 2) for measure in circle)].append(arc)
    found += (WeakPlace(CORNER, corner.at, 0.0) for corner in hollow_corners(outline))
    for parts in arcs.values():
        turn = sum(abs(part.sweep) for part in parts)
        if turn > LEAST_TURN:
            at = parts[0].centre if turn > _ROUND else _middle(parts[0])
            found.append(WeakPlace(BEND, at, parts[0].radius))
    drawn = [
        place
        for way, contour in ((1.0, outline.outer), *((-1.0, hole) for hole in outline.holes))
        for place in _drawn_of_lines(contour, way, bend)
    ]
    for place in sorted(drawn, key=lambda place: (place.measure, place.at)):
        near = (p for p in found if math.dist(p.at, place.at) <= bend)
        # A stretch of an arc is the arc again, found a little less exactly.
        if all(p.measure > place.measure * _ALIKE for p in near):
            found.append(place)
    for slot in tight_places(outline, bend * _SHARE):
        if slot.kind == "gap" and all(math.dist(slot.at, p.at) > bend for p in found):
            found.append(WeakPlace(BEND, slot.at, slot.room))
    return found


def _drawn_of_lines(contour: Contour, way: float, bend: float) -> list[WeakPlace]:
    """Stretches of a contour, with its arcs as lines, that are more tightly hollow than asked."""
    ring = _apart(contour.flattened())
    count = len(ring)
    sides = [math.dist(p, ring[(i + 1) % count]) for i, p in enumerate(ring)]
    ways = [
        math.atan2(ring[(i + 1) % count][1] - y, ring[(i + 1) % count][0] - x)
        for i, (x, y) in enumerate(ring)
    ]
    turns = [-way * math.remainder(ways[i] - ways[i - 1], math.tau) for i in range(count)]
    found = []
    for first in range(count):
        last, turn, between = first, turns[first], 0.0
        while (
            0.0 < turn < LEAST_TURN and between < 2 * bend * LEAST_TURN and last < first + count - 1
        ):
            between += sides[last % count]
            last += 1
            turn += turns[last % count]
        corner = max(turns[first], turns[last % count]) > LEAST_TURN  # told as such
        if turn < LEAST_TURN or corner:
            continue
        # To each of its two ends belongs half a side beyond it, and not half of a long straight.
        ends = (
            min(sides[first - 1], sides[first]),
            min(sides[last % count], sides[last - 1 - count]),
        )
        radius = (between + sum(ends) / 2) / turn
        if radius < bend * _EXACT and _stays(sides, turns, first, last):
            found.append(WeakPlace(BEND, ring[(first + last) // 2 % count], radius))
    return found


def _apart(points: Sequence[Point]) -> list[Point]:
    """The points of a ring without those that lie on the one before."""
    return [p for i, p in enumerate(points) if math.dist(p, points[i - 1]) >= LEAST_SIDE]


def _stays(sides: list[float], turns: list[float], first: int, last: int) -> bool:
    """Whether a stretch turns on the whole, and the lines beside it do not turn back at once."""
    count = len(sides)
    turn = sum(turns[k % count] for k in range(first, last + 1))
    for start, step in ((first, -1), (last, 1)):
        k, gone = start, 0.0
        while abs(k - start) < count:
            gone += sides[(k if step > 0 else k - 1) % count]
            k += step
            if gone > _JITTER:
                break
            turn += turns[k % count]
    return turn > LEAST_TURN / 2


def _middle(arc: Segment) -> Point:
    """The point half way along an arc."""
    (x, y), half = arc.centre, arc.sweep / 2
    angle = math.atan2(arc.start[1] - y, arc.start[0] - x) + half
    return x + arc.radius * math.cos(angle), y + arc.radius * math.sin(angle)
