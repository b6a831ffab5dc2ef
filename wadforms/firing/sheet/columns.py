"""Two columns of things of any height, as many on a page as it takes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

_BETWEEN: Final = 8.0
"""Room between one and the next below it, in the format's own unit of 1/72 in."""


def in_columns(things: Sequence[Any], *, width: float, gap: float) -> Any:
    """Things one after the other, each in the shorter of two columns.

    What has no room on a page begins the next one; no thing is broken.

    Parameters
    ----------
    things : sequence of Flowable
        What is set, one or more.
    width, gap : float
        Of both columns together, and between them, in the format's own unit of 1/72 in.

    Returns
    -------
    Flowable
        Whose `least` is the room that its first things want, one in each column.
    """
    from reportlab.platypus import Flowable

    column = (width - gap) / 2
    heights = [thing.wrap(column, 1e6)[1] for thing in things]
    columns = Flowable()

    def placed(room: float) -> list[tuple[float, float]]:
        """Where each thing goes that has room: from the left, and from the top down to its foot."""
        ends, found = [0.0, 0.0], []
        for height in heights:
            side = ends.index(min(ends))
            foot = ends[side] + height
            if foot > room:
                break
            found.append((side * (column + gap), foot))
            ends[side] = foot + _BETWEEN
        return found

    def wrap(_: float, __: float) -> tuple[float, float]:
        columns.height = max(foot for _, foot in placed(1e6))
        return width, columns.height

    def split(_: float, room: float) -> list[Any]:
        number = len(placed(room))
        parts = [part for part in (things[:number], things[number:]) if part]
        return [in_columns(p, width=width, gap=gap) for p in parts] if number else []

    def draw() -> None:
        for thing, (x, foot) in zip(things, placed(1e6), strict=True):
            thing.wrapOn(columns.canv, column, 1e6)
            thing.drawOn(columns.canv, x, columns.height - foot)

    columns.wrap, columns.split, columns.draw = wrap, split, draw
    columns.least = max(heights[:2])
    return columns
