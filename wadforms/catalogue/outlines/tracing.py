"""Follows a drawing's lines and curves, and keeps them as lines and arcs in mm, y up.

An arc of a circle stays one wherever the drawing's transforms leave it circular; every other
curve becomes lines.  Arcs of ellipses follow SVG 2, appendix B.2.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final, NamedTuple

from wadforms.catalogue.outlines.refusal import (
    CURVE_ERROR,
    FARTHEST,
    MOST_LINES,
    SAME,
    Refused,
    refused,
    shown,
)
from wadforms.geometry.contour import Contour, Point

_ROUND: Final = 1e-4  # half axes that differ by less are one radius [mm]
_LARGEST: Final = 1e100  # half axes from there on cannot be squared [mm]
_FLAT: Final = 1e-4  # an arc that rises by less is a line: its centre is lost [mm]
_FEWEST: Final = 3  # lines for a curve: with fewer, those that keep its area stray too far
_STRAIGHT: Final = 0.15  # a share of one line; of less, the curve is a line within 2 % of the error
_LONGEST: Final = math.radians(300.0)  # of an arc whose chord still tells where its centre is


class Affine(NamedTuple):
    """A map of the plane: (x, y) to (a x + c y + e, b x + d y + f).

    Parameters
    ----------
    a, b, c, d : float
        What a step of 1 becomes, a ratio.
    e, f : float
        Where the origin goes [mm], or in whatever is mapped to.
    """

    a: float
    b: float
    c: float
    d: float
    e: float
    f: float

    def point(self, p: Point) -> Point:
        """Where a point goes."""
        return self.a * p[0] + self.c * p[1] + self.e, self.b * p[0] + self.d * p[1] + self.f

    def vector(self, v: Point) -> Point:
        """What becomes of a step."""
        return self.a * v[0] + self.c * v[1], self.b * v[0] + self.d * v[1]

    def after(self, first: Affine) -> Affine:
        """`first`, and then this map.

        Examples
        --------
        >>> Affine(2, 0, 0, 2, 0, 0).after(Affine(1, 0, 0, 1, 5, 0)).point((1, 1))
        (12, 2)
        """
        a, b = self.vector((first.a, first.b))
        c, d = self.vector((first.c, first.d))
        e, f = self.point((first.e, first.f))
        return Affine(a, b, c, d, e, f)


class Run(NamedTuple):
    """Lines and arcs that hang together.

    Parameters
    ----------
    points : tuple of (float, float)
        Where they meet, with both ends [mm]; of a closed run the first is not said again.
    bulges : tuple of float
        tan(sweep/4) of each, as in `Contour`.
    closed : bool
        Whether the last leads back to the first point.
    """

    points: tuple[Point, ...]
    bulges: tuple[float, ...]
    closed: bool

    @property
    def contour(self) -> Contour:
        """A closed run as a contour."""
        return Contour(self.points, self.bulges)


class Tracer:
    """Collects runs from what is drawn in the drawing's own units.

    Parameters
    ----------
    finer : float
        How many times the outline will be enlarged: its curves are taken that much closer.

    Attributes
    ----------
    runs : list of Run
        What was drawn.
    to_mm : Affine
        From the drawing's units to mm, y up.
    error : float
        How far lines may stray from a curve [mm].
    y_down : bool
        Whether the drawing counts y downward.

    Examples
    --------
    >>> tracer = Tracer()
    >>> tracer.move((0.0, 0.0))
    >>> tracer.arc(5.0, 5.0, 0.0, False, True, (10.0, 0.0))
    >>> tracer.close()
    >>> [round(bulge, 9) for bulge in tracer.runs[0].bulges]
    [1.0, 0.0]
    """

    def __init__(self, finer: float = 1.0) -> None:
        self.runs: list[Run] = []
        self.to_mm = Affine(1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
        self.y_down = False
        self.error = CURVE_ERROR / finer
        self._same = SAME / finer
        self._start: Point = (0.0, 0.0)  # in the drawing's units
        self._here: Point = (0.0, 0.0)
        self._points: list[Point] = []
        self._bulges: list[float] = []
        self._drawn = 0

    @property
    def here(self) -> Point:
        """Where the pen is, in the drawing's units."""
        return self._here

    def place(self, point: Point) -> str:
        """A place [mm] as the drawing counts it."""
        return shown((point[0], -point[1]) if self.y_down else point)

    def move(self, point: Point) -> None:
        """Begin a run."""
        self.end()
        self._start = self._here = point
        self._points, self._bulges = [self._mm(point)], []

    def line(self, point: Point) -> None:
        """Go straight to a point."""
        self._here = point
        self._add(self._mm(point), 0.0)

    def quadratic(self, control: Point, end: Point) -> None:
        """Go along a Bézier curve of one control point."""
        (x0, y0), (x1, y1), (x2, y2) = self._here, control, end
        a = x0 + (x1 - x0) * 2 / 3, y0 + (y1 - y0) * 2 / 3
        b = x2 + (x1 - x2) * 2 / 3, y2 + (y1 - y2) * 2 / 3
        self.cubic(a, b, end)

    def cubic(self, first: Point, second: Point, end: Point) -> None:
        """Go along a Bézier curve of two control points."""
        p0, p1, p2, p3 = map(self._mm, (self._here, first, second, end))
        self._here = end
        # |B''| ≤ 6 max(|second differences|), and a chord strays by at most step² |B''| / 8.
        c, d = _second(p0, p1, p2), _second(p1, p2, p3)
        bend = 6 * max(math.hypot(*c), math.hypot(*d))

        def at(t: float) -> tuple[Point, Point, Point]:
            u = 1 - t
            w = (u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t)
            v = (-3 * u * u, 3 * u * u - 6 * u * t, 6 * u * t - 3 * t * t, 3 * t * t)
            return (
                (
                    w[0] * p0[0] + w[1] * p1[0] + w[2] * p2[0] + w[3] * p3[0],
                    w[0] * p0[1] + w[1] * p1[1] + w[2] * p2[1] + w[3] * p3[1],
                ),
                (
                    v[0] * p0[0] + v[1] * p1[0] + v[2] * p2[0] + v[3] * p3[0],
                    v[0] * p0[1] + v[1] * p1[1] + v[2] * p2[1] + v[3] * p3[1],
                ),
                (6 * (u * c[0] + t * d[0]), 6 * (u * c[1] + t * d[1])),
            )

        self._along(at, 0.0, 1.0, math.sqrt(bend / (8 * self.error)), p3)

    def arc(
        self, rx: float, ry: float, rotation: float, large: bool, sweep: bool, end: Point
    ) -> None:
        """Go along an arc of an ellipse, as SVG tells it.

        Parameters
        ----------
        rx, ry : float
            Half axes, in the drawing's units as all else ([mm] where these are mm).
        rotation : float
            From the x axis to the first of them [deg].
        large, sweep : bool
            Whether it turns by more than half, and toward growing angles.
        end : (float, float)
            Where it ends.
        """
        (x0, y0), (x1, y1) = self._here, end
        rx, ry = abs(rx), abs(ry)
        if end == self._here:
            return
        if not rx or not ry:
            self.line(end)
            return
        if not math.isfinite(rotation):
            raise refused("an arc that is beyond all measure", "draw it anew")
        c, s = math.cos(math.radians(rotation)), math.sin(math.radians(rotation))
        dx, dy = (x0 - x1) / 2, (y0 - y1) / 2
        x, y = (c * dx + s * dy) / rx, (c * dy - s * dx) / ry
        square = x * x + y * y
        if not 0.0 < square < math.inf:
            raise refused("an arc that is beyond all measure", "draw it anew")
        if square > 1.0:  # too small to reach: enlarged just enough
            rx, ry, x, y, square = (
                rx * math.sqrt(square), ry * math.sqrt(square),
                x / math.sqrt(square), y / math.sqrt(square), 1.0,
            )  # fmt: skip
        away = math.sqrt(1.0 / square - 1.0) * (-1.0 if large == sweep else 1.0)
        cx, cy = away * y, -away * x  # on the unit circle
        start = math.atan2(y - cy, x - cx)
        turn = math.atan2(-y - cy, -x - cx) - start
        turn = turn % math.tau if sweep else -(-turn % math.tau)
        centre = (
            (x0 + x1) / 2 + c * rx * cx - s * ry * cy,
            (y0 + y1) / 2 + s * rx * cx + c * ry * cy,
        )
        self.ellipse(centre, (c * rx, s * rx), (-s * ry, c * ry), start, turn, end)

    def ellipse(
        self, centre: Point, u: Point, v: Point, start: float, turn: float, end: Point
    ) -> None:
        """Go from here along centre + u cos t + v sin t.

        Parameters
        ----------
        centre, u, v : (float, float)
            In the drawing's units.
        start, turn : float
            The first t, and how far it goes on [rad].
        end : (float, float)
            Where that leads, as the drawing has it.
        """
        middle, u, v = self.to_mm.point(centre), self.to_mm.vector(u), self.to_mm.vector(v)
        last = self._mm(end)
        self._here = end
        if not (size := max(math.hypot(*u), math.hypot(*v))) < _LARGEST:
            raise refused(f"an arc of radius {size:g} mm", _stay())
        mean = (u[0] ** 2 + u[1] ** 2 + v[0] ** 2 + v[1] ** 2) / 2
        apart = math.hypot(
            (u[0] ** 2 + u[1] ** 2 - v[0] ** 2 - v[1] ** 2) / 2, u[0] * v[0] + u[1] * v[1]
        )
        longest, shortest = math.sqrt(mean + apart), math.sqrt(max(0.0, mean - apart))
        if not longest < math.inf or (abs(turn) > math.pi and longest > 2 * FARTHEST):
            raise refused(f"an arc of radius {longest:g} mm", _stay())

        def at(t: float) -> Point:
            return (
                middle[0] + u[0] * math.cos(t) + v[0] * math.sin(t),
                middle[1] + u[1] * math.cos(t) + v[1] * math.sin(t),
            )

        if longest - shortest <= _ROUND:
            turned = math.copysign(turn, turn * (u[0] * v[1] - u[1] * v[0]))
            parts = 2 if abs(turn) > _LONGEST else 1
            if longest * (1 - math.cos(min(math.pi, abs(turn) / 2))) < _FLAT:
                self._add(last, 0.0)
                return
            for k in range(1, parts):
                self._add(self._near(at(start + turn * k / parts)), math.tan(turned / parts / 4))
            self._add(last, math.tan(turned / parts / 4))
            return
        # A chord of a step h strays by at most the longer half axis times 1 − cos(h/2).
        step = 2 * math.acos(max(-1.0, 1 - self.error / longest))

        def around(t: float) -> tuple[Point, Point, Point]:
            (x, y), (dx, dy) = at(t), at(t + math.pi / 2)
            return (x, y), (dx - middle[0], dy - middle[1]), (middle[0] - x, middle[1] - y)

        self._along(around, start, turn, abs(turn) / step, last)

    def _along(
        self,
        at: Callable[[float], tuple[Point, Point, Point]],
        start: float,
        turn: float,
        wanted: float,
        last: Point,
    ) -> None:
        """Lines for a curve, of which `at` gives point, first and second derivative.

        The corners between them are moved out, so that the lines keep the area of the curve: a
        chord of a step h leaves h² |B''| / 12 of its length on one side.
        """
        n = self._lines(wanted)
        if n < _FEWEST and wanted > _STRAIGHT:
            n = _FEWEST
        h = turn / n
        for k in range(1, n):
            point, (dx, dy), (ax, ay) = at(start + h * k)
            square = dx * dx + dy * dy
            if square:
                out = h * h / 12 * n / (n - 1) * (dx * ay - dy * ax) / square
                point = point[0] + out * dy, point[1] - out * dx
            self._add(self._near(point), 0.0)
        self._add(last, 0.0)

    def close(self) -> None:
        """End the run where it began."""
        if self._bulges:
            if self._is_here(self._points[0]) and len(self._bulges) > 1:
                self._points.pop()
            else:
                self._bulges.append(0.0)
            self.runs.append(Run(tuple(self._points), tuple(self._bulges), closed=True))
        elif self._points:
            raise refused(f"a part without area near {self.place(self._points[0])}", "remove it")
        self._here = self._start
        self._points, self._bulges = [], []

    def go_on(self) -> None:
        """Begin a run where the last one ended, unless one is open."""
        if not self._points:
            self._points = [self._mm(self._here)]

    def end(self) -> None:
        """End the run where it is; one that came back to its beginning is closed."""
        if self._bulges:
            if self._is_here(self._points[0]) and len(self._points) > 2:
                self.close()
                return
            self.runs.append(Run(tuple(self._points), tuple(self._bulges), closed=False))
        self._points, self._bulges = [], []  # a pen that was moved and drew nothing

    def _is_here(self, point: Point) -> bool:
        return math.dist(self._points[-1], point) < self._same

    def _lines(self, wanted: float) -> int:
        if not wanted <= MOST_LINES:
            raise _too_many()
        return max(1, math.ceil(wanted))

    def _mm(self, point: Point) -> Point:
        return self._near(self.to_mm.point(point))

    def _near(self, point: Point) -> Point:
        if not all(abs(ordinate) <= FARTHEST for ordinate in point):
            raise refused(f"a point at {self.place(point)}", _stay())
        return point

    def _add(self, point: Point, bulge: float) -> None:
        if self._is_here(point) and abs(bulge) < 1.0:
            return
        self._drawn += 1
        if self._drawn > MOST_LINES:
            raise _too_many()
        self._points.append(point)
        self._bulges.append(bulge)


def _too_many() -> Refused:
    return refused(f"an outline of more than {MOST_LINES} lines", "draw a simpler one")


def _stay() -> str:
    return f"stay within {FARTHEST:g} mm of the drawing's origin"


def _second(a: Point, b: Point, c: Point) -> Point:
    return a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1]
