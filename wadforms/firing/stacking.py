"""What is wrong with how a firing is stacked, whatever the wads."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wadforms import units
from wadforms.firing.furniture import (
    IN_LINE,
    height_problems,
    loading_notes,
    number_of_posts,
    room_problems,
    shelf_problems,
    tipping_problems,
)
from wadforms.firing.loads import Loads
from wadforms.firing.rows import Shelf, Ware
from wadforms.firing.standing import feet, said
from wadforms.setting.feet import Foot, PlaneFoot, RingFoot, SideFoot
from wadforms.setting.pot import Pot

_CURVED: Final = {"round": "its bottom is round", "side": "it lies on its side"}

_SEAT: Final = (
    "look that all its wads rest on something, since the list does not tell where the lower one is "
    "open and how wide"
)

_BELLY: Final = (
    "its belly is assumed to bear along its axis as far as its wads stand apart; give its length "
    "where it is short"
)


def problems(loads: Loads) -> Iterator[str]:
    """What would fall, tip or stick, each with its row."""
    firing, standing = loads.firing, loads.standing
    yield from number_of_posts(firing, standing.legs)
    yield from shelf_problems(firing, standing)
    for shelf in firing.shelves:
        if shelf.row in standing.legs:
            yield from tipping_problems(shelf, loads.held[shelf.row])
        wares, over = list(loads.wares_on(shelf)), list(loads.shelves_over(shelf))
        lowest = [(standing.legs[s.row].posts[-1], n * len(s.posts_at)) for s, n in over]
        yield from room_problems(shelf, wares, lowest)
        # Of stacks the sum of the heights tells nothing here: nested ware stands lower.
        single = [
            (ware, ware.height)
            for ware, _ in wares
            if ware.height is not None and ware.stack == 1 and loads.on_top(ware) is None
        ]
        for upper, _ in over:
            yield from height_problems(single, upper, standing.legs[upper.row])
    on_posts = bool(standing.legs)
    for ware in firing.wares:
        lower = standing.below[ware.row]
        if isinstance(lower, Ware):
            yield from _poor_seat(ware, lower)
        if ware.stack > 1 and not isinstance(ware.foot, PlaneFoot):
            yield said(ware, f"{_CURVED[ware.foot.kind]}: it cannot stand in a stack")
        if lower is None and on_posts:
            yield said(
                ware,
                "the list does not tell what it stands on, so no shelf is reckoned to carry it; "
                "give its level, or say what it stands on",
            )


def notes(loads: Loads) -> Iterator[str]:
    """What was assumed about how things are shared out, each with its row."""
    for ware in loads.firing.wares:
        if isinstance(ware.foot, SideFoot) and ware.foot.length is None:
            yield said(ware, _BELLY)
        if ware.stack > 1 and _is_open(ware):
            yield said(ware, f"each stands on the one below: {_SEAT}")
        for upper, n in loads.wares_on(ware):
            if _is_open(ware):
                yield said(upper, f"it stands on {ware.name}: {_SEAT}")
            if n > 1:
                words = f"{n} × {upper.name} stand on each, evenly about its middle (assumed)"
                yield said(ware, words)
            yield from _uneven(upper, ware, n)
    for shelf in loads.firing.shelves:
        for upper, n in loads.wares_on(shelf):
            yield from _uneven(upper, shelf, n)
        for over, n in loads.shelves_over(shelf):
            yield from _uneven(over, shelf, n)
            for ware, _ in loads.wares_on(shelf):
                yield from _high_stack(ware, over, loads)
        if shelf.row in loads.standing.legs:
            wares = [(ware, loads.towers[ware.row][0].mass) for ware, _ in loads.wares_on(shelf)]
            yield from loading_notes(shelf, wares)
        if shelf.assumed:
            yield said(shelf, f"assumed, since the list does not tell: {'; '.join(shelf.assumed)}")
    if any(isinstance(legs.lower, Shelf) for legs in loads.standing.legs.values()):
        yield f"posts may stand {units.show(IN_LINE.value, 'mm')} out of line: {IN_LINE.source}"


def _high_stack(ware: Ware, over: Shelf, loads: Loads) -> Iterator[str]:
    """A stack that clears the shelf above it only as far as its pieces stand in each other."""
    height, posts = loads.towers[ware.row][0].height, loads.standing.legs[over.row].height
    stacked = ware.stack > 1 or loads.on_top(ware) is not None
    if stacked and height is not None and height >= posts:
        yield said(
            ware,
            f"the heights of its stack add up to {units.show(height, 'mm')}, and the posts of "
            f"{over.name!r} above it are {units.show(posts, 'mm')} high: measure a stack, wads "
            "included; only ware that nests stands lower",
        )


def stands_straight(ware: Ware, lower: Ware) -> bool:
    """Whether a ware stands on flatware with the same foot, so that one line of wads serves."""
    return lower.lid is None and ware.foot == lower.foot and _is_flat(lower)


def _uneven(upper: Ware | Shelf, lower: Ware | Shelf, number: int) -> Iterator[str]:
    if feet(upper) % feet(lower):
        what = "stacks of " if isinstance(upper, Ware) and upper.stack > 1 else ""
        yield said(
            lower,
            f"the fullest of {feet(lower)} carries {number} of {feet(upper)} {what}{upper.name}, "
            "and all are taken to be as full",
        )


def _poor_seat(ware: Ware, lower: Ware) -> Iterator[str]:
    """A pot that cannot stand on another as the list says."""
    if isinstance(lower.foot, SideFoot):
        yield said(ware, f"it stands on {lower.name!r}, which lies on its side")
        return
    foot, under = _radii(ware.foot), _radii(lower.foot)
    if foot is None:
        curved = _CURVED[ware.foot.kind]
        yield said(ware, f"{curved}: {lower.name!r} gives it no level place to be wadded on")
        return
    if lower.lid is not None:
        edge = lower.lid.gallery.diameter / 2
        if foot[0] > edge:
            yield said(
                ware,
                f"its foot ring is {units.show(2 * foot[0], 'mm')} wide inside, and the lid of "
                f"{lower.name!r} under it {units.show(2 * edge, 'mm')} at most",
            )
    elif under is not None and _is_flat(lower):
        offset = max(foot[0] - under[1], under[0] - foot[1])
        if offset > IN_LINE.value:
            yield said(
                ware,
                f"its wads stand {units.show(offset, 'mm')} out of line with those under "
                f"{lower.name!r}, which is flatware and bends; at most "
                f"{units.show(IN_LINE.value, 'mm')} (assumed)",
            )


def _is_open(ware: Ware) -> bool:
    """Whether what stands on a ware stands in it or on its rim, of which nothing is known."""
    return ware.lid is None and isinstance(ware.foot, PlaneFoot) and not _is_flat(ware)


def _is_flat(ware: Ware) -> bool:
    return Pot(mass=ware.mass, foot=ware.foot, height=ware.height).is_flatware


def _radii(foot: Foot) -> tuple[float, float] | None:
    """The radii between which a plane foot bears [mm]."""
    if isinstance(foot, RingFoot):
        inner = min((foot.diameter, *foot.inner_diameters)) / 2 - foot.width
        return inner, foot.diameter / 2
    return (0.0, foot.reach) if isinstance(foot, PlaneFoot) else None
