"""One piece with its dimensions: from above, and from the side."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from wadforms.families.base import Piece
from wadforms.families.flat import COUNTED
from wadforms.geometry.contour import Point
from wadforms.geometry.weakness import WeakPlace
from wadforms.templates import look
from wadforms.templates.drawing import Circle, Dimension, Drawing, Item, Text
from wadforms.templates.pieces import plan, side
from wadforms.templates.scale import chosen_scale, scale_bar, scale_words
from wadforms.templates.words import folded, is_round, measure, plan_size, shortened

_WIDTH: Final = 148.0  # A6 across, more or less [mm]
_MARGIN: Final = 10.0
_MARK: Final = 2.6  # radius of the mark of a weak place [mm]
_TURNS: Final = 8  # directions in which a number may stand off its mark
_ROOM_X: Final = 96.0
_ROOM_Y: Final = 76.0


def piece_picture(
    name: str, piece: Piece, *, facts: Sequence[str] = (), weak: Sequence[WeakPlace] = ()
) -> Drawing:
    """A small picture of one piece: plan above, side below, at one scale, with dimensions.

    Parameters
    ----------
    name : str
        Of the shape.
    piece : Piece
        At its set size.
    facts : sequence of str
        Further lines to stand under the name.
    weak : sequence of WeakPlace
        What is marked and told with its number.

    Examples
    --------
    >>> from wadforms.families import family
    >>> picture = piece_picture("disk-20", family("disk")(diameter=20).piece())
    >>> picture.title
    'disk-20, Ø 20 × 8 mm'
    """
    base = piece.body.base
    wide, deep = base.size
    scale = chosen_scale(max(wide / _ROOM_X, deep / _ROOM_Y, piece.height / 40.0), 1.0)
    width, depth, height = scale * wide, scale * deep, scale * piece.height
    told = [f"{k}: {place}" for k, place in enumerate(weak, 1)]
    if told:
        told.append(COUNTED)
    rows = [
        row for fact in (*facts, *told) for row in folded(fact, look.NOTE, _WIDTH - 2 * _MARGIN)
    ]
    head = 12.0 + 4.6 * (len(rows) + 1)
    total = 2 * _MARGIN + head + depth + height + 38.0
    top = total - _MARGIN
    size = f"{plan_size(piece.outline)} × {measure(piece.height)} mm"
    items: list[Item] = [
        Text((_MARGIN, top - 5.0), shortened(name, look.TITLE, 120.0), look.TITLE),
        Text((_MARGIN, top - 11.5), f"{size}, {scale_words(scale)}", look.NOTE),
    ]
    items += [Text((_MARGIN, top - 16.1 - 4.6 * k), row, look.NOTE) for k, row in enumerate(rows)]
    x = _WIDTH / 2
    plan_y = top - head - 8.0 - depth / 2
    items += plan(piece, (x, plan_y), scale)
    x0, y0, x1, y1 = base.bounds
    left, low, right, high = piece.outline.bounds
    dx, dy = x - scale * (x0 + x1) / 2, plan_y - scale * (y0 + y1) / 2
    items += _marks([(scale * p.at[0] + dx, scale * p.at[1] + dy) for p in weak])
    corners = [(scale * px + dx, scale * py + dy) for px, py in ((left, high), (right, high))]
    across = plan_size(piece.outline) if is_round(piece.outline) else measure(right - left)
    above = scale * (y1 - high) + 5.0
    items.append(Dimension(corners[0], corners[1], above, across, look.MEASURE, look.SMALL))
    if not is_round(piece.outline):
        ends = [(scale * right + dx, scale * py + dy) for py in (low, high)]
        beside = -(scale * (x1 - right) + 5.0)
        words = measure(high - low)
        items.append(Dimension(ends[0], ends[1], beside, words, look.MEASURE, look.SMALL))
    ground = plan_y - depth / 2 - 12.0 - height
    items += side(piece, (dx, ground), scale)
    edge = x + width / 2
    rise = ((edge, ground), (edge, ground + height))
    items.append(
        Dimension(*rise, -5.0, measure(piece.height), look.MEASURE, look.SMALL),
    )
    if wide - (right - left) > 0.05:
        foot = ((x + width / 2, ground), (x - width / 2, ground))
        words = f"base {measure(wide)}"
        items.append(_below(foot, words))
    items += scale_bar((_MARGIN, _MARGIN), scale, room=30.0)
    return Drawing(
        title=f"{name}, {size}",
        description=f"{name} from above and from the side, {scale_words(scale)}.",
        width=_WIDTH,
        height=total,
        items=tuple(items),
    )


def _marks(places: Sequence[Point]) -> Iterator[Item]:
    """Yield a numbered mark for each place, the numbers beside each other and beside all marks."""
    import shapely

    taken = [shapely.Point(*at).buffer(_MARK) for at in places]
    for k, (x, y) in enumerate(places, 1):
        yield Circle((x, y), _MARK, look.ALARM)
        for turn in range(_TURNS * 5):  # farther off with each round
            angle = math.tau * (turn % _TURNS + 1) / _TURNS
            far = 2.0 * _MARK + 0.5 + 2.0 * (turn // _TURNS)
            rise = look.STRONG.rise
            at = (x + far * math.cos(angle), y + far * math.sin(angle) - rise / 2)
            text = Text(at, str(k), look.STRONG, "middle")
            box = shapely.box(*text.box)
            if not any(box.intersects(other) for other in taken):
                break
        taken.append(box)
        yield text


def _below(ends: tuple[tuple[float, float], tuple[float, float]], words: str) -> Dimension:
    """A dimension line under a piece, with room above it for its text."""
    return Dimension(ends[0], ends[1], 7.0, words, look.MEASURE, look.SMALL)
