"""Wads evenly round circles under a foot that is round itself: judged by closed forms.

Such wads all meet the foot alike, so one patch stands for a whole circle; where the weight is in
the middle they press alike too.  `checks.check` finds the same with every patch worked out; what
is chosen is always checked by it in the end.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.families.base import WET, Piece
from wadforms.geometry.contour import Point
from wadforms.geometry.moments import Moments, moments
from wadforms.setting.arrangement import Arrangement, circle
from wadforms.setting.assessment import least, most
from wadforms.setting.contact import Patch
from wadforms.setting.feet import FlatFoot, GalleryFoot, PlaneFoot, RingFoot
from wadforms.setting.layouts import ALONE, Layout
from wadforms.setting.limits import SPACING, TIGHT, WALL_CLEARANCE, Limit, Place
from wadforms.setting.load import KPA, weight, worst_three
from wadforms.setting.mixes import Mix
from wadforms.setting.pot import Pot
from wadforms.setting.sharing import held_within
from wadforms.setting.stability import support_polygon, tipping_angle
from wadforms.setting.strength import cold_limit, heat_limit

if TYPE_CHECKING:
    from shapely import Geometry

MISSES: Final = 2.0
"""Part of its limits that an arrangement uses of which a wad misses the foot."""

_CENTRED: Final = 1e-6  # how far the centroid of a top may lie from its middle, of its reach

_KEPT: Final = 256  # pieces of which the measures are kept


def is_even(pot: Pot, piece: Piece, layout: Layout) -> bool:
    """Whether the closed forms hold: round foot, weight in the middle, circles, broad tops."""
    if not layout.circles or pot.centre != (0.0, 0.0) or piece.tips is not None:
        return False
    if not isinstance(pot.foot, RingFoot | GalleryFoot | FlatFoot):
        return False
    # A single piece presses evenly only where it lies evenly about the middle.
    return layout.circles != ALONE or (not pot.is_flatware and _top(piece).is_centred)


class _Met(NamedTuple):
    """What one wad touches: the area of each face's patch [mm²], its regions, their centroid."""

    areas: tuple[float, ...]
    regions: tuple[Geometry, ...]
    centre: Point
    whole: bool

    @property
    def area(self) -> float:
        """Of all its patches [mm²]."""
        return sum(self.areas)


class _Top:
    """Measures of a piece, taken once."""

    def __init__(self, piece: Piece) -> None:
        import numpy as np
        import shapely

        self.piece = piece
        self.faces = [face.polygon() for face in piece.faces]
        self.points = [shapely.get_coordinates(face) for face in self.faces]
        self.reach = max(float(np.hypot(*points.T).max()) for points in self.points)
        self.measured = moments(self.faces)
        off = sum((m for m in self.measured), Moments()).centroid
        self.is_centred = math.hypot(*off) <= _CENTRED * self.reach
        self.is_round = all(piece.outline.outer.bulges)
        base = piece.body.base
        self.base = base.polygon()
        self.base_points = shapely.get_coordinates(self.base)
        self.base_reach = float(np.hypot(*self.base_points.T).max())
        around = shapely.distance(shapely.Point(0.0, 0.0), shapely.boundary(self.base))
        inside = shapely.contains_xy(self.base, 0.0, 0.0)
        self.base_inner = float(around) if inside else 0.0
        self._clear: dict[tuple[int, float], bool] = {}
        self._limits: dict[tuple[Any, ...], tuple[float, float]] = {}

    def is_clear(self, number: int, radius: float) -> bool:
        """Whether so many bases on a circle lie beside each other."""
        if number < 2:
            return True
        apart = 2.0 * radius * math.sin(math.pi / number)
        if apart >= 2.0 * self.base_reach:
            return True
        if apart < 1.999 * self.base_inner:
            return False
        key = (number, radius)
        if key not in self._clear:
            import shapely

            first, second = (
                shapely.transform(self.base, lambda p, s=spot: _placed(p, s.turn, s.x, s.y))
                for spot in circle(number, radius)[:2]
            )
            common = shapely.area(shapely.intersection(first, second))
            if len(self._clear) > 4096:
                self._clear.clear()
            self._clear[key] = bool(common <= 1e-3)
        return self._clear[key]

    def limits(
        self, mix: Mix, body: str, place: Place, shear: Limit, width: float | None
    ) -> tuple[float, float]:
        """At top heat and while cold [kPa], where what touches is so wide [mm]."""
        if width is not None:
            width = min(width, self.piece.outline.inscribed_width)
        key = (id(mix), body, place.name, shear.value, width)
        if key not in self._limits:
            if len(self._limits) > 4096:
                self._limits.clear()
            heat = heat_limit(self.piece, mix, place, width)
            rest = cold_limit(self.piece, mix, body, shear, width)
            self._limits[key] = heat.value, rest.value
        return self._limits[key]


def _placed(points: Any, turn: float, x: float, y: float) -> Any:
    import numpy as np

    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    return points @ np.array([[c, s], [-s, c]]) + (x, y)


_tops: dict[int, _Top] = {}


def _top(piece: Piece) -> _Top:
    """The measures of a piece, kept by its identity: comparing pieces would take longer."""
    found = _tops.get(id(piece))
    if found is None or found.piece is not piece:
        if len(_tops) >= _KEPT:
            _tops.clear()
        found = _tops[id(piece)] = _Top(piece)
    return found


class _Under:
    """Patches under one foot, each worked out once."""

    def __init__(self, foot: PlaneFoot) -> None:
        self.foot = foot
        self.zone = foot.zone
        self._met: dict[tuple[int, float, float], tuple[_Top, _Met]] = {}
        self._held: dict[int, tuple[_Top, list[Point]]] = {}
        self._widths: dict[tuple[int, float], tuple[_Top, float]] = {}

    def met(self, top: _Top, radius: float, factor: float) -> _Met:
        """What a wad meets at a distance from the middle [mm], at a share of its set size."""
        key = (id(top), radius, factor)
        if key not in self._met:
            self._met[key] = top, self._meet(top, radius, factor)
        return self._met[key][1]

    def _meet(self, top: _Top, radius: float, factor: float) -> _Met:
        import numpy as np
        import shapely

        foot = self.foot
        if isinstance(foot, FlatFoot) and radius + factor * top.reach < 0.999 * foot.diameter / 2:
            measured = top.measured
            areas = tuple(m.area * factor**2 for m in measured)
            x = sum(m.x for m in measured) * factor**3 / sum(areas)
            y = sum(m.y for m in measured) * factor**3 / sum(areas) + radius
            return _Met(areas, (), (x, y), whole=True)
        regions = np.array(
            [
                shapely.set_coordinates(np.array([face]), factor * points + (0.0, radius))[0]
                for face, points in zip(top.faces, top.points, strict=True)
            ]
        )
        beyond = ~shapely.contains(self.zone, regions)
        if beyond.any():
            regions[beyond] = shapely.intersection(regions[beyond], self.zone)
        found = moments(regions)
        areas = tuple(m.area if m.area > 1e-9 else 0.0 for m in found)
        area = sum(areas)
        centre = (
            (sum(m.x for m in found) / area, sum(m.y for m in found) / area) if area else (0.0, 0.0)
        )
        whole = all(
            area >= 0.99 * m.area * factor**2 for area, m in zip(areas, top.measured, strict=True)
        )
        return _Met(areas, tuple(regions), centre, whole)

    def held(self, top: _Top) -> list[Point]:
        """The polygon [mm] within which a single piece in the middle holds the pot."""
        if id(top) not in self._held:
            met = self.met(top, 0.0, 1.0)
            regions = met.regions or tuple(top.faces)
            patches = [
                Patch(0, face, region, measured)
                for face, (region, measured) in enumerate(
                    zip(regions, moments(regions), strict=True)
                )
                if measured.area > 0.0
            ]
            self._held[id(top)] = top, held_within(patches, [(0.0, 0.0)])
        return self._held[id(top)][1]

    def width(self, top: _Top, radius: float) -> float:
        """Width of the narrowest patch [mm]."""
        import shapely

        key = (id(top), radius)
        if key not in self._widths:
            met = self.met(top, radius, 1.0)
            regions = [r for r, area in zip(met.regions, met.areas, strict=True) if area]
            lines = shapely.maximum_inscribed_circle(regions, tolerance=0.02)
            self._widths[key] = top, 2.0 * float(shapely.length(lines).min())
        return self._widths[key][1]


@lru_cache(maxsize=4)
def _under(foot: PlaneFoot) -> _Under:
    return _Under(foot)


@lru_cache(maxsize=512)
def _worst_of(number: int) -> float:
    """The most that one of so many rigid wads round a circle can carry, as a share."""
    if number == 3:
        return 1.0 / 3.0
    worst = worst_three([(spot.x, spot.y) for spot in circle(number, 1.0)], 1.0)
    return max(worst or (1.0,))


def part_used(
    piece: Piece, layout: Layout, pot: Pot, body: str, mix: Mix, place: Place, shear: Limit
) -> float | None:
    """Part of its limits that an arrangement uses; None where it cannot be laid out.

    Parameters
    ----------
    piece : Piece
        The wad.
    layout : Layout
        Where they go; `is_even` must hold.
    pot : Pot
        What stands on them.
    body : str
        How they are set.
    mix : Mix
        What they are made of.
    place : Place
        Where in the kiln.
    shear : Limit
        Shear strength of the wet mix [kPa].

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> from wadforms.setting.layouts import layouts
    >>> from wadforms.setting.limits import PLACES, SHEAR
    >>> from wadforms.setting.mixes import mix
    >>> bowl = Pot(mass=380.0, foot=RingFoot(50.0, 5.0), centre_height=45.0)
    >>> disk = Disk(diameter=10, height=8).piece()
    >>> three = layouts(bowl, disk)[0]
    >>> firm, sheltered = SHEAR["firm"], PLACES["sheltered"]
    >>> round(part_used(disk, three, bowl, "dry", mix("open"), sheltered, firm), 3)
    0.804
    """
    top, under, foot = _top(piece), _under_of(pot), pot.foot
    if not _lies_apart(top, layout):
        return None
    force = weight(pot.mass * pot.share)
    meeting = [under.met(top, radius, 1.0) for _, radius in layout.circles]
    fired_size = mix.fired_factor(body)
    fired = [under.met(top, radius, fired_size) for _, radius in layout.circles]
    if not all(met.area for met in meeting + fired):
        return MISSES
    uses = [_beside_wall(top, layout, foot)] if isinstance(foot, GalleryFoot) else []
    if pot.is_flatware:
        uses += _spans(layout, under, meeting)
    hot, worst = _pressures(layout, meeting, fired, force, rigid=body != WET)

    if layout.circles != ALONE:
        uses += _steady(layout, meeting, pot, piece, place)
    elif max(hot / top.limits(mix, body, place, shear, None)[0], *uses, 0.0) <= 1.0:
        uses += _held(under.held(top), pot, piece, place)

    def at(width: float | None) -> float:
        heat, rest = top.limits(mix, body, place, shear, width)
        return max(hot / heat, worst / rest, *uses)

    if len(piece.faces) == 1 and all(met.whole for met in meeting):
        return at(None)
    if not isinstance(foot, FlatFoot) and top.is_round:
        assert isinstance(foot, RingFoot | GalleryFoot)  # noqa: S101 - narrows the type
        return at(foot.width)
    # Finding the width of a patch takes longer than all the rest: only where it decides.
    widest = foot.width if isinstance(foot, RingFoot | GalleryFoot) else None
    easy = at(widest)
    if easy > 1.0 or _verdict(at(_surely(under, top, layout))) == _verdict(easy):
        return easy
    return at(min(under.width(top, radius) for _, radius in layout.circles))


def _under_of(pot: Pot) -> _Under:
    assert isinstance(pot.foot, PlaneFoot)  # noqa: S101 - narrows the type
    return _under(pot.foot)


def _verdict(used: float) -> int:
    return (used > TIGHT) + (used > 1.0)


def _surely(under: _Under, top: _Top, layout: Layout) -> float:
    """A width that the patches surely have [mm]: of the circle about each one's centroid."""
    import shapely

    least_width = math.inf
    for _, radius in layout.circles:
        met = under.met(top, radius, 1.0)
        if not met.regions:
            return 0.0  # whole, of several faces
        middles = shapely.centroid(met.regions)
        inside = shapely.contains(met.regions, middles)
        away = shapely.distance(middles, shapely.boundary(met.regions))
        least_width = min(least_width, 2.0 * float((inside * away).min()))
    return least_width


def _lies_apart(top: _Top, layout: Layout) -> bool:
    """Whether the bases lie beside each other."""
    if not all(top.is_clear(number, radius) for number, radius in layout.circles):
        return False
    radii = sorted(radius for _, radius in layout.circles)
    if all(b - a >= 2.0 * top.base_reach for a, b in pairwise(radii)):
        return True
    return Arrangement(top.piece, layout.spots).overlapping is None


def _steady(
    layout: Layout, meeting: Sequence[_Met], pot: Pot, piece: Piece, place: Place
) -> list[float]:
    """What tipping uses, where it is judged."""
    if pot.gravity_height is None or pot.held:
        return []
    height = pot.gravity_height + piece.height
    if len(layout.circles) == 1:
        ((number, _),) = layout.circles
        edge = math.hypot(*meeting[0].centre) * math.cos(math.pi / number)
        return [_tipping(math.degrees(math.atan2(edge, height)), place)]
    return _held(support_polygon(_supports(layout, meeting)), pot, piece, place)


def _held(polygon: Sequence[Point], pot: Pot, piece: Piece, place: Place) -> list[float]:
    """What tipping over a polygon uses, where it is judged."""
    if pot.gravity_height is None or pot.held:
        return []
    angle = tipping_angle(polygon, (0.0, 0.0), pot.gravity_height + piece.height)
    return [_tipping(angle, place)]


def _tipping(angle: float, place: Place) -> float:
    return least("", angle, place.tipping_least, sound=place.tipping_sound.value).used


def _supports(layout: Layout, meeting: Sequence[_Met]) -> list[Point]:
    """Centroids of what all wads touch."""
    points = []
    for (number, _), met in zip(layout.circles, meeting, strict=True):
        x, y = met.centre
        out, turn = math.hypot(x, y), math.degrees(math.atan2(y, x))
        points += [(spot.x, spot.y) for spot in circle(number, out, first=turn)]
    return points


def _beside_wall(top: _Top, layout: Layout, foot: GalleryFoot) -> float:
    """What room to the wall of a gallery uses."""
    import numpy as np

    radius = max(radius for _, radius in layout.circles)
    x, y = top.base_points.T
    farthest = float(np.hypot(x, y + radius).max())
    return least("", foot.diameter / 2 - farthest, WALL_CLEARANCE).used


def _spans(layout: Layout, under: _Under, meeting: Sequence[_Met]) -> list[float]:
    """What flatware uses of its spacing: along the circles, and from its edges to the nearest wad.

    The places farthest from any wad are half way between neighbours, at the edges of the foot.
    """
    import shapely

    gaps = [math.tau * radius / number for number, radius in layout.circles if number > 1]
    uses = [most("", gap, SPACING, margin=False).used for gap in gaps]
    foot = under.foot
    if not isinstance(foot, RingFoot):
        return uses
    for (number, _), met, outline in zip(layout.circles, meeting, foot.outlines, strict=False):
        for edge in (outline, *outline.holes):
            radius = edge.bounds[2] if edge is outline else outline.holes[0].bounds[2]
            half = math.pi / number
            places = shapely.points(
                [(side * radius * math.sin(half), radius * math.cos(half)) for side in (1, -1)]
            )
            away = shapely.distance(places, shapely.union_all(met.regions))
            uses.append(most("", float(away.min()), SPACING, margin=False).used)
    return uses


def _pressures(
    layout: Layout, meeting: Sequence[_Met], fired: Sequence[_Met], force: float, *, rigid: bool
) -> tuple[float, float]:
    """Pressure at top heat and while cold [kPa]."""
    numbers = [number for number, _ in layout.circles]
    if not rigid or sum(numbers) < 3:
        hot, cold = (
            force / sum(n * met.area for n, met in zip(numbers, every, strict=True)) * KPA
            for every in (fired, meeting)
        )
        return hot, cold
    each = force / sum(numbers)
    hot = max(
        each * area / met.area / heated
        for met, then in zip(meeting, fired, strict=True)
        for area, heated in zip(met.areas, then.areas, strict=True)
        if heated
    )
    if len(numbers) == 1:
        worst = [_worst_of(numbers[0]) * force]
    else:
        found = worst_three(_supports(layout, meeting), force) or ()
        starts = [sum(numbers[:k]) for k in range(len(numbers))]
        worst = [found[start] for start in starts] if found else [force] * len(numbers)
    return hot * KPA, max(w / met.area for w, met in zip(worst, meeting, strict=True)) * KPA
