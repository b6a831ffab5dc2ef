"""A drawing of one outline and nothing else, to be read again as a shape's own file."""

from __future__ import annotations

from wadforms.geometry.outline import Outline
from wadforms.templates.drawing import Drawing, Region, Style

_CLAY = Style("clay", None, 0.0, "#8a7a66")


def kept_outline(outline: Outline, title: str) -> Drawing:
    """The outline on a sheet of just its size.

    Parameters
    ----------
    outline : Outline
        Counted in mm.
    title : str
        What it is.

    Examples
    --------
    >>> sheet = kept_outline(Outline.circle(10), "A disk")
    >>> sheet.width, len(sheet.items)
    (20.0, 1)
    """
    left, low, right, high = outline.bounds
    placed = outline.moved(-left, -low)
    return Drawing(
        title=title,
        description="The outline of a piece of clay, seen from above.",
        width=right - left,
        height=high - low,
        items=(Region(placed, _CLAY),),
        background=None,
    )
