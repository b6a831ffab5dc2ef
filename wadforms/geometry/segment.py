"""One line or arc, the piece that contours are made of."""

from __future__ import annotations

import math
from typing import Final, NamedTuple, TypeAlias

from wadforms.errors import NotMakeable

_STEP: Final = math.radians(3.0)  # small arcs, where the chord error alone would be too coarse

_MOST: Final = 100_000  # lines for one arc; more stand for no wad and no pot

Point: TypeAlias = tuple[float, float]
"""A place in plan, x and y [mm]."""


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

    def lines(self, chord_error: float) -> int:
        """How many lines stand for the segment, straying by at most `chord_error` [mm].

        Raises
        ------
        NotMakeable
            It is an arc so large that it would take more than 100 000 lines.

        Examples
        --------
        >>> Segment((10.0, 0.0), (-10.0, 0.0), 1.0).lines(0.01)
        60
        """
        if not self.bulge:
            return 1
        r, sweep = self.radius, abs(self.sweep)
        # 2 acos(1 − e/r), written so that it keeps its digits where r is large.
        step = min(_STEP, 4.0 * math.asin(min(1.0, math.sqrt(chord_error / r / 2.0))))
        if not sweep < _MOST * step:
            raise NotMakeable(f"a curve of radius {r:.3g} mm is too large to draw")
        return max(2, math.ceil(sweep / step - 1e-9))

    def points(self, lines: int) -> list[Point]:
        """The start and the corners of so many lines that stand for the segment [mm].

        The corners inside an arc are moved out until the polygon's sector has the area of the
        arc's, so that no area is lost.

        Examples
        --------
        >>> half = Segment((10.0, 0.0), (-10.0, 0.0), 1.0).points(2)
        >>> twice = 2 * half[1][1] * 10.0  # the two triangles
        >>> round(twice / 2 / math.pi, 9)
        50.0
        """
        if lines < 2:
            return [self.start]
        (cx, cy), r, sweep = self.centre, self.radius, self.sweep
        theta = abs(sweep) / lines
        # (n − 2) ρ² sin θ + 2 r ρ sin θ = n r² θ: the sector's area is kept.
        a, b, c = (lines - 2) * math.sin(theta), 2.0 * r * math.sin(theta), lines * r * r * theta
        rho = c / b if lines == 2 else (-b + math.sqrt(b * b + 4.0 * a * c)) / (2.0 * a)
        first = math.atan2(self.start[1] - cy, self.start[0] - cx)
        angles = (first + sweep * k / lines for k in range(1, lines))
        return [self.start, *((cx + rho * math.cos(t), cy + rho * math.sin(t)) for t in angles)]
