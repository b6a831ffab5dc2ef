"""Fills what is too tight in an outline, so that walls can lean out of it."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any, Final, NamedTuple

from wadforms.geometry.contour import CHORD_ERROR, Point
from wadforms.geometry.outline import Outline
from wadforms.geometry.restoring import restored
from wadforms.geometry.tightness import Place, regions

_ROUNDS: Final = 6  # what was filled can make the next place tight, but not for long

_TAIL: Final = CHORD_ERROR / 2  # a filling thinner than twice this is noise [mm]
_LAP: Final = 1e-4  # by how much a filling laps over the walls [mm]
_SPARE: Final = 0.02  # a gap is left wider than it must be by twice this [mm]
_STEP: Final = 2 * CHORD_ERROR  # no step that such a tail leaves is higher [mm]

_DUST: Final = 1e-6  # areas and holes smaller than this [mm²] are left by rounding only


class Easing(NamedTuple):
    """An outline with its tight places filled.

    Parameters
    ----------
    outline : Outline
        The eased outline; the one that was given where nothing was tight.
    places : tuple of Place
        What was filled, the tightest first.
    area_before, area_after : float
        Of the outline [mm²].
    """

    outline: Outline
    places: tuple[Place, ...]
    area_before: float
    area_after: float

    @property
    def area_added(self) -> float:
        """What was filled [mm²]."""
        return self.area_after - self.area_before


def eased(outline: Outline, spread: float, margin: float, ridge: float = 0.0) -> Easing:
    """Fill the places of an outline that are too tight for walls that lean out of it.

    Each is filled as far as a disk of the radius `spread` + `margin` cannot enter from outside
    (a morphological closing, there and nowhere else): a bend gets that radius, and a gap is
    filled up to where it is twice as wide.  Nothing is taken away.  All else stays as it is, sharp
    hollow corners too; an arc that a filling meets becomes lines within the chord error.

    Parameters
    ----------
    outline : Outline
        Counted in mm.
    spread : float
        How far the walls lean out [mm].
    margin : float
        What is left of an eased bend at the foot of the walls [mm].
    ridge : float
        Gaps are filled too that would be narrower than this [mm] at the foot of the walls, up to
        where they are that wide.

    Examples
    --------
    >>> from wadforms.geometry.contour import Contour
    >>> holed = Outline(Contour.circle(20), (Contour.circle(0.5), Contour.circle(3, (9, 0))))
    >>> change = eased(holed, 0.7, 0.2)
    >>> len(change.outline.holes), round(change.area_added / math.pi, 6)
    (1, 0.25)
    """
    return _eased(outline, spread, margin, ridge)


@lru_cache(maxsize=256)
def _eased(outline: Outline, spread: float, margin: float, ridge: float) -> Easing:
    places: list[Place] = []
    tight: list[Any] = []
    thin: list[Any] = []
    found = outline
    apart = spread + ridge / 2
    for k in range(_ROUNDS):
        more = regions(found, spread)
        narrow = [pair for pair in regions(found, apart) if ridge and pair[0].kind == "gap"]
        if not more and not narrow:
            break
        tight += [area for _, area in more]
        thin += [area for _, area in narrow]
        # A place that shows once its neighbour is filled is one more; one at a filling is not.
        for new, _ in (*more, *narrow):
            if all(math.dist(new.at, old.at) > 2 * apart for old in places):
                places.append(new)
        # Anew from what was drawn, so that no filling stands on another.
        wider = margin * k / 2
        ways = [(tight, spread + margin + wider), (thin, apart + _SPARE + wider)]
        found = _filled(outline, [way for way in ways if way[0]])
    places.sort(key=lambda place: (place.room, place.at))
    return Easing(found, tuple(places), outline.area, found.area)


def _filled(outline: Outline, ways: list[tuple[list[Any], float]]) -> Outline:
    """The outline with areas filled, each as far as a disk of their radius cannot enter."""
    import shapely

    polygon = outline.polygon()
    radius = max(radius for _, radius in ways)
    chosen = [fill for areas, wide in ways for fill in _fillings(polygon, areas, wide)]
    # Thin tails along the walls go; what is left laps over the walls, so that they join.
    solid = [
        fill.buffer(-_TAIL, join_style="mitre").buffer(_TAIL + _LAP, join_style="mitre")
        for fill in chosen
    ]
    whole = shapely.union_all([polygon, *solid])
    if whole.geom_type != "Polygon":  # what only touches the outline is no filling of it
        whole = max(whole.geoms, key=lambda part: part.area)
    drawn = {p for ring in (polygon.exterior, *polygon.interiors) for p in ring.coords}
    holes = [hole for hole in whole.interiors if shapely.Polygon(hole).area > _DUST]
    rings = [_tidy(_ring(whole.exterior), drawn, radius / 20)]
    rings += [_tidy(_ring(hole)[::-1], drawn, radius / 20)[::-1] for hole in holes]
    return restored([ring for ring in rings if len(ring) > 2], outline)


def _fillings(polygon: Any, areas: list[Any], radius: float) -> list[Any]:
    import shapely

    steps = math.ceil(math.pi / 4 / math.acos(1 - min(1.0, CHORD_ERROR / radius)))
    shut = polygon.buffer(radius, quad_segs=steps).buffer(-radius, quad_segs=steps)
    fills = shut.difference(polygon)
    tight = shapely.union_all([area.buffer(CHORD_ERROR) for area in areas])
    return [
        fill
        for fill in getattr(fills, "geoms", [fills])
        if fill.area > _DUST and fill.intersects(tight)
    ]


def _tidy(ring: list[Point], drawn: set[Point], short: float) -> list[Point]:
    """The ring without what thin tails leave where they went; see the two that it calls."""
    return _without_steps(_without_stubs(ring, drawn, short), drawn)


def _without_steps(ring: list[Point], drawn: set[Point]) -> list[Point]:
    """The ring without the tiny steps from fillings to walls: they run out on them instead.

    Such a step would be a sharp hollow corner that nobody drew.  Only fillings grow by it.
    """
    i = 0
    while i < len(ring) > 4:
        a, p, q, b = (ring[(i + k) % len(ring)] for k in (-1, 0, 1, 2))
        i += 1
        if math.dist(p, q) > _STEP or p in drawn or q in drawn:
            continue
        meeting = _run_out(a, p, q, b) or _run_out(b, q, p, a)
        if meeting is None:
            continue
        here = (i - 1) % len(ring)
        ring[here] = meeting
        del ring[(here + 1) % len(ring)]
    return ring


def _run_out(a: Point, p: Point, q: Point, b: Point) -> Point | None:
    """Where the line from a through p, gone on, meets the wall from q to b beside it."""
    (ux, uy), (vx, vy) = (p[0] - a[0], p[1] - a[1]), (b[0] - q[0], b[1] - q[1])
    cross = ux * vy - uy * vx
    if not cross:
        return None
    dx, dy = q[0] - a[0], q[1] - a[1]
    along, beside = (dx * vy - dy * vx) / cross, (dx * uy - dy * ux) / cross
    if along < 1.0 or not 0.0 < beside < 1.0:
        return None
    return q[0] + beside * vx, q[1] + beside * vy


def _without_stubs(ring: list[Point], drawn: set[Point], short: float) -> list[Point]:
    """The ring without the ends of fillings that all but reach a corner: they go on up to it.

    Only hollow corners are dropped, so that nothing is taken away; the ring has the clay on its
    left.
    """
    while True:
        kept = []
        for i, here in enumerate(ring):
            before, after = ring[i - 1], ring[(i + 1) % len(ring)]
            turn = (here[0] - before[0]) * (after[1] - here[1])
            turn -= (here[1] - before[1]) * (after[0] - here[0])
            hollow = turn < 0.0 and here not in drawn
            if not hollow or all(math.dist(p, here) >= short for p in drawn):
                kept.append(here)
            else:
                kept += ring[i + 1 :]  # its neighbours may be hollow now: look again
                break
        if len(kept) == len(ring):
            return kept
        ring = kept


def _ring(ring: Any) -> list[Point]:
    points = [(float(x), float(y)) for x, y in ring.coords[:-1]]
    return points if ring.is_ccw else points[::-1]
