"""The square and the line that tell whether a print is true to scale."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.templates import look
from wadforms.templates.drawing import Item, Lines, Region, Style, Text

SQUARE: Final = 100.0
"""Side of the square, from line middle to line middle [mm]."""
FOUR_INCHES: Final = 4 * 25.4
"""Length of the line for those who have a ruler in inches [mm]."""
WIDTH: Final = FOUR_INCHES
HEIGHT: Final = SQUARE + 6.0
"""What square and line take up together [mm]."""
_CORNER: Final = 4.0  # length of the lines at the corners of a dotted square [mm]
PRINT: Final = "Print at 100 %, no scaling, then measure the square:"
PRINT_AGAIN: Final = "Print just as before, then measure the square:"
EACH_WAY: Final = "100 mm each way between the middles of its lines."
"""How a sheet is printed, the first time or to make up for an untrue print, and measured."""


def proof(corner: Point, style: Style = look.CUT) -> Iterator[Item]:
    """Yield the 100 mm square with the 4 in line under it.

    Parameters
    ----------
    corner : (float, float)
        Lower left of both together [mm].
    style : Style
        Of their lines.
    """
    x, y = corner
    yield square((x, y + HEIGHT - SQUARE), style)
    yield four_inches(corner, style)
    yield Text((x + FOUR_INCHES / 2, y + 2.4), "4 in", look.SMALL, "middle")


def square(corner: Point, style: Style) -> Region:
    """The square alone.

    Parameters
    ----------
    corner : (float, float)
        Its lower left [mm].
    style : Style
        Of its lines.
    """
    x, y = corner
    sides = [(x, y), (x + SQUARE, y), (x + SQUARE, y + SQUARE), (x, y + SQUARE)]
    return Region(Outline(Contour.polygon(sides)), style)


def dotted_square(corner: Point) -> Iterator[Item]:
    """Yield the square as it lies over a drawing: dotted, but for its corners to measure from.

    Parameters
    ----------
    corner : (float, float)
        Its lower left [mm].
    """
    yield square(corner, look.PROOF)
    x, y = corner
    spans = []
    for px, across in ((x, _CORNER), (x + SQUARE, -_CORNER)):
        for py, up in ((y, _CORNER), (y + SQUARE, -_CORNER)):
            spans += [((px, py), (px + across, py)), ((px, py), (px, py + up))]
    yield Lines(tuple(spans), look.FINE)


def four_inches(corner: Point, style: Style) -> Lines:
    """The line alone, with ticks 3 mm high at its ends.

    Parameters
    ----------
    corner : (float, float)
        Lower left of the line with its ticks [mm].
    style : Style
        Of its lines.
    """
    x, at = corner[0], corner[1] + 1.5
    ends = [(x, at), (x + FOUR_INCHES, at)]
    ticks = [((px, py - 1.5), (px, py + 1.5)) for px, py in ends]
    return Lines(((ends[0], ends[1]), *ticks), style)


def instructions(corner: Point, corrected: str | None = None) -> Iterator[Item]:
    """Yield how to print and measure, inside the square, at its lower side.

    Parameters
    ----------
    corner : (float, float)
        As for `proof`.
    corrected : str or None
        What a sheet says that makes up for a print that was not true; it must be printed in
        the way that it makes up for.
    """
    x, y = corner[0] + SQUARE / 2, corner[1] + HEIGHT - SQUARE
    lines = [EACH_WAY]
    if corrected is None:
        lines.append(PRINT)
    else:
        lines += [PRINT_AGAIN, corrected]
    for k, line in enumerate(lines):
        yield Text((x, y + 3.6 + 4.6 * k), line, look.SMALL, "middle")
