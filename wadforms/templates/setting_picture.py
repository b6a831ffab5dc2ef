"""A picture of one checked setting: from below, from the side, and what the check says."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.setting.assessment import SOUND, TIGHT_WORD
from wadforms.templates import look
from wadforms.templates.drawing import Circle, Drawing, Item, Lines, Region, Text
from wadforms.templates.scale import scale_words
from wadforms.templates.setting_plan import centre_mark, from_below, plan_height, plan_scale
from wadforms.templates.setting_side import from_the_side, side_height, side_scale
from wadforms.templates.setting_view import Row, SettingView
from wadforms.templates.shading import hatch
from wadforms.templates.words import folded, shortened

_WIDTH: Final = 297.0  # A4 across, or higher where there is much to say [mm]
_MARGIN: Final = 14.0
_COLUMN: Final = 68.0  # of words and numbers, on the right
_PLAN: Final = (14.0, 119.0)  # from x to x on the sheet
_SIDE: Final = (124.0, 203.0)
_TALLEST: Final = 124.0  # of pot and wads as drawn
_HEAD: Final = 24.0
_CAPTION: Final = 8.0
_KEY: Final = 12.0


def setting_picture(view: SettingView) -> Drawing:
    """Draw a checked setting.

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.setting.arrangement import Arrangement, circle
    >>> from wadforms.setting.checks import check
    >>> from wadforms.setting.feet import RingFoot
    >>> from wadforms.setting.mixes import mix
    >>> from wadforms.setting.pot import Pot, Setting
    >>> from wadforms.templates.setting_view import setting_view
    >>> bowl = Pot(mass=380.0, foot=RingFoot(50.0, 5.0), height=60.0)
    >>> wads = Arrangement(family("disk")(diameter=10).piece(), tuple(circle(3, 22.5)))
    >>> asked = Setting(pot=bowl, arrangement=wads, body="dry", mix=mix("open"))
    >>> view = setting_view(asked, check(asked), title="Tea bowl", shape="disk-10")
    >>> setting_picture(view).title
    'Tea bowl on 3 × disk-10 on a circle of radius 22.5 mm: sound'
    """
    column, needed = _column(view)
    below = plan_scale(view, _PLAN[1] - _PLAN[0])
    beside = side_scale(view, _SIDE[1] - _SIDE[0], _TALLEST)
    room = max(plan_height(view, below), side_height(view, beside))
    height = 2 * _MARGIN + max(_HEAD + _CAPTION + room + _KEY, needed)
    top = height - _MARGIN
    ceiling, floor = top - _HEAD - _CAPTION, _MARGIN + _KEY
    items: list[Item] = [
        Text((_MARGIN, top - 5.0), shortened(view.title, look.TITLE, 186.0), look.TITLE),
        Text((_MARGIN, top - 11.5), shortened(view.subtitle, look.BODY, 186.0), look.BODY),
    ]
    items += _caption((_PLAN[0], top - _HEAD), "From below", scale_words(below))
    middle = ((_PLAN[0] + _PLAN[1]) / 2, (ceiling + floor) / 2)
    items += from_below(view, middle, below)
    seen = scale_words(beside) + (", along the edge it tips over" if view.lean else "")
    items += _caption((_SIDE[0], top - _HEAD), "From the side", seen)
    items += from_the_side(view, _SIDE, (ceiling, floor), beside)
    items += _key(view)
    x = _WIDTH - _MARGIN - _COLUMN - 8.0
    items.append(Lines((((x, _MARGIN), (x, top)),), look.RULE))
    items += _moved(column, top)
    what = view.subtitle.split(",")[0]
    numbers = "; ".join(f"{row.name} {row.value}, {row.limit}" for row in view.rows)
    return Drawing(
        title=f"{view.title} on {what}: {view.verdict}",
        description=f"The setting from below and from the side. Verdict: {view.verdict}. "
        f"{numbers}.",
        width=_WIDTH,
        height=height,
        items=tuple(items),
    )


def _caption(place: Point, words: str, scale: str) -> Iterator[Item]:
    x, y = place
    yield Text((x, y), words, look.HEADING)
    yield Text((x, y - 4.8), scale, look.NOTE)


def _column(view: SettingView) -> tuple[list[Item], float]:
    """The words and numbers, downward from y = 0, and how much room they take [mm]."""
    x, right = _WIDTH - _MARGIN - _COLUMN, _WIDTH - _MARGIN
    y = -5.0
    items: list[Item] = [*verdict_mark((x + 3.0, y + 2.0), view.verdict)]
    items.append(Text((x + 9.0, y), view.verdict, look.TITLE))
    y -= 8.5
    for line in folded(view.reason, look.BODY, _COLUMN):
        items.append(Text((x, y), line, look.BODY))
        y -= 4.8
    y -= 3.0
    for name, value in view.facts:
        items.append(Text((x, y), name, look.NOTE))
        items.append(Text((right, y), value, look.SMALL, "end"))
        y -= 4.8
    y -= 3.0
    for row in view.rows:
        for line in folded(row.name, look.NOTE, _COLUMN):
            items.append(Text((x, y), line, look.NOTE))
            y -= 4.6
        words = row.limit if row.verdict == SOUND else f"{row.limit}: {row.verdict}"
        room = _COLUMN - look.STRONG.width(row.value) - 2.0
        items.append(Text((right, y), words, look.SMALL, "end"))
        if look.SMALL.width(words) > room:
            y -= 4.8  # no room beside them: the value stands below
        items += _row(row, x, y)
        y -= 9.0
    for remark in view.remarks:
        items.append(Circle((x + 0.8, y + 1.0), 0.5, look.SOLID))
        for line in folded(remark, look.NOTE, _COLUMN - 4.0):
            items.append(Text((x + 4.0, y), line, look.NOTE))
            y -= 4.4
        y -= 1.4
    return items, -y


def _row(row: Row, x: float, y: float) -> Iterator[Item]:
    """Yield one value with a bar for the part of its limit that is used."""
    yield Text((x, y), row.value, look.STRONG)
    full = _COLUMN * 0.8  # the limit itself; the rest of the bar shows what exceeds it
    reach = min(max(row.used, 0.0), 1.25) * full
    low, high = y - 3.2, y - 1.8
    yield Region(_box(x, low, x + _COLUMN, high), look.TRACK)
    if reach > 0.0:
        yield Region(_box(x, low, x + reach, high), look.GAUGE)
    yield Lines((((x + full, low - 0.8), (x + full, high + 0.8)),), look.EDGE)


def _box(x0: float, y0: float, x1: float, y1: float) -> Outline:
    return Outline(Contour.polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]))


def verdict_mark(centre: Point, verdict: str) -> Iterator[Item]:
    """Yield a mark whose form tells the verdict: a disk, a triangle, or a crossed square.

    Parameters
    ----------
    centre : (float, float)
        On the sheet [mm].
    verdict : str
        ``"sound"``, ``"tight"`` or ``"unsafe"``.
    """
    (x, y), r = centre, 2.6
    if verdict == SOUND:
        yield Circle(centre, r, look.SOLID)
    elif verdict == TIGHT_WORD:
        points = [(x - 1.15 * r, y - r), (x + 1.15 * r, y - r), (x, y + r)]
        yield Region(Outline(Contour.polygon(points)), look.EDGE)
        yield Lines((((x, y - 0.6), (x, y + 0.9)), ((x, y - 1.7), (x, y - 1.3))), look.EDGE)
    else:
        yield Region(_box(x - r, y - r, x + r, y + r), look.ALARM)
        d = r * 0.55
        cross = (((x - d, y - d), (x + d, y + d)), ((x - d, y + d), (x + d, y - d)))
        yield Lines(cross, look.ALARM)


def _key(view: SettingView) -> Iterator[Item]:
    """Yield what the lines and shades of the plan mean."""
    x, y = _MARGIN, _MARGIN
    entries = [("wad", "wad"), ("centre of gravity", "centre")]
    if view.patches:
        entries.insert(0, ("where they touch", "patch"))
    if view.touches:
        entries.insert(0, ("where it touches", "touch"))
    if view.foot:
        entries.insert(0, ("foot", "foot"))
    if len(view.support) > 2:
        entries.append(("support", "support"))
    for words, kind in entries:
        box = _box(x, y - 0.8, x + 4.4, y + 2.4)
        match kind:
            case "foot":
                yield Region(box, look.FOOT)
            case "patch":
                yield Region(box, look.PATCH)
                yield hatch([box], look.PATCH_HATCH, spacing=0.9)
            case "wad":
                yield Region(box, look.WAD)
            case "touch":
                yield Circle((x + 2.2, y + 0.8), 0.9, look.SPOT)
            case "support":
                yield Lines((((x, y + 0.8), (x + 5.4, y + 0.8)),), look.DASHED)
            case _:
                yield from centre_mark((x + 2.2, y + 0.8))
        yield Text((x + 6.6, y - 0.2), words, look.SMALL)
        x += 6.6 + look.SMALL.width(words) + 4.0


def _moved(items: list[Item], dy: float) -> Iterator[Item]:
    """Yield the items of the column, `dy` higher."""
    for item in items:
        match item:
            case Text((x, y), text, lettering, anchor):
                yield Text((x, y + dy), text, lettering, anchor)
            case Region(outline, style):
                yield Region(outline.moved(0.0, dy), style)
            case Circle((x, y), radius, style):
                yield Circle((x, y + dy), radius, style)
            case Lines(spans, style):
                up = tuple(((a, b + dy), (c, d + dy)) for (a, b), (c, d) in spans)
                yield Lines(up, style)
