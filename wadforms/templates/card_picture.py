"""Small pictures for a wall or a phone: where wads go, seen from above, and what one looks like.

They are read from afar and on poor paper, so lines are heavy, letters few and large, and how a
wad is set is told by its face: open for wet, hatched for dry, filled for solid.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from typing import Final

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

_FINE: Final = 25.0  # shorter lengths are told to half a millimetre [mm]
_SHELF: Final = (66.0, 62.0)  # the most that a plan of a shelf takes [mm]
_ASIDE: Final = 27.0  # left of it and below it, for its measures [mm]
_CLEAR_OF_CORNER: Final = 9.0  # from its dot to the middle of a number [mm]
_AROUND: Final = 4.0  # on the other sides [mm]

_NUMBER: Final = Lettering("number", 12.0, look.INK, bold=True)
_LENGTH: Final = Lettering("length", 9.0, look.INK, bold=True)
_FOOT: Final = Style("foot", look.SOFT, 0.7, look.TINT)
_ON_TOP: Final = Style("on top", look.SOFT, 0.5, dash=(2.4, 1.6))
_AXIS: Final = Style("axis", look.SOFT, 0.5, dash=(5.0, 1.6, 1.0, 1.6))
_CIRCLE: Final = Style("circle", look.INK, 0.5, dash=(5.0, 1.6, 1.0, 1.6))
_ARM: Final = Style("arm", look.INK, 0.5)
_OPEN: Final = Style("wad", look.INK, 0.9, look.WHITE)
_FILLED: Final = Style("solid wad", look.INK, 0.9, look.INK)
_STROKES: Final = Style("dry wad", look.INK, 0.5)
_PLATE: Final = Style("shelf", look.INK, 1.0, look.TINT)
_POST: Final = Style("post", look.INK, 0.8, look.WHITE)
_RIM: Final = Style("rim", look.INK, 1.0)
_CORNER: Final = Style("corner", None, 0.0, look.INK)
_MIDDLE: Final = Style("middle of a wad", look.INK, 0.5, look.WHITE)


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
    on_side = isinstance(foot, SideFoot)
    if on_side:
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
        where = ", " + " and ".join(by_rule(r) for r in circles) + " mm from the middle"
        items += _radius(middle, scale, circles[-1], placed(laid))
    if on_side and len(spots) > 1:
        along, across = (by_rule(v) for v in apart(setting))
        items += _distances(setting, middle, scale)
        told = [f"{along} mm apart along the pot"] * (along != "0")
        told += [f"{across} mm across it"] * (across != "0")
        where = ", " + " and ".join(told)
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


def shelf_plan(
    length: float, width: float, posts: Sequence[Point], ends: Sequence[Outline], *, title: str
) -> Drawing:
    """A shelf from above with the posts below it, and the corner that distances count from.

    Parameters
    ----------
    length, width : float
        Of the shelf, to the right and upward [mm].
    posts : sequence of (float, float)
        Where they stand, from the lower left corner [mm].
    ends : sequence of Outline
        What one of them covers, about its place; dots stand for posts without it.
    title : str
        Of the picture.

    Examples
    --------
    >>> corners = [(40.0, 40.0), (560.0, 40.0), (300.0, 410.0)]
    >>> end = [Outline.circle(32)]
    >>> shelf_plan(600.0, 450.0, corners, end, title="Lower shelf").description
    'A shelf of 600 × 450 mm from above, with its 3 posts.'
    """
    scale = min(_SHELF[0] / length, _SHELF[1] / width)
    wide, deep = scale * length, scale * width
    x0, y0 = (_ASIDE + (_SHELF[0] - wide) / 2, _ASIDE - 8.0)

    def at(place: Point) -> Point:
        return x0 + scale * place[0], y0 + scale * place[1]

    corners = [at((0.0, 0.0)), at((length, 0.0)), at((length, width)), at((0.0, width))]
    items: list[Item] = [Region(Outline(Contour.polygon(corners)), _PLATE)]
    # Posts near each other have small numbers, so that none runs into the next.
    near = min((scale * math.dist(a, b) for a, b in combinations(posts, 2)), default=math.inf)
    lettering = replace(_LENGTH, size=max(3.5, min(_LENGTH.size, 0.9 * near)))
    rise = lettering.rise
    for number, place in enumerate(posts, 1):
        x, y = at(place)
        laid = [end.scaled(scale).moved(x, y) for end in ends] or [Outline.circle(2.0, (x, y))]
        items += [Region(outline, _POST) for outline in laid]
        room = min(min(outline.size) for outline in laid)
        if room < rise + 2.0:  # beside a thin post, toward the middle of the shelf
            reach = room / 2 + 1.0 + lettering.width(str(number)) / 2
            x += reach if place[0] <= length / 2 else -reach
        elif math.dist((x, y), (x0, y0)) < _CLEAR_OF_CORNER:
            x, y = x + 2.0, y + 1.5
        items.append(Text((x, y - rise / 2), str(number), lettering, "middle"))
    # Once more, so that a post is seen to stand out below the shelf.
    items.append(Region(Outline(Contour.polygon(corners)), _RIM))
    (xa, ya), (xb, _), _, (_, yd) = corners
    below, beside = ya - 6.0, xa - 6.0
    items += [_arrow((xa, below), (xb, below)), _arrow((beside, ya), (beside, yd))]
    rise = _LENGTH.rise
    items.append(Text(((xa + xb) / 2, below - rise - 3.0), by_rule(length), _LENGTH, "middle"))
    items.append(Text((beside - 2.5, (ya + yd - rise) / 2), by_rule(width), _LENGTH, "end"))
    items.append(Circle((xa, ya), 2.4, _CORNER))
    return Drawing(
        title=title,
        description=f"A shelf of {by_rule(length)} × {by_rule(width)} mm from above, "
        f"with its {len(posts)} posts.",
        width=_ASIDE + _SHELF[0] + _AROUND,
        height=y0 + deep + _AROUND,
        items=tuple(items),
    )


def by_rule(value: float) -> str:
    """A length [mm] as one measures it: to a whole millimetre, a short one to half of one.

    Examples
    --------
    >>> by_rule(97.5), by_rule(45.1), by_rule(22.5), by_rule(17.0)
    ('98', '45', '22.5', '17')
    """
    step = 0.5 if value < _FINE else 1.0
    return f"{step * math.floor(value / step + 0.5 + 1e-9):g}"


def apart(setting: Setting) -> tuple[float, float]:
    """How far the wads under a pot on its side lie apart, along its axis and across it [mm].

    Examples
    --------
    >>> from wadforms.families.rail import Rail
    >>> from wadforms.setting.arrangement import Arrangement, circle
    >>> from wadforms.setting.mixes import mix
    >>> from wadforms.setting.pot import Pot
    >>> rails = Arrangement(Rail().piece(), tuple(circle(2, 31.2)))
    >>> bottle = Pot(mass=900.0, foot=SideFoot(95.0))
    >>> apart(Setting(pot=bottle, arrangement=rails, body="wet", mix=mix("open")))
    (0.0, 62.4)
    """
    axis = axis_of(setting.arrangement)
    seen = [axis.seen((spot.x, spot.y)) for spot in setting.arrangement.spots]
    along, across = (max(p[k] for p in seen) - min(p[k] for p in seen) for k in (0, 1))
    return round(along, 6), round(across, 6)


def _distances(setting: Setting, middle: Point, scale: float) -> Iterator[Item]:
    """Yield how far wads under a pot on its side lie apart, from middle to middle."""
    axis = axis_of(setting.arrangement)
    along, across = (v / 2 for v in apart(setting))

    def at(u: float, v: float) -> Point:
        x, y = axis.plan(u, v)
        return middle[0] + scale * x, middle[1] + scale * y

    spans = []
    # Of the sides of the rectangle of wads, those that are upmost and rightmost in the picture.
    for half, ends in (
        (along, [(at(-along, v), at(along, v)) for v in (across, -across)]),
        (across, [(at(u, -across), at(u, across)) for u in (along, -along)]),
    ):
        if not half:
            continue
        a, b = max(ends, key=lambda pair: round(pair[0][0] + pair[1][0] + 2 * pair[0][1], 6))
        spans.append((a, b))
        words = by_rule(2 * half)
        x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        if abs(b[0] - a[0]) >= abs(b[1] - a[1]):
            yield Text((x, y + 2.5), words, _NUMBER, "middle")
        else:
            yield Text((x - 2.5, y + 2.0), words, _NUMBER, "end")  # clear of the pot's axis
    yield Lines(tuple(spans), _ARM)
    for point in sorted({point for span in spans for point in span}):
        yield Circle(point, 1.3, _MIDDLE)


def _arrow(start: Point, end: Point) -> Lines:
    """A line from one place to another with a head at its end."""
    way = math.atan2(end[1] - start[1], end[0] - start[0])
    spans = [(start, end)]
    for turn in (-0.45, 0.45):
        back = way + math.pi + turn
        spans.append((end, (end[0] + 3.4 * math.cos(back), end[1] + 3.4 * math.sin(back))))
    return Lines(tuple(spans), _ARM)


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
    words = by_rule(radius)
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
        yield _arrow((x + start * ux, y + start * uy), tip)
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
