"""Round bottoms on wads, and pots on their side on rails; cradles are checked in `cradle`."""

from __future__ import annotations

import math
from typing import NamedTuple

from wadforms import units
from wadforms.geometry.contour import Point
from wadforms.setting.assessment import Assessment, Check, WadLoad, least, most
from wadforms.setting.checks import TIPPING_UNKNOWN
from wadforms.setting.cradle import HELD_ELSEWHERE, check_cradle
from wadforms.setting.feet import CurvedFoot, RoundFoot, SideFoot
from wadforms.setting.judging import balance_check
from wadforms.setting.limits import SHELF_CLEARANCE, SINKING, Limit
from wadforms.setting.load import KPA, even_share, weight, worst_three
from wadforms.setting.pot import Setting
from wadforms.setting.rounds import Perch, bruise_radius, perch
from wadforms.setting.sides import Axis, bears_so_far, share_along
from wadforms.setting.stability import overturning_use, support_polygon, tipping_angle
from wadforms.setting.strength import (
    at_heat,
    cold,
    common_assumptions,
    measured_limits,
    tip_base,
)
from wadforms.setting.touching import Contacts, belly_contacts, round_contacts, sinking

STEADY = Limit(1.0, "", "moments about the outer edge of the wad's base", assumed=False)


class _Shared(NamedTuple):
    """Vertical load on each contact.

    Parameters
    ----------
    even, worst : tuple of float
        The even share, and the worst while cold [N].
    bearing : float
        Part of each contact that bears, where one pair of rails carries an eccentric weight.
    """

    even: tuple[float, ...]
    worst: tuple[float, ...]
    bearing: float = 1.0


class _Tipping(NamedTuple):
    """How the pot tips: angles [deg], None where not known or not asked.

    Parameters
    ----------
    across : float or None
        Over any edge; of a pot on its side over the contacts beside its axis.
    along : float or None
        Of a pot on its side, over the ends of what it lies on.
    centre_height : float or None
        Of the centre of gravity above the shelf [mm].
    """

    across: float | None
    along: float | None
    centre_height: float | None

    @property
    def least(self) -> float | None:
        """The smaller angle."""
        return min((a for a in (self.across, self.along) if a is not None), default=None)


def check_curved(setting: Setting) -> Assessment:
    """Check a round bottom, or a pot on its side.

    Raises
    ------
    BadInput
        This shape, or this number of wads, cannot hold such a pot.
    """
    foot = setting.pot.foot
    if isinstance(foot, SideFoot):
        if setting.arrangement.piece.hollow_radius:
            return check_cradle(setting, foot)
        return _assess(setting, foot, belly_contacts(setting, foot))
    assert isinstance(foot, RoundFoot)  # noqa: S101 - narrows the type
    return _assess(setting, foot, round_contacts(setting, foot))


def _assess(setting: Setting, foot: CurvedFoot, contacts: Contacts) -> Assessment:
    width = None if setting.arrangement.piece.tips else contacts.width
    heat, rest = at_heat(setting, width), cold(setting, width)
    force = weight(setting.pot.mass * setting.pot.share)
    shared = _shares(setting, contacts, force)
    one = perch(force, len(contacts.points), foot.diameter / 2, contacts.angle)
    loads = _loads(setting, contacts, shared)
    checks = _checks(setting, contacts, one, None if shared is None else loads, heat, rest)
    tipping = _tipping(setting, foot, contacts, one)
    checks += _tipping_checks(setting, tipping)
    extra = {
        "contacts": float(len(contacts.points)),
        "contact_angle_deg": one.angle,
        "normal_n": one.normal,
        "thrust_n": one.thrust,
        "rise_mm": one.rise,
        "half_spacing_mm": one.half_spacing,
    }
    notes = measured_limits(setting.mix, heat, rest)
    if contacts.axis is not None and tipping.across is not None:
        extra["tipping_across_deg"] = tipping.across
        if tipping.along is not None:
            extra["tipping_along_deg"] = tipping.along
        else:
            notes.append(HELD_ELSEWHERE)
    if not setting.is_wet and isinstance(foot, RoundFoot):
        spot = 2 * bruise_radius(max(load.worst_load for load in loads), rest.value)
        notes.append(
            f"a rigid wad touches a round pot at a point, which crushes to a spot up to "
            f"{units.show(spot, 'mm')} across; it beds to more of its top only as it creeps"
        )
        extra["bruise_diameter_mm"] = spot
    assumed = list(setting.pot.assumed)
    if isinstance(foot, SideFoot):
        assumed += bears_so_far(foot, setting.arrangement)
    assumed += common_assumptions(setting.mix, heat, rest)
    if not setting.arrangement.piece.tips:
        source = SINKING[setting.body].source
        assumed.append(f"the pot sinks {units.show(sinking(setting), 'mm')} at most: {source}")
    return Assessment(
        load=force,
        wads=tuple(loads),
        limit=heat,
        cold_limit=rest,
        tipping_angle=tipping.least,
        spacing=None,
        checks=tuple(checks),
        notes=tuple(notes),
        assumed=tuple(assumed),
        extra=extra,
        support=tuple(support_polygon(contacts.corners)),
        centre_height=tipping.centre_height,
        unchecked=() if tipping.across is not None else (TIPPING_UNKNOWN,),
    )


def _shares(setting: Setting, contacts: Contacts, force: float) -> _Shared | None:
    """Vertical load on each contact; None where they cannot balance the weight."""
    if contacts.axis is not None:
        return _belly_shares(setting, contacts, contacts.axis, force)
    even = even_share(contacts.points, force, setting.pot.centre)
    worst = worst_three(contacts.points, force, setting.pot.centre)
    if even is None or worst is None:
        return None
    return _Shared(even, even if setting.is_wet else worst)


def _rooms(contacts: Contacts, axis: Axis, centre: Point) -> tuple[float, float]:
    """From the centre of gravity to the nearer end of the supports, and to the nearer side [mm]."""
    along, across = axis.seen(centre)
    corners = [axis.seen(corner) for corner in contacts.corners]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return (
        min(max(xs) - along, along - min(xs)),
        min(max(ys) - across, across - min(ys)),
    )


def _belly_shares(setting: Setting, contacts: Contacts, axis: Axis, force: float) -> _Shared | None:
    """Lever rule across the axis and along it.

    One pair of rails presses about the weight's place, to the nearer end and as far to the
    other side (Meyerhof's effective area of an eccentrically loaded footing, 1953).
    """
    centre = setting.pot.centre
    end, side = _rooms(contacts, axis, centre)
    if end < -1e-9 or side <= 0.0:
        return None
    along, across = axis.seen(centre)
    points = [axis.seen(point) for point in contacts.points]
    half = max(y for _, y in points)
    stations = sorted({round(x, 3) for x, _ in points})
    line = share_along(stations, along)
    even, worst = [], []
    for x, y in points:
        here = stations.index(round(x, 3))
        toward = force * (0.5 + math.copysign(0.5, y) * across / half)
        even.append(toward * line.even[here])
        worst.append(toward * line.worst[here])
    if len(stations) == 1:
        ends = [axis.seen(corner)[0] for corner in contacts.corners]
        length = max(ends) - min(ends)
        bearing = 2.0 * end / length if length > 0.0 else 1.0
        return _Shared(tuple(even), tuple(even), bearing) if bearing > 0.0 else None
    if setting.is_wet:
        return _Shared(tuple(even), tuple(even))
    three = worst_three(contacts.points, force, centre)
    return _Shared(tuple(even), three or tuple(worst))


def _loads(setting: Setting, contacts: Contacts, shared: _Shared | None) -> list[WadLoad]:
    """Loads square to the pot; none where nothing balances."""
    nothing = (0.0,) * len(contacts.points)
    even, worst, bearing = shared or _Shared(nothing, nothing)
    cosine = math.cos(math.radians(contacts.angle))
    area = contacts.area * bearing
    hot_area = area * setting.mix.fired_factor(setting.body) ** 2
    parts = len(contacts.points) / len(setting.arrangement.spots)
    return [
        WadLoad(
            x=x,
            y=y,
            turn=turn,
            area=area,
            fired_area=hot_area,
            used=area * parts / setting.arrangement.piece.top_area,
            load=v / cosine,
            pressure=v / cosine / area * KPA,
            fired_pressure=v / cosine / hot_area * KPA,
            worst_load=w / cosine,
            worst_pressure=w / cosine / area * KPA,
        )
        for (x, y), turn, v, w in zip(contacts.points, contacts.turns, even, worst, strict=True)
    ]


def _checks(
    setting: Setting,
    contacts: Contacts,
    one: Perch,
    loads: list[WadLoad] | None,
    heat: Limit,
    rest: Limit,
) -> list[Check]:
    """Pressures, where the wads balance the pot at all; room below it; loose wads."""
    piece = setting.arrangement.piece
    wider = "use wider wads or more of them"
    checks = [balance_check(0.0)] if loads is None else []
    if loads is not None:
        hot = max(load.fired_pressure for load in loads)
        worst = max(load.worst_pressure for load in loads)
        checks.append(most("pressure at top heat, once bedded", hot, heat, wider))
        checks.append(most("pressure while cold", worst, rest, wider))
        if piece.tips and piece.tips.base_area:
            at_base = max(load.load for load in loads) / piece.tips.base_area * KPA
            checks.append(most("pressure at the base of a tip", at_base, tip_base(setting), wider))
    checks.append(
        least(
            "room between pot and shelf",
            piece.height - one.rise,
            SHELF_CLEARANCE,
            "use higher wads, or set them closer together",
        )
    )
    if contacts.loose:
        base = piece.body.base.inscribed_width
        used = overturning_use(one.thrust, piece.height, one.vertical, base)
        mend = (
            "tie the contacts: one ring, tripod or cradle instead of loose wads; or set them closer"
        )
        checks.append(most("outward push over what topples a loose wad", used, STEADY, mend))
    return checks


def _tipping(setting: Setting, foot: CurvedFoot, contacts: Contacts, one: Perch) -> _Tipping:
    """A curved pot tips over its contacts, so heights count from them.

    A pot on its side whose weight is held in another place too does not tip along its axis.
    """
    centre, height = setting.pot.centre, setting.arrangement.piece.height
    if contacts.axis is not None:
        radius = foot.diameter / 2
        above = radius - one.rise
        end, side = _rooms(contacts, contacts.axis, centre)
        along = math.degrees(math.atan2(end, above)) if setting.pot.share == 1.0 else None
        return _Tipping(math.degrees(math.atan2(side, above)), along, above + height)
    up = setting.pot.gravity_height
    if up is None:
        return _Tipping(None, None, None)
    angle = tipping_angle(support_polygon(contacts.corners), centre, up - one.rise)
    return _Tipping(angle, None, up + height - one.rise)


def _tipping_checks(setting: Setting, tipping: _Tipping) -> list[Check]:
    place = setting.place
    named = (
        ("tipping angle", tipping.across, "set the contacts farther out, or use a cradle or ring"),
        (
            "tipping angle along the axis",
            tipping.along,
            "use longer rails, or two pairs or cradles farther apart",
        ),
    )
    return [
        least(name, angle, place.tipping_least, mend, sound=place.tipping_sound.value)
        for name, angle, mend in named
        if angle is not None
    ]
