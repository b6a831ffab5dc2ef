"""Ways to draw a contour: polygons with rounded corners, bands along an arc, crescents."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wadforms.errors import NotMakeable
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline


def rounded(points: Sequence[Point], radii: Sequence[float] | float) -> Contour:
    """A polygon whose corners are rounded by arcs tangent to both sides.

    Parameters
    ----------
    points : sequence of (float, float)
        Corners, counter-clockwise [mm].
    radii : float or sequence of float
        Radius at each corner [mm]; 0 leaves it sharp.  Hollow corners are rounded alike.

    Raises
    ------
    NotMakeable
        Two neighbouring roundings need more than the side between them.

    Examples
    --------
    >>> stadium = rounded([(-20, -5), (20, -5), (20, 5), (-20, 5)], 5)
    >>> abs(stadium.area - (300 + 25 * math.pi)) < 1e-9
    True
    """
    n = len(points)
    sizes = [radii] * n if isinstance(radii, int | float) else list(radii)
    headings = [
        math.atan2(b[1] - a[1], b[0] - a[0])
        for a, b in zip(points, (*points[1:], points[0]), strict=True)
    ]
    turns = [math.remainder(headings[i] - headings[i - 1], math.tau) for i in range(n)]
    trims = [r * abs(math.tan(turn / 2)) for r, turn in zip(sizes, turns, strict=True)]
    vertices: list[Point] = []
    bulges: list[float] = []
    for i, (x, y) in enumerate(points):
        after = (i + 1) % n
        side = math.dist(points[i], points[after])
        if trims[i] + trims[after] > side + 1e-9:
            raise NotMakeable(
                f"the roundings of {sizes[i]:g} mm and {sizes[after]:g} mm need "
                f"{trims[i] + trims[after]:.2f} mm of a side that is {side:.2f} mm long"
            )
        ux, uy = math.cos(headings[i - 1]), math.sin(headings[i - 1])
        wx, wy = math.cos(headings[i]), math.sin(headings[i])
        start = (x - trims[i] * ux, y - trims[i] * uy)
        if trims[i] > 0.0:
            vertices.append(start)
            bulges.append(math.tan(turns[i] / 4))
        if trims[i] + trims[after] < side - 1e-9:  # else the next arc begins where this one ends
            vertices.append((x + trims[i] * wx, y + trims[i] * wy))
            bulges.append(0.0)
    return Contour(tuple(vertices), tuple(bulges))


def regular(sides: int, across_flats: float) -> list[Point]:
    """Corners of a regular polygon, one side down, that is `across_flats` [mm] wide.

    The inscribed circle has this diameter, so odd numbers of sides have a width too.
    """
    reach = across_flats / 2 / math.cos(math.pi / sides)
    first = -math.pi / 2 + math.pi / sides
    angles = [first + math.tau * k / sides for k in range(sides)]
    return [(reach * math.cos(a), reach * math.sin(a)) for a in angles]


def arc_band(radius: float, width: float, degrees: float) -> Contour:
    """A band along an arc about the origin, centred on +y, with round ends.

    Parameters
    ----------
    radius, width : float
        Radius of its middle line and its width [mm].
    degrees : float
        Angle of its middle line between the centres of the round ends.

    Examples
    --------
    >>> band = arc_band(30, 6, 90)
    >>> abs(band.area - (30 * math.pi / 2 * 6 + math.pi * 9)) < 1e-9
    True
    """
    half, outer, inner = math.radians(degrees) / 2, radius + width / 2, radius - width / 2

    def at(r: float, angle: float) -> Point:
        return r * math.sin(-angle), r * math.cos(angle)

    vertices = (at(outer, -half), at(outer, half), at(inner, half), at(inner, -half))
    bulge = math.tan(half / 2)
    return Contour(vertices, (bulge, 1.0, -bulge, 1.0))


def crescent(diameter: float, thickness: float, hollow: float, tip: float) -> Contour:
    """A disk with a round bite taken from its +y side, its two horns rounded.

    Parameters
    ----------
    diameter : float
        Of the outer circle [mm].
    thickness : float
        At the middle of the belly [mm].
    hollow : float
        Diameter of the bite [mm].
    tip : float
        Radius of the horns [mm].

    Raises
    ------
    NotMakeable
        The bite does not leave two horns of that radius.
    """
    big, small = diameter / 2, hollow / 2
    away = thickness + small - big  # centre of the bite on +y
    # A horn's centre is `big - tip` from the outer centre and `small + tip` from the bite's.
    a, b = big - tip, small + tip
    y = (away * away + a * a - b * b) / (2 * away) if away > 0 else math.inf
    rest = a * a - y * y
    if rest <= tip * tip:
        raise NotMakeable(
            f"a bite of {hollow:g} mm that leaves {thickness:g} mm of a disk of {diameter:g} mm "
            f"makes no two horns of radius {tip:g} mm"
        )
    x = math.sqrt(rest)
    outer_right = (x * big / a, y * big / a)
    inner_right = (x * small / b, away + (y - away) * small / b)
    left = [(-p[0], p[1]) for p in (outer_right, inner_right)]
    belly = math.tau - 2 * math.atan2(x, y)  # outer arc from the left horn round to the right
    bite = 2 * math.atan2(x, away - y)
    horn = (math.tau - belly + bite) / 2  # the whole turn is 2π: belly + 2 horns − bite
    vertices = (left[0], outer_right, inner_right, left[1])
    bulges = (math.tan(belly / 4), math.tan(horn / 4), -math.tan(bite / 4), math.tan(horn / 4))
    return Contour(vertices, bulges)


def star(arms: int, reach: float, width: float, tip_radius: float, inner_radius: float) -> Contour:
    """Straight arms from a centre, evenly spread, the first along +y.

    Parameters
    ----------
    arms : int
        Three or more.
    reach : float
        From the centre to the end of an arm [mm].
    width : float
        Of an arm [mm].
    tip_radius, inner_radius : float
        Rounding at the ends of the arms, at most half their width, and between the arms [mm].

    Raises
    ------
    NotMakeable
        The arms are too short for their width and roundings.
    """
    half = width / 2
    notch = half / math.sin(math.pi / arms)
    step = math.tau / arms
    points: list[Point] = []
    for k in range(arms):
        angle = math.pi / 2 + k * step
        ux, uy = math.cos(angle), math.sin(angle)
        for side in (-half, half):
            points.append((reach * ux - side * uy, reach * uy + side * ux))
        between = angle + step / 2
        points.append((notch * math.cos(between), notch * math.sin(between)))
    return rounded(points, [tip_radius, tip_radius, inner_radius] * arms)


def centroid(outline: Outline) -> Point:
    """Centre of an outline's area [mm], exact: polygon and circular segments, less the holes.

    The segment of radius r and sweep φ has its centre 4 r sin³(φ/2) / (3 (φ − sin φ)) from the
    circle's.

    Examples
    --------
    >>> half_disk = Contour(((-3.0, 0.0), (3.0, 0.0)), (0.0, 1.0))
    >>> x, y = centroid(Outline(half_disk))
    >>> abs(x) < 1e-12, abs(y - 4 * 3 / (3 * math.pi)) < 1e-12
    (True, True)
    """
    area, mx, my = _first_moments(outline.outer)
    for hole in outline.holes:
        a, x, y = _first_moments(hole)
        area, mx, my = area - a, mx - x, my - y
    return mx / area, my / area


def centred(outline: Outline) -> Outline:
    """The outline with the centre of its area moved to the origin.

    Examples
    --------
    >>> square = Outline(Contour.polygon([(0, 0), (10, 0), (10, 10), (0, 10)]))
    >>> centred(square).bounds
    (-5.0, -5.0, 5.0, 5.0)
    """
    x, y = centroid(outline)
    return outline.moved(-x, -y)


def _first_moments(contour: Contour) -> tuple[float, float, float]:
    """Area, ∫ x and ∫ y of what a contour encloses [mm², mm³]."""
    area = mx = my = 0.0
    for s in contour.segments:
        (x0, y0), (x1, y1) = s.start, s.end
        cross = (x0 * y1 - x1 * y0) / 2
        area, mx, my = area + cross, mx + cross * (x0 + x1) / 3, my + cross * (y0 + y1) / 3
        if s.bulge:
            phi, r, (cx, cy) = s.sweep, s.radius, s.centre
            part = r * r * (phi - math.sin(phi)) / 2
            away = 4 * r * math.sin(abs(phi) / 2) ** 3 / (3 * (abs(phi) - math.sin(abs(phi))))
            toward = math.atan2(y0 - cy, x0 - cx) + phi / 2
            area += part
            mx += part * (cx + away * math.cos(toward))
            my += part * (cy + away * math.sin(toward))
    return area, mx, my
