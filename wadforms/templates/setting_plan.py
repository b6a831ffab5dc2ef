"""A setting seen from below: foot, wads, where they touch, support, and centre of gravity."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Final

from wadforms import units
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.templates import look
from wadforms.templates.drawing import Anchor, Arc, Circle, Item, Lines, Region, Text
from wadforms.templates.scale import chosen_scale
from wadforms.templates.setting_view import SettingView
from wadforms.templates.shading import hatch

_LEAST_PATCH: Final = 1.8  # a smaller one, such as a tip, is marked by a dot of this size [mm]
_EVEN: Final = 0.5  # what wads may be off one circle, or off their place on it [mm]
_AROUND: Final = 11.0  # room round the foot for the measure of the spacing [mm]


def plan_scale(view: SettingView, room: float) -> float:
    """The scale at which the plan fits a square of `room` [mm]."""
    return chosen_scale(2 * view.reach, room - 2 * _AROUND)


def plan_height(view: SettingView, scale: float) -> float:
    """Room that the plan takes, measures included [mm]."""
    return 2 * (scale * view.reach + _AROUND)


def turned_over(
    middle: Point, scale: float
) -> tuple[Callable[[Point], Point], Callable[[Outline], Outline]]:
    """Where points and outlines in plan go on a sheet that shows the pot turned over sideways.

    Parameters
    ----------
    middle : (float, float)
        Where the pot's middle comes to lie on the sheet [mm].
    scale : float
        Length on the sheet over true length.

    Examples
    --------
    >>> at, placed = turned_over((100.0, 50.0), 0.5)
    >>> at((20.0, 10.0)), placed(Outline.circle(4, (20, 10))).bounds
    ((90.0, 55.0), (88.0, 53.0, 92.0, 57.0))
    """

    def at(point: Point) -> Point:
        return middle[0] - scale * point[0], middle[1] + scale * point[1]

    def placed(outline: Outline) -> Outline:
        return outline.mirrored().scaled(scale).moved(*middle)

    return at, placed


def from_below(view: SettingView, middle: Point, scale: float) -> Iterator[Item]:
    """Yield the setting as seen with the pot turned over sideways: x runs left.

    Parameters
    ----------
    view : SettingView
        What to draw.
    middle : (float, float)
        Where the pot's middle comes to lie on the sheet [mm].
    scale : float
        Length on the sheet over true length.
    """
    at, placed = turned_over(middle, scale)
    for outline in view.foot:
        yield Region(placed(outline), look.FOOT)
    yield from curved_pot(view, at, scale)
    for spot in view.spots:
        yield Region(placed(spot.place(view.piece.outline)), look.WAD)
    patches = [placed(patch) for patch in view.patches]
    for patch in patches:
        yield Region(patch, look.PATCH)
    yield hatch(patches, look.PATCH_HATCH, spacing=1.0)
    for patch in patches:
        if max(patch.size) < _LEAST_PATCH:
            x0, y0, x1, y1 = patch.bounds
            yield Circle(((x0 + x1) / 2, (y0 + y1) / 2), _LEAST_PATCH / 2, look.SPOT)
    # The foot's edge once more, fine, so that it is seen to run on over the wads.
    for outline in view.foot:
        yield Region(placed(outline), look.HAIR)
    for touch in view.touches:
        yield Circle(at(touch), 1.0, look.SPOT)
    if len(view.support) > 2:
        yield Region(Outline(Contour.polygon([at(p) for p in view.support][::-1])), look.DASHED)
    yield from _radius(view, at)
    yield from _spacing(view, middle, scale)
    yield from _weakest(view, at)
    yield from centre_mark(at(view.centre))


def curved_pot(view: SettingView, at: Callable[[Point], Point], scale: float) -> Iterator[Item]:
    """Yield the outline of a round bottom, or of a belly with its axis.

    Parameters
    ----------
    view : SettingView
        What to draw.
    at : callable
        From a point in plan to the sheet [mm].
    scale : float
        Length on the sheet over true length.
    """
    if view.ball_radius:
        yield Circle(at((0.0, 0.0)), scale * view.ball_radius, look.POT)
    if view.belly_radius:
        ux, uy = view.across
        r = view.belly_radius
        corners = [(r, -r), (r, r), (-r, r), (-r, -r)]
        belly = [at((a * ux - b * uy, a * uy + b * ux)) for a, b in corners]
        yield Region(Outline(Contour.polygon(belly[::-1])), look.FOOT)
        axis = (at((r * uy * 1.08, -r * ux * 1.08)), at((-r * uy * 1.08, r * ux * 1.08)))
        yield Lines((axis,), look.CENTRE)


def _radius(view: SettingView, at: Callable[[Point], Point]) -> Iterator[Item]:
    """Yield the circle that the wads stand on, with its radius."""
    radii = sorted({round(spot.radius, 1) for spot in view.spots})
    if view.belly_radius or len(view.spots) < 2 or radii[0] < 1.0:
        return
    centre = at((0.0, 0.0))
    for radius in radii:
        edge = at((radius, 0.0))
        yield Circle(centre, math.dist(centre, edge), look.CENTRE)
    farthest = max(view.spots, key=lambda spot: (round(spot.radius, 1), round(spot.y, 1)))
    end = at((farthest.x, farthest.y))
    yield Lines(((centre, end),), look.MEASURE)
    yield Circle(end, 0.5, look.SOLID)
    yield from chip(_between(centre, end), f"r {units.show(farthest.radius, 'mm')}")


def _spacing(view: SettingView, middle: Point, scale: float) -> Iterator[Item]:
    """Yield the spacing of wads that stand evenly on one circle, as an arc outside the foot."""
    if view.spacing is None or len(view.spots) < 2:
        return
    radii = [spot.radius for spot in view.spots]
    directions = sorted(math.atan2(spot.y, -spot.x) for spot in view.spots)
    pairs = list(zip(directions, [*directions[1:], directions[0] + math.tau], strict=True))
    gaps = [b - a for a, b in pairs]
    if max(radii) - min(radii) > _EVEN or (max(gaps) - min(gaps)) * max(radii) > _EVEN:
        return  # which of the distances is meant, no arc could show
    # That which lies most to the upper left, away from the other measures.
    a, b = min(pairs, key=lambda e: abs(math.remainder((e[0] + e[1]) / 2 - 2.2, math.tau)))
    r = scale * view.reach + 4.0
    x, y = middle
    yield Arc(middle, r, math.degrees(a), math.degrees(b - a), look.MEASURE)
    ends = []
    for angle in (a, b):
        c, s = math.cos(angle), math.sin(angle)
        ends.append(
            ((x + (r - 2.0) * c, y + (r - 2.0) * s), (x + (r + 1.2) * c, y + (r + 1.2) * s))
        )
    yield Lines(tuple(ends), look.MEASURE)
    half = (a + b) / 2
    c, s = math.cos(half), math.sin(half)
    anchor: Anchor = "middle" if abs(c) < 0.3 else "start" if c > 0 else "end"
    lines = [units.show(view.spacing, "mm"), "along the", "circle"]  # narrow, for the margin
    rise = look.SMALL.rise
    step = rise + 1.4
    tall = step * (len(lines) - 1)
    first = tall if s > 0.3 else -rise if s < -0.3 else (tall - rise) / 2
    x, y = x + (r + 1.8) * c, y + (r + 1.8) * s + first
    for k, line in enumerate(lines):
        yield Text((x, y - step * k), line, look.SMALL_NOTE if k else look.SMALL, anchor)


def _weakest(view: SettingView, at: Callable[[Point], Point]) -> Iterator[Item]:
    """Yield the shortest way from the centre of gravity to the edge it would tip over."""
    if view.lean is None or abs(view.lean.reach) < 0.1 or not view.foot:
        return
    lean = view.lean
    ux, uy = lean.direction
    x, y, _ = lean.centre
    start, end = at((x, y)), at((x + lean.reach * ux, y + lean.reach * uy))
    yield Lines(((start, end),), look.PLUMB)
    length = math.dist(start, end)
    if length < 12.0:  # too short to write on: beyond its end
        away = 1.0 + 6.0 / length
        place = (start[0] + away * (end[0] - start[0]), start[1] + away * (end[1] - start[1]))
    else:
        place = _between(start, end)
    yield from chip(place, units.show(lean.reach, "mm"))


def _between(start: Point, end: Point) -> Point:
    """Where a measure stands on a line: half way, nearer its start where it is long."""
    share = 0.5 if math.dist(start, end) < 30.0 else 0.38
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def chip(middle: Point, words: str) -> Iterator[Item]:
    """Yield a measure on a small white ground, so that no line runs through it.

    Parameters
    ----------
    middle : (float, float)
        Of the text, on the sheet [mm].
    words : str
        The measure.
    """
    x, y = middle
    text = Text((x, y - look.SMALL.rise / 2), words, look.SMALL, "middle")
    x0, _, x1, _ = text.box
    points = [(x0, y - 1.9), (x1, y - 1.9), (x1, y + 1.9), (x0, y + 1.9)]
    yield Region(Outline(Contour.polygon(points)), look.BLANK)
    yield text


def centre_mark(centre: Point) -> Iterator[Item]:
    """Yield the mark for a centre of gravity: a circle, two opposite quarters filled."""
    (x, y), r = centre, 1.9
    yield Circle(centre, r, look.SOLID_WHITE)
    quarter = math.tan(math.pi / 8)
    for sign in (1.0, -1.0):
        vertices = (centre, (x + sign * r, y), (x, y + sign * r))
        yield Region(Outline(Contour(vertices, (0.0, quarter, 0.0))), look.SOLID)
