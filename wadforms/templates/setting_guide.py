"""The setting guide: a sheet at full size to lay on the shelf, with every wad in its place.

Black lines on white, nothing filled.  Two long lines cross in the pot's middle and end in ticks
at the edges, so that the sheets of one level can be laid over those of another.  The pages that
follow it are in `setting_notes`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from wadforms.geometry.contour import Point
from wadforms.geometry.outline import Outline
from wadforms.setting.assessment import SOUND
from wadforms.templates import look, proof
from wadforms.templates.drawing import Circle, Cross, Drawing, Item, Lettering, Lines, Region, Text
from wadforms.templates.paper import Paper
from wadforms.templates.placing import Box
from wadforms.templates.setting_numbers import again, numbers
from wadforms.templates.setting_view import SettingView
from wadforms.templates.tiles import OVERLAP, drawn_box, grid
from wadforms.templates.words import folded, measure, plan_size, shortened

_ASIDE: Final = (2.5, 30.0)  # least and most that a line runs on to the right and left [mm]
_AHEAD: Final = (10.0, 30.0)  # the same to the front and back, where "front" is written [mm]
_TICK: Final = 8.0  # length of the ticks at the ends of the lines [mm]
_INSET: Final = 0.4  # what ends at the edge of a large drawing stays inside with its width [mm]
_GAP: Final = 5.0
_LEAST_WORDS: Final = 60.0  # width of the words beside the square [mm]
_WORDS: Final = 3.0  # between the frame of a sheet and words [mm]
_LINE: Final = 4.8  # from baseline to baseline [mm]


def setting_guide(
    view: SettingView, *, paper: Paper, square: bool = True, corrected: str | None = None
) -> Drawing:
    """The sheet for the shelf, at full size, however large it becomes.

    With its square it has the size of the paper where it fits one sheet.  Else it is as large
    as it needs to be, and its lines run as far beyond the foot as can be without a further sheet.

    Parameters
    ----------
    view : SettingView
        What was checked.
    paper : Paper
        What it will be printed on.
    square : bool
        Whether it has a square of its own that proves the scale, and all words beside it.  Tiles
        bring their square, and the pages that follow the words.
    corrected : str or None
        What a sheet says that makes up for a printer that is not true.

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.setting.arrangement import Arrangement, circle
    >>> from wadforms.setting.checks import check
    >>> from wadforms.setting.feet import RingFoot
    >>> from wadforms.setting.mixes import mix
    >>> from wadforms.setting.pot import Pot, Setting
    >>> from wadforms.templates.paper import paper
    >>> from wadforms.templates.setting_view import setting_view
    >>> bowl = Pot(mass=380.0, foot=RingFoot(50.0, 5.0), height=60.0)
    >>> wads = Arrangement(family("disk")(diameter=10).piece(), tuple(circle(3, 22.5)))
    >>> asked = Setting(pot=bowl, arrangement=wads, body="dry", mix=mix("open"))
    >>> view = setting_view(asked, check(asked), title="Tea bowl", shape="disk-10")
    >>> sheet = setting_guide(view, paper=paper("either"))
    >>> sheet.title, sheet.width, sheet.height
    ('Setting guide: Tea bowl on 3 × disk-10', 210.0, 279.4)
    """
    x0, y0, x1, y1 = _extent(view)
    wide, high = x1 - x0, y1 - y0
    seen = paper.box if square else drawn_box(paper)
    box = (seen[2] - seen[0], seen[3] - seen[1])
    beside = proof.WIDTH + _GAP if square else _WORDS
    across = _room(max(wide + 2 * _ASIDE[0], beside + _LEAST_WORDS), box[0])
    aside = min(_ASIDE[1], (across - wide) / 2)
    width = max(wide + 2 * aside, beside + _LEAST_WORDS)
    if across <= box[0]:
        width = across  # one sheet wide: the words may have all of it
    if square:
        words, below = how_to(view, width - beside - 2 * _INSET)
        below = max(proof.HEIGHT, below) + _GAP
    else:  # tiles show the drawing in the middle of them all; no line shall run into a second one
        words, below = _short_words(view, box[0] - (across - width) / 2 - OVERLAP - _WORDS)
        below += _GAP
    up = _room(high + 2 * _AHEAD[0] + below, box[1])
    ahead = min(_AHEAD[1], (up - below - high) / 2)
    height = high + 2 * ahead + below
    size, (left, low) = (width, height), (_INSET, _INSET)
    middle = (width / 2 - (x0 + x1) / 2, (height + below) / 2 - (y0 + y1) / 2)
    if square and width <= box[0] + 1e-9 and height <= box[1] + 1e-9:
        size, (left, low) = (paper.width, paper.height), paper.box[:2]
        middle = (middle[0] + left + (box[0] - width) / 2, middle[1] + low + (box[1] - height) / 2)
    aside, ahead = aside - _INSET, ahead - _INSET
    lines = _crossing(middle, (x0 - aside, y0 - ahead, x1 + aside, y1 + ahead))
    sheets = () if square else _sheets(size, paper)
    items = [*_stack_lines(middle, lines), *_plan(view, middle, lines, sheets)]
    if square:
        items += [*proof.proof((left, low)), *proof.instructions((left, low), corrected)]
    for text in words:
        at = (left + beside + text.at[0], low + below - _GAP + text.at[1])
        items.append(Text(at, text.text, text.lettering))
    return Drawing(
        title=f"Setting guide: {view.title} on {len(view.spots)} × {view.shape}",
        description=f"{foot_words(view)} and {len(view.spots)} wads, {view.body}, at full size. "
        f"The check says: {view.verdict}.",
        width=size[0],
        height=size[1],
        items=tuple(items),
    )


def _sheets(size: tuple[float, float], paper: Paper) -> tuple[Box, ...]:
    """What each of the sheets shows of a drawing of that size, which lies in their middle [mm]."""
    taken = grid(*size, paper=paper)
    dx, dy = ((all_ - side) / 2 for all_, side in zip(taken.size, size, strict=True))
    return tuple((x0 - dx, y0 - dy, x1 - dx, y1 - dy) for x0, y0, x1, y1 in taken.boxes)


def _extent(view: SettingView) -> tuple[float, float, float, float]:
    """Smallest and largest x and y of foot and wads, the axis among them [mm]."""
    shown = [*view.foot, *(spot.place(view.piece.body.base) for spot in view.spots)]
    bounds = [(0.0, 0.0, 0.0, 0.0), *(outline.bounds for outline in shown)]
    return (
        min(b[0] for b in bounds),
        min(b[1] for b in bounds),
        max(b[2] for b in bounds),
        max(b[3] for b in bounds),
    )


def _room(needed: float, box: float) -> float:
    """What the fewest sheets offer that hold a length, each laid over the last [mm]."""
    sheets = max(1, math.ceil((needed - OVERLAP) / (box - OVERLAP) - 1e-9))
    return sheets * (box - OVERLAP) + OVERLAP


def foot_words(view: SettingView) -> str:
    """What stands on the wads, in words.

    Parameters
    ----------
    view : SettingView
        What was checked.
    """
    if view.ball_radius:
        return f"Round bottom, sphere Ø {measure(2 * view.ball_radius)} mm"
    if view.belly_radius:
        return f"Pot on its side, belly Ø {measure(2 * view.belly_radius)} mm"
    what = "Ledge of the gallery" if view.kind == "gallery" else f"Foot, {view.kind}"
    return f"{what}, {plan_size(view.foot[0])} mm"


def how_to(view: SettingView, width: float) -> tuple[list[Text], float]:
    """What the sheet shows and how it is used, from (0, 0) down, and how high that is [mm].

    Parameters
    ----------
    view : SettingView
        What was checked.
    width : float
        What a line may take [mm].
    """
    where = "in the gallery" if view.kind == "gallery" else "on the shelf"
    dashed = {"side": "the pot's axis", "round": "where the pot touches", "gallery": "the ledge"}
    found = [Text((0.0, -4.6), shortened(view.title, look.TITLE, width), look.TITLE)]
    rows = [
        _what(view),
        (foot_words(view), look.SMALL),
        (f"Wads as set, {plan_size(view.piece.body.base)} mm at the base", look.SMALL),
        (f"Lay it {where}, front to the front: each wad stands in its firm line.", look.SMALL),
        ("Or cut the wads out, set them in the openings and lift the sheet off.", look.SMALL),
        (f"Dashed: {dashed.get(view.kind, 'the foot')}.", look.SMALL),
        ("In a stack, lay the crossing lines of all levels over each other.", look.SMALL),
        *_unsound(view),
    ]
    lines, depth = _down(rows, width, -12.5)
    return found + lines, depth


def _short_words(view: SettingView, width: float) -> tuple[list[Text], float]:
    return _down([_what(view), *_unsound(view)], width, -4.0)


def _what(view: SettingView) -> tuple[str, Lettering]:
    return f"{len(view.spots)} × {view.shape}, {view.body}", look.STRONG


def _unsound(view: SettingView) -> Iterator[tuple[str, Lettering]]:
    if view.verdict != SOUND:
        yield f"The check says {view.verdict}: {view.reason}.", look.STRONG


def _down(
    rows: Iterable[tuple[str, Lettering]], width: float, y: float
) -> tuple[list[Text], float]:
    """Rows of words folded to a width, from `y` down, and where they end below 0 [mm]."""
    found = []
    for words, lettering in rows:
        for line in folded(words, lettering, width):
            found.append(Text((0.0, y), line, lettering))
            y -= _LINE
        y -= 1.0
    return found, -y


def _crossing(
    middle: Point, ends: tuple[float, float, float, float]
) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """The two lines through the stack's axis: to the right, and to the back."""
    x, y = middle
    across = ((x + ends[0], y), (x + ends[2], y))
    return across, ((x, y + ends[1]), (x, y + ends[3]))


def _stack_lines(
    middle: Point, lines: tuple[tuple[Point, Point], tuple[Point, Point]]
) -> Iterator[Item]:
    """Yield the lines that levels are aligned by, their ticks, and which side is the front."""
    (x, y), half = middle, _TICK / 2
    yield Lines(lines, look.CENTRE)
    ticks = [((end[0], y - half), (end[0], y + half)) for end in lines[0]]
    ticks += [((x - half, end[1]), (x + half, end[1])) for end in lines[1]]
    yield Lines(tuple(ticks), look.EDGE)
    yield Text((x + 2.0, lines[1][0][1] + 2.0), "front", look.STRONG)


def _plan(
    view: SettingView,
    middle: Point,
    lines: Sequence[tuple[Point, Point]],
    sheets: Sequence[Box],
) -> Iterator[Item]:
    """Yield foot and wads from above, at full size, the numbers off the `lines`."""
    import shapely

    x, y = middle
    for outline in view.foot:
        yield Region(outline.moved(x, y), look.DASHED)
    if view.belly_radius:
        start, end = _axis(view, middle)
        yield Lines(((start, end),), look.DASHED)
        yield Text((end[0] - 3.0, end[1] + 1.2), "axis", look.SMALL, "end")
    circles = list(_circles(view))
    for radius in circles:
        yield Circle(middle, radius, look.DASHED if view.ball_radius else look.CENTRE)
    base, top = view.piece.body.base, view.piece.outline
    bases = [spot.place(base).moved(x, y) for spot in view.spots]
    for spot, outline in zip(view.spots, bases, strict=True):
        yield Region(outline, look.EDGE)
        if base != top:
            yield Region(spot.place(top).moved(x, y), look.FINE)
        yield Cross((x + spot.x, y + spot.y), cross_size(base), look.FINE)
    tops = [spot.place(top) for spot in view.spots] if base != top else []
    rings = [Outline.circle(radius) for radius in circles]
    marks = [Cross((x + s.x, y + s.y), cross_size(base), look.FINE) for s in view.spots]
    spans = [*lines, *(span for mark in marks for part in mark.parts() for span in part.spans)]
    edges = [o.moved(x, y).polygon(0.05).boundary for o in (*view.foot, *tops, *rings)]
    forms = [outline.polygon(0.05) for outline in bases]
    ink = shapely.union_all([*edges, *(shapely.LineString(span) for span in spans)])
    told = list(
        numbers(
            forms,
            middle,
            ink,
            crosses=[mark.centre for mark in marks],
            cross=cross_size(base),
            within=(lines[0][0][0], lines[1][0][1], lines[0][1][0], lines[1][1][1]),
        )
    )
    yield from told
    yield from again(forms, told, sheets, ink)


def _circles(view: SettingView) -> Iterator[float]:
    """Yield the radii of the circles that three wads or more stand on [mm]."""
    radii = [round(spot.radius, 1) for spot in view.spots]
    for radius in sorted(set(radii)):
        if radius > 1.0 and radii.count(radius) > 2 and not view.belly_radius:
            yield next(s.radius for s in view.spots if round(s.radius, 1) == radius)


def _axis(view: SettingView, middle: Point) -> tuple[Point, Point]:
    """The axis of a pot on its side, as far as the wads reach and a little on."""
    ux, uy = -view.across[1], view.across[0]
    outlines = [spot.place(view.piece.body.base) for spot in view.spots]
    along = [
        a * ux + b * uy
        for x0, y0, x1, y1 in (outline.bounds for outline in outlines)
        for a in (x0, x1)
        for b in (y0, y1)
    ]
    low, high = min(along), max(along)
    x, y = middle
    return (x + low * ux, y + low * uy), (x + high * ux, y + high * uy)


def cross_size(base: Outline) -> float:
    """Length of the lines of a wad's centre cross [mm].

    Examples
    --------
    >>> cross_size(Outline.circle(20)), cross_size(Outline.circle(4))
    (6.0, 3.2)
    """
    return min(6.0, max(2.0, 0.4 * min(base.size)))
