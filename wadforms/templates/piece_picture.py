"""One piece with its dimensions: from above, and from the side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from wadforms.families.base import Piece
from wadforms.templates import look
from wadforms.templates.drawing import Dimension, Drawing, Item, Text
from wadforms.templates.pieces import plan, side
from wadforms.templates.scale import chosen_scale, scale_bar, scale_words
from wadforms.templates.words import folded, is_round, measure, plan_size, shortened

_WIDTH: Final = 148.0  # A6 across, more or less [mm]
_MARGIN: Final = 10.0
_ROOM_X: Final = 96.0
_ROOM_Y: Final = 76.0


def piece_picture(name: str, piece: Piece, *, facts: Sequence[str] = ()) -> Drawing:
    """A small picture of one piece: plan above, side below, at one scale, with dimensions.

    Parameters
    ----------
    name : str
        Of the shape.
    piece : Piece
        At its set size.
    facts : sequence of str
        Further lines to stand under the name.

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
    rows = [row for fact in facts for row in folded(fact, look.NOTE, _WIDTH - 2 * _MARGIN)]
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


def _below(ends: tuple[tuple[float, float], tuple[float, float]], words: str) -> Dimension:
    """A dimension line under a piece, with room above it for its text."""
    return Dimension(ends[0], ends[1], 7.0, words, look.MEASURE, look.SMALL)
