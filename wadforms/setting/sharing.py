"""How the patches of a setting share its load: as set, at top heat, and at worst while cold."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, NamedTuple, TypeAlias

from wadforms.families.base import Tips
from wadforms.geometry.contour import Point
from wadforms.geometry.moments import Moments
from wadforms.setting.assessment import WadLoad
from wadforms.setting.contact import Patch
from wadforms.setting.load import KPA, PressurePlane, even_share, pressure_plane, worst_three
from wadforms.setting.stability import support_polygon

if TYPE_CHECKING:
    from wadforms.setting.pot import Setting

_Key: TypeAlias = tuple[int, int]  # wad and face


class Shares(NamedTuple):
    """What each patch comes to carry, by wad and face.

    Parameters
    ----------
    even, worst : dict
        The even share, and the most while cold [N].
    pressure, fired_pressure, worst_pressure : dict
        Of the even share as set, the mean of what stays loaded; at heat, its highest at any
        point; and the most while cold [kPa].
    lifted : float
        Part of the contact that carries nothing, as a share.
    """

    even: dict[_Key, float]
    worst: dict[_Key, float]
    pressure: dict[_Key, float]
    fired_pressure: dict[_Key, float]
    worst_pressure: dict[_Key, float]
    lifted: float


UNBALANCED: Final = Shares({}, {}, {}, {}, {}, lifted=0.0)


def _key(patch: Patch) -> _Key:
    return patch.wad, patch.face


def _groups(meeting: list[Patch], tips: Tips | None) -> list[list[Patch]]:
    """Patches that hold the pot as one support: each tip, or all that one wad touches."""
    groups: dict[_Key, list[Patch]] = {}
    for patch in meeting:
        groups.setdefault(_key(patch) if tips else (patch.wad, 0), []).append(patch)
    return list(groups.values())


def supports_of(meeting: list[Patch], tips: Tips | None) -> list[Point]:
    """Where the pot is held."""
    groups = _groups(meeting, tips)
    return [sum((p.moments for p in group), Moments()).centroid for group in groups]


def held_within(meeting: list[Patch], supports: list[Point]) -> list[Point]:
    """The support polygon [mm]: through the supports, or for one or two broad wads within them.

    An edge of a wad crumbles, so a quarter of a patch's width is left out all round (common
    practice, no source).
    """
    polygon = support_polygon(supports)
    if len(polygon) >= 3 or not meeting:
        return polygon
    import shapely

    firm = [shapely.buffer(p.region, -width_touching([p]) / 4) for p in meeting]
    corners = shapely.get_coordinates(shapely.convex_hull(shapely.union_all(firm)))
    return support_polygon([(float(x), float(y)) for x, y in corners])


def width_touching(patches: Sequence[Patch]) -> float:
    """Diameter of the largest circle that fits into every one of the patches [mm]."""
    import shapely

    circles = [shapely.maximum_inscribed_circle(p.region, tolerance=0.02) for p in patches]
    return 2.0 * float(min(shapely.length(circle) for circle in circles))


def share_load(
    setting: Setting, meeting: list[Patch], fired: list[Patch], supports: list[Point], force: float
) -> Shares:
    """Spread the load: as a plane of pressure where wads bed, over rigid supports elsewhere."""
    rigid = len(supports) >= 3 and not setting.is_wet and len(support_polygon(supports)) >= 3
    centre = setting.pot.centre
    if not rigid:
        plane, hot = _plane(meeting, force, centre), _plane(fired, force, centre)
        if plane is None or hot is None:
            return UNBALANCED
        loads = {_key(p): force for p, force in zip(meeting, plane.forces, strict=True)}
        bare = 1.0 - sum(plane.areas) / sum(patch.area for patch in meeting)
        return Shares(
            loads,
            loads,
            _means(meeting, plane),
            _peaks(fired, hot),
            _peaks(meeting, plane),
            bare if plane.lifted else 0.0,
        )
    shares = even_share(supports, force, centre)
    # Of three supports the worst three are the three.
    hardest = shares if len(supports) == 3 else worst_three(supports, force, centre)
    if shares is None or hardest is None:
        return UNBALANCED
    even, worst = {}, {}
    for number, group in enumerate(_groups(meeting, setting.arrangement.piece.tips)):
        whole = sum(patch.area for patch in group)
        for patch in group:  # where one wad touches in several places they share by area
            even[_key(patch)] = shares[number] * patch.area / whole
            worst[_key(patch)] = hardest[number] * patch.area / whole
    return Shares(
        even,
        worst,
        {_key(p): even[_key(p)] / p.area * KPA for p in meeting},
        {_key(p): even.get(_key(p), 0.0) / p.area * KPA for p in fired},
        {_key(p): worst[_key(p)] / p.area * KPA for p in meeting},
        lifted=sum(share <= 0.0 for share in shares) / len(shares),
    )


def _plane(patches: list[Patch], force: float, centre: Point) -> PressurePlane | None:
    if not patches:
        return None
    measured = [patch.moments for patch in patches]
    return pressure_plane([patch.region for patch in patches], force, centre, measured=measured)


def _peaks(patches: list[Patch], plane: PressurePlane) -> dict[_Key, float]:
    """Highest pressure on each patch [kPa]."""
    return {_key(p): peak * KPA for p, peak in zip(patches, plane.peaks, strict=True)}


def _means(patches: list[Patch], plane: PressurePlane) -> dict[_Key, float]:
    """Mean pressure over the part of each patch that stays loaded [kPa]."""
    loads = zip(patches, plane.forces, plane.areas, strict=True)
    return {_key(p): force / area * KPA if area > 0.0 else 0.0 for p, force, area in loads}


def wad_loads(
    setting: Setting, meeting: list[Patch], fired: list[Patch], shares: Shares
) -> list[WadLoad]:
    """Gather the patches of each wad; pressures are those of its hardest pressed patch."""
    loads = []
    for number, spot in enumerate(setting.arrangement.spots):
        own = [patch for patch in meeting if patch.wad == number]
        heated = [patch for patch in fired if patch.wad == number]
        area = sum(patch.area for patch in own)
        loads.append(
            WadLoad(
                x=spot.x,
                y=spot.y,
                turn=spot.turn,
                area=area,
                fired_area=sum(patch.area for patch in heated),
                used=area / setting.arrangement.piece.top_area,
                load=sum(shares.even.get(_key(p), 0.0) for p in own),
                pressure=_hardest(shares.pressure, own),
                fired_pressure=_hardest(shares.fired_pressure, heated),
                worst_load=sum(shares.worst.get(_key(p), 0.0) for p in own),
                worst_pressure=_hardest(shares.worst_pressure, own),
            )
        )
    return loads


def _hardest(pressures: dict[_Key, float], patches: list[Patch]) -> float:
    """Highest pressure on any of the patches [kPa]."""
    return max((pressures.get(_key(p), 0.0) for p in patches), default=0.0)
