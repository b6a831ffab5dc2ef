"""The scale that a picture is drawn to, in words and as a bar."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.templates import look
from wadforms.templates.drawing import Item, Region, Style, Text
from wadforms.templates.words import measure

_STEPS: Final = (1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0)
_BARS: Final = (10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)


def chosen_scale(true: float, room: float, *, largest: float = 2.0) -> float:
    """The largest plain scale at which a length fits.

    Parameters
    ----------
    true : float
        Length to be shown [mm].
    room : float
        What it may take on the sheet [mm].
    largest : float
        No scale above this one, length on the sheet over true length.

    Examples
    --------
    >>> chosen_scale(200, 100), chosen_scale(450, 100), chosen_scale(30, 100)
    (0.5, 0.2, 2.0)
    """
    steps = [1.0 / (step * ten) for ten in (1.0, 10.0, 100.0) for step in _STEPS] + [*_STEPS]
    fitting = [s for s in steps if s <= largest and s * true <= room + 1e-9]
    return max(fitting, default=room / true)


def scale_words(scale: float) -> str:
    """The scale in words.

    Examples
    --------
    >>> scale_words(1.0), scale_words(0.4), scale_words(2.0)
    ('at true size', 'at 1 : 2.5', 'at 2 : 1')
    """
    if abs(scale - 1.0) < 1e-9:
        return "at true size"
    return f"at {scale:.3g} : 1" if scale > 1.0 else f"at 1 : {1.0 / scale:.3g}"


def scale_bar(corner: Point, scale: float, *, room: float = 60.0) -> Iterator[Item]:
    """Yield a bar of a plain true length, in two halves, with the length beside it.

    Parameters
    ----------
    corner : (float, float)
        Its lower left on the sheet [mm].
    scale : float
        Length on the sheet over true length.
    room : float
        What the bar may take on the sheet [mm].
    """
    x, y = corner
    true = max((bar for bar in _BARS if bar * scale <= room), default=_BARS[0])
    half = true * scale / 2
    for k, fill in enumerate((look.INK, look.WHITE)):
        left = x + k * half
        points = [(left, y), (left + half, y), (left + half, y + 1.6), (left, y + 1.6)]
        style = Style("scale bar", look.INK, 0.18, fill)
        yield Region(Outline(Contour.polygon(points)), style)
    yield Text((x + 2 * half + 2.0, y - 0.3), f"{measure(true)} mm", look.SMALL)
