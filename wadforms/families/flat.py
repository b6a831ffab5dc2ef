"""What most families raise on their outline: a flat top that bears, walls that lean out below."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wadforms.errors import NotMakeable
from wadforms.families.base import Piece
from wadforms.families.relations import LEAST_BEND, LEAST_RIDGE, spread
from wadforms.geometry.body import Body, Loft, rounded_profile
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.geometry.tightness import Place, room, tight_places, with_room


def flat_topped(
    outline: Outline, height: float, draft: float, rounding: float, *, can_ease: bool = False
) -> Piece:
    """A piece whose whole top bears: the outline is the mark it leaves, walls lean out below.

    Parameters
    ----------
    outline : Outline
        Of the bearing face, before its edge is rounded.
    height, rounding : float
        Of the piece and of its upper edge [mm].
    draft : float
        Angle of the walls from the vertical [deg].
    can_ease : bool
        Whether a message may offer to have the outline eased.

    Returns
    -------
    Piece
        Its outline may differ from the one given by no more than the chord error; see
        `wadforms.geometry.tightness`.

    Raises
    ------
    NotMakeable
        The walls would meet, or the rounding would eat the outline; the message names the
        places and what would mend it.

    Examples
    --------
    >>> flat_topped(box(-20.0, 20.0, 5.0), height=8.0, draft=5.0, rounding=0.0).top_area
    400.0
    """
    if rounding >= height:
        raise NotMakeable(f"a rounding of {rounding:g} mm needs a piece higher than {height:g} mm")
    out = spread(height, draft, rounding)
    found = with_room(outline, out, rounding)
    if found is None:
        if with_room(outline, out) is None:
            raise NotMakeable(_walls_too_near(outline, height, draft, rounding, can_ease))
        raise NotMakeable(_edge_too_near(outline, out, rounding))
    loft = Loft.drafted(found, rounded_profile(height, draft, rounding))
    return Piece(found, Body((loft,)), (loft.top[1],))


COUNTED = "Places are counted from the middle of the outline's area, to the right and up."
"""How the places of an outline are told, for whoever tells them."""

_TOLD = 3  # places that a message names; the others it counts

_LEFT = 0.05  # of a line beside a corner must be left at the base [mm]

_LOWEST = 3.0  # no wad is lower [mm]


def _walls_too_near(
    outline: Outline, height: float, draft: float, rounding: float, can_ease: bool
) -> str:
    """Where the walls below have no room, and what would give it."""
    out = spread(height, draft, rounding)
    most = room(outline, out)
    steepest = math.floor(math.degrees(math.atan(most / (height - rounding))) * 10) / 10
    lower = math.floor((rounding + most / math.tan(math.radians(draft))) * 10) / 10
    mends = [f"--with draft={steepest:g} at most"] if steepest else []
    if lower >= max(_LOWEST, rounding + LEAST_BEND):
        mends.append(f"--with height={lower:g} at most")
    if can_ease:
        mends.append("--ease to have it filled there")
    mends.append("--with draft=0 for a piece that is cut, not pressed")
    return (
        f"the walls lean out to the base by height × tan(draft) = {out:.2f} mm, and the outline "
        f"is too tight for that {_places(tight_places(outline, out), out, outward=True)}. "
        f"Or give {', or '.join(mends)}. {COUNTED}"
    )


def _edge_too_near(outline: Outline, out: float, rounding: float) -> str:
    """Where the rounding of the upper edge takes more than there is, and what would fit."""
    most = math.floor(room(outline, rounding, inward=True, beside=out) * 100) / 100
    places = tight_places(outline, -rounding)
    where = _places(places, rounding, outward=False) if places else "beside the walls below"
    mend = f"--with rounding={most:g} at most" if most else "--with rounding=0"
    return (
        f"the rounding of the upper edge takes {rounding:g} mm from every side, and the outline "
        f"is too narrow for that {where}. Or give {mend}. {COUNTED}"
    )


def _places(places: Sequence[Place], distance: float, *, outward: bool) -> str:
    """The tightest places, each with what would do there, and how many there are.

    A bend must keep `LEAST_BEND` of its radius, clay as much on both sides, and a gap what a
    mould needs between two walls.
    """
    radius = math.ceil(round((distance + LEAST_BEND) * 100, 6)) / 100
    told = []
    for place in places[:_TOLD]:
        x, y = (round(v, 1) + 0.0 for v in place.at)
        at = f"at ({x:.1f}, {y:.1f}) mm"
        if place.straight:
            needed = math.ceil((distance * place.straight + _LEFT) * 10) / 10
            what = (
                "a sharp hollow corner, where the walls take more than the short line beside it "
                f"is long: round it to {radius:g} mm, or let both lines run straight for "
                f"{needed:g} mm from it"
            )
        elif place.kind == "bend":
            what = f"a bend of radius {place.width:.2f} mm: round it to {radius:g} mm"
        else:
            hollow = "a gap or hole" if outward else "clay"
            wide = math.ceil(round((2 * distance + LEAST_RIDGE) * 100, 6)) / 100
            wide = wide if outward else 2 * radius
            what = f"{hollow} only {place.width:.2f} mm wide: widen it to {wide:g} mm"
        told.append(f"{at}, {what}")
    count = "at one place" if len(places) == 1 else f"at {len(places)} places"
    more = f"; and at {len(places) - _TOLD} more" if len(places) > _TOLD else ""
    return f"{count}: {'; '.join(told)}{more}"


def box(x0: float, x1: float, half_width: float) -> Outline:
    """A rectangle from x0 to x1, as wide on both sides of the x axis [mm].

    Examples
    --------
    >>> box(-20.0, 20.0, 5.0).area
    400.0
    """
    y = half_width
    return Outline(Contour.polygon([(x0, -y), (x1, -y), (x1, y), (x0, y)]))
