"""Whether a pot stays upright on its wads."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wadforms.geometry.contour import Point

_STRAIGHT = 1e-9  # twice the area of three supports over their extent squared: a straight line


def support_polygon(points: Sequence[Point]) -> list[Point]:
    """The convex hull of the supports, counter-clockwise (Andrew's monotone chain).

    Examples
    --------
    >>> support_polygon([(0, 0), (2, 0), (1, 0.5), (2, 2), (0, 2)])
    [(0, 0), (2, 0), (2, 2), (0, 2)]
    """
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return ordered
    # Supports in one line span no polygon, however the line is turned.
    straight = _STRAIGHT * math.dist(ordered[0], ordered[-1]) ** 2

    def half(run: Sequence[Point]) -> list[Point]:
        chain: list[Point] = []
        for p in run:
            while len(chain) >= 2 and _turn(chain[-2], chain[-1], p) <= straight:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    return half(ordered) + half(ordered[::-1])


def tipping_angle(polygon: Sequence[Point], centre: Point, height: float) -> float:
    """By how much the pot can lean before its weight passes an edge of its support [deg].

    The smallest atan(distance from the centre of gravity to an edge/its height); for n equal
    wads on a circle of radius r that is atan(r cos(π/n)/h).  Negative where the centre of
    gravity lies outside: the pot falls by itself.

    Parameters
    ----------
    polygon : sequence of (float, float)
        Support polygon, counter-clockwise [mm].
    centre : (float, float)
        Centre of gravity in plan [mm].
    height : float
        Of the centre of gravity above the plane it tips about [mm].

    Source
    ------
    Statics of a rigid body on a plane.

    Examples
    --------
    >>> from wadforms.setting.arrangement import circle
    >>> three = support_polygon([(s.x, s.y) for s in circle(3, 40)])
    >>> round(tipping_angle(three, (0, 0), 100), 3)
    11.31
    """
    if len(polygon) < 3:
        return 0.0
    edges = zip(polygon, [*polygon[1:], polygon[0]], strict=True)
    nearest = min(_turn(a, b, centre) / math.dist(a, b) for a, b in edges)
    return math.degrees(math.atan2(nearest, height))


def overturning_use(thrust: float, height: float, vertical: float, base: float) -> float:
    """How much of a loose wad's steadiness an outward push at its top uses; above 1 it tips over.

    thrust × height over vertical share × half its base.

    Parameters
    ----------
    thrust, vertical : float
        Outward push and load on the wad [N].
    height, base : float
        Height of the wad and width of its base in the direction of the push [mm].

    Source
    ------
    Moments about the outer edge of the base.

    Examples
    --------
    >>> overturning_use(thrust=4.0, height=20.0, vertical=10.0, base=16.0)
    1.0
    """
    return thrust * height / (vertical * base / 2.0)


def _turn(a: Point, b: Point, p: Point) -> float:
    """Twice the area of the triangle a, b, p; positive where p lies to the left of a → b."""
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
