"""Checks one pot on its wads: the one way in to the statics."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, NamedTuple, TypeAlias

from wadforms import units
from wadforms.families.base import Tips
from wadforms.geometry.contour import Point
from wadforms.geometry.moments import Moments
from wadforms.setting.arrangement import Spot, neighbour_spacing, widest_gap
from wadforms.setting.assessment import Assessment, Check, WadLoad, least, most
from wadforms.setting.contact import Patch, farthest_from, patches_at
from wadforms.setting.feet import GalleryFoot, PlaneFoot, RingFoot
from wadforms.setting.limits import SPACING, WALL_CLEARANCE, Limit
from wadforms.setting.load import (
    KPA,
    PressurePlane,
    even_share,
    pressure_plane,
    weight,
    worst_three,
)
from wadforms.setting.pot import Setting
from wadforms.setting.span import least_wads, pyroplastic_sag
from wadforms.setting.stability import support_polygon, tipping_angle
from wadforms.setting.strength import at_heat, cold, common_assumptions, tip_base


def check(setting: Setting) -> Assessment:
    """Find contact, loads, pressures, tipping and spacing, and judge each by its limit.

    Parameters
    ----------
    setting : Setting
        The pot, its wads and the conditions.

    Returns
    -------
    Assessment
        Every value beside its limit, with the verdict.

    Raises
    ------
    BadInput
        The wads cannot hold such a foot at all, for example none touches it.

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> from wadforms.setting.arrangement import Arrangement, circle
    >>> from wadforms.setting.feet import RingFoot
    >>> from wadforms.setting.mixes import mix
    >>> from wadforms.setting.pot import Pot
    >>> bowl = Pot(mass=380.0, foot=RingFoot(50.0, 5.0), centre_height=45.0)
    >>> wads = Arrangement(Disk(diameter=10, height=8).piece(), tuple(circle(3, 22.5)))
    >>> answer = check(Setting(pot=bowl, arrangement=wads, body="dry", mix=mix("open")))
    >>> round(answer.contact_area / 3, 1), round(answer.pressure, 1), answer.verdict
    (47.9, 25.9, 'tight')
    """
    if isinstance(setting.pot.foot, PlaneFoot):
        return _check_plane(setting, setting.pot.foot)
    from wadforms.setting.curved import check_curved

    return check_curved(setting)


_Key: TypeAlias = tuple[int, int]  # wad and face


class _Shares(NamedTuple):
    """What each patch comes to carry, by wad and face.

    Parameters
    ----------
    even, worst : dict
        The even share, and the most while cold [N].
    pressure, fired_pressure, worst_pressure : dict
        Of the even share as set and at heat, over what stays loaded, and the most while cold
        [kPa].
    lifted : bool
        Whether something carries nothing.
    """

    even: dict[_Key, float]
    worst: dict[_Key, float]
    pressure: dict[_Key, float]
    fired_pressure: dict[_Key, float]
    worst_pressure: dict[_Key, float]
    lifted: bool


_UNBALANCED: Final = _Shares({}, {}, {}, {}, {}, lifted=False)


def _check_plane(setting: Setting, foot: PlaneFoot) -> Assessment:
    pot, wads = setting.pot, setting.arrangement
    piece = wads.piece
    force = weight(pot.mass * pot.share)
    fired_size = setting.mix.fired_factor(setting.body)
    meeting, fired = patches_at(wads, foot.zone, (1.0, fired_size))
    touching = {patch.wad for patch in fired}
    idle = sorted(set(range(len(wads.spots))) - touching)
    supports = _supports(meeting, piece.tips)
    polygon = support_polygon(supports)
    shares = _shares(setting, meeting, fired, supports, force)
    if len(polygon) < 3:  # one or two broad wads: their own width keeps the pot up
        polygon = support_polygon([p for patch in meeting for p in _corners(patch)])
    heat, rest = at_heat(setting), cold(setting)
    loads = _wad_loads(setting, meeting, fired, shares)
    checks = _pressure_checks(setting, loads, shares, heat, rest, force)
    angle, centre_height = None, None
    if pot.gravity_height is not None:
        # A pot leans together with its wads, so it turns about the shelf, not the wads' tops.
        centre_height = pot.gravity_height + piece.height
        angle = tipping_angle(polygon, pot.centre, centre_height)
        checks.append(_tipping_check(setting, polygon, angle, centre_height))
    spacing = neighbour_spacing(wads.spots)
    notes = _notes(setting, meeting, idle, shares, angle)
    if pot.is_flatware and meeting:
        checks += _span_checks(meeting, foot, wads.spots)
        notes += _sag_note(setting, spacing)
    if isinstance(foot, GalleryFoot):
        checks.append(_wall_check(setting, foot))
    if idle:
        # A wad that misses the foot is a mistake in the arrangement, whatever the rest can bear.
        reached = Limit(float(len(wads.spots)), "", "every wad must touch the foot", assumed=False)
        mend = f"move wad {_and(idle)} under the foot"
        checks.append(least("wads that touch", float(len(touching)), reached, mend))
    return Assessment(
        load=force,
        wads=tuple(loads),
        limit=heat,
        cold_limit=rest,
        tipping_angle=angle,
        spacing=spacing,
        checks=tuple(checks),
        notes=tuple(notes),
        assumed=tuple(pot.assumed + common_assumptions(setting)),
        patches=tuple(patch.region for patch in meeting),
        support=tuple(polygon),
        centre_height=centre_height,
    )


def _key(patch: Patch) -> _Key:
    return patch.wad, patch.face


def _groups(meeting: list[Patch], tips: Tips | None) -> list[list[Patch]]:
    """Patches that hold the pot as one support: each tip, or all that one wad touches."""
    groups: dict[_Key, list[Patch]] = {}
    for patch in meeting:
        groups.setdefault(_key(patch) if tips else (patch.wad, 0), []).append(patch)
    return list(groups.values())


def _supports(meeting: list[Patch], tips: Tips | None) -> list[Point]:
    """Where the pot is held."""
    groups = _groups(meeting, tips)
    return [sum((p.moments for p in group), Moments()).centroid for group in groups]


def _corners(patch: Patch) -> list[Point]:
    import shapely

    hull = shapely.get_coordinates(shapely.convex_hull(patch.region))
    return [(float(x), float(y)) for x, y in hull]


def _shares(
    setting: Setting, meeting: list[Patch], fired: list[Patch], supports: list[Point], force: float
) -> _Shares:
    """Spread the load: as a plane of pressure where wads bed, over rigid supports elsewhere."""
    rigid = len(supports) >= 3 and not setting.is_wet and len(support_polygon(supports)) >= 3
    centre = setting.pot.centre
    if not rigid:
        plane, hot = _plane(meeting, force, centre), _plane(fired, force, centre)
        if plane is None or hot is None:
            return _UNBALANCED
        loads = {_key(p): force for p, force in zip(meeting, plane.forces, strict=True)}
        peaks = {_key(p): peak * KPA for p, peak in zip(meeting, plane.peaks, strict=True)}
        return _Shares(
            loads, loads, _means(meeting, plane), _means(fired, hot), peaks, plane.lifted
        )
    shares = even_share(supports, force, centre)
    # Of three supports the worst three are the three.
    hardest = shares if len(supports) == 3 else worst_three(supports, force, centre)
    if shares is None or hardest is None:
        return _UNBALANCED
    even, worst = {}, {}
    for number, group in enumerate(_groups(meeting, setting.arrangement.piece.tips)):
        whole = sum(patch.area for patch in group)
        for patch in group:  # where one wad touches in several places they share by area
            even[_key(patch)] = shares[number] * patch.area / whole
            worst[_key(patch)] = hardest[number] * patch.area / whole
    return _Shares(
        even,
        worst,
        {_key(p): even[_key(p)] / p.area * KPA for p in meeting},
        {_key(p): even.get(_key(p), 0.0) / p.area * KPA for p in fired},
        {_key(p): worst[_key(p)] / p.area * KPA for p in meeting},
        lifted=min(shares) <= 0.0,
    )


def _plane(patches: list[Patch], force: float, centre: Point) -> PressurePlane | None:
    if not patches:
        return None
    measured = [patch.moments for patch in patches]
    return pressure_plane([patch.region for patch in patches], force, centre, measured=measured)


def _means(patches: list[Patch], plane: PressurePlane) -> dict[_Key, float]:
    """Mean pressure over the part of each patch that stays loaded [kPa]."""
    loads = zip(patches, plane.forces, plane.areas, strict=True)
    return {_key(p): force / area * KPA if area > 0.0 else 0.0 for p, force, area in loads}


def _wad_loads(
    setting: Setting, meeting: list[Patch], fired: list[Patch], shares: _Shares
) -> list[WadLoad]:
    """Gather the patches of each wad; pressures are those of its hardest pressed patch."""
    loads = []
    for number, spot in enumerate(setting.arrangement.spots):
        own = [patch for patch in meeting if patch.wad == number]
        heated = [patch for patch in fired if patch.wad == number]
        area = sum(patch.area for patch in own)
        loads.append(
            WadLoad(
                x=spot.x,
                y=spot.y,
                turn=spot.turn,
                area=area,
                fired_area=sum(patch.area for patch in heated),
                used=area / setting.arrangement.piece.top_area,
                load=sum(shares.even.get(_key(p), 0.0) for p in own),
                pressure=_hardest(shares.pressure, own),
                fired_pressure=_hardest(shares.fired_pressure, heated),
                worst_load=sum(shares.worst.get(_key(p), 0.0) for p in own),
                worst_pressure=_hardest(shares.worst_pressure, own),
            )
        )
    return loads


def _hardest(pressures: dict[_Key, float], patches: list[Patch]) -> float:
    """Highest pressure on any of the patches [kPa]."""
    return max((pressures.get(_key(p), 0.0) for p in patches), default=0.0)


def _pressure_checks(
    setting: Setting,
    loads: list[WadLoad],
    shares: _Shares,
    heat: Limit,
    rest: Limit,
    force: float,
) -> list[Check]:
    tips = setting.arrangement.piece.tips
    if shares is _UNBALANCED:
        balance = Limit(1.0, "", "equilibrium", assumed=False)
        mend = "set the wads round the centre of gravity"
        return [least("share of the weight that the wads can balance", 0.0, balance, mend)]
    hot = max(load.fired_pressure for load in loads)
    worst = max(load.worst_pressure for load in loads)
    if tips:
        spread = "use a shape with more or broader tips, or more pieces"
        checks = [
            most("pressure on a tip at top heat", hot, heat, spread),
            most("pressure on a tip while cold", worst, rest, spread),
        ]
        if tips.base_area:
            at_base = max(shares.even.values()) / tips.base_area * KPA
            checks.append(most("pressure at the base of a tip", at_base, tip_base(setting), spread))
        return checks
    area = force / heat.value * KPA
    mend = f"give it at least {units.show(area, 'mm2')} of contact at top heat: more wads or wider"
    checks = [most("pressure at top heat", hot, heat, mend)]
    if setting.is_wet:
        mend = "make them wider, lower or stiffer, or use more"
        checks.append(most("pressure on the soft wads when set", worst, rest, mend))
    else:
        mend = "use wider wads, or set them wet so that all share"
        checks.append(most("pressure while cold, worst three", worst, rest, mend))
    return checks


def _tipping_check(
    setting: Setting, polygon: list[Point], angle: float, centre_height: float
) -> Check:
    place = setting.place
    nearest = math.tan(math.radians(angle)) * centre_height
    wanted = math.tan(math.radians(place.tipping_sound.value)) * centre_height
    mend = (
        f"its weight passes the support {units.show(max(nearest, 0.0), 'mm')} from the middle; "
        f"{units.show(wanted, 'mm')} would do: more wads, or farther out"
    )
    return least("tipping angle", angle, place.tipping_least, mend, sound=place.tipping_sound.value)


def _span_checks(meeting: list[Patch], foot: PlaneFoot, spots: Sequence[Spot]) -> list[Check]:
    """Flatware sags where it is not held: between neighbours, and far from any wad."""
    mend = "set wads there too, on a further circle or in the middle"
    away = farthest_from(meeting, foot.zone)
    checks = [most("part of the base farthest from a wad", away, SPACING, mend, margin=False)]
    if gap := widest_gap(spots):
        spacing, radius = gap
        wanted = least_wads(radius, SPACING.value)
        mend = f"use at least {wanted} on the circle of radius {units.show(radius, 'mm')}"
        checks.append(most("spacing of wads under flatware", spacing, SPACING, mend, margin=False))
    return checks


def _wall_check(setting: Setting, foot: GalleryFoot) -> Check:
    base = setting.arrangement.piece.body.base
    farthest = max(
        math.hypot(x, y)
        for spot in setting.arrangement.spots
        for x, y in spot.place(base).outer.flattened()
    )
    mend = "use a narrower wad, or set it farther from the wall"
    return least("room between wad and wall", foot.diameter / 2 - farthest, WALL_CLEARANCE, mend)


def _sag_note(setting: Setting, spacing: float | None) -> list[str]:
    pot = setting.pot
    if spacing is None or pot.pyroplastic_index is None or pot.base_thickness is None:
        return []
    sag = pyroplastic_sag(pot.pyroplastic_index, spacing, pot.base_thickness)
    return [
        f"the base may sag {units.show(sag, 'mm')} between wads {units.show(spacing, 'mm')} apart"
    ]


def _notes(
    setting: Setting,
    meeting: list[Patch],
    idle: list[int],
    shares: _Shares,
    angle: float | None,
) -> list[str]:
    notes = []
    wads = setting.arrangement
    used = min((p.area / wads.piece.faces[p.face].area for p in meeting), default=0.0)
    foot = setting.pot.foot
    if meeting and not idle and used < 0.95:
        across = min(wads.piece.outline.size)
        why = (
            f"it is {units.show(across, 'mm')} wide and the ring {units.show(foot.width, 'mm')}"
            if isinstance(foot, RingFoot | GalleryFoot) and across > foot.width
            else "it reaches beyond the foot"
        )
        notes.append(f"a wad touches with {used:.0%} of its top: {why}")
    if shares.lifted:
        notes.append("part of the wads carries nothing: the pot lifts there")
    if angle is None:
        notes.append("tipping was not checked: give --height or --centre-height")
    return notes


def _and(numbers: list[int]) -> str:
    return " and ".join(str(n + 1) for n in numbers)
