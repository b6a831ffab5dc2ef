"""What most families raise on their outline: a flat top that bears, walls that lean out below."""

from __future__ import annotations

import math

from wadforms.errors import NotMakeable
from wadforms.families.base import Piece
from wadforms.families.relations import LEAST_BEND, spread
from wadforms.geometry.body import Body, Loft, rounded_profile
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline


def flat_topped(outline: Outline, height: float, draft: float, rounding: float) -> Piece:
    """A piece whose whole top bears: the outline is the mark it leaves, walls lean out below.

    Parameters
    ----------
    outline : Outline
        Of the bearing face, before its edge is rounded.
    height, rounding : float
        Of the piece and of its upper edge [mm].
    draft : float
        Angle of the walls from the vertical [deg].

    Raises
    ------
    NotMakeable
        The walls would meet, or the rounding would eat the outline; the message names the place
        and what would mend it.

    Examples
    --------
    >>> flat_topped(box(-20.0, 20.0, 5.0), height=8.0, draft=5.0, rounding=0.0).top_area
    400.0
    """
    if rounding >= height:
        raise NotMakeable(f"a rounding of {rounding:g} mm needs a piece higher than {height:g} mm")
    profile = rounded_profile(height, draft, rounding)
    try:
        loft = Loft.drafted(outline, profile)
    except NotMakeable as error:
        inward = " inward " in str(error)
        raise NotMakeable(
            f"{error}; {_mend_edge(rounding) if inward else _mend_wall(height, draft, rounding)}"
        ) from None
    for level, section in (loft.bottom, loft.top):
        if (place := _crossing(section)) is not None:
            mend = (
                _mend_wall(height, draft, rounding) if level < height / 2 else _mend_edge(rounding)
            )
            raise NotMakeable(
                f"at {level:g} mm above the base the outline would cross itself near "
                f"({place[0]:.1f}, {place[1]:.1f}) mm; {mend}"
            )
    return Piece(outline, Body((loft,)), (loft.top[1],))


_COUNTED = "The place is counted from the middle of the outline's area, to the right and up."


def _mend_wall(height: float, draft: float, rounding: float) -> str:
    """What to do where the wall below a hollow corner or bend folds."""
    out = spread(height, draft, rounding)
    least = math.ceil((out + LEAST_BEND) * 10) / 10
    return (
        f"that is, the wall below leans out by height × tan(draft) = {out:.2f} mm, and a hollow "
        f"corner, bend or gap there is too tight for it. Round it to a radius of {least:g} mm or "
        "more, widen it, lower the piece, or give --with draft=0 for a piece that is cut, not "
        f"pressed. {_COUNTED}"
    )


def _mend_edge(rounding: float) -> str:
    """What to do where the rounding of the edge takes more than there is."""
    return (
        f"that is, the rounding of the upper edge takes {rounding:g} mm from every side, and a "
        "bend, side or neck there has less. Make it wider there, or lessen the rounding. "
        f"{_COUNTED}"
    )


def box(x0: float, x1: float, half_width: float) -> Outline:
    """A rectangle from x0 to x1, as wide on both sides of the x axis [mm].

    Examples
    --------
    >>> box(-20.0, 20.0, 5.0).area
    400.0
    """
    y = half_width
    return Outline(Contour.polygon([(x0, -y), (x1, -y), (x1, y), (x0, y)]))


def _crossing(outline: Outline) -> Point | None:
    """Where an outline crosses itself, if it does."""
    polygon = outline.polygon()
    if polygon.is_valid:
        return None
    import re

    from shapely import is_valid_reason

    found = re.search(r"\[(\S+) (\S+)\]", str(is_valid_reason(polygon)))
    return (float(found[1]), float(found[2])) if found else outline.outer.vertices[0]
