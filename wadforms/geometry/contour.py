"""A contour: one closed curve of straight lines and circular arcs, kept exact.

An arc is stored as the *bulge* of its chord, tan(sweep/4), positive where it turns
counter-clockwise.  Area, length, offset and mean are computed from lines and arcs, never from a
polygon; only `Contour.flattened` makes one, and it names its error.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, NamedTuple, Protocol, TypeAlias

from wadforms.errors import NotMakeable

Point: TypeAlias = tuple[float, float]

CHORD_ERROR: Final = 0.005
"""How far a flattened arc may stray from the arc itself [mm]."""

_STEP: Final = math.radians(3.0)  # small arcs, where the chord error alone would be too coarse
_TANGENT: Final = 1e-7  # two segments that meet within this angle [rad] run on smoothly


class Pen(Protocol):
    """What a contour draws itself on: a path, a wire of the kernel, a polygon."""

    def move_to(self, point: Point) -> None:
        """Begin a contour at `point`."""

    def line_to(self, point: Point) -> None:
        """Go straight to `point`."""

    def arc_to(self, point: Point, centre: Point, sweep: float) -> None:
        """Go to `point` on a circle about `centre`; `sweep` [rad], positive counter-clockwise."""

    def close(self) -> None:
        """End the contour; the last point was the first."""


class Segment(NamedTuple):
    """One line or arc of a contour.

    Parameters
    ----------
    start, end : (float, float)
        Its ends [mm].
    bulge : float
        tan(sweep/4): 0 for a line, positive for an arc that runs counter-clockwise.
    """

    start: Point
    end: Point
    bulge: float

    @property
    def chord(self) -> float:
        """Distance from start to end [mm]."""
        return math.dist(self.start, self.end)

    @property
    def sweep(self) -> float:
        """Angle of the arc [rad], positive counter-clockwise; 0 for a line."""
        return 4.0 * math.atan(self.bulge)

    @property
    def radius(self) -> float:
        """Radius of the arc [mm]; infinite for a line."""
        if not self.bulge:
            return math.inf
        return self.chord * (1.0 + self.bulge**2) / (4.0 * abs(self.bulge))

    @property
    def length(self) -> float:
        """Length along the curve [mm]."""
        return self.radius * abs(self.sweep) if self.bulge else self.chord

    @property
    def centre(self) -> Point:
        """Centre of the arc; only arcs have one."""
        (x0, y0), (x1, y1), b = self.start, self.end, self.bulge
        along = (1.0 - b * b) / (4.0 * b)
        return (x0 + x1) / 2 - along * (y1 - y0), (y0 + y1) / 2 + along * (x1 - x0)

    def heading(self, at_end: bool) -> float:
        """Direction of travel [rad] at the start or the end."""
        chord = math.atan2(self.end[1] - self.start[1], self.end[0] - self.start[0])
        return chord + self.sweep / 2 if at_end else chord - self.sweep / 2


@dataclass(frozen=True, slots=True)
class Contour:
    """One closed curve of lines and arcs.

    Parameters
    ----------
    vertices : tuple of (float, float)
        Where the segments meet, counter-clockwise for the outside of a piece [mm].
    bulges : tuple of float
        For each vertex the bulge tan(sweep/4) of the segment that starts there; 0 is a line.

    Examples
    --------
    >>> square = Contour.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> square.area, square.length
    (100.0, 40.0)
    >>> round(Contour.circle(10).area - math.pi * 100, 9)
    0.0
    """

    vertices: tuple[Point, ...]
    bulges: tuple[float, ...]

    @classmethod
    def polygon(cls, points: Sequence[Point]) -> Contour:
        """A contour of straight lines through `points` [mm]."""
        vertices = tuple((float(x), float(y)) for x, y in points)
        return cls(vertices, (0.0,) * len(vertices))

    @classmethod
    def circle(cls, radius: float, centre: Point = (0.0, 0.0)) -> Contour:
        """A full circle, as two half arcs; `radius` and `centre` in mm."""
        x, y = centre
        return cls(((x + radius, y), (x - radius, y)), (1.0, 1.0))

    @property
    def segments(self) -> tuple[Segment, ...]:
        """The lines and arcs, in order."""
        ends = (*self.vertices[1:], self.vertices[0])
        return tuple(map(Segment, self.vertices, ends, self.bulges))

    @property
    def area(self) -> float:
        """Enclosed area [mm²], exact: the polygon plus its circular segments.

        Positive where the contour runs counter-clockwise.  A segment of chord c and sweep φ
        adds c² (φ − sin φ)/(8 sin²(φ/2)).
        """
        total = 0.0
        for s in self.segments:
            total += (s.start[0] * s.end[1] - s.end[0] * s.start[1]) / 2
            if s.bulge:
                phi = s.sweep
                total += s.chord**2 * (phi - math.sin(phi)) / (8.0 * math.sin(phi / 2) ** 2)
        return total

    @property
    def length(self) -> float:
        """Length of the curve [mm], exact."""
        return math.fsum(s.length for s in self.segments)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Smallest x, smallest y, largest x, largest y [mm], arcs included."""
        points = list(self.vertices)
        for s in self.segments:
            if s.bulge:
                (cx, cy), r = s.centre, s.radius
                start = math.atan2(s.start[1] - cy, s.start[0] - cx)
                for quarter in range(4):
                    turn = (quarter * math.pi / 2 - start) * (1 if s.bulge > 0 else -1)
                    if turn % math.tau < abs(s.sweep):
                        angle = quarter * math.pi / 2
                        points.append((cx + r * math.cos(angle), cy + r * math.sin(angle)))
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return min(xs), min(ys), max(xs), max(ys)

    def draw(self, pen: Pen) -> None:
        """Draw the contour on a pen, arcs as arcs."""
        pen.move_to(self.vertices[0])
        for s in self.segments:
            if s.bulge:
                pen.arc_to(s.end, s.centre, s.sweep)
            else:
                pen.line_to(s.end)
        pen.close()

    def mapped(self, move: Callable[[Point], Point], *, mirrored: bool = False) -> Contour:
        """The contour with every vertex moved by a similarity; `mirrored` where it reflects."""
        vertices = tuple(move(p) for p in self.vertices)
        if not mirrored:
            return Contour(vertices, self.bulges)
        # Run backwards, so that a mirrored outside still runs counter-clockwise.
        back = (vertices[0], *reversed(vertices[1:]))
        return Contour(back, tuple(reversed(self.bulges)))

    def reversed(self) -> Contour:
        """The same curve run the other way."""
        back = (self.vertices[0], *reversed(self.vertices[1:]))
        return Contour(back, tuple(-b for b in reversed(self.bulges)))

    def mean_area(self, other: Contour) -> float:
        """Area half way to a contour of the same segments, lines to lines and arcs to arcs [mm²].

        Half way is the middle of each straight line that joins two points at the same share of
        a segment's length.  Where an arc ends in a corner, its offset has another sweep, and
        the middle is no arc any more; its area is exact all the same:

        ½ ∮ m × dm, with m = c + ½ (rₐ e(θₐ) + r_b e(θ_b)) on an arc, is
        ½ [c × Δm + ¼ (rₐ² φₐ + r_b² φ_b + rₐ r_b (φₐ + φ_b) cos δ̄ · sin η / η)] with the centres'
        middle c, the sweeps φ, the mean δ̄ of θ_b − θₐ at both ends, and η half its change.

        Examples
        --------
        >>> round(Contour.circle(10).mean_area(Contour.circle(8)) / math.pi, 9)
        81.0
        """
        return math.fsum(map(_mean_part, self.segments, other.segments))

    def offset(self, distance: float) -> Contour:
        """The contour moved outward by `distance` [mm] (inward where negative), segment by segment.

        Lines stay parallel, arcs stay concentric, corners are mitred, so that each segment of
        the result answers to one of this contour: what a drafted wall needs.

        Raises
        ------
        NotMakeable
            A segment would vanish or turn over; the message names the place.

        Examples
        --------
        >>> sides = Contour.polygon([(0, 0), (40, 0), (40, 20), (0, 20)])
        >>> round(sides.offset(1.5).area, 9), round(sides.offset(3).area, 9)
        (989.0, 1196.0)
        """
        if distance == 0.0:
            return self
        before = self.segments
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
        return Contour(vertices, tuple(bulges))

    def flattened(self, chord_error: float = CHORD_ERROR) -> list[Point]:
        """Vertices of a polygon that strays by at most `chord_error` [mm].

        The vertices inside an arc are moved out until the polygon's sector has the area of the
        arc's, so flattening changes no area.  (A polygon that is merely inscribed loses some: a
        circle of 64 sides 0.16 %.)

        Examples
        --------
        >>> points = Contour.circle(6).flattened()
        >>> ring = zip(points, points[1:] + points[:1])
        >>> twice_area = sum(a[0] * b[1] - b[0] * a[1] for a, b in ring)
        >>> abs(twice_area / 2 - math.pi * 36) < 1e-9
        True
        """
        return list(_flattened(self, chord_error))

    def __iter__(self) -> Iterator[Segment]:
        """Iterate over the segments."""
        return iter(self.segments)


def _mean_part(a: Segment, b: Segment) -> float:
    """What a pair of segments adds to the area half way between their contours."""
    start = ((a.start[0] + b.start[0]) / 2, (a.start[1] + b.start[1]) / 2)
    end = ((a.end[0] + b.end[0]) / 2, (a.end[1] + b.end[1]) / 2)
    if not a.bulge and not b.bulge:
        return _cross(start, end) / 2
    if not a.bulge or not b.bulge:
        raise ValueError("a line answers to an arc")
    centres = a.centre, b.centre
    first = math.remainder(_angle(centres[1], b.start) - _angle(centres[0], a.start), math.tau)
    eta = (b.sweep - a.sweep) / 2
    cosine = math.cos(first + eta) * (math.sin(eta) / eta if eta else 1.0)
    centre = ((centres[0][0] + centres[1][0]) / 2, (centres[0][1] + centres[1][1]) / 2)
    swept = a.radius**2 * a.sweep + b.radius**2 * b.sweep
    swept += a.radius * b.radius * (a.sweep + b.sweep) * cosine
    return (_cross(centre, _minus(end, start)) + swept / 4) / 2


def _angle(centre: Point, point: Point) -> float:
    return math.atan2(point[1] - centre[1], point[0] - centre[0])


def _cross(a: Point, b: Point) -> float:
    return a[0] * b[1] - a[1] * b[0]


@lru_cache(maxsize=512)
def _flattened(contour: Contour, chord_error: float) -> tuple[Point, ...]:
    points: list[Point] = []
    for s in contour.segments:
        points.append(s.start)
        if not s.bulge:
            continue
        (cx, cy), r, sweep = s.centre, s.radius, s.sweep
        step = min(_STEP, 2.0 * math.acos(max(0.0, 1.0 - chord_error / r)))
        n = max(2, math.ceil(abs(sweep) / step - 1e-9))
        theta = abs(sweep) / n
        # (n − 2) ρ² sin θ + 2 r ρ sin θ = n r² θ: the sector's area is kept.
        a, b, c = (n - 2) * math.sin(theta), 2.0 * r * math.sin(theta), n * r * r * theta
        rho = c / b if n == 2 else (-b + math.sqrt(b * b + 4.0 * a * c)) / (2.0 * a)
        start = math.atan2(s.start[1] - cy, s.start[0] - cx)
        for k in range(1, n):
            angle = start + sweep * k / n
            points.append((cx + rho * math.cos(angle), cy + rho * math.sin(angle)))
    return tuple(points)


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


def _collapsed(s: Segment, distance: float) -> None:
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
    if rest < 0.0:
        return []
    root = math.sqrt(rest)
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
    if rest < 0.0:
        return []
    root, ux, uy = math.sqrt(rest), (bx - ax) / d, (by - ay) / d
    return [(ax + along * ux - k * uy, ay + along * uy + k * ux) for k in (-root, root)]
