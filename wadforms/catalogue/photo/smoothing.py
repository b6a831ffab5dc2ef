"""Makes a smooth contour of arcs and lines of many points that scatter about it.

Corners are found first, and kept sharp: near one, a blurred picture and a round pen bend the edge
away from it, so what is near is left out, the two sides are carried on as the curves they are
(parabolas), and the corner is where these meet.  What lies between two corners is smoothed by
fitting a parabola around each point (Savitzky and Golay, Anal. Chem. 36 (1964) 1627), which takes
no radius off a bend as an average would.  Then as few arcs as stray by no more than allowed are
laid through it, in pairs that leave and arrive in the direction of the curve, so that no kink
comes in where the drawing has none.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms.catalogue.photo.corners import Edge, carried_on, corners, evenly, sorted_out
from wadforms.geometry.contour import Contour, Point, Segment

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

_MOST_STEPS: Final = 6000  # points along one contour
_SAME_LENGTH: Final = 0.1  # share by which points that scatter are longer than the arc they are
_FLAT: Final = 0.06  # share of the tolerance by which an arc may rise that is drawn as a line


class Smooth(NamedTuple):
    """A smooth contour and what it took.

    Parameters
    ----------
    contour : Contour
        Counter-clockwise [mm].
    corners : int
        How many sharp corners it has.
    moved : array of float
        How far each point lies from it, those beside corners left out [mm].
    sharpened : float
        How far the farthest corner was drawn out, or in [mm].
    worst : (float, float)
        The point that lies farthest from it [mm].
    doubtful : tuple of (float, float)
        Tight bends that might be meant as corners [mm].
    """

    contour: Contour
    corners: int
    moved: NDArray[np.float64]
    sharpened: float
    worst: Point
    doubtful: tuple[Point, ...]


def smooth(
    points: Points, *, tolerance: float, step: float, blunt: float, edge: Edge | None = None
) -> Smooth:
    """The smooth contour through points.

    Parameters
    ----------
    points : array of float
        In order, closed [mm].
    tolerance : float
        How far the contour may be from them, but for their scatter [mm].
    step : float
        About how far they are from each other: the size of a pixel [mm].
    blunt : float
        How far from a corner the points are led astray [mm].
    edge : Edge or None
        What is seen where corners may be; all that turn quickly are taken for some if None.

    Examples
    --------
    >>> import numpy as np
    >>> turn = np.linspace(0, 2 * np.pi, 900, endpoint=False)
    >>> ring = 20 * np.column_stack([np.cos(turn), np.sin(turn)])
    >>> round_one = smooth(ring, tolerance=0.2, step=0.14, blunt=0.5)
    >>> len(round_one.contour.segments), round(round_one.contour.area / (np.pi * 400), 4)
    (2, 1.0)
    """
    import numpy as np
    import shapely

    length = float(np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1).sum())
    step = max(step, length / _MOST_STEPS)
    ring = evenly(points, step)
    if _area(ring) < 0.0:
        ring = ring[::-1].copy()
    found = corners(ring, step=step, tolerance=tolerance, blunt=blunt)
    doubtful: list[int] = []
    if edge is not None:
        found, doubtful = sorted_out(ring, found, edge, step=step, blunt=blunt)
    sharpened = 0.0
    if not found:
        contour = _circle(ring, tolerance / 2) or _closed(ring, tolerance)
        near = np.zeros(len(ring), bool)
    else:
        sections, moves, near = carried_on(ring, found, step=step, blunt=blunt)
        sharpened = max(moves)
        nodes: list[tuple[float, float]] = []
        bulges: list[float] = []
        for section in sections:
            more, bent = _section(section, tolerance)
            nodes += more
            bulges += bent
        contour = Contour(tuple(nodes), tuple(bulges))
    line = shapely.LinearRing(contour.flattened(step / 20.0))
    shapely.prepare(line)
    points = ring[~near]
    moved: NDArray[np.float64] = shapely.distance(shapely.points(points), line)
    x, y = points[int(np.argmax(moved))]
    bends = tuple((float(ring[k][0]), float(ring[k][1])) for k in doubtful)
    return Smooth(contour, len(found), moved, sharpened, (float(x), float(y)), bends)


def _area(ring: Points) -> float:
    import numpy as np

    x, y = ring.T
    return float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum() / 2.0)


def _circle(ring: Points, tolerance: float) -> Contour | None:
    """The circle that the ring is, if it is one [mm]."""
    import numpy as np

    one = np.column_stack([ring, np.ones(len(ring))])
    fit = np.linalg.lstsq(one, (ring**2).sum(axis=1), rcond=None)[0]
    centre = fit[:2] / 2.0
    radius = math.sqrt(max(float(fit[2] + centre @ centre), 0.0))
    away = np.linalg.norm(ring - centre, axis=1) - radius
    # Grain scatters single points; a shape that is no circle strays on the whole.
    calm = np.convolve(np.concatenate([away[-3:], away, away[:3]]), np.full(7, 1 / 7), "valid")
    if np.abs(calm).max() > tolerance:
        return None
    return Contour.circle(radius, (float(centre[0]), float(centre[1])))


def _closed(ring: Points, tolerance: float) -> Contour:
    """The contour of a ring without corners."""
    import numpy as np

    calm, ways = _calmed(ring, tolerance / 2, closed=True)
    calm, ways = np.vstack([calm, calm[:1]]), np.vstack([ways, ways[:1]])
    nodes, bulges = _arcs(calm, ways, tolerance / 4, tolerance)
    return Contour(tuple(nodes), tuple(bulges))


def _section(points: Points, tolerance: float) -> tuple[list[tuple[float, float]], list[float]]:
    """The nodes and bulges from one corner to the next, which is left to the next section."""
    import numpy as np

    start, end = points[0], points[-1]
    bulge = _one_arc(points, tolerance / 2)
    if bulge is not None:
        return [(float(start[0]), float(start[1]))], [bulge]
    calm, ways = _calmed(points, tolerance / 2, closed=False)
    calm[0], calm[-1] = start, end
    nodes, bulges = _arcs(calm, ways, tolerance / 4, tolerance)
    assert np.allclose(calm[-1], end)  # noqa: S101 - the next section begins where this one ends
    return nodes, bulges


def _one_arc(points: Points, tolerance: float) -> float | None:
    """The bulge of the one line or arc from the first to the last of the points, if one will do."""
    import numpy as np

    start, end = points[0], points[-1]
    chord = end - start
    long = float(np.hypot(*chord))
    if long < tolerance:
        return None
    along = (points - start) @ chord / long
    rise = (chord[0] * (points - start)[:, 1] - chord[1] * (points - start)[:, 0]) / long
    weight = float(rise @ rise)
    if weight == 0.0:
        return 0.0
    if _strays(points, start, end, 0.0) <= tolerance and np.abs(rise).mean() < tolerance / 3:
        return 0.0
    # An arc through both ends: x² + y² − c x + k y = 0 in the frame of the chord, linear in k.
    k = -float(rise @ (along * along + rise * rise - long * along)) / weight
    sagitta = _sagitta(k, long, 1.0 if rise.mean() > 0 else -1.0)
    bulge = -2.0 * sagitta / long  # a positive bulge turns left: its arc lies to the right
    # The rest of the same circle passes by the points as well, but is of another length.
    way = float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())
    arc = Segment((start[0], start[1]), (end[0], end[1]), bulge).length
    if abs(arc / way - 1.0) > _SAME_LENGTH:
        return None
    return bulge if _strays(points, start, end, bulge) <= tolerance else None


def _sagitta(k: float, long: float, side: float) -> float:
    """How high the circle x² + y² − c x + k y = 0 rises over its chord c, on a side [mm]."""
    half = math.hypot(k, long) / 2.0
    return -k / 2.0 + side * half


def _strays(points: Points, start: Points, end: Points, bulge: float) -> float:
    """How far points stray from one arc, the scatter of single ones taken out [mm]."""
    import numpy as np

    away = _away(points, start, end, bulge)
    if len(away) > 9:
        away = np.convolve(away, np.full(5, 0.2), "valid")
    return float(np.abs(away).max())


def _away(points: Points, start: Points, end: Points, bulge: float) -> Points:
    """How far points are from a line or arc, those on one side of it negative [mm]."""
    import numpy as np

    chord = end - start
    long = float(np.hypot(*chord))
    if abs(bulge) < 1e-9:
        part = points - start
        flat: Points = (chord[0] * part[:, 1] - chord[1] * part[:, 0]) / max(long, 1e-12)
        return flat
    radius = long * (1.0 + bulge * bulge) / (4.0 * abs(bulge))
    normal = np.array([-chord[1], chord[0]])
    centre = (start + end) / 2.0 + normal * (1.0 - bulge * bulge) / (4.0 * bulge)
    bent: Points = np.linalg.norm(points - centre, axis=1) - radius
    return bent


def _calmed(points: Points, tolerance: float, *, closed: bool) -> tuple[Points, Points]:
    """Points smoothed as far as that moves them by no more than allowed, and their directions."""
    import numpy as np

    count = len(points)
    light, ways = _parabolas(points, 3, closed=closed)
    if count < 9:
        return light, ways
    half = max(4, count // (8 if closed else 6))
    while half > 3:
        calm, ways = _parabolas(points, half, closed=closed)
        if float(np.linalg.norm(calm - light, axis=1).max()) <= tolerance:
            return calm, ways
        half = int(half / 1.4)
    return _parabolas(points, 3, closed=closed)


def _parabolas(points: Points, half: int, *, closed: bool) -> tuple[Points, Points]:
    """For each point the middle of the parabola fitted to `half` neighbours on each side."""
    import numpy as np

    count = len(points)
    half = max(1, min(half, (count - 1) // 2))
    at = np.arange(-half, half + 1.0)
    fit = np.linalg.pinv(np.vander(at, 3, increasing=True))
    ends = "wrap" if closed else "edge"
    padded = np.pad(points, ((half, half), (0, 0)), mode=ends)  # type: ignore[call-overload]
    place, way = (
        np.column_stack([np.convolve(padded[:, c], row[::-1], "valid") for c in (0, 1)])
        for row in fit[:2]
    )
    if not closed:  # at its ends a curve is the first or last whole parabola
        for here, window in (
            (at[:half], slice(0, 2 * half + 1)),
            (at[-half:], slice(-2 * half - 1, None)),
        ):
            a, b, c = fit @ points[window]
            rows = slice(0, half) if here[0] < 0 else slice(count - half, count)
            place[rows] = a + np.outer(here, b) + np.outer(here**2, c)
            way[rows] = b + 2.0 * np.outer(here, c)
    norm = np.linalg.norm(way, axis=1, keepdims=True)
    return place, way / np.maximum(norm, 1e-12)


def _arcs(
    points: Points, ways: Points, error: float, tolerance: float
) -> tuple[list[tuple[float, float]], list[float]]:
    """Pairs of arcs from the first point to the last, each pair as long as its error allows."""
    nodes: list[tuple[float, float]] = []
    bulges: list[float] = []
    here, last = 0, len(points) - 1
    while here < last:
        reach, good = 1, here + 1
        while here + reach <= last and _fits(points, ways, here, here + reach, error):
            good, reach = here + reach, reach * 2
        high = min(here + reach, last + 1)
        while high - good > 1:
            half = (good + high) // 2
            if _fits(points, ways, here, half, error):
                good = half
            else:
                high = half
        for start, bulge in _pair(points, ways, here, good, tolerance):
            nodes.append(start)
            bulges.append(bulge)
        here = good
    return nodes, bulges


def _fits(points: Points, ways: Points, a: int, b: int, error: float) -> bool:
    import numpy as np

    joint = _joint(points[a], ways[a], points[b], ways[b])
    if joint is None:
        return False
    first, second = _bulge(points[a], joint, ways[a]), -_bulge(points[b], joint, -ways[b])
    if max(abs(first), abs(second)) > 0.6:  # each at most about a third of a circle
        return False
    between = points[a + 1 : b]
    if not len(between):
        return True
    one = np.abs(_away(between, points[a], joint, first))
    two = np.abs(_away(between, joint, points[b], second))
    return float(np.minimum(one, two).max()) <= error


def _joint(p: Points, u: Points, q: Points, v: Points) -> Points | None:
    """Where two arcs meet that leave p along u, reach q along v, and share their direction.

    With the ends' control points p + d u and q − d v at distance 2 d from each other the joint is
    their middle: |q − p − d (u + v)| = 2 d, a quadratic in d.
    """
    span, both = q - p, u + v
    a = 4.0 - float(both @ both)
    b, c = 2.0 * float(span @ both), -float(span @ span)
    root = b * b - 4.0 * a * c
    if root < 0.0:
        return None
    # The root that keeps its digits where the curve is straight and a vanishes.
    below = b + math.sqrt(root)
    if below <= 1e-12:
        return None
    d = -2.0 * c / below
    if not 0.0 < d < 10.0 * math.sqrt(-c):
        return None
    joint: Points = (p + d * u + q - d * v) / 2.0
    return joint


def _bulge(start: Points, end: Points, way: Points) -> float:
    """The bulge of the arc that leaves `start` along `way`: its chord turns by half the sweep."""
    x, y = end - start
    turn = math.atan2(way[0] * y - way[1] * x, way[0] * x + way[1] * y)
    return math.tan(turn / 2.0)


def _pair(
    points: Points, ways: Points, a: int, b: int, tolerance: float
) -> list[tuple[tuple[float, float], float]]:
    """The two arcs of a span, each with its start; one line where both are straight."""
    p, q = points[a], points[b]
    start = (float(p[0]), float(p[1]))
    joint = _joint(p, ways[a], q, ways[b])
    if joint is None:
        return [(start, 0.0)]
    first, second = _bulge(p, joint, ways[a]), -_bulge(q, joint, -ways[b])
    rises = [abs(first) * math.dist(p, joint) / 2, abs(second) * math.dist(joint, q) / 2]
    if max(rises) <= _FLAT * tolerance and abs(first) < 0.02 and abs(second) < 0.02:
        return [(start, 0.0)]
    return [(start, first), ((float(joint[0]), float(joint[1])), second)]
