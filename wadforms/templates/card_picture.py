"""Small pictures for a wall or a phone: where wads go, seen from above, and what one looks like.

They are read from afar and on poor paper, so lines are heavy, letters few and large, and how a
wad is set is told by its face: open for wet, hatched for dry, filled for solid.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from wadforms import units
from wadforms.families.base import DRY, SOLID, Piece
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.setting.feet import PlaneFoot, RoundFoot, SideFoot
from wadforms.setting.pot import Setting
from wadforms.setting.sides import axis_of
from wadforms.templates import look
from wadforms.templates.drawing import Circle, Drawing, Item, Lettering, Lines, Region, Style, Text
from wadforms.templates.pieces import plan
from wadforms.templates.setting_picture import verdict_mark
from wadforms.templates.shading import hatch
from wadforms.templates.words import measure, plan_size

_SIDE: Final = 80.0  # of the square [mm]
_ROOM: Final = 38.0  # from its middle to the farthest thing drawn [mm]
_LEAST_FRAME: Final = 25.0  # a smaller piece does not fill its picture [mm]
_LEAST_CLEAR: Final = 1.5  # round a measure in the middle [mm]

_NUMBER: Final = Lettering("number", 12.0, look.INK, bold=True)
_FOOT: Final = Style("foot", look.SOFT, 0.7, look.TINT)
_ON_TOP: Final = Style("on top", look.SOFT, 0.5, dash=(2.4, 1.6))
_AXIS: Final = Style("axis", look.SOFT, 0.5, dash=(5.0, 1.6, 1.0, 1.6))
_CIRCLE: Final = Style("circle", look.INK, 0.5, dash=(5.0, 1.6, 1.0, 1.6))
_ARM: Final = Style("arm", look.INK, 0.5)
_OPEN: Final = Style("wad", look.INK, 0.9, look.WHITE)
_FILLED: Final = Style("solid wad", look.INK, 0.9, look.INK)
_STROKES: Final = Style("dry wad", look.INK, 0.5)


def from_above(setting: Setting, *, title: str) -> Drawing:
    """Wads as they are laid out, from above, with the foot that comes to stand on them.

    Parameters
    ----------
    setting : Setting
        Pot and wads.
    title : str
        What stands on what.

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.setting.arrangement import Arrangement, circle
    >>> from wadforms.setting.feet import RingFoot
    >>> from wadforms.setting.mixes import mix
    >>> from wadforms.setting.pot import Pot
    >>> wads = Arrangement(family("disk")(diameter=10).piece(), tuple(circle(3, 22.5)))
    >>> bowl = Pot(mass=380.0, foot=RingFoot(50.0, 5.0))
    >>> asked = Setting(pot=bowl, arrangement=wads, body="dry", mix=mix("open"))
    >>> picture = from_above(asked, title="Tea bowl on shelf")
    >>> picture.title, picture.description
    ('Tea bowl on shelf', '3 wads from above, 22.5 mm from the middle.')
    """
    spots = setting.arrangement.spots
    piece = setting.arrangement.piece
    foot = setting.pot.foot
    laid = [spot.place(piece.outline) for spot in spots]
    feet = foot.outlines if isinstance(foot, PlaneFoot) else (_curved(setting),)
    reach = max(abs(v) for outline in (*feet, *laid) for v in outline.bounds)
    scale = _ROOM / reach
    middle = x, y = (_SIDE / 2, _SIDE / 2)

    def placed(outlines: Sequence[Outline]) -> list[Outline]:
        return [outline.scaled(scale).moved(*middle) for outline in outlines]

    items: list[Item] = [Region(outline, _FOOT) for outline in placed(feet)]
    radii = sorted({round(spot.radius, 1) for spot in spots})
    # More circles than two are no circles but a field of wads.
    circles = [r for r in radii if r > 0.05] if len(radii) <= 2 and len(spots) > 2 else []
    if isinstance(foot, SideFoot):
        circles = []
        ux, uy = axis_of(setting.arrangement).across
        half = _SIDE / 2
        ends = ((x - half * uy, y + half * ux), (x + half * uy, y - half * ux))
        items.append(Lines((ends,), _AXIS))
    items += [Circle(middle, scale * radius, _CIRCLE) for radius in circles]
    items += _faces(placed(laid), setting.body)
    # Once more, dashed, so that the foot is seen to run on over the wads.
    items += [Region(outline, _ON_TOP) for outline in placed(feet)]
    where = ""
    if circles:
        where = ", " + " and ".join(units.show(r, "mm") for r in circles) + " from the middle"
        items += _radius(middle, scale, circles[-1], placed(laid))
    number = "1 wad" if len(spots) == 1 else f"{len(spots)} wads"
    return Drawing(
        title=title,
        description=f"{number} from above{where}.",
        width=_SIDE,
        height=_SIDE,
        items=tuple(items),
    )


def piece_card(name: str, piece: Piece) -> Drawing:
    """One piece from above without a word: large ones fill the picture, small ones look small.

    Parameters
    ----------
    name : str
        Of the shape.
    piece : Piece
        At its set size.

    Examples
    --------
    >>> from wadforms.families import family
    >>> piece_card("disk-20", family("disk")(diameter=20).piece()).title
    'disk-20, Ø 20 × 8 mm'
    """
    scale = 2 * _ROOM / max(_LEAST_FRAME, *piece.body.base.size)
    items: list[Item] = []
    for item in plan(piece, (_SIDE / 2, _SIDE / 2), scale):
        items.append(_heavier(item))
    return Drawing(
        title=f"{name}, {plan_size(piece.outline)} × {measure(piece.height)} mm",
        description="From above.",
        width=_SIDE,
        height=_SIDE,
        items=tuple(items),
    )


def mark(verdict: str) -> Drawing:
    """The mark of a verdict alone.

    Examples
    --------
    >>> mark("tight").title
    'tight'
    """
    return Drawing(
        title=verdict,
        description="The mark of this verdict.",
        width=7.0,
        height=7.0,
        items=tuple(verdict_mark((3.5, 3.5), verdict)),
        background=None,
    )


def _curved(setting: Setting) -> Outline:
    """What a round bottom, or a belly with its axis, covers."""
    foot = setting.pot.foot
    assert isinstance(foot, RoundFoot | SideFoot)  # noqa: S101 - no other foot is curved
    radius = foot.diameter / 2
    if isinstance(foot, RoundFoot):
        return Outline.circle(radius)
    ux, uy = axis_of(setting.arrangement).across
    corners = [(radius, -radius), (radius, radius), (-radius, radius), (-radius, -radius)]
    return Outline(Contour.polygon([(a * ux - b * uy, a * uy + b * ux) for a, b in corners]))


def _faces(laid: Sequence[Outline], body: str) -> Iterator[Item]:
    for outline in laid:
        yield Region(outline, _FILLED if body == SOLID else _OPEN)
    if body == DRY:
        yield hatch(laid, _STROKES, spacing=2.2)


def _radius(middle: Point, scale: float, radius: float, laid: Sequence[Outline]) -> Iterator[Item]:
    """Yield the radius in the middle with an arm to the circle, where the wads leave room."""
    words = measure(radius)
    half, rise = _NUMBER.width(words) / 2 + _LEAST_CLEAR, _NUMBER.rise / 2 + _LEAST_CLEAR
    x, y = middle
    if any(_meets(o.bounds, (x - half, y - rise, x + half, y + rise)) for o in laid):
        return
    # Toward the widest gap between wads, so that it ends on the circle and not on a wad.
    ways = sorted(math.atan2((b + d) / 2 - y, (a + c) / 2 - x) for a, b, c, d in _boxes(laid))
    gaps = zip(ways, [*ways[1:], ways[0] + math.tau], strict=True)
    first, last = max(gaps, key=lambda pair: (round(pair[1] - pair[0], 6), -abs(pair[0])))
    angle = (first + last) / 2
    ux, uy = math.cos(angle), math.sin(angle)
    start = min(half / max(abs(ux), 1e-9), rise / max(abs(uy), 1e-9))
    end = scale * radius
    if end > start + 2.0:
        tip = (x + end * ux, y + end * uy)
        barbs = [angle + math.pi + turn for turn in (-0.45, 0.45)]
        head = [(tip[0] + 3.4 * math.cos(b), tip[1] + 3.4 * math.sin(b)) for b in barbs]
        spans = [((x + start * ux, y + start * uy), tip), *((tip, barb) for barb in head)]
        yield Lines(tuple(spans), _ARM)
    yield Text((x, y - _NUMBER.rise / 2), words, _NUMBER, "middle")


def _boxes(laid: Sequence[Outline]) -> list[tuple[float, float, float, float]]:
    return [outline.bounds for outline in laid]


def _meets(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _heavier(item: Item) -> Item:
    """The same with lines that are still seen at a fifth of the size."""
    if isinstance(item, Region | Lines | Circle):
        style = item.style
        if style.stroke:
            dash = tuple(3.0 * part for part in style.dash)
            heavy = Style(style.name, style.stroke, 3.0 * style.width, style.fill, dash)
            if isinstance(item, Region):
                return Region(item.outline, heavy)
            if isinstance(item, Lines):
                return Lines(item.spans, heavy)
            return Circle(item.centre, item.radius, heavy)
    return item
