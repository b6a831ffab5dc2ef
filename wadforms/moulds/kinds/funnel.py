"""What is cut out of a die's plate for one opening: relief, land and the funnel before them."""

from __future__ import annotations

import math

from wadforms.errors import NotMakeable
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.outline import Outline
from wadforms.geometry.tightness import room, tight_places, with_room


def opening_of(
    section: Outline, *, relief: float, thickness: float, lead_in: float, lead_angle: float
) -> Body:
    """One opening through a plate, from the face that the clay leaves by upward.

    Parameters
    ----------
    section : Outline
        That the land keeps [mm].
    relief, thickness, lead_in : float
        Depth of the bevel below, of the plate, and of the funnel above [mm].
    lead_angle : float
        How far the funnel leans [deg].

    Raises
    ------
    NotMakeable
        The outline is too tight for the funnel; the message says where, and what would do.

    Examples
    --------
    >>> disk = Outline.circle(10)
    >>> made = opening_of(disk, relief=0.5, thickness=12, lead_in=5, lead_angle=45)
    >>> [(z, round(o.size[0] / 2, 6)) for z, o in made.lofts[0].sections]
    [(0.0, 10.5), (0.5, 10.0), (7, 10.0), (12, 15.0)]
    """
    lead = lead_in * math.tan(math.radians(lead_angle))
    out = max(lead, relief)
    found = with_room(section, out)
    if found is None:
        place = tight_places(section, out)[0]
        most = math.floor(room(section, out) * 100) / 100
        deep = math.floor(most / math.tan(math.radians(lead_angle)) * 10) / 10
        x, y = (round(v, 1) + 0.0 for v in place.at)
        what = "a hollow bend of radius" if place.kind == "bend" else "a gap of"
        mend = [f"--making lead_in={deep:g}mm"] if lead > most else []
        mend += [f"--making relief={most:g}mm"] if relief > most else []
        by = "the lead-in" if lead >= relief else "the relief"
        raise NotMakeable(
            f"{by} widens the opening by {out:.2f} mm, and the outline is too tight for that at "
            f"({x:.1f}, {y:.1f}) mm from its middle: {what} {place.width:.2f} mm. Give "
            f"{' and '.join(mend)}, or less"
        )
    levels = [(relief, found), (thickness - lead_in, found)]
    if relief:
        levels.insert(0, (0.0, found.offset(relief)))
    if lead_in:
        levels.append((thickness, found.offset(lead)))
    return Body((Loft(tuple(levels)),))
