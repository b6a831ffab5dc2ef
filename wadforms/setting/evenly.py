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
from typing import Final

from wadforms.families.base import WET, Piece
from wadforms.geometry.contour import Point
from wadforms.setting.arrangement import Arrangement, circle
from wadforms.setting.assessment import least, most
from wadforms.setting.feet import FlatFoot, GalleryFoot, PlaneFoot, RingFoot
from wadforms.setting.layouts import ALONE, Layout
from wadforms.setting.limits import SPACING, TIGHT, WALL_CLEARANCE, Limit, Place
from wadforms.setting.load import KPA, weight, worst_three
from wadforms.setting.mixes import Mix
from wadforms.setting.pot import Pot
from wadforms.setting.stability import support_polygon, tipping_angle
from wadforms.setting.tops import Met, Top, Under, top_of, under_of

MISSES: Final = 2.0
"""Part of its limits that an arrangement uses of which a wad misses the foot."""


def is_even(pot: Pot, piece: Piece, layout: Layout) -> bool:
    """Whether the closed forms hold: round foot, weight in the middle, circles, broad tops."""
    if not layout.circles or pot.centre != (0.0, 0.0) or piece.tips is not None:
        return False
    if not isinstance(pot.foot, RingFoot | GalleryFoot | FlatFoot):
        return False
    # A single piece presses evenly only where it lies evenly about the middle.
    return layout.circles != ALONE or top_of(piece).is_centred


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
    top, foot = top_of(piece), pot.foot
    assert isinstance(foot, PlaneFoot)  # noqa: S101 - narrows the type
    under = under_of(foot)
    if not _lies_apart(top, layout):
        return None
    force = weight(pot.mass * pot.share)
    meeting = [under.met(top, radius, 1.0) for _, radius in layout.circles]
    fired_size = mix.fired_factor(body)
    fired = [under.met(top, radius, fired_size) for _, radius in layout.circles]
    if not all(met.area for met in meeting + fired):
        return MISSES
    uses = [_beside_wall(top, layout, foot)] if isinstance(foot, GalleryFoot) else []
    if pot.is_flatware and layout.circles != ALONE:
        uses += _spans(layout, under, top, meeting)
    hot, worst = _pressures(layout, meeting, fired, force, rigid=body != WET)

    if layout.circles != ALONE:
        uses += _steady(layout, meeting, pot, piece, place)
    elif max(hot / top.limits(mix, body, place, shear, None)[0], *uses, 0.0) <= 1.0:
        uses += _alone(under, top, pot, place)

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


def _verdict(used: float) -> int:
    return (used > TIGHT) + (used > 1.0)


def _surely(under: Under, top: Top, layout: Layout) -> float:
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


def _lies_apart(top: Top, layout: Layout) -> bool:
    """Whether the bases lie beside each other."""
    if not all(top.is_clear(number, radius) for number, radius in layout.circles):
        return False
    radii = sorted(radius for _, radius in layout.circles)
    if all(b - a >= 2.0 * top.base_reach for a, b in pairwise(radii)):
        return True
    return Arrangement(top.piece, layout.spots).overlapping is None


def _steady(
    layout: Layout, meeting: Sequence[Met], pot: Pot, piece: Piece, place: Place
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


def _alone(under: Under, top: Top, pot: Pot, place: Place) -> list[float]:
    """What a single piece in the middle uses of tipping, and under flatware of its reach.

    The edges of the piece crumble by a part of the width that touches; that is worked out only
    where it decides.
    """
    foot = under.foot
    widest = top.piece.outline.inscribed_width
    if isinstance(foot, RingFoot | GalleryFoot):
        widest = min(widest, foot.width)
    uses, at_worst = (
        _held(under.hull(top, crumbled), pot, top.piece, place) for crumbled in (0.0, widest / 4)
    )
    if [_verdict(used) for used in uses] != [_verdict(used) for used in at_worst]:
        uses = _held(under.held(top), pot, top.piece, place)
    if pot.is_flatware and not any(used > 1.0 for used in uses):
        uses = [*uses, most("", under.away(top), SPACING, margin=False).used]
    return uses


def _tipping(angle: float, place: Place) -> float:
    return least("", angle, place.tipping_least, sound=place.tipping_sound.value).used


def _supports(layout: Layout, meeting: Sequence[Met]) -> list[Point]:
    """Centroids of what all wads touch."""
    points = []
    for (number, _), met in zip(layout.circles, meeting, strict=True):
        x, y = met.centre
        out, turn = math.hypot(x, y), math.degrees(math.atan2(y, x))
        points += [(spot.x, spot.y) for spot in circle(number, out, first=turn)]
    return points


def _beside_wall(top: Top, layout: Layout, foot: GalleryFoot) -> float:
    """What room to the wall of a gallery uses."""
    import numpy as np

    radius = max(radius for _, radius in layout.circles)
    x, y = top.base_points.T
    farthest = float(np.hypot(x, y + radius).max())
    return least("", foot.diameter / 2 - farthest, WALL_CLEARANCE).used


def _spans(layout: Layout, under: Under, top: Top, meeting: Sequence[Met]) -> list[float]:
    """What flatware uses of its spacing: along the circles, and from its edges to the nearest wad.

    Under rings the places farthest from any wad are half way between neighbours, at the edges;
    under a flat base they may lie anywhere.
    """
    import shapely

    gaps = [math.tau * radius / number for number, radius in layout.circles if number > 1]
    uses = [most("", gap, SPACING, margin=False).used for gap in gaps]
    foot = under.foot
    if isinstance(foot, FlatFoot) and not any(used > 1.0 for used in uses):
        away = under.away_from(top, layout.circles)
        uses.append(most("", away, SPACING, margin=False).used)
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
    layout: Layout, meeting: Sequence[Met], fired: Sequence[Met], force: float, *, rigid: bool
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
