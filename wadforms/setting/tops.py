"""What tops touch of a foot that is round: measures of pieces, and patches, each found once."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.families.base import Piece
from wadforms.geometry.contour import Point
from wadforms.geometry.moments import moments
from wadforms.setting.arrangement import circle
from wadforms.setting.contact import Patch, farthest_from
from wadforms.setting.feet import FlatFoot, PlaneFoot
from wadforms.setting.limits import SPACING, Limit, Place
from wadforms.setting.mixes import Mix
from wadforms.setting.sharing import held_within
from wadforms.setting.stability import support_polygon
from wadforms.setting.strength import cold_limit, heat_limit

if TYPE_CHECKING:
    from shapely import Geometry

_CENTRED: Final = 1e-3  # how much of a top may differ when it is turned, for its arcs are polygons

_KEPT: Final = 256  # pieces of which the measures are kept


_NET = (16, 72)  # rings and spokes of the net over a base on which its farthest part is sought


class Met(NamedTuple):
    """What one wad touches: the area of each face's patch [mm²], its regions, their centroid."""

    areas: tuple[float, ...]
    regions: tuple[Geometry, ...]
    centre: Point
    whole: bool

    @property
    def area(self) -> float:
        """Of all its patches [mm²]."""
        return sum(self.areas)


class Top:
    """Measures of a piece, taken once."""

    def __init__(self, piece: Piece) -> None:
        import numpy as np
        import shapely

        self.piece = piece
        self.faces = [face.polygon() for face in piece.faces]
        self.points = [shapely.get_coordinates(face) for face in self.faces]
        self.reach = max(float(np.hypot(*points.T).max()) for points in self.points)
        self.measured = moments(self.faces)
        self.is_centred = self._turns_onto_itself()
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

    def _turns_onto_itself(self) -> bool:
        """Whether its top looks the same when it is turned by a part of a whole turn.

        Then so does all that it touches of a round foot, which bears evenly about the middle.
        """
        import shapely

        whole = shapely.union_all(self.faces)
        return any(
            shapely.area(
                shapely.symmetric_difference(
                    whole, shapely.transform(whole, lambda p, n=parts: _placed(p, 360.0 / n, 0, 0))
                )
            )
            <= _CENTRED * shapely.area(whole)
            for parts in (2, 3, 5, 7)
        )

    def is_clear(self, number: int, radius: float) -> bool:
        """Whether so many bases on a circle of this radius [mm] lie beside each other."""
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
        key = (mix, body, place, shear.value, width)
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


_tops: dict[int, Top] = {}


def top_of(piece: Piece) -> Top:
    """The measures of a piece, kept by its identity: comparing pieces would take longer.

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> disk = Disk(diameter=20, height=8).piece()
    >>> top_of(disk) is top_of(disk), top_of(disk).is_clear(3, 40.0), top_of(disk).is_clear(9, 20.0)
    (True, True, False)
    """
    found = _tops.get(id(piece))
    if found is None or found.piece is not piece:
        if len(_tops) >= _KEPT:
            _tops.clear()
        found = _tops[id(piece)] = Top(piece)
    return found


class Under:
    """Patches under one foot, each worked out once."""

    def __init__(self, foot: PlaneFoot) -> None:
        self.foot = foot
        self.zone = foot.zone
        # A top is told from others by its identity: there is one for each piece.
        self._met: dict[tuple[Top, float, float], Met] = {}
        self._hulls: dict[tuple[Top, float], list[Point]] = {}
        self._away: dict[Top, float] = {}
        self._away_from: dict[tuple[Top, tuple[tuple[int, float], ...]], float] = {}
        self._held: dict[Top, list[Point]] = {}
        self._widths: dict[tuple[Top, float], float] = {}

    def met(self, top: Top, radius: float, factor: float) -> Met:
        """What a wad meets at a distance from the middle [mm], at a share of its set size."""
        key = (top, radius, factor)
        if key not in self._met:
            self._met[key] = self._meet(top, radius, factor)
        return self._met[key]

    def _meet(self, top: Top, radius: float, factor: float) -> Met:
        import numpy as np
        import shapely

        foot = self.foot
        if isinstance(foot, FlatFoot) and radius + factor * top.reach < 0.999 * foot.diameter / 2:
            measured = top.measured
            areas = tuple(m.area * factor**2 for m in measured)
            x = sum(m.x for m in measured) * factor**3 / sum(areas)
            y = sum(m.y for m in measured) * factor**3 / sum(areas) + radius
            return Met(areas, (), (x, y), whole=True)
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
        return Met(areas, tuple(regions), centre, whole)

    def hull(self, top: Top, crumbled: float) -> list[Point]:
        """The polygon [mm] around all that a single piece in the middle touches, less its edge."""
        key = (top, crumbled)
        if key not in self._hulls:
            import shapely

            firm = shapely.buffer(shapely.union_all(self._regions(top)), -crumbled)
            points = shapely.get_coordinates(shapely.convex_hull(firm))
            hull = support_polygon([(float(x), float(y)) for x, y in points])
            self._hulls[key] = hull
        return self._hulls[key]

    def held(self, top: Top) -> list[Point]:
        """The polygon [mm] within which a single piece in the middle holds the pot."""
        if top not in self._held:
            self._held[top] = held_within(self._patches(top), [(0.0, 0.0)])
        return self._held[top]

    def away(self, top: Top) -> float:
        """How far some part of the foot lies from a single piece in the middle [mm]."""
        beyond = self.foot.reach - top.reach
        if beyond > SPACING.value:
            return beyond  # at least
        if top not in self._away:
            self._away[top] = farthest_from(self._patches(top), self.zone)
        return self._away[top]

    def away_from(self, top: Top, circles: tuple[tuple[int, float], ...]) -> float:
        """How far some part of the foot lies from wads on circles [mm].

        Not exactly where that cannot decide: where it surely keeps the spacing the most that it
        may be, and where it surely does not the least.
        """
        key = (top, circles)
        if key not in self._away_from:
            import shapely

            low, high = self._away_about(top, circles)
            if low > SPACING.value or high <= SPACING.value:
                return low if low > SPACING.value else high
            patches = []
            for number, radius in circles:
                met = self.met(top, radius, 1.0)
                regions = met.regions or shapely.transform(
                    top.faces, lambda p, r=radius: _placed(p, 0.0, 0.0, r)
                )
                patches += [
                    Patch(
                        0, 0, shapely.transform(one, lambda p, s=spot: _placed(p, s.turn, 0, 0)), m
                    )
                    for one, m in zip(regions, moments(tuple(regions)), strict=True)
                    if m.area > 1e-9
                    for spot in circle(number, radius)
                ]
            self._away_from[key] = farthest_from(patches, self.zone)
        return self._away_from[key]

    def _away_about(self, top: Top, circles: tuple[tuple[int, float], ...]) -> tuple[float, float]:
        """The least and the most that `away_from` may be [mm], seen from a coarse net of places."""
        import numpy as np
        import shapely

        middles, inside = [], True
        for number, radius in circles:
            x, y = self.met(top, radius, 1.0).centre
            inside = inside and any(shapely.contains_xy(face, x, y - radius) for face in top.faces)
            out, turn = math.hypot(x, y), math.degrees(math.atan2(y, x))
            middles += [(s.x, s.y) for s in circle(number, out, first=turn)]
        reach, (rings, spokes) = self.foot.reach, _NET
        across, along = np.linspace(0.0, reach, rings + 1), np.arange(spokes) * math.tau / spokes
        net = (across[:, None] * np.exp(1j * along)).reshape(-1, 1)
        at = np.array(middles) @ (1.0, 1j)
        farthest = float(np.abs(net - at).min(axis=1).max())
        # No place is farther from the net than half a mesh of it.
        mesh = math.hypot(reach / rings, reach * math.tau / spokes) / 2
        return farthest - 2.0 * top.reach, farthest + mesh if inside else math.inf

    def _regions(self, top: Top) -> tuple[Geometry, ...]:
        return self.met(top, 0.0, 1.0).regions or tuple(top.faces)

    def _patches(self, top: Top) -> list[Patch]:
        regions = self._regions(top)
        measured = enumerate(zip(regions, moments(regions), strict=True))
        return [Patch(0, face, region, m) for face, (region, m) in measured if m.area > 1e-9]

    def width(self, top: Top, radius: float) -> float:
        """Width of the narrowest patch [mm]."""
        import shapely

        key = (top, radius)
        if key not in self._widths:
            met = self.met(top, radius, 1.0)
            regions = [r for r, area in zip(met.regions, met.areas, strict=True) if area]
            lines = shapely.maximum_inscribed_circle(regions, tolerance=0.02)
            self._widths[key] = 2.0 * float(shapely.length(lines).min())
        return self._widths[key]


@lru_cache(maxsize=4)
def under_of(foot: PlaneFoot) -> Under:
    """The patches under a foot; those of the last few feet are kept.

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> from wadforms.setting.feet import RingFoot
    >>> under = under_of(RingFoot(50.0, 5.0))
    >>> met = under.met(top_of(Disk(diameter=10, height=8).piece()), 22.5, 1.0)
    >>> round(met.area, 1), met.whole
    (47.9, False)
    """
    return Under(foot)
