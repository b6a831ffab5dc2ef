"""Round bottoms on wads, and pots on their side on rails or a cradle."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wadforms import units
from wadforms.errors import BadInput, Fault
from wadforms.geometry.body import Trough
from wadforms.geometry.contour import Point
from wadforms.setting.assessment import Assessment, Check, WadLoad, least, most
from wadforms.setting.feet import RoundFoot, SideFoot
from wadforms.setting.limits import SHELF_CLEARANCE, Limit
from wadforms.setting.load import KPA, even_share, weight, worst_three
from wadforms.setting.pot import Setting
from wadforms.setting.rounds import Perch, bruise_radius, perch
from wadforms.setting.stability import overturning_use, support_polygon, tipping_angle
from wadforms.setting.strength import at_heat, cold, common_assumptions

STEADY = Limit(1.0, "", "moments about the outer edge of the wad's base", assumed=False)


@dataclass(frozen=True, slots=True)
class _Contacts:
    """Where a curved pot is held.

    Parameters
    ----------
    points : tuple of (float, float)
        The contacts in plan [mm].
    angle : float
        How far up the curve they lie [deg].
    area : float
        Of the top that can bed to the pot, at each contact [mm²].
    loose : bool
        Whether each contact is a wad of its own that can topple outward.
    """

    points: tuple[Point, ...]
    angle: float
    area: float
    loose: bool


def check_curved(setting: Setting) -> Assessment:
    """Check a round bottom, or a pot on its side.

    Raises
    ------
    BadInput
        This shape, or this number of wads, cannot hold such a pot.
    """
    foot = setting.pot.foot
    assert isinstance(foot, RoundFoot | SideFoot)  # noqa: S101 - narrows the type
    if isinstance(foot, SideFoot) and setting.arrangement.piece.hollow_radius:
        return _check_cradle(setting, foot)
    contacts = (
        _round_contacts(setting, foot) if isinstance(foot, RoundFoot) else _rails(setting, foot)
    )
    force = weight(setting.pot.mass * setting.pot.share)
    even, worst = _vertical_shares(setting, contacts, force)
    cosine = math.cos(math.radians(contacts.angle))
    one = perch(force, len(contacts.points), foot.diameter / 2, contacts.angle)
    hot_area = contacts.area * setting.mix.fired_factor(setting.body) ** 2
    loads = [
        WadLoad(
            x=x,
            y=y,
            turn=0.0,
            area=_touching(setting, v / cosine, contacts.area),
            fired_area=hot_area,
            used=_touching(setting, v / cosine, contacts.area) / contacts.area,
            load=v / cosine,
            pressure=v / cosine / contacts.area * KPA,
            fired_pressure=v / cosine / hot_area * KPA,
            worst_load=w / cosine,
            worst_pressure=w / cosine / contacts.area * KPA,
        )
        for (x, y), v, w in zip(contacts.points, even, worst, strict=True)
    ]
    checks = _curved_checks(setting, contacts, one, loads)
    angle, centre_height, polygon = _curved_tipping(setting, foot, contacts, one)
    if angle is not None:
        checks.append(
            least(
                "tipping angle",
                angle,
                setting.place.tipping_least,
                "set the contacts farther out, or use a cradle or ring",
                sound=setting.place.tipping_sound.value,
            )
        )
    notes = (
        [] if angle is not None else ["tipping was not checked: give --height or --centre-height"]
    )
    if not setting.is_wet:
        spot = 2 * bruise_radius(max(load.load for load in loads), cold(setting).value)
        notes.append(
            f"a rigid wad touches a round pot at a point, which crushes to a spot about "
            f"{units.show(spot, 'mm')} across"
        )
    return Assessment(
        load=force,
        wads=tuple(loads),
        limit=at_heat(setting),
        cold_limit=cold(setting),
        tipping_angle=angle,
        spacing=None,
        checks=tuple(checks),
        notes=tuple(notes),
        assumed=tuple(setting.pot.assumed + common_assumptions(setting)),
        extra={
            "contact_angle_deg": one.angle,
            "normal_n": one.normal,
            "thrust_n": one.thrust,
            "rise_mm": one.rise,
            "half_spacing_mm": one.half_spacing,
        },
        support=tuple(polygon),
        centre_height=centre_height,
    )


def _contact_angle(radius: float, foot: RoundFoot | SideFoot) -> float:
    if not 0 < radius < foot.diameter / 2:
        right = f"give more than 0 and less than half the belly, {foot.diameter / 2:g} mm"
        raise BadInput(Fault("radius", f"{radius:g} mm", right))
    return math.degrees(math.asin(radius / (foot.diameter / 2)))


def _round_contacts(setting: Setting, foot: RoundFoot) -> _Contacts:
    """A sphere on loose wads, on the tips of one piece, or on the inner edge of one ring."""
    spots, piece = setting.arrangement.spots, setting.arrangement.piece
    if len(spots) >= 3:
        radii = [spot.radius for spot in spots]
        if max(radii) - min(radii) > 0.1:
            raise BadInput(
                Fault("wads", "several radii", "set the wads of a round bottom on one circle")
            )
        angle = _contact_angle(radii[0], foot)
        points = tuple((spot.x, spot.y) for spot in spots)
        return _Contacts(points, angle, piece.top_area, loose=True)
    if len(spots) == 1 and piece.tips and len(piece.faces) >= 3:
        points = tuple(_middle(face.bounds) for face in piece.faces)
        angle = _contact_angle(math.hypot(*points[0]), foot)
        return _Contacts(points, angle, piece.tips.flat_area, loose=False)
    if len(spots) == 1 and piece.faces[0].holes:
        x0, _, x1, _ = piece.faces[0].holes[0].bounds
        inner = (x1 - x0) / 2
        around = [math.tau * k / 12 for k in range(12)]
        points = tuple((inner * math.cos(a), inner * math.sin(a)) for a in around)
        return _Contacts(points, _contact_angle(inner, foot), piece.top_area / 12, loose=False)
    raise BadInput(
        Fault(
            "wads",
            f"{len(spots)} of a flat-topped shape",
            "a round bottom needs three or more wads on a circle, or one ring or pointed piece",
        )
    )


def _middle(bounds: tuple[float, float, float, float]) -> Point:
    return (bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2


def _rails(setting: Setting, foot: SideFoot) -> _Contacts:
    spots = setting.arrangement.spots
    if len(spots) != 2 or abs(spots[0].radius - spots[1].radius) > 0.1:
        right = "a pot on its side lies on two rails at one radius, or on one cradle"
        raise BadInput(Fault("wads", str(len(spots)), right))
    angle = _contact_angle(spots[0].radius, foot)
    points = tuple((spot.x, spot.y) for spot in spots)
    return _Contacts(points, angle, setting.arrangement.piece.top_area, loose=True)


def _vertical_shares(
    setting: Setting, contacts: _Contacts, force: float
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Vertical load on each contact: the even share, and the worst while cold [N]."""
    n = len(contacts.points)
    if n == 2:
        return (force / 2,) * 2, (force / 2,) * 2
    even = even_share(contacts.points, force, setting.pot.centre)
    worst = worst_three(contacts.points, force, setting.pot.centre)
    if even is None or worst is None:
        x, y = setting.pot.centre
        right = "set the wads round the centre of gravity"
        raise BadInput(Fault("centre of gravity", f"({x:g}, {y:g}) mm, outside the wads", right))
    return even, even if setting.is_wet else worst


def _touching(setting: Setting, normal: float, top: float) -> float:
    """Area of one contact [mm²]: the whole top once bedded wet, a crushed spot otherwise."""
    if setting.is_wet:
        return top
    return min(top, math.pi * bruise_radius(normal, cold(setting).value) ** 2)


def _curved_checks(
    setting: Setting, contacts: _Contacts, one: Perch, loads: list[WadLoad]
) -> list[Check]:
    piece = setting.arrangement.piece
    wider = "use wider wads or more of them"
    checks = [
        most("pressure at top heat", max(w.fired_pressure for w in loads), at_heat(setting), wider),
        most("pressure while cold", max(w.worst_pressure for w in loads), cold(setting), wider),
        least(
            "room between pot and shelf",
            piece.height - one.rise,
            SHELF_CLEARANCE,
            "use higher wads, or set them closer together",
        ),
    ]
    if contacts.loose:
        base = piece.body.base.inscribed_width
        used = overturning_use(one.thrust, piece.height, one.vertical, base)
        mend = (
            "tie the contacts: one ring, tripod or cradle instead of loose wads; or set them closer"
        )
        checks.append(most("outward push over what topples a loose wad", used, STEADY, mend))
    return checks


def _curved_tipping(
    setting: Setting, foot: RoundFoot | SideFoot, contacts: _Contacts, one: Perch
) -> tuple[float | None, float | None, list[Point]]:
    """Tipping angle, height of the centre of gravity above the shelf, and support polygon.

    A curved pot rolls over its contacts, so heights count from them.
    """
    radius = foot.diameter / 2
    polygon = support_polygon(contacts.points)
    up = setting.pot.gravity_height
    if isinstance(foot, SideFoot):
        up = radius  # the axis of the belly; a rail's length keeps the pot from the other way
        angle: float | None = math.degrees(math.atan2(one.half_spacing, radius - one.rise))
    else:
        angle = None if up is None else tipping_angle(polygon, setting.pot.centre, up - one.rise)
    shelf = None if up is None else up + setting.arrangement.piece.height - one.rise
    return angle, shelf, polygon


def _check_cradle(setting: Setting, foot: SideFoot) -> Assessment:
    """A belly that lies in the hollow of one or more cradles."""
    piece = setting.arrangement.piece
    hollow = piece.hollow_radius or 0.0
    depth = sum(pocket.depth for pocket in piece.body.pockets if isinstance(pocket, Trough))
    count = len(setting.arrangement.spots)
    force = weight(setting.pot.mass * setting.pot.share) / count
    shrunk = setting.mix.fired_factor(setting.body)
    load = force / piece.top_area * KPA
    fits = Limit(foot.diameter / 2, "mm", "the hollow must take the belly", assumed=False)
    width = piece.faces[0].size[0] / 2
    angle = math.degrees(math.asin(min(1.0, width / (foot.diameter / 2))))
    checks = [
        most("pressure at top heat", load / shrunk**2, at_heat(setting), "use a longer cradle"),
        most("pressure while cold", load, cold(setting), "use a longer cradle"),
        least("radius of the hollow", hollow, fits, "use a cradle with a wider hollow"),
        least(
            "angle at which the belly rolls out",
            angle,
            setting.place.tipping_least,
            "use a wider cradle",
            sound=setting.place.tipping_sound.value,
        ),
    ]
    loads = tuple(
        WadLoad(
            x=spot.x,
            y=spot.y,
            turn=spot.turn,
            area=piece.top_area,
            fired_area=piece.top_area * shrunk**2,
            used=1.0,
            load=force,
            pressure=load,
            fired_pressure=load / shrunk**2,
            worst_load=force,
            worst_pressure=load,
        )
        for spot in setting.arrangement.spots
    )
    return Assessment(
        load=force * count,
        wads=loads,
        limit=at_heat(setting),
        cold_limit=cold(setting),
        tipping_angle=angle,
        spacing=None,
        checks=tuple(checks),
        notes=("the bearing area of a cradle is that of its hollow seen from above",),
        assumed=tuple(setting.pot.assumed + common_assumptions(setting)),
        centre_height=foot.diameter / 2 + piece.height - depth,
    )
