"""What may go under one touch: for each shape and body the lightest arrangement that serves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from wadforms.families.base import SOLID
from wadforms.firing.programme import Mould
from wadforms.geometry.outline import Outline
from wadforms.setting.feet import Foot, PlaneFoot, SideFoot
from wadforms.setting.layouts import ALONE, Layout
from wadforms.setting.limits import Place
from wadforms.setting.pot import Pot
from wadforms.setting.tries import (
    Candidate,
    Choice,
    Conditions,
    Judged,
    Lot,
    chosen,
    hopeless,
    judged,
    lots,
    nearest,
)

OVERHANG: Final = 10.0
"""How far a wad may stand out beyond the foot on it [mm]: one that stands out farther catches ash
and takes room on the shelf that pots need (common practice, no source)."""

WIDEST: Final = 0.4
"""Width of a wad over that of the pot's foot, where several stand under it: wider ones hide the
foot and mark most of it (common practice, no source)."""

ARMED: Final = 0.47
"""Width of the widest circle in a piece over that of its narrow side, below which the piece has
arms or a hollow: it is made to stand alone, and several of it under one pot are tried only where
it is asked for (common practice, no source; the number is assumed)."""

Options: TypeAlias = tuple[Judged, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """All that may go under a touch.

    Parameters
    ----------
    options : tuple of Judged
        One for each shape and body that serves: the lightest that is sound, else the lightest
        that is tight.
    tried : int
        How many arrangements were looked at.
    nearest : Choice or None
        Where nothing serves, what came nearest.
    tips : Choice or None
        Where fine tips come first, the pointed pieces that came nearest, if they are not sound.
    """

    options: Options
    tried: int
    nearest: Choice | None = None
    tips: Choice | None = None

    @property
    def is_sound(self) -> bool:
        """Whether anything under it is sound."""
        return any(option.is_sound for option in self.options)


NO_OFFER: Final = Offer(options=(), tried=0)
"""Before anything was looked at."""


def mould_of(option: Judged) -> Mould:
    """The shape of an option, and how it is set."""
    return option.lot.name, option.lot.body


def options(
    pots: Sequence[Pot],
    candidates: Sequence[Candidate],
    conditions: Conditions,
    *,
    room: Foot | None = None,
    widest: float = math.inf,
    closely: bool = False,
) -> Offer:
    """Find for each shape and body the lightest arrangement that serves.

    Parameters
    ----------
    pots : sequence of Pot
        What stands on the wads: the levels of a stack share one arrangement, laid out for the
        first of them.
    candidates : sequence of Candidate
        Shapes to choose from.
    conditions : Conditions
        Place, stiffness, and a mix for each body that may be chosen.
    room : Foot or None
        What the wads stand on where that ends near them, such as the end of a post.
    widest : float
        How wide a wad may be, across its narrow side, where there are several [mm].
    closely : bool
        Whether each arrangement is checked in full, not by closed forms.

    Examples
    --------
    >>> from wadforms.firing.candidates import candidates
    >>> from wadforms.setting.feet import FlatFoot
    >>> from wadforms.setting.limits import PLACES, SHEAR
    >>> from wadforms.setting.mixes import mix
    >>> mug = Pot(mass=450.0, foot=FlatFoot(80.0), height=95.0)
    >>> wet = Conditions(place=PLACES["sheltered"], shear=SHEAR["firm"], mixes={"wet": mix("open")})
    >>> found = options([mug], candidates(["disk-10", "disk-16"]), wet)
    >>> [(mould_of(option), option.lot.number, option.is_sound) for option in found.options]
    [(('disk-10', 'wet'), 3, True), (('disk-16', 'wet'), 3, True)]
    """
    found: list[Judged] = []
    failed: list[Judged] = []
    no_hope: list[Lot] = []
    tried = 0
    asked = len(candidates) == 1  # the only shape is one that was asked for
    for candidate in candidates:
        by_body: dict[str, list[Lot]] = {}
        for lot in lots(pots[0], candidate, conditions.mixes):
            if not asked and not _usual(lot, pots[0], widest):
                continue
            layouts = tuple(
                layout
                for layout in lot.layouts
                if (asked or _beyond(layout, lot.piece.outline, pots[0].foot) <= OVERHANG)
                and (room is None or _beyond(layout, lot.piece.body.base, room) <= 0.0)
            )
            if layouts:
                by_body.setdefault(lot.body, []).append(lot._replace(layouts=layouts))
        for every in by_body.values():
            tight: Judged | None = None
            for lot in sorted(every, key=lambda lot: lot.rank):
                if any(hopeless(lot, pot, conditions) for pot in pots):
                    no_hope.append(lot)
                    tried += len(lot.layouts)
                    continue
                best, laid = judged(lot, pots, conditions, closely=closely)
                tried += laid
                if best is None:
                    continue
                # What can be laid out again is let go: a long list keeps many options.
                layout = replace(best.layout, spots=()) if best.layout.circles else best.layout
                best = Judged(best.used, lot._replace(layouts=(layout,)), layout)
                if best.is_sound:
                    found.append(best)
                    break
                if not best.serves:
                    failed.append(best)
                elif tight is None:
                    tight = best
            else:
                if tight is not None:
                    found.append(tight)
    if found:
        tips = _nearest_tips([*found, *failed], pots, conditions)
        return Offer(options=tuple(found), tried=tried, tips=tips)
    no_hope.sort(key=lambda lot: lot.rank)
    return Offer(options=(), tried=tried, nearest=nearest(failed, no_hope, pots[0], conditions))


def _usual(lot: Lot, pot: Pot, widest: float) -> bool:
    """Whether a potter would set so many of a piece there without having asked for it."""
    if lot.piece.hollow_radius is not None and not isinstance(pot.foot, SideFoot):
        return False
    if lot.number == 1:
        return True
    outline = lot.piece.outline
    narrow = min(outline.size)
    return narrow <= widest and outline.inscribed_width >= ARMED * narrow


def tips_come_first(place: Place) -> bool:
    """Whether fine tips come first: where ash is heaviest (common practice, no source).

    Examples
    --------
    >>> from wadforms.setting.limits import PLACES
    >>> [name for name, place in PLACES.items() if tips_come_first(place)]
    ['firebox']
    """
    return place.name == "firebox"


def _nearest_tips(
    every: Sequence[Judged], pots: Sequence[Pot], conditions: Conditions
) -> Choice | None:
    """Where fine tips come first, those that come nearest, under the pot that is worst for them."""
    if not tips_come_first(conditions.place):
        return None
    tipped = [one for one in every if one.lot.piece.tips]
    if not tipped or any(one.is_sound for one in tipped):
        return None
    best = min(tipped, key=lambda one: one.used)
    found = [chosen(best.lot, best.layout, pot, conditions) for pot in pots]
    return max(
        (choice for choice in found if choice is not None),
        key=lambda choice: choice.assessment.governing.used,
        default=None,
    )


def _beyond(layout: Layout, outline: Outline, foot: Foot) -> float:
    """How far the outermost of pieces laid out stands out beyond a foot [mm]."""
    if not isinstance(foot, PlaneFoot):
        return 0.0
    x0, y0, x1, y1 = outline.bounds
    if layout.circles == ALONE:
        return max(-x0, -y0, x1, y1) - foot.reach
    if layout.circles:  # each points outward by its own +y
        return max(layout.radius + y1, x1, -x0) - foot.reach
    reached = 0.0
    for spot in layout.spots:
        left, lower, right, upper = spot.place(outline).bounds
        reached = max(reached, -left, -lower, right, upper)
    return reached - foot.reach


def preferred(offer: Offer, place: Place) -> tuple[Options, Options]:
    """The options that the place asks for: those to choose from, and those with tight ones too.

    Sound ones come before tight ones.  Where ash is heaviest fine tips come first, since little
    of them can stick, then any solid piece, then wet ones (common practice, no source).

    Examples
    --------
    >>> from wadforms.setting.limits import PLACES
    >>> preferred(NO_OFFER, PLACES["sheltered"])
    ((), ())
    """
    tiers = [_tier(option, place) for option in offer.options]
    pool = [
        tier
        for option, tier in zip(offer.options, tiers, strict=True)
        if option.is_sound or not offer.is_sound
    ]
    if not pool:
        return (), ()
    best = min(pool)
    wide = tuple(o for o, tier in zip(offer.options, tiers, strict=True) if tier == best)
    return tuple(o for o in wide if o.is_sound or not offer.is_sound), wide


def _tier(option: Judged, place: Place) -> int:
    if not tips_come_first(place):
        return 0
    if option.lot.body != SOLID:
        return 2
    return 0 if option.lot.piece.tips else 1
