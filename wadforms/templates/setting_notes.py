"""The pages that follow a setting guide: the mark that will stay, and every place in numbers.

The mark is seen as the potter sees it, on the pot turned over sideways, so right and left are
exchanged.  It is schematic: where wads touch is computed, what the fire makes of it is not.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from wadforms import units
from wadforms.families.base import WET
from wadforms.geometry.contour import Point
from wadforms.geometry.outline import Outline
from wadforms.setting.arrangement import Spot
from wadforms.templates import look
from wadforms.templates.drawing import Circle, Drawing, Item, Lines, Region, Text
from wadforms.templates.paper import Paper
from wadforms.templates.scale import chosen_scale, scale_words
from wadforms.templates.setting_guide import foot_words, how_to
from wadforms.templates.setting_numbers import numbers
from wadforms.templates.setting_plan import curved_pot, turned_over
from wadforms.templates.setting_view import SettingView
from wadforms.templates.shading import hatch, outlines_of
from wadforms.templates.words import folded, shortened

HALO: Final = {True: 4.0, False: 1.5}
"""How wide the coloured surround of a wet (True) and of a dry or solid wad (False) is drawn [mm
on the pot]; schematic, no source."""

_PICTURE: Final = 104.0  # side of the picture [mm]
_GAP: Final = 6.0
_HEAD: Final = 16.0
_ROW: Final = 4.2
_COLUMNS: Final = (8.0, 15.0, 15.0, 14.0, 16.0, 13.0)  # of one block of the table [mm]
_TITLES: Final = ("no.", "x", "y", "r", "dir.", "next")
_KEY: Final = (
    "x runs to the right and y to the back from where the lines cross, r is the distance from "
    "there, next the distance to the next number in a straight line, all in mm between the centre "
    "crosses; dir. is the direction in degrees, counter-clockwise from the right."
)


def setting_notes(view: SettingView, *, paper: Paper) -> tuple[Drawing, ...]:
    """The mark that will stay and the places of the wads, on one page or several.

    Parameters
    ----------
    view : SettingView
        What was checked.
    paper : Paper
        What it is printed on.
    """
    rows = table_rows(view.spots)
    x0, y0, x1, y1 = paper.box
    title = f"Mark and places: {view.title}"
    items: list[Item] = [Text((x0, y1 - 5.0), shortened(title, look.TITLE, x1 - x0), look.TITLE)]
    items += [Text((x0, y1 - 11.5), shortened(view.subtitle, look.BODY, x1 - x0), look.BODY)]
    top = y1 - _HEAD
    middle = (x0 + _PICTURE / 2, top - _PICTURE / 2)
    scale = chosen_scale(2.0 * view.reach, _PICTURE - 12.0)
    items += the_mark(view, middle, scale)
    left = x0 + _PICTURE + _GAP
    lines, depth = _mark_words(view, x1 - left, scale)
    guide, further = how_to(view, x1 - left)
    lines += _shifted(guide[1:], 0.0, 6.0 - depth)  # the pot's name stands above
    items += _shifted(lines, left, top)
    pages = []
    level = top - max(_PICTURE, depth + further - 6.0) - _GAP
    while True:
        taken, table = _table(rows, (x0, level), x1 - x0, level - y0, _key(view))
        items += table
        pages.append(_page(paper, view, title, items))
        rows = rows[taken:]
        if not rows:
            return tuple(pages)
        items = [Text((x0, y1 - 5.0), shortened(title, look.TITLE, x1 - x0), look.TITLE)]
        level = top


def _page(paper: Paper, view: SettingView, title: str, items: Sequence[Item]) -> Drawing:
    return Drawing(
        title=title,
        description=f"{foot_words(view)}: where {len(view.spots)} {view.body} wads touch it, seen "
        "from below, and a table of their places.",
        width=paper.width,
        height=paper.height,
        items=tuple(items),
    )


def the_mark(view: SettingView, middle: Point, scale: float) -> Iterator[Item]:
    """Yield the mark as it is seen with the pot turned over sideways: x runs left.

    Where a wad touches is left white within a firm line, the coloured surround is hatched.

    Parameters
    ----------
    view : SettingView
        What was checked.
    middle : (float, float)
        Where the pot's middle comes to lie on the sheet [mm].
    scale : float
        Length on the sheet over true length.
    """
    import shapely

    at, placed = turned_over(middle, scale)
    for outline in view.foot:
        yield Region(placed(outline), look.FINE)
    yield from curved_pot(view, at, scale)
    patches = [placed(patch) for patch in view.patches]
    radius = max(0.8, scale * 1.0)  # of a touch in a point
    patches += [Outline.circle(radius, at(touch)) for touch in view.touches]
    if not patches:
        return
    forms = [patch.polygon(0.05) for patch in patches]
    together = shapely.union_all(forms)
    around = together.buffer(scale * HALO[view.body == WET]).difference(together)
    if view.foot:
        around = around.intersection(
            shapely.union_all([placed(f).polygon(0.05) for f in view.foot])
        )
    yield hatch(outlines_of(around), look.PATCH_HATCH, spacing=1.2)
    for patch in patches:
        if max(patch.size) < 1.2:  # a tip: a dot that can be seen
            x0, y0, x1, y1 = patch.bounds
            yield Circle(((x0 + x1) / 2, (y0 + y1) / 2), 0.7, look.SOLID_WHITE)
        else:
            yield Region(patch, look.SOLID_WHITE)
    wads = [placed(spot.place(view.piece.outline)).polygon(0.05) for spot in view.spots]
    cuts = [wad.intersection(together) for wad in wads]
    touched = [wad if cut.is_empty else cut for wad, cut in zip(wads, cuts, strict=True)]
    edges = [placed(outline).polygon(0.05).boundary for outline in view.foot]
    yield from numbers(touched, middle, shapely.union_all(edges))
    reach = scale * view.reach
    yield Text((middle[0], middle[1] - reach - 9.0), "front", look.STRONG, "middle")


def _shifted(texts: Sequence[Text], dx: float, dy: float) -> list[Text]:
    return [replace(text, at=(text.at[0] + dx, text.at[1] + dy)) for text in texts]


def _mark_words(view: SettingView, width: float, scale: float) -> tuple[list[Text], float]:
    """What the picture shows, in words from (0, 0) down, and how high they are [mm]."""
    area = units.show(sum(patch.area for patch in view.patches), "mm2")
    count = len(view.spots)
    seen = (
        "Seen on the pot turned over sideways: what stands on the right on the shelf shows on the "
        "left here."
    )
    drawn = scale_words(scale)
    if view.touches:
        along = ", along a rail a pale line" if view.kind == "side" else ""
        what = f"It is held in {len(view.touches)} places, each a pale spot{along}."
    elif view.body == WET:
        what = (
            f"Wet wads bed to the pot, so each of the {count} leaves a pale patch where it "
            f"touches, {area} in all as set."
        )
    elif view.piece.tips:
        what = f"Each tip leaves a pale point; together they touch {area} as set."
    else:
        what = (
            f"{view.body.capitalize()} wads stay hard: each touches up to the patch shown, "
            f"{area} in all as set, and on an uneven shelf three of them first, so some may "
            "mark less."
        )
    fire = {
        True: "Around it steam and vapour colour the clay in a broad surround with a soft edge.",
        False: "Around it flame and vapour colour the clay up to a narrow ring with a firm edge.",
    }[view.body == WET]
    rows = [
        ("The mark that will stay", look.HEADING),
        (seen, look.SMALL),
        (f"{drawn[0].upper()}{drawn[1:]}.", look.SMALL),
        (f"White: {what[0].lower()}{what[1:]}", look.SMALL),
        (f"Hatched: {fire[0].lower()}{fire[1:]}", look.SMALL),
        (
            "Where it touches is computed. The colours are common practice, without a source, and "
            "their width is a sketch: clay, ash and place in the kiln decide.",
            look.SMALL_NOTE,
        ),
    ]
    found, y = [], -4.0
    for words, lettering in rows:
        for line in folded(words, lettering, width):
            found.append(Text((0.0, y), line, lettering))
            y -= 4.6
        y -= 1.6
    return found, -y


def table_rows(spots: Sequence[Spot]) -> list[tuple[str, ...]]:
    """The places of wads as words: number, x, y, radius, direction, way to the next.

    Parameters
    ----------
    spots : sequence of Spot
        In the order of their numbers [mm, deg].

    Examples
    --------
    >>> table_rows([Spot(30.0, 0.0), Spot(0.0, -40.0)])
    [('1', '30.0', '0.0', '30.0', '0.0', '50.0'), ('2', '0.0', '-40.0', '40.0', '270.0', '50.0')]
    """
    following = [*spots[1:], spots[0]]
    rows = []
    for k, (spot, other) in enumerate(zip(spots, following, strict=True), 1):
        direction = round(math.degrees(math.atan2(spot.y, spot.x)), 1) % 360.0
        away = math.dist((spot.x, spot.y), (other.x, other.y))
        values = [spot.x, spot.y, spot.radius]
        values += [direction if spot.radius > 0.05 else 0.0, away]
        words = [f"{round(v, 1) + 0.0:.1f}" for v in values]
        rows.append((str(k), *words[:-1], words[-1] if len(spots) > 1 else ""))
    return rows


def _key(view: SettingView) -> str:
    """What the columns of the table mean."""
    if view.spacing is None or len(view.spots) < 3:
        return _KEY
    spacing = units.show(view.spacing, "mm")
    return f"{_KEY} The spacing that was checked, {spacing}, runs along the circle and is longer."


def _table(
    rows: Sequence[tuple[str, ...]], corner: Point, width: float, height: float, key: str
) -> tuple[int, list[Item]]:
    """As many rows as there is room for, in blocks side by side, and how many those are."""
    x, y = corner
    items: list[Item] = [Text((x, y - 4.0), "Setting without the sheet", look.HEADING)]
    low = y - 9.5
    for line in folded(key, look.SMALL_NOTE, width):
        items.append(Text((x, low), line, look.SMALL_NOTE))
        low -= 4.4
    blocks = int((width + _GAP) / (sum(_COLUMNS) + _GAP))
    room = int((low - (y - height)) / _ROW) - 1
    each = min(room, max(6, math.ceil(len(rows) / blocks)))
    taken = 0
    for block in range(blocks):
        part = rows[taken : taken + each]
        if not part:
            break
        left = x + block * (sum(_COLUMNS) + _GAP)
        level = low - 2.0
        right = left + sum(_COLUMNS)
        items += _row(_TITLES, left, level, bold=True)
        items.append(Lines((((left, level - 1.4), (right, level - 1.4)),), look.FINE))
        for row in part:
            level -= _ROW if level < low - 2.0 else _ROW + 1.2
            items += _row(row, left, level, bold=False)
        taken += len(part)
    return taken, items


def _row(cells: Sequence[str], left: float, y: float, *, bold: bool) -> Iterator[Text]:
    x = left
    for width, cell in zip(_COLUMNS, cells, strict=True):
        x += width
        yield Text((x, y), cell, look.STRONG if bold else look.SMALL, "end")
