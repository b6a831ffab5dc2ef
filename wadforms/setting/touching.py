"""Where flat wads touch a curved pot, how far up it, and how much of their tops can bed to it.

A rigid level top meets a curve at the edge that is nearest to the pot's middle, and there it
stays; a soft one is pressed down until the pot lies on the middle of its top.  How deep either
can bed has a limit (`limits.SINKING`): the area that can come to bear is the part of the top
between that edge and the circle in which the pot, sunk so deep, cuts the level of the top.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from wadforms.errors import BadInput, Fault
from wadforms.families.base import WET
from wadforms.geometry.contour import Point
from wadforms.setting.arrangement import Spot, circle
from wadforms.setting.feet import CurvedFoot, RoundFoot, SideFoot
from wadforms.setting.limits import SINKING
from wadforms.setting.pot import Setting
from wadforms.setting.rounds import bedded_reach
from wadforms.setting.sides import SAME, Axis, axis_of

if TYPE_CHECKING:
    from shapely import Geometry

_LOWEST, _HIGHEST = 5.0, 75.0
"""How far up the curve contacts can hold a pot: lower it rolls, higher they are wedged apart
(common practice, no source) [deg]."""


class Contacts(NamedTuple):
    """Where a curved pot is held.

    Parameters
    ----------
    points : tuple of (float, float)
        The contacts in plan [mm].
    corners : tuple of (float, float)
        The ends of the lines on which they touch, or the contacts where they are points [mm].
    turns : tuple of float
        Of the piece at each contact [deg].
    angle : float
        How far up the curve they lie [deg].
    area, width : float
        Of the part of the top that can bed, at each contact [mm², mm].
    loose : bool
        Whether each contact is a wad of its own that can topple outward.
    axis : Axis or None
        Of a pot on its side.
    """

    points: tuple[Point, ...]
    corners: tuple[Point, ...]
    turns: tuple[float, ...]
    angle: float
    area: float
    width: float
    loose: bool
    axis: Axis | None = None


def sinking(setting: Setting) -> float:
    """How deep the pot can bed into the wads [mm]."""
    limit = SINKING[setting.body].value
    return limit * setting.arrangement.piece.height if setting.body == WET else limit


def round_contacts(setting: Setting, foot: RoundFoot) -> Contacts:
    """A sphere on loose wads, on the tips of one piece, or on the inner edge of one ring.

    Raises
    ------
    BadInput
        This shape, or this number of wads, cannot hold such a pot.
    """
    spots, piece = setting.arrangement.spots, setting.arrangement.piece
    if piece.hollow_radius:
        right = "use flat wads, a ring or a pointed piece; a cradle takes a pot on its side"
        raise BadInput(Fault("wads", "a cradle under a round bottom", right))
    if len(spots) >= 3:
        return _loose_contacts(setting, foot)
    if len(spots) == 1 and spots[0].radius > SAME:
        right = "stand a single piece in the middle of a round bottom"
        raise BadInput(Fault("wads", f"one, {spots[0].radius:g} mm from the middle", right))
    if len(spots) == 1 and piece.tips and len(piece.faces) >= 3:
        (spot,) = spots
        points = tuple(_middle(spot.place(face).bounds) for face in piece.faces)
        angle = _angle(math.hypot(*points[0]), foot)
        turns = (spot.turn,) * len(points)
        flat = piece.tips.flat_area
        return Contacts(points, points, turns, angle, flat, 0.0, loose=False)
    if len(spots) == 1 and piece.faces[0].holes:
        import shapely

        x0, _, x1, _ = piece.faces[0].holes[0].bounds
        inner = (x1 - x0) / 2
        angle = _angle(inner, foot)
        bedded = _within(piece.faces[0].polygon(), setting, foot, inner, _disc)
        # A ring touches all round; its twelfths stand for it.
        points = tuple((spot.x, spot.y) for spot in circle(12, inner))
        area, width = float(shapely.area(bedded)) / 12, _width(bedded)
        return Contacts(points, points, (spots[0].turn,) * 12, angle, area, width, loose=False)
    raise BadInput(
        Fault(
            "wads",
            f"{len(spots)} of a flat-topped shape",
            "a round bottom needs three or more wads on a circle, or one ring or pointed piece",
        )
    )


def _loose_contacts(setting: Setting, foot: RoundFoot) -> Contacts:
    import shapely

    spots, piece = setting.arrangement.spots, setting.arrangement.piece
    radii = [spot.radius for spot in spots]
    if max(radii) - min(radii) > SAME:
        raise BadInput(
            Fault("wads", "several radii", "set the wads of a round bottom on one circle")
        )
    radius = radii[0]
    _angle(radius, foot)
    turns = tuple(spot.turn for spot in spots)
    if piece.tips:
        points = tuple((spot.x, spot.y) for spot in spots)
        flat = piece.tips.flat_area
        return Contacts(points, points, turns, _angle(radius, foot), flat, 0.0, loose=True)
    faces = [_top(setting, spot) for spot in spots]
    nearest = [float(face.distance(shapely.Point(0.0, 0.0))) for face in faces]
    first = _one_edge(nearest)
    bedded = [_within(face, setting, foot, first, _disc) for face in faces]
    out = _held_at(setting, foot, radius, first)
    points = tuple((spot.x * out / radius, spot.y * out / radius) for spot in spots)
    area = min(float(part.area) for part in bedded)
    return Contacts(
        points, points, turns, _angle(out, foot), area, min(map(_width, bedded)), loose=True
    )


def belly_contacts(setting: Setting, foot: SideFoot) -> Contacts:
    """A cylinder on two rails along its axis, or on several such pairs of pieces.

    Raises
    ------
    BadInput
        The wads are not in pairs on both sides of one axis, or lie too far up or down the belly.
    """
    spots = setting.arrangement.spots
    if len(spots) % 2:
        raise BadInput(Fault("wads", str(len(spots)), _RAILS))
    axis = axis_of(setting.arrangement)
    placed = [axis.spot(spot) for spot in spots]
    _refuse_unpaired(placed, axis)
    faces = [_top(setting, spot) for spot in placed]
    sides = [math.copysign(1.0, spot.y) for spot in placed]
    radius = abs(placed[0].y)
    _angle(radius, foot)
    first = _one_edge([_nearest(face, side) for face, side in zip(faces, sides, strict=True)])
    bedded = [_within(face, setting, foot, first, _strip) for face in faces]
    out = _held_at(setting, foot, radius, first)
    ends = [
        _ends(face, side, None if setting.body != WET else out)
        for face, side in zip(faces, sides, strict=True)
    ]
    return Contacts(
        points=tuple(
            axis.plan((low + high) / 2, side * out)
            for (low, high), side in zip(ends, sides, strict=True)
        ),
        corners=tuple(
            axis.plan(end, side * out)
            for pair, side in zip(ends, sides, strict=True)
            for end in pair
        ),
        turns=tuple(spot.turn for spot in spots),
        angle=_angle(out, foot),
        area=min(float(part.area) for part in bedded),
        width=min(map(_width, bedded)),
        loose=True,
        axis=axis,
    )


_RAILS = (
    "a pot on its side lies on two rails, one on each side of its middle and along its axis, "
    "on several such pairs, or in a cradle"
)


def _refuse_unpaired(placed: Sequence[Spot], axis: Axis) -> None:
    """Every wad has one opposite it across the axis, all as far from it."""
    aside = [abs(spot.y) for spot in placed]
    given = None
    if min(aside) <= SAME:
        given = f"a wad on the pot's axis, which the pieces' turns set at {axis.degrees:.4g}°"
    elif max(aside) - min(aside) > SAME or not all(
        sum(math.dist((a.x, -a.y), (b.x, b.y)) <= SAME for b in placed) == 1 for a in placed
    ):
        given = (
            f"{len(placed)} that are not opposite each other across the pot's axis, which the "
            f"pieces' turns set at {axis.degrees:.4g}°"
        )
    if given:
        raise BadInput(Fault("wads", given, _RAILS))


def _angle(radius: float, foot: CurvedFoot) -> float:
    """How far up the curve a contact lies that is so far from the middle [deg]."""
    half = foot.diameter / 2
    if not 0.0 < radius < half:
        right = f"give more than 0 and less than half the belly, {half:g} mm"
        raise BadInput(Fault("radius", f"{radius:g} mm", right))
    angle = math.degrees(math.asin(radius / half))
    if not _LOWEST <= angle <= _HIGHEST:
        low, high = (half * math.sin(math.radians(a)) for a in (_LOWEST, _HIGHEST))
        right = (
            f"the pot must touch {_LOWEST:g}° to {_HIGHEST:g}° up its curve, "
            f"{low:.4g} to {high:.4g} mm from the middle"
        )
        raise BadInput(Fault("radius", f"contact {radius:.4g} mm out, {angle:.3g}° up", right))
    return angle


def _held_at(setting: Setting, foot: CurvedFoot, radius: float, first: float) -> float:
    """From the middle to where the pot is held [mm]: the inner edge, or where it has bedded to."""
    if setting.body != WET:
        return first
    return min(radius, bedded_reach(foot.diameter / 2, first, sinking(setting)))


def _one_edge(nearest: Sequence[float]) -> float:
    """The distance of the wads' inner edges from the middle, which must be one [mm]."""
    if min(nearest) <= 0.0:
        right = "set the wads farther out, or use narrower ones"
        raise BadInput(Fault("wads", "a wad that reaches to the middle", right))
    if max(nearest) - min(nearest) > SAME:
        given = f"inner edges {min(nearest):.4g} to {max(nearest):.4g} mm from the middle"
        raise BadInput(Fault("wads", given, "turn them alike toward the middle"))
    return min(nearest)


def _top(setting: Setting, spot: Spot) -> Geometry:
    import shapely

    faces = [spot.place(face).polygon() for face in setting.arrangement.piece.faces]
    return shapely.union_all(faces)


def _within(
    face: Geometry,
    setting: Setting,
    foot: CurvedFoot,
    first: float,
    shape: Callable[[float], Geometry],
) -> Geometry:
    """The part of a top that the pot beds to once it has sunk as deep as it can."""
    return face.intersection(shape(bedded_reach(foot.diameter / 2, first, sinking(setting))))


def _disc(reach: float) -> Geometry:
    import shapely

    # Flattened finely: what beds may be a sliver of a millimetre's width.
    return shapely.Point(0.0, 0.0).buffer(reach, quad_segs=256)


def _strip(reach: float) -> Geometry:
    import shapely

    return shapely.box(-1e5, -reach, 1e5, reach)


def _width(part: Geometry) -> float:
    """Width of a part of a top: its largest inscribed circle [mm]."""
    import shapely

    return 2.0 * float(shapely.length(shapely.maximum_inscribed_circle(part, tolerance=0.05)))


def _nearest(face: Geometry, side: float) -> float:
    """From the axis, along x, to the edge of a top on that side of it [mm]."""
    _, low, _, high = face.bounds
    return float(low if side > 0.0 else -high)


def _ends(face: Geometry, side: float, across: float | None) -> tuple[float, float]:
    """From where to where along the axis a top touches [mm]: at its inner edge, or `across`."""
    import shapely

    if across is None:
        edge = _nearest(face, side)
        xs = [x for x, y in shapely.get_coordinates(face) if side * y <= edge + SAME / 10]
        return float(min(xs)), float(max(xs))
    line = shapely.LineString([(-1e5, side * across), (1e5, side * across)])
    low, _, high, _ = face.intersection(line).bounds
    return float(low), float(high)


def _middle(bounds: tuple[float, float, float, float]) -> Point:
    return (bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2
