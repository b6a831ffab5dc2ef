"""A setting seen from the side: shelf, wads, the pot as far as it is known, and how it tips."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Final

from wadforms import units
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.templates import look
from wadforms.templates.drawing import Arc, Dimension, Item, Lines, Region, Text
from wadforms.templates.pieces import side
from wadforms.templates.scale import chosen_scale
from wadforms.templates.setting_plan import centre_mark, chip
from wadforms.templates.setting_view import SettingView

_BELOW: Final = 10.0  # room under the shelf line [mm]
_ABOVE: Final = 6.0  # room over the pot [mm]
_BESIDE: Final = 17.0  # room for the measures on each side of the pot [mm]


def _pot_width(view: SettingView) -> tuple[float, float]:
    """How far the pot reaches to the left and right of its middle [mm]."""
    radius = view.ball_radius or view.belly_radius
    if radius:
        return -radius, radius
    angle = -math.degrees(math.atan2(view.across[1], view.across[0]))
    bounds = [outline.turned(angle).bounds for outline in view.foot]
    return min(b[0] for b in bounds), max(b[2] for b in bounds)


def _pot_height(view: SettingView) -> float:
    """Height drawn [mm]: given, or twice that of the centre of gravity, or a guess for the eye."""
    if view.belly_radius:
        return 2 * view.belly_radius
    if view.pot_height:
        return view.pot_height
    if view.lean:
        return 2 * (view.lean.centre[2] - view.pot_bottom)
    left, right = _pot_width(view)
    return (right - left) / 2


def side_height(view: SettingView, scale: float) -> float:
    """Room that the side view takes above and below the shelf [mm]."""
    return scale * (view.pot_bottom + _pot_height(view)) + _BELOW + _ABOVE


def side_scale(view: SettingView, width: float, height: float) -> float:
    """The scale at which pot and wads fit a box of `width` × `height` [mm]."""
    left, right = _pot_width(view)
    angle = -math.degrees(math.atan2(view.across[1], view.across[0]))
    bases = [spot.place(view.piece.body.base).turned(angle).bounds for spot in view.spots]
    left = min(left, *(b[0] for b in bases))
    right = max(right, *(b[2] for b in bases))
    total = view.pot_bottom + _pot_height(view)
    room = width - 2 * _BESIDE
    return chosen_scale(max(2 * max(-left, right) / room, total / height), 1.0)


def from_the_side(
    view: SettingView, span: tuple[float, float], heights: tuple[float, float], scale: float
) -> Iterator[Item]:
    """Yield the setting as seen along the edge it would tip over first.

    Parameters
    ----------
    view : SettingView
        What to draw.
    span : (float, float)
        From x to x on the sheet [mm].
    heights : (float, float)
        Upper and lower end of the room on the sheet [mm].
    scale : float
        Length on the sheet over true length.
    """
    middle = (span[0] + span[1]) / 2
    total = scale * (view.pot_bottom + _pot_height(view))
    ground = (heights[0] + heights[1] + _BELOW - _ABOVE - total) / 2

    def at(across: float, z: float) -> Point:
        return middle + scale * across, ground + scale * z

    pot = Region(_pot(view, at), look.POT if _is_known(view) else look.GUESSED)
    if view.foot:
        yield pot
    ux, uy = view.across
    turn = -math.degrees(math.atan2(uy, ux))
    # The farther ones first, so that the nearer hide them.
    for spot in sorted(view.spots, key=lambda s: (s.x * uy - s.y * ux, s.x)):
        origin = at(spot.x * ux + spot.y * uy, 0.0)
        yield from side(view.piece, origin, scale, degrees=spot.turn + turn, style=look.BEARING)
    if not view.foot:
        yield pot  # a curved pot beds into the wads, so it hides what it presses away
    yield from _shelf(span, ground)
    yield from _measures(view, at)
    yield from _tipping(view, at)
    words = _silhouette_words(view)
    yield Text((middle, ground - 7.2), words, look.SMALL_NOTE, "middle")


def _is_known(view: SettingView) -> bool:
    return view.pot_height is not None or view.belly_radius is not None


def _silhouette_words(view: SettingView) -> str:
    wads = f"wads {units.show(view.piece.height, 'mm')} high; "
    if view.belly_radius:
        return f"{wads}only the belly is drawn"
    if not _is_known(view):
        return f"{wads}the pot's height is not given"
    return f"{wads}the pot drawn as a plain {'bowl' if view.ball_radius else 'box'}"


def _pot(view: SettingView, at: Callable[[float, float], Point]) -> Outline:
    """The plainest form that has the sizes that are known."""
    low, height = view.pot_bottom, _pot_height(view)
    if view.belly_radius:
        r = view.belly_radius
        ends = (at(r, low + r), at(-r, low + r))
        return Outline(Contour(ends, (1.0, 1.0)))
    if view.ball_radius:
        r = view.ball_radius
        if height <= r:
            half = math.sqrt(r * r - (r - height) ** 2)
            sweep = 2 * math.atan2(half, r - height)
            ends = (at(-half, low + height), at(half, low + height))
            return Outline(Contour(ends, (math.tan(sweep / 4), 0.0)))
        corners = (at(-r, low + r), at(r, low + r), at(r, low + height), at(-r, low + height))
        return Outline(Contour(corners, (1.0, 0.0, 0.0, 0.0)))
    left, right = _pot_width(view)
    box = [at(left, low), at(right, low), at(right, low + height), at(left, low + height)]
    return Outline(Contour.polygon(box))


def _shelf(span: tuple[float, float], ground: float) -> Iterator[Item]:
    x0, x1 = span
    yield Lines((((x0, ground), (x1, ground)),), look.EDGE)
    count = int((x1 - x0 - 2.0) / 2.5)
    strokes = [
        ((x0 + 2.5 * k + 2.0, ground), (x0 + 2.5 * k + 0.4, ground - 1.6)) for k in range(count + 1)
    ]
    yield Lines(tuple(strokes), look.HAIR)


def _measures(view: SettingView, at: Callable[[float, float], Point]) -> Iterator[Item]:
    """Yield the heights of pot and wads on the left, that of the centre on the right."""
    left, right = _pot_width(view)
    bases = [spot.place(view.piece.body.base) for spot in view.spots]
    ux, uy = view.across
    turn = -math.degrees(math.atan2(uy, ux))
    left = min(left, *(b.turned(turn).bounds[0] for b in bases))
    right = max(right, *(b.turned(turn).bounds[2] for b in bases))
    low, height = view.pot_bottom, _pot_height(view)
    style, words = look.MEASURE, look.SMALL
    if _is_known(view):
        ends = at(left, low), at(left, low + height)
        yield Dimension(*ends, 4.0, units.show(height, "mm"), style, words)
    if view.lean:
        z = view.lean.centre[2]
        yield Dimension(at(right, 0.0), at(right, z), -4.0, units.show(z, "mm"), style, words)


def _tipping(view: SettingView, at: Callable[[float, float], Point]) -> Iterator[Item]:
    """Yield the plumb line, the line to the edge that it tips over, and the angle between."""
    if view.lean is None:
        return
    lean = view.lean
    ux, uy = view.across
    across = lean.centre[0] * ux + lean.centre[1] * uy
    centre = at(across, lean.centre[2])
    foot = at(across, lean.pivot_level)
    pivot = at(across + lean.reach, lean.pivot_level)
    yield Lines(((centre, foot),), look.CENTRE)
    yield Lines(((centre, pivot),), look.PLUMB)
    length = math.dist(centre, foot)
    radius = min(0.62 * length, 30.0)
    yield Arc(centre, radius, -90.0, lean.angle, look.PLUMB)
    if lean.angle > 45.0:
        top = at(across, view.pot_bottom + _pot_height(view))
        place = (top[0], top[1] + 3.0)  # the line runs too flat to write beside it
    else:
        angle = math.radians(lean.angle)
        place = (
            centre[0] + radius * math.sin(angle) + 6.0,
            centre[1] - radius * math.cos(angle) + 1.0,
        )
    yield from chip(place, f"{lean.angle:.1f}°")
    yield from centre_mark(centre)
