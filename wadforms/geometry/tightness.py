"""Whether an outline has room for the walls that lean out of it, and where it has not.

A wall that leans out by some millimetres needs as much room in every hollow: a hollow bend must
have a larger radius, a gap, slot or hole must be more than twice as wide.  A sharp hollow corner
has room for any wall.

What is finer than `wadforms.geometry.contour.CHORD_ERROR` counts as noise: an outline that has
room once it is changed by no more than that is used so changed.  The other changes within that
tolerance: tips sharper than `blunting.SHARPEST` are cut off by less than it, so that the walls
below them end in a narrow face and not in a spike many times as long as the wall leans out.
"""

from __future__ import annotations

import math
import re
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.errors import NotMakeable
from wadforms.geometry.blunting import blunted
from wadforms.geometry.collapsing import LEAST_SIDE, Bend, collapsed
from wadforms.geometry.contour import CHORD_ERROR, Contour, Point
from wadforms.geometry.corners import hollow_corners
from wadforms.geometry.outline import Outline
from wadforms.geometry.restoring import restored

if TYPE_CHECKING:
    from shapely import Polygon

_SQUARE: Final = math.radians(100.0)  # a tip that may be blunted if its mitre is in the way [rad]

_TIPS: Final = 20  # as many of them in one outline, one after the other

_MITRE_LIMIT: Final = 1000.0  # never reached: a mitre is a wall too

_FACING: Final = math.radians(150.0)  # walls that a circle touches at such an angle shut it in

_NEAR: Final = 4 * CHORD_ERROR  # two sides of one gap, as against the noise of a buffer [mm]

_STRAIGHTENED: Final = 0.06
"""So much of its distance, at most, a buffer strays where it straightens a hollow; GEOS
straightens by a hundredth each way (its simplify factor; from memory), mitres add to it."""


class Place(NamedTuple):
    """One place that is too tight.

    Parameters
    ----------
    kind : str
        ``"bend"`` or ``"gap"``; a gap may be a slot, a notch or a whole hole.
    at : (float, float)
        Where it is [mm].
    width : float
        Of the gap where it is narrowest, of a hole where it is widest; the radius of a bend,
        and of a corner as far as its sides can be moved [mm].
    straight : float
        Of a bend that is a sharp hollow corner with too short a line beside it, how long that
        line must be for each mm that the sides are moved; else 0.
    """

    kind: str
    at: Point
    width: float
    straight: float = 0.0

    @property
    def room(self) -> float:
        """How far its sides can be moved [mm]."""
        return self.width if self.kind == "bend" else self.width / 2


def with_room(outline: Outline, out: float, inward: float = 0.0) -> Outline | None:
    """The outline itself, or one that differs by noise only, that can be offset both ways.

    Parameters
    ----------
    outline : Outline
        Counted in mm.
    out, inward : float
        How far it is offset outward and inward [mm].

    Returns
    -------
    Outline or None
        None where a place is too tight.

    Examples
    --------
    >>> plain = Outline.circle(20)
    >>> with_room(plain, 0.7, 2.0) is plain, with_room(plain, 0.7, 21.0)
    (True, None)
    """
    return _with_room(outline, out, inward)


def room(outline: Outline, most: float, *, inward: bool = False, beside: float = 0.0) -> float:
    """How far the outline can be offset [mm], at most `most`, to 0.1 % of that.

    Parameters
    ----------
    outline : Outline
        Counted in mm.
    most : float
        As far as is asked for [mm].
    inward : bool
        Whether it is offset inward.
    beside : float
        How far it is offset the other way too [mm].

    Examples
    --------
    >>> plate = Outline(Contour.polygon([(-20, -5), (20, -5), (20, 5), (-20, 5)]))
    >>> 4.98 < room(plate, 8.0, inward=True) < 5.0
    True
    """

    def fits(distance: float) -> bool:
        ways = (beside, distance) if inward else (distance, beside)
        return _with_room(outline, *ways) is not None

    if fits(most):
        return most
    low, high = 0.0, most
    while high - low > most / 1000:
        middle = (low + high) / 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return low


def tight_places(outline: Outline, distance: float) -> tuple[Place, ...]:
    """Where the outline cannot be offset by `distance` [mm], the tightest place first.

    Parameters
    ----------
    outline : Outline
        Counted in mm.
    distance : float
        Outward; inward where negative [mm].

    Returns
    -------
    tuple of Place
        Empty where it has room.

    Examples
    --------
    >>> holed = Outline(Contour.circle(20), (Contour.circle(0.5),))
    >>> [(place.kind, round(place.width, 1)) for place in tight_places(holed, 0.7)]
    [('gap', 1.0)]
    """
    return tuple(place for place, _ in regions(outline, distance))


def regions(outline: Outline, distance: float) -> list[tuple[Place, Any]]:
    """The tight places, each with the shapely geometry that it fills or runs along [mm].

    Parameters
    ----------
    outline : Outline
        Counted in mm.
    distance : float
        Outward; inward where negative [mm].
    """
    out, inward = max(0.0, distance), max(0.0, -distance)
    if _with_room(outline, out, inward) is not None:
        return []
    import shapely

    polygon = outline.polygon()
    found = _gaps(polygon, distance)
    for bend in _collapsed(polygon, out, inward)[1]:
        if bend.stray <= CHORD_ERROR:
            continue
        line = shapely.LineString(bend.points)
        if not any(line.distance(area) < _NEAR for _, area in found):
            found.append((_bent(bend, outline), line))
    if not found:
        found = [_crossing(outline, distance)]
    found.sort(key=lambda pair: (pair[0].room, pair[0].at))
    apart: list[tuple[Place, Any]] = []
    for place, area in found:
        same = (p for p, _ in apart if math.dist(p.at, place.at) < abs(distance))
        if area.geom_type == "Polygon" or not any(same):
            apart.append((place, area))
    return apart


def _bent(bend: Bend, outline: Outline) -> Place:
    """A run of sides that vanish: a bend, one sharp corner, or the floor of a gap between two."""
    met = [corner for corner in hollow_corners(outline) if corner.at in bend.points]
    if len(met) == 2:
        (a, b), wide = (corner.at for corner in met), math.dist(met[0].at, met[1].at)
        if abs(wide - 2 * bend.radius) < wide / 20:
            return Place("gap", ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), wide)
    if len(met) == 1:
        (corner,) = met
        pairs = pairwise(bend.points)
        short = min((math.dist(*pair) for pair in pairs if corner.at in pair), default=0.0)
        # A corner takes the tangent of half its turn from each line, what is beyond takes more.
        needed = max(
            math.tan(min(corner.turn, math.radians(178)) / 2), short / max(bend.radius, LEAST_SIDE)
        )
        return Place("bend", corner.at, bend.radius, needed)
    return Place("bend", bend.middle, bend.radius)


@lru_cache(maxsize=256)
def _with_room(outline: Outline, out: float, inward: float) -> Outline | None:
    if found := _sound_or_blunted(outline, out, inward):
        return found
    rings, bends = _collapsed(outline.polygon(), out, inward)
    if any(bend.stray > CHORD_ERROR for bend in bends):
        return None
    tidy = restored(rings, outline)
    flat = Outline(Contour.polygon(rings[0]), tuple(map(Contour.polygon, rings[1:])))
    return _sound_or_blunted(tidy, out, inward) or _sound_or_blunted(flat, out, inward)


def _collapsed(
    polygon: Polygon, out: float, inward: float
) -> tuple[list[tuple[Point, ...]], list[Bend]]:
    """The rings without the sides that vanish either way, and what went."""
    rings = [tuple(ring.coords)[:-1] for ring in (polygon.exterior, *polygon.interiors)]
    bends: list[Bend] = []
    for distance in (out, -inward):
        for i, ring in enumerate(rings):
            found = collapsed(ring, -distance if i else distance)
            rings[i] = found.ring
            bends += found.bends
    return rings, bends


def _sound_or_blunted(outline: Outline, out: float, inward: float) -> Outline | None:
    """The outline, if it can be offset both ways, perhaps with some of its tips blunted."""
    if _flaw(outline, -inward) is not None:
        return None
    if not out or inward:  # an edge that is rounded leaves nothing of a blunted tip
        return outline if _flaw(outline, out) is None else None
    outline = blunted(outline)
    for _ in range(_TIPS):
        flaw = _flaw(outline, out)
        if flaw is None:
            return outline
        # It may be the mitre of a tip only that reaches across a gap which is wide enough.
        cut = flaw and blunted(outline, _SQUARE, flaw, 3 * out)
        if not cut or cut is outline:
            return None
        outline = cut
    return None


def _flaw(outline: Outline, distance: float) -> Point | tuple[()] | None:
    """None if the outline can be offset; else where it crosses itself then, if it is told."""
    for contour in outline.contours:
        if any(s.chord < LEAST_SIDE for s in contour.segments):
            return ()
    try:
        grown = outline.offset(distance)
    except NotMakeable:
        return ()
    if any(s.chord < LEAST_SIDE / 2 for contour in grown.contours for s in contour.segments):
        return ()
    moved = grown.polygon()
    if moved.is_valid:
        return None
    from shapely import is_valid_reason

    found = re.search(r"\[(\S+) (\S+)\]", str(is_valid_reason(moved)))
    return (float(found[1]), float(found[2])) if found else ()


def _gaps(polygon: Polygon, distance: float) -> list[tuple[Place, Any]]:
    """What a mitred closing fills, or what a mitred opening takes away."""
    changed = _changed(polygon, distance)
    found = []
    for area in getattr(changed, "geoms", [changed]):
        # What is as thin as the buffer's own noise is no gap.
        if area.area < _NEAR**2 or area.buffer(-_NEAR / 2).is_empty:
            continue
        found.append((_gap(area, polygon, distance), area))
    return found


def _changed(polygon: Polygon, distance: float) -> Any:
    """All that a mitred closing fills; that an opening takes away, where negative."""
    shut = polygon
    for d in (distance, -distance):
        shut = shut.buffer(d, join_style="mitre", mitre_limit=_MITRE_LIMIT)
    return shut.difference(polygon) if distance > 0.0 else polygon.difference(shut)


def _gap(area: Any, polygon: Polygon, distance: float) -> Place:
    """How wide a gap is, and where: between its two sides, else twice what fills it first.

    What is filled beside a hollow bend ends at no second side: then it is a bend.
    """
    import shapely
    from shapely.ops import nearest_points

    walls = polygon.boundary.intersection(area.buffer(_NEAR))
    merged = shapely.line_merge(walls) if walls.geom_type == "MultiLineString" else walls
    sides = [g for g in getattr(merged, "geoms", [merged]) if g.length > _NEAR]
    if len(sides) > 1:
        pairs = [(a, b) for i, a in enumerate(sides) for b in sides[:i]]
        a, b = min(pairs, key=lambda pair: pair[0].distance(pair[1]))
        p, q = nearest_points(a, b)
        if p.distance(q) > 0.0:
            return Place("gap", ((p.x + q.x) / 2, (p.y + q.y) / 2), float(p.distance(q)))
    circle = shapely.maximum_inscribed_circle(area, tolerance=CHORD_ERROR)
    (x, y), radius = circle.coords[0], float(circle.length)
    if distance < 0.0:
        # A sliver beside one wall only is where the buffer has straightened a hollow.
        sliver = radius < _STRAIGHTENED * -distance and not _between(walls, (x, y), radius)
        kind = "bend" if sliver else "gap"
        return Place(kind, (x, y), 2.0 * radius if kind == "gap" else radius)
    least = _onset(area, polygon, distance)
    if _between(walls, (x, y), radius):
        return Place("gap", (x, y), 2.0 * least)
    return Place("bend", (x, y), least)


def _between(walls: Any, middle: Point, radius: float) -> bool:
    """Whether a circle touches walls on both sides of its middle."""
    import shapely

    disk = shapely.Point(middle).buffer(radius + 2 * CHORD_ERROR)
    touched = walls.intersection(disk).segmentize(_NEAR)
    ways = sorted(
        math.atan2(y - middle[1], x - middle[0]) for x, y in shapely.get_coordinates(touched)
    )
    if not ways:
        return False
    free = max(b - a for a, b in pairwise((*ways, ways[0] + math.tau)))
    return free < math.tau - _FACING


def _onset(area: Any, polygon: Polygon, distance: float) -> float:
    """The least distance [mm] at which an area is filled by more than the chord error."""
    low, high = 0.0, distance
    while high - low > distance / 500:
        middle = (low + high) / 2
        filled = _changed(polygon, middle).intersection(area)
        fills = not filled.buffer(-CHORD_ERROR / 2).is_empty
        low, high = (low, middle) if fills else (middle, high)
    return low


def _crossing(outline: Outline, distance: float) -> tuple[Place, Any]:
    """Where sides meet that no mitred closing finds: at a hollow that is wider inside, say."""
    import shapely
    import shapely.ops

    out, inward = max(0.0, distance), max(0.0, -distance)
    rings, _ = _collapsed(outline.polygon(), out, inward)
    tidy = Outline(Contour.polygon(rings[0]), tuple(map(Contour.polygon, rings[1:])))
    at = _flaw(tidy, distance) or outline.outer.vertices[0]
    polygon, crossing = outline.polygon(), shapely.Point(at)
    shut = polygon.buffer(distance).buffer(-distance)
    tight = shut.difference(polygon) if distance > 0.0 else polygon.difference(shut)
    parts = [part for part in getattr(tight, "geoms", [tight]) if part.area > _NEAR**2]
    area = min(parts, key=crossing.distance, default=crossing.buffer(abs(distance)))
    nearest = shapely.ops.nearest_points(area, crossing)[0]
    most = room(outline, abs(distance), inward=distance < 0.0)
    return Place("gap", (nearest.x, nearest.y), 2 * most), area
