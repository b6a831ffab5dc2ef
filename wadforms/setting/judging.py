"""Holds what a plane foot comes to against its limits, one check for each."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wadforms import units
from wadforms.geometry.contour import Point
from wadforms.setting.arrangement import Spot, widest_gap
from wadforms.setting.assessment import Check, WadLoad, least, most
from wadforms.setting.contact import Patch, farthest_from
from wadforms.setting.feet import GalleryFoot, PlaneFoot
from wadforms.setting.limits import LIFTED, SPACING, TIGHT, WALL_CLEARANCE, Limit
from wadforms.setting.load import KPA
from wadforms.setting.pot import Setting
from wadforms.setting.sharing import UNBALANCED, Shares
from wadforms.setting.span import least_wads
from wadforms.setting.strength import tip_base


def balance_check(balanced: float) -> Check:
    """Whether the weight lies between the wads: `balanced` is 1, as a share, or 0 if it falls."""
    balance = Limit(1.0, "yes", "equilibrium", assumed=False)
    mend = "set the wads round the centre of gravity"
    return least("the wads balance the pot", balanced, balance, mend)


def lift_check(lifted: float) -> Check:
    """Contact that carries nothing: a pot that lifts from some of it stands less sure than told.

    `lifted` is its share of the contact.
    """
    check = most("contact that lifts", lifted, LIFTED, "set the wads round the centre of gravity")
    # Any lifting is at least tight.
    return check._replace(used=max(check.used, (1.0 + TIGHT) / 2))


def pressure_checks(
    setting: Setting,
    loads: list[WadLoad],
    shares: Shares,
    heat: Limit,
    rest: Limit,
    force: float,
) -> list[Check]:
    """Pressures as set, at heat and cold, each by its limit [kPa]; `force` in N."""
    tips = setting.arrangement.piece.tips
    if shares is UNBALANCED:
        return [balance_check(0.0)]
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
        three = ", worst three" if len(loads) >= 3 else ""
        checks.append(most(f"pressure while cold{three}", worst, rest, mend))
    return checks + ([lift_check(shares.lifted)] if shares.lifted > 0.0 else [])


def tipping_check(
    setting: Setting, polygon: list[Point], angle: float, centre_height: float
) -> Check:
    """The lean at which the pot tips, `angle` [deg], with its centre at `centre_height` [mm]."""
    place = setting.place
    nearest = math.tan(math.radians(angle)) * centre_height
    wanted = math.tan(math.radians(place.tipping_sound.value)) * centre_height
    mend = (
        f"the nearest edge of the support is {units.show(max(nearest, 0.0), 'mm')} from the centre "
        f"of gravity; {units.show(wanted, 'mm')} would do: more wads, or farther out"
    )
    return least("tipping angle", angle, place.tipping_least, mend, sound=place.tipping_sound.value)


def span_checks(meeting: list[Patch], foot: PlaneFoot, spots: Sequence[Spot]) -> list[Check]:
    """Flatware sags where it is not held: between neighbours, and far from any wad."""
    mend = "set wads there too, on a further circle or in the middle"
    away = farthest_from(meeting, foot.zone)
    checks = [most("part of the base farthest from a wad", away, SPACING, mend, margin=False)]
    gap = widest_gap(spots)
    if gap is not None and len(spots) > 2:  # two stand opposite each other, not along a circle
        spacing, radius = gap
        wanted = least_wads(radius, SPACING.value)
        mend = f"use at least {wanted} on the circle of radius {units.show(radius, 'mm')}"
        checks.append(
            most("spacing of wads along the circle", spacing, SPACING, mend, margin=False)
        )
    return checks


def wall_check(setting: Setting, foot: GalleryFoot) -> Check:
    """Room between the wads under a lid and the wall around the gallery [mm]."""
    base = setting.arrangement.piece.body.base
    farthest = max(
        math.hypot(x, y)
        for spot in setting.arrangement.spots
        for x, y in spot.place(base).outer.flattened()
    )
    mend = "use a narrower wad, or set it farther from the wall"
    return least("room between wad and wall", foot.diameter / 2 - farthest, WALL_CLEARANCE, mend)
