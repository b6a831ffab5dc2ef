"""How the segments of a contour move when it is offset: lines parallel, arcs concentric."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, NoReturn

from wadforms.errors import NotMakeable
from wadforms.geometry.segment import Point, Segment

_TANGENT: Final = 1e-7  # two segments that meet within this angle [rad] run on smoothly

_ROUND_OFF: Final = 1e-12  # carriers that all but touch do touch, relative to the radius squared


def moved(
    segments: Sequence[Segment], distance: float
) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """Vertices [mm] and bulges of a contour moved outward by `distance` [mm], corners mitred.

    Raises
    ------
    NotMakeable
        A segment would vanish or turn over; the message names the place.

    Examples
    --------
    >>> corners = [(0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0)]
    >>> sides = [Segment(a, b, 0.0) for a, b in zip(corners, corners[1:] + corners[:1])]
    >>> [(round(x, 9), round(y, 9)) for x, y in moved(sides, 1.5)[0]]
    [(-1.5, -1.5), (41.5, -1.5), (41.5, 21.5), (-1.5, 21.5)]
    """
    before = segments
    count = len(before)
    vertices = tuple(_corner(before[i - 1], before[i], distance) for i in range(count))
    bulges = []
    for i, old in enumerate(before):
        start, end = vertices[i], vertices[(i + 1) % count]
        bulge = 0.0
        if old.bulge:
            sweep = _sweep(old, start, end, distance)
            bulge = math.tan(sweep / 4)
            kept = sweep * old.sweep > 0.0
        else:
            kept = _dot(_minus(end, start), _minus(old.end, old.start)) > 0.0
        if not kept:
            _collapsed(old, distance)
        bulges.append(bulge)
    return vertices, tuple(bulges)


def _minus(a: Point, b: Point) -> Point:
    return a[0] - b[0], a[1] - b[1]


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1]


def _moved_radius(s: Segment, distance: float) -> float:
    """Radius of an arc after the offset: outward arcs grow, hollow ones shrink."""
    return s.radius + math.copysign(distance, distance * s.bulge)


def _sweep(old: Segment, start: Point, end: Point, distance: float) -> float:
    """Sweep of the offset arc from `start` to `end`, in the sense of the old one."""
    if _moved_radius(old, distance) <= 1e-9:
        _collapsed(old, distance)
    centre = old.centre
    a, b = _minus(start, centre), _minus(end, centre)
    turn = math.atan2(b[1], b[0]) - math.atan2(a[1], a[0])
    # Take the turn that is nearest to the old sweep: a mitre changes it by a little only.
    return turn + math.tau * round((old.sweep - turn) / math.tau)


def _collapsed(s: Segment, distance: float) -> NoReturn:
    middle = ((s.start[0] + s.end[0]) / 2, (s.start[1] + s.end[1]) / 2)
    what = f"a bend of radius {s.radius:.2f} mm" if s.bulge else f"a side {s.chord:.2f} mm long"
    way = "outward" if distance > 0 else "inward"
    raise NotMakeable(
        f"the outline cannot be moved {way} by {abs(distance):.2f} mm: "
        f"{what} near ({middle[0]:.1f}, {middle[1]:.1f}) mm would vanish"
    )


def _corner(before: Segment, after: Segment, distance: float) -> Point:
    """Where two offset segments meet: on the normal if smooth, else at the mitre."""
    v = after.start
    h0, h1 = before.heading(at_end=True), after.heading(at_end=False)
    turn = math.remainder(h1 - h0, math.tau)
    if abs(turn) < _TANGENT:
        return v[0] + distance * math.sin(h1), v[1] - distance * math.cos(h1)
    half = h0 + turn / 2
    reach = distance / math.cos(turn / 2)
    mitre = (v[0] + reach * math.sin(half), v[1] - reach * math.cos(half))
    if not before.bulge and not after.bulge:
        return mitre
    if before.bulge and after.bulge:
        return _nearest(_circles(before, after, distance), mitre, before, distance)
    line, arc = (after, before) if before.bulge else (before, after)
    return _nearest(_line_circle(line, arc, distance), mitre, arc, distance)


def _nearest(found: list[Point], to: Point, s: Segment, distance: float) -> Point:
    if not found:
        _collapsed(s, distance)
    return min(found, key=lambda p: math.dist(p, to))


def _line_circle(line: Segment, arc: Segment, distance: float) -> list[Point]:
    """Meeting points of the offset carriers of a line and an arc."""
    heading = line.heading(at_end=False)
    ux, uy = math.cos(heading), math.sin(heading)
    px, py = line.start[0] + distance * uy, line.start[1] - distance * ux
    (cx, cy), r = arc.centre, _moved_radius(arc, distance)
    along = (cx - px) * ux + (cy - py) * uy
    away = (cx - px) * uy - (cy - py) * ux
    rest = r * r - away * away
    if rest < -_ROUND_OFF * r * r:
        return []
    root = math.sqrt(max(0.0, rest))
    return [(px + t * ux, py + t * uy) for t in (along - root, along + root)]


def _circles(a: Segment, b: Segment, distance: float) -> list[Point]:
    """Meeting points of the offset carriers of two arcs."""
    (ax, ay), (bx, by) = a.centre, b.centre
    ra, rb = _moved_radius(a, distance), _moved_radius(b, distance)
    d = math.hypot(bx - ax, by - ay)
    if d < 1e-9:
        return []
    along = (d * d + ra * ra - rb * rb) / (2.0 * d)
    rest = ra * ra - along * along
    if rest < -_ROUND_OFF * ra * ra:
        return []
    root, ux, uy = math.sqrt(max(0.0, rest)), (bx - ax) / d, (by - ay) / d
    return [(ax + along * ux - k * uy, ay + along * uy + k * ux) for k in (-root, root)]
