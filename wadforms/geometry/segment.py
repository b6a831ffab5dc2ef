"""One line or arc, the piece that contours are made of."""

from __future__ import annotations

import math
from typing import NamedTuple, TypeAlias

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
