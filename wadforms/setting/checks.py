"""Checks one pot on its wads: the one way in to the statics."""

from __future__ import annotations

from typing import Final

from wadforms import units
from wadforms.families.base import Piece
from wadforms.setting.arrangement import neighbour_spacing
from wadforms.setting.assessment import Assessment, least
from wadforms.setting.contact import Patch, farthest_from, patches_at
from wadforms.setting.feet import GalleryFoot, PlaneFoot, RingFoot
from wadforms.setting.judging import pressure_checks, span_checks, tipping_check, wall_check
from wadforms.setting.limits import SPACING, Limit
from wadforms.setting.load import weight
from wadforms.setting.pot import Setting
from wadforms.setting.sharing import (
    held_within,
    share_load,
    supports_of,
    wad_loads,
    width_touching,
)
from wadforms.setting.span import pyroplastic_sag
from wadforms.setting.stability import tipping_angle
from wadforms.setting.strength import at_heat, cold, common_assumptions, measured_limits

TIPPING_UNKNOWN: Final = "tipping, since the height of the pot is not known"
HELD: Final = "something else keeps it from tipping, so that was not judged"


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


def _check_plane(setting: Setting, foot: PlaneFoot) -> Assessment:
    pot, wads = setting.pot, setting.arrangement
    piece = wads.piece
    force = weight(pot.mass * pot.share)
    fired_size = setting.mix.fired_factor(setting.body)
    meeting, fired = patches_at(wads, foot.zone, (1.0, fired_size))
    touching = {patch.wad for patch in fired}
    idle = sorted(set(range(len(wads.spots))) - touching)
    supports = supports_of(meeting, piece.tips)
    polygon = held_within(meeting, supports)
    shares = share_load(setting, meeting, fired, supports, force)
    width = _width(foot, meeting, piece)
    heat, rest = at_heat(setting, width), cold(setting, width)
    loads = wad_loads(setting, meeting, fired, shares)
    checks = pressure_checks(setting, loads, shares, heat, rest, force)
    angle, centre_height = None, None
    if pot.gravity_height is not None and not pot.held:
        # A pot leans together with its wads, so it turns about the shelf, not the wads' tops.
        centre_height = pot.gravity_height + piece.height
        angle = tipping_angle(polygon, pot.centre, centre_height)
        checks.append(tipping_check(setting, polygon, angle, centre_height))
    spacing = neighbour_spacing(wads.spots)
    notes = measured_limits(setting.mix, heat, rest) + _notes(setting, meeting, idle)
    unchecked = () if angle is not None or pot.held else (TIPPING_UNKNOWN,)
    notes += [HELD] if pot.held else []
    if pot.is_flatware and meeting:
        checks += span_checks(meeting, foot, wads.spots)
        notes += _sag_note(setting, spacing) + _floor_note(meeting, foot)
    if isinstance(foot, GalleryFoot):
        checks.append(wall_check(setting, foot))
    if idle:
        # A wad that misses the foot is a mistake in the arrangement, whatever the rest can bear.
        reached = Limit(float(len(wads.spots)), "", "every wad must touch the foot", assumed=False)
        mend = f"move {_and(idle)} under the foot"
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
        assumed=tuple(pot.assumed + common_assumptions(setting.mix, heat, rest)),
        patches=tuple(patch.region for patch in meeting),
        support=tuple(polygon),
        centre_height=centre_height,
        unchecked=unchecked,
    )


def _width(foot: PlaneFoot, meeting: list[Patch], piece: Piece) -> float | None:
    """Width of what touches, where that is less than the piece's own [mm]."""
    partly = any(p.area < 0.99 * piece.faces[p.face].area for p in meeting)
    if not meeting or piece.tips or (len(piece.faces) == 1 and not partly):
        return None
    round_piece = all(piece.outline.outer.bulges)
    if isinstance(foot, RingFoot | GalleryFoot) and round_piece:
        return foot.width  # the quick way for the common case, and never too much
    return width_touching(meeting)


def _floor_note(meeting: list[Patch], foot: PlaneFoot) -> list[str]:
    """The floor within a ring cannot be held by wads, and may sag where it is wide."""
    if not isinstance(foot, RingFoot):
        return []
    from shapely import Polygon

    floor = Polygon(foot.outlines[0].outer.flattened())
    away = farthest_from(meeting, floor)
    if away <= SPACING.value:
        return []
    return [
        f"the floor within the ring lies up to {units.show(away, 'mm')} from any wad, and nothing "
        "holds it there"
    ]


def _sag_note(setting: Setting, spacing: float | None) -> list[str]:
    pot = setting.pot
    if spacing is None or pot.pyroplastic_index is None or pot.base_thickness is None:
        return []
    sag = pyroplastic_sag(pot.pyroplastic_index, spacing, pot.base_thickness)
    why = f", {pot.index_source}" if pot.index_source else ""
    return [
        f"the base may sag {units.show(sag, 'mm')} between wads {units.show(spacing, 'mm')} "
        f"apart{why}"
    ]


def _notes(setting: Setting, meeting: list[Patch], idle: list[int]) -> list[str]:
    notes = []
    wads = setting.arrangement
    used = min((p.area / wads.piece.faces[p.face].area for p in meeting), default=0.0)
    foot = setting.pot.foot
    if meeting and not idle and used < 0.95:
        part = "tip" if wads.piece.tips else "wad"
        across = min(min(wads.piece.faces[p.face].size) for p in meeting)
        why = (
            f"it is {units.show(across, 'mm')} wide and the ring {units.show(foot.width, 'mm')}"
            if isinstance(foot, RingFoot | GalleryFoot) and across > foot.width
            else "it reaches beyond the foot"
        )
        notes.append(f"a {part} touches with {used:.0%} of its top: {why}")
    return notes


def _and(numbers: list[int]) -> str:
    """Wads by their numbers, in words."""
    names = [str(n + 1) for n in numbers]
    if len(names) == 1:
        return f"wad {names[0]}"
    return f"wads {', '.join(names[:-1])} and {names[-1]}"
