"""A pot on its side in the hollow of one or more cradles."""

from __future__ import annotations

import math

from wadforms.errors import BadInput, Fault
from wadforms.geometry.body import Trough
from wadforms.setting.assessment import Assessment, WadLoad, least, most
from wadforms.setting.feet import SideFoot
from wadforms.setting.judging import balance_check
from wadforms.setting.limits import HOLLOW_FIT, Limit
from wadforms.setting.load import KPA, weight
from wadforms.setting.pot import Setting
from wadforms.setting.sides import SAME, Axis, axis_of, bears_so_far, share_along
from wadforms.setting.stability import support_polygon
from wadforms.setting.strength import at_heat, cold, common_assumptions, measured_limits

HELD_ELSEWHERE = (
    "the rest of the weight is held elsewhere along the axis: tipping that way was not checked"
)


def check_cradle(setting: Setting, foot: SideFoot) -> Assessment:
    """Check a belly that lies in the hollow of one or more cradles in line.

    It rolls out over a lip, an arm b − e from its weight and r cos α below its axis, for a
    hollow of radius r whose lips lie α up and b out, and a weight e off the middle; and it tips
    over the end of the outermost cradle.  Cradles in line share by the lever rule.

    Raises
    ------
    BadInput
        The cradles do not lie in one line through the pot's middle.
    """
    piece, spots = setting.arrangement.piece, setting.arrangement.spots
    belly = foot.diameter / 2
    (trough,) = (pocket for pocket in piece.body.pockets if isinstance(pocket, Trough))
    axis = axis_of(setting.arrangement)
    placed = [axis.spot(spot) for spot in spots]
    aside = max(abs(spot.y) for spot in placed)
    if aside > SAME:
        right = "set cradles in one line along the pot's axis, through its middle"
        raise BadInput(Fault("wads", f"a cradle {aside:.4g} mm beside the axis", right))
    along, across = axis.seen(setting.pot.centre)
    stations = [spot.x for spot in placed]
    half = trough.length / 2
    before, behind = along - min(stations) + half, max(stations) + half - along
    end_room, side_room = min(before, behind), trough.half_width - abs(across)
    rolling = math.degrees(
        math.atan2(side_room, trough.radius * math.cos(trough.half_angle)),
    )
    tipping = math.degrees(math.atan2(end_room, belly))
    force = weight(setting.pot.mass * setting.pot.share)
    place = setting.place
    sound = place.tipping_sound.value
    fits = Limit(belly, "mm", "the hollow must take the belly", assumed=False)
    checks = []
    heat, rest = at_heat(setting), cold(setting)
    loads = _loads(setting, stations, along, force)
    if min(end_room, side_room) <= 0.0:
        checks.append(balance_check(0.0))
    else:
        hot, worst = max(w.fired_pressure for w in loads), max(w.worst_pressure for w in loads)
        mend = "use a longer cradle, or two"
        checks.append(most("pressure at top heat", hot, heat, mend))
        checks.append(most("pressure while cold", worst, rest, mend))
    checks += [
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
            rolling,
            place.tipping_least,
            "use a wider cradle",
            sound=sound,
        ),
    ]
    notes = measured_limits(setting.mix, heat, rest)
    notes.append("the bearing area of a cradle is that of its hollow seen from above")
    extra = {"tipping_across_deg": rolling}
    angle = rolling
    if setting.pot.share < 1.0:
        notes.append(HELD_ELSEWHERE)
    else:
        mend = "use a longer cradle, or two farther apart"
        checks.append(
            least("tipping angle along the axis", tipping, place.tipping_least, mend, sound=sound)
        )
        extra["tipping_along_deg"] = tipping
        angle = min(rolling, tipping)
    return Assessment(
        load=force,
        wads=tuple(loads),
        limit=heat,
        cold_limit=rest,
        tipping_angle=angle,
        spacing=None,
        checks=tuple(checks),
        notes=tuple(notes),
        assumed=tuple(
            setting.pot.assumed
            + bears_so_far(foot, setting.arrangement)
            + common_assumptions(setting.mix, heat, rest)
        ),
        extra=extra,
        support=tuple(_support(axis, stations, half, trough.half_width)),
        centre_height=belly + piece.height - trough.depth,
    )


def _loads(setting: Setting, stations: list[float], along: float, force: float) -> list[WadLoad]:
    """Loads by the lever rule; a cradle that bears alone presses about the weight's place.

    Its uniform pressure then reaches as far to one side of the weight as to the other, to the
    nearer end (Meyerhof's effective area of an eccentrically loaded footing, 1953).
    """
    piece = setting.arrangement.piece
    _, length = piece.faces[0].size
    shrunk = setting.mix.fired_factor(setting.body)
    shared = share_along(stations, along)
    worst = shared.even if setting.is_wet else shared.worst
    loads = []
    for spot, station, share, most_of in zip(
        setting.arrangement.spots, stations, shared.even, worst, strict=True
    ):
        alone = share == 1.0
        bearing = max(0.0, 1.0 - 2.0 * abs(along - station) / length) if alone else 1.0
        area = piece.top_area * bearing
        pressure = force * share / area * KPA if area else 0.0
        hardest = force * most_of / area * KPA if area else 0.0
        loads.append(
            WadLoad(
                x=spot.x,
                y=spot.y,
                turn=spot.turn,
                area=area,
                fired_area=area * shrunk**2,
                used=bearing,
                load=force * share,
                pressure=pressure,
                fired_pressure=pressure / shrunk**2,
                worst_load=force * most_of,
                worst_pressure=hardest,
            )
        )
    return loads


def _support(
    axis: Axis, stations: list[float], half: float, half_width: float
) -> list[tuple[float, float]]:
    """The polygon through the corners of all hollows [mm]."""
    ends = (min(stations) - half, max(stations) + half)
    corners = [axis.plan(end, side) for end in ends for side in (half_width, -half_width)]
    return support_polygon(corners)
