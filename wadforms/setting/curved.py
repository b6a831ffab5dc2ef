"""Round bottoms on wads, and pots on their side on rails or a cradle."""

from __future__ import annotations

import math
from typing import NamedTuple

from wadforms import units
from wadforms.errors import BadInput, Fault
from wadforms.geometry.body import Trough
from wadforms.geometry.contour import Point
from wadforms.setting.arrangement import circle
from wadforms.setting.assessment import Assessment, Check, WadLoad, least, most
from wadforms.setting.feet import RoundFoot, SideFoot
from wadforms.setting.limits import HOLLOW_FIT, SHELF_CLEARANCE, Limit
from wadforms.setting.load import KPA, even_share, weight, worst_three
from wadforms.setting.pot import Setting
from wadforms.setting.rounds import Perch, bruise_radius, perch
from wadforms.setting.stability import overturning_use, support_polygon, tipping_angle
from wadforms.setting.strength import at_heat, cold, common_assumptions, tip_base

_SAME = 0.1  # spots nearer than this stand in one place [mm]

STEADY = Limit(1.0, "", "moments about the outer edge of the wad's base", assumed=False)


class _Contacts(NamedTuple):
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
            area=contacts.area,
            fired_area=hot_area,
            used=1.0,
            load=v / cosine,
            pressure=v / cosine / contacts.area * KPA,
            fired_pressure=v / cosine / hot_area * KPA,
            worst_load=w / cosine,
            worst_pressure=w / cosine / contacts.area * KPA,
        )
        for (x, y), v, w in zip(contacts.points, even, worst, strict=True)
    ]
    checks = _curved_checks(setting, contacts, one, loads)
    extra = {
        "contacts": float(len(contacts.points)),
        "contact_angle_deg": one.angle,
        "normal_n": one.normal,
        "thrust_n": one.thrust,
        "rise_mm": one.rise,
        "half_spacing_mm": one.half_spacing,
    }
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
        spot = 2 * bruise_radius(max(load.worst_load for load in loads), cold(setting).value)
        notes.append(
            f"a rigid wad touches a round pot at a point, which crushes to a spot up to "
            f"{units.show(spot, 'mm')} across; it beds over its whole top only as it creeps"
        )
        extra["bruise_diameter_mm"] = spot
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
        extra=extra,
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
        if max(radii) - min(radii) > _SAME:
            raise BadInput(
                Fault("wads", "several radii", "set the wads of a round bottom on one circle")
            )
        angle = _contact_angle(radii[0], foot)
        points = tuple((spot.x, spot.y) for spot in spots)
        return _Contacts(points, angle, piece.top_area, loose=True)
    if len(spots) == 1 and spots[0].radius > _SAME:
        right = "stand a single piece in the middle of a round bottom"
        raise BadInput(Fault("wads", f"one, {spots[0].radius:g} mm from the middle", right))
    if len(spots) == 1 and piece.tips and len(piece.faces) >= 3:
        points = tuple(_middle(face.bounds) for face in piece.faces)
        angle = _contact_angle(math.hypot(*points[0]), foot)
        return _Contacts(points, angle, piece.tips.flat_area, loose=False)
    if len(spots) == 1 and piece.faces[0].holes:
        x0, _, x1, _ = piece.faces[0].holes[0].bounds
        inner = (x1 - x0) / 2
        # A ring touches all round; its twelfths stand for it.
        points = tuple((spot.x, spot.y) for spot in circle(12, inner))
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
    right = "a pot on its side lies on two rails, one on each side of its middle, or in a cradle"
    if len(spots) != 2:
        raise BadInput(Fault("wads", str(len(spots)), right))
    if math.dist((spots[0].x, spots[0].y), (-spots[1].x, -spots[1].y)) > _SAME:
        raise BadInput(Fault("wads", "two that are not opposite each other", right))
    angle = _contact_angle(spots[0].radius, foot)
    points = tuple((spot.x, spot.y) for spot in spots)
    return _Contacts(points, angle, setting.arrangement.piece.top_area, loose=True)


def _vertical_shares(
    setting: Setting, contacts: _Contacts, force: float
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Vertical load on each contact: the even share, and the worst while cold [N]."""
    if len(contacts.points) == 2:
        shares = _lever(contacts.points, force, setting.pot.centre)
        return shares, shares
    even = even_share(contacts.points, force, setting.pot.centre)
    worst = worst_three(contacts.points, force, setting.pot.centre)
    if even is None or worst is None:
        x, y = setting.pot.centre
        right = "set the wads round the centre of gravity"
        raise BadInput(Fault("centre of gravity", f"({x:g}, {y:g}) mm, outside the wads", right))
    return even, even if setting.is_wet else worst


def _lever(points: tuple[Point, ...], force: float, centre: Point) -> tuple[float, ...]:
    """Loads on two supports by the lever rule [N].

    Raises
    ------
    BadInput
        The weight does not lie between them.
    """
    (x0, y0), (x1, y1) = points
    part = ((centre[0] - x0) * (x1 - x0) + (centre[1] - y0) * (y1 - y0)) / math.dist(*points) ** 2
    if not 0.0 < part < 1.0:
        given = f"({centre[0]:g}, {centre[1]:g}) mm, not between the rails"
        raise BadInput(Fault("centre of gravity", given, "set the rails on both sides of it"))
    return force * (1.0 - part), force * part


def _curved_checks(
    setting: Setting, contacts: _Contacts, one: Perch, loads: list[WadLoad]
) -> list[Check]:
    piece = setting.arrangement.piece
    wider = "use wider wads or more of them"
    checks = [
        most(
            "pressure at top heat, once bedded",
            max(w.fired_pressure for w in loads),
            at_heat(setting),
            wider,
        ),
        most("pressure while cold", max(w.worst_pressure for w in loads), cold(setting), wider),
        least(
            "room between pot and shelf",
            piece.height - one.rise,
            SHELF_CLEARANCE,
            "use higher wads, or set them closer together",
        ),
    ]
    if piece.tips and piece.tips.base_area:
        at_base = max(w.load for w in loads) / piece.tips.base_area * KPA
        checks.append(most("pressure at the base of a tip", at_base, tip_base(setting), wider))
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
    """A belly that lies in the hollow of one or more cradles.

    It rolls out where the weight passes the lips; a weight off the middle is so much nearer.
    """
    piece = setting.arrangement.piece
    belly = foot.diameter / 2
    (trough,) = (pocket for pocket in piece.body.pockets if isinstance(pocket, Trough))
    count = len(setting.arrangement.spots)
    turn = math.radians(setting.arrangement.spots[0].turn)
    x, y = setting.pot.centre
    off = abs(x * math.cos(turn) + y * math.sin(turn))
    if off >= belly:
        right = f"give less than half the belly, {belly:g} mm"
        raise BadInput(Fault("centre of gravity", f"{off:g} mm off the middle", right))
    angle = math.degrees(trough.half_angle - math.asin(off / belly))
    force = weight(setting.pot.mass * setting.pot.share) / count
    shrunk = setting.mix.fired_factor(setting.body)
    load = force / piece.top_area * KPA
    fits = Limit(belly, "mm", "the hollow must take the belly", assumed=False)
    checks = [
        most("pressure at top heat", load / shrunk**2, at_heat(setting), "use a longer cradle"),
        most("pressure while cold", load, cold(setting), "use a longer cradle"),
        least("radius of the hollow", trough.radius, fits, "use a cradle with a wider hollow"),
        most(
            "hollow over belly",
            trough.radius / belly,
            HOLLOW_FIT,
            "use a cradle whose hollow is closer to the belly",
            margin=False,
        ),
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
        centre_height=belly + piece.height - trough.depth,
    )
