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
from typing import Final, Protocol

from wadforms.geometry.offsetting import moved
from wadforms.geometry.segment import Point, Segment

__all__ = ["CHORD_ERROR", "Contour", "Pen", "Point", "Segment"]

CHORD_ERROR: Final = 0.005
"""How far a flattened arc may stray from the arc itself [mm]."""


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


# A contour is a value: what was measured of it once holds for every equal one.
_kept = lru_cache(maxsize=2048)


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
    @_kept
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
    @_kept
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
        return Contour(*moved(self.segments, distance))

    def flattened(self, chord_error: float = CHORD_ERROR) -> list[Point]:
        """Vertices of a polygon that strays by at most `chord_error` [mm].

        It has the area of the contour; see `Segment.points`.  (A polygon that is merely
        inscribed loses some: a circle of 64 sides 0.16 %.)

        Raises
        ------
        NotMakeable
            An arc is so large that it would take more than 100 000 lines.

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
    return (_cross(centre, (end[0] - start[0], end[1] - start[1])) + swept / 4) / 2


def _angle(centre: Point, point: Point) -> float:
    return math.atan2(point[1] - centre[1], point[0] - centre[0])


def _cross(a: Point, b: Point) -> float:
    return a[0] * b[1] - a[1] * b[0]


@lru_cache(maxsize=512)
def _flattened(contour: Contour, chord_error: float) -> tuple[Point, ...]:
    return tuple(p for s in contour.segments for p in s.points(s.lines(chord_error)))
