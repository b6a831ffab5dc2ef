"""The strip at the foot of each of several sheets: what it is, which part, and how to print it.

Nothing of the drawing is in the strip, so that its words and its map lie over nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.templates import look, proof
from wadforms.templates.drawing import Arc, Circle, Drawing, Item, Region, Style, Text
from wadforms.templates.placing import Box, placed
from wadforms.templates.words import fitted, shortened

HEIGHT: Final = 28.0
"""Of the strip [mm]."""

_MAP: Final = (36.0, HEIGHT - 3.0)  # the most that the map takes [mm]
_WORDS: Final = 150.0  # what the words need; a narrower sheet has no room for the map [mm]
_HERE: Final = Style("here", look.INK, 0.5, look.TONE)
_MINIATURE: Final = Style("miniature", look.SOFT, 0.13)


def strip_words(
    title: str, where: str, notes: str, corner: Point, width: float, corrected: str | None
) -> Iterator[Item]:
    """Yield the words, with the 4 in line below them.

    Parameters
    ----------
    title : str
        What the drawing is.
    where : str
        Which part of it the sheet is; empty where it is all.
    notes : str
        How the sheets are joined; empty where there is nothing to join.
    corner : (float, float)
        Lower left of the strip [mm].
    width : float
        What the words may take [mm].
    corrected : str or None
        What a sheet says that makes up for a print that was not true.
    """
    x, y = corner
    yield proof.four_inches(corner, look.FINE)
    yield Text((x + proof.FOUR_INCHES + 1.2, y + 0.4), "4 in", fitted("4 in", look.SMALL, 9.0))
    how = [proof.PRINT, f"{proof.EACH_WAY} It is no part of the drawing."]
    if corrected is not None:
        how = [f"{proof.PRINT_AGAIN} {proof.EACH_WAY}", corrected]
    rows = zip((13.6, 9.4, 5.2), (notes, *how), strict=True)
    for low, words in rows:
        if words:
            yield Text((x, y + low), words, fitted(words, look.SMALL, width))
    if where:
        yield Text((x, y + 18.2), where, fitted(where, look.BODY, width))
    yield Text((x, y + 23.2), shortened(title, look.HEADING, width), look.HEADING)


def words_width(width: float) -> float:
    """What the words may take of a strip that is `width` wide [mm].

    Examples
    --------
    >>> words_width(190.0), words_width(120.0)
    (152.0, 120.0)
    """
    return width - _MAP[0] - 2.0 if _has_map(width) else width


def _has_map(width: float) -> bool:
    return width >= _WORDS + _MAP[0] + 2.0


def strip_map(
    whole: Drawing, cells: dict[tuple[int, int], Box], here: tuple[int, int], box: Box
) -> Iterator[Item]:
    """Yield all sheets side by side with the drawing on them, and one marked.

    Parameters
    ----------
    whole : Drawing
        All that the sheets show.
    cells : dict
        What each sheet, by row and column, shows of it alone [mm].
    here : (int, int)
        Row and column of the marked one.
    box : tuple of float
        Of the strip: smallest x, smallest y, largest x, largest y [mm].
    """
    if not _has_map(box[2] - box[0]):
        return
    factor = min(_MAP[0] / whole.width, _MAP[1] / whole.height)
    left = box[2] - whole.width * factor
    low = box[1] + (_MAP[1] - whole.height * factor) / 2
    for place in (*(place for place in cells if place != here), here):
        x0, y0, x1, y1 = cells[place]
        points = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
        cell = Outline(Contour.polygon(points)).scaled(factor).moved(left, low)
        yield Region(cell, _HERE if place == here else look.HAIR)
    for item in whole.primitives():
        small = placed(item, factor=factor, move=(left, low))
        if isinstance(small, Region | Circle | Arc):
            yield replace(small, style=_MINIATURE)
