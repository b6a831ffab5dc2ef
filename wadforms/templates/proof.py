"""The square and the line that tell whether a print is true to scale."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.templates import look
from wadforms.templates.drawing import Item, Lines, Region, Text

SQUARE: Final = 100.0
"""Side of the square, from line middle to line middle [mm]."""
FOUR_INCHES: Final = 4 * 25.4
"""Length of the line for those who have a ruler in inches [mm]."""
WIDTH: Final = FOUR_INCHES
HEIGHT: Final = SQUARE + 6.0
"""What square and line take up together [mm]."""


def proof(corner: Point) -> Iterator[Item]:
    """Yield the 100 mm square with the 4 in line under it.

    Parameters
    ----------
    corner : (float, float)
        Lower left of both together [mm].
    """
    x, y = corner
    low = y + HEIGHT - SQUARE
    sides = [(x, low), (x + SQUARE, low), (x + SQUARE, low + SQUARE), (x, low + SQUARE)]
    yield Region(Outline(Contour.polygon(sides)), look.CUT)
    at = y + 1.5
    ends = [(x, at), (x + FOUR_INCHES, at)]
    ticks = [((px, py - 1.5), (px, py + 1.5)) for px, py in ends]
    yield Lines(((ends[0], ends[1]), *ticks), look.CUT)
    yield Text((x + FOUR_INCHES / 2, at + 0.9), "4 in", look.SMALL, "middle")


def instructions(corner: Point) -> Iterator[Item]:
    """Yield how to print and measure, inside the square, at its lower side.

    Parameters
    ----------
    corner : (float, float)
        As for `proof`.
    """
    x, y = corner[0] + SQUARE / 2, corner[1] + HEIGHT - SQUARE
    lines = (
        "Print at 100 %, no scaling, then measure the square:",
        "100 mm each way between the middles of its lines.",
    )
    yield Text((x, y + 8.2), lines[0], look.SMALL, "middle")
    yield Text((x, y + 3.6), lines[1], look.SMALL, "middle")
