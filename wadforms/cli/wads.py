"""What the wads of a setting are and take, for printing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, Final

from wadforms import units
from wadforms.families.base import SOLID

if TYPE_CHECKING:
    from wadforms.catalogue import Shape
    from wadforms.families.base import Family, Piece
    from wadforms.geometry.outline import Outline
    from wadforms.geometry.tightness import Place
    from wadforms.setting.pot import Setting

_WEAK: Final = 5  # weak places that are named; the others are counted
_SAME_CIRCLE: Final = 0.5  # radii that differ by no more were meant as one, and rounded [mm]


def title(shape: Shape, changes: Mapping[str, object]) -> str:
    """What a shape is called: its name, or that of the drawing where it is a bare outline."""
    from pathlib import Path

    from wadforms.families import family

    if shape.name == shape.family:
        for parameter in family(shape.family).parameters():
            if parameter.unit == "outline" and changes.get(parameter.name):
                return Path(str(changes[parameter.name])).stem
    return shape.name


def piece_of(size: Family, *, upright: bool, drafted: bool) -> Piece:
    """The piece; without draft where its walls will stand upright and draft has no room.

    Parameters
    ----------
    size : Family
        The shape, sized.
    upright : bool
        Whether it is made with walls that stand upright.
    drafted : bool
        Whether its draft was asked for, so that it must stay.

    Raises
    ------
    NotMakeable
        The outline has no room for its draft, and draft there must be.
    """
    from dataclasses import replace

    from wadforms.errors import NotMakeable

    try:
        return size.piece()
    except NotMakeable:
        if not upright or drafted or all(p.name != "draft" for p in size.parameters()):
            raise
        return replace(size, draft=0.0).piece()  # type: ignore[call-arg]  # as was just seen


def pieces_json(setting: Setting) -> dict[str, Any]:
    """Number, place, volumes and masses of the wads."""
    from wadforms.setting.quantities import quantities

    arrangement = setting.arrangement
    each = quantities(arrangement.piece, setting.mix, setting.body)
    return {
        "count": len(arrangement.spots),
        "radius_mm": max(spot.radius for spot in arrangement.spots),
        "body": setting.body,
        "mix": setting.mix.name,
        "place": setting.place.name,
        "piece_height_mm": arrangement.piece.height,
        "piece_top_area_mm2": arrangement.piece.top_area,
        "piece_volume_mm3": each.set_volume,
        "wet_volume_mm3": each.wet_volume,
        "set_mass_g": each.set_mass,
        "wet_mass_g": each.wet_mass,
        "coated_area_mm2": each.coated_area,
    }


def pieces_line(name: str, setting: Setting) -> str:
    """The wads in one line: how many, where, and what they take."""
    from wadforms.setting.quantities import quantities

    arrangement = setting.arrangement
    each = quantities(arrangement.piece, setting.mix, setting.body)
    count = len(arrangement.spots)
    radii = _circles(spot.radius for spot in arrangement.spots)
    where = (
        "in the middle"
        if radii == [0.0]
        else "on radius " + ", ".join(f"{r:g}" for r in radii) + " mm"
    )
    fired = ", biscuit-fired before it is set" if setting.body == SOLID else ""
    return (
        f"{count} × {name}, {setting.body}{fired}, of mix {setting.mix.name!r}, {where}; together "
        f"{units.show(count * each.wet_volume, 'mm3')} of wet mix, "
        f"{units.show(count * each.wet_mass, 'g')}"
    )


def _circles(radii: Iterable[float]) -> list[float]:
    """The circles that wads stand on, largest first, to a tenth [mm]."""
    found: list[float] = []
    for radius in sorted(radii, reverse=True):
        if not found or found[-1] - radius > _SAME_CIRCLE:
            found.append(radius)
    return [round(radius, 1) for radius in found]


def eased_json(size: Family) -> dict[str, Any]:
    """What was filled of a shape's outline, where that was asked for, and where it is weak."""
    weak = {
        "weak_places": [
            {"kind": p.kind, "x_mm": p.at[0], "y_mm": p.at[1], "measure_mm": p.measure}
            for p in size.weak_places()
        ]
    }
    change = size.easing()
    if change is None:
        return weak if weak["weak_places"] else {}
    return {
        **weak,
        "eased_places": [
            {"kind": p.kind, "x_mm": p.at[0], "y_mm": p.at[1], "width_mm": p.width}
            for p in change.places
        ],
        "eased_area_mm2": change.area_added,
        "area_before_easing_mm2": change.area_before,
        "area_after_easing_mm2": change.area_after,
    }


def eased_lines(size: Family) -> list[str]:
    """The same for people, and where clay of that outline is weak."""
    from wadforms.families.flat import COUNTED

    change, weak = size.easing(), size.weak_places()
    lines = [*_eased(size), *(f"Weak: {place}." for place in weak[:_WEAK])]
    if len(weak) > _WEAK:
        lines.append(f"Weak: and {len(weak) - _WEAK} more places like these.")
    return [*lines, COUNTED] if weak or (change and change.places) else lines


def holes(outline: Outline) -> str:
    """How many holes an outline has, to be added to its size; empty where it has none."""
    count = len(outline.holes)
    return f", {count} hole{'' if count == 1 else 's'}" if count else ""


def _tight(place: Place) -> str:
    """What a tight place is."""
    if place.straight:
        return "a sharp hollow corner"
    if place.kind == "bend":
        return f"a bend of radius {place.width:.2f} mm"
    return f"a gap or hole {place.width:.2f} mm wide"


def _eased(size: Family) -> list[str]:
    from wadforms.families.relations import LEAST_RIDGE

    change = size.easing()
    if change is None:
        return []
    if not change.places:
        return ["Eased: nothing, the outline has room for its draft."]
    before, after = (units.show(v, "mm2") for v in (change.area_before, change.area_after))
    share = change.area_added / change.area_before
    where = "; ".join(f"({p.at[0]:.1f}, {p.at[1]:.1f}) mm, " + _tight(p) for p in change.places)
    return [
        f"Eased, filled where the draft had no room or a mould less than {LEAST_RIDGE:g} mm: "
        f"{where}.",
        f"That adds {units.show(change.area_added, 'mm2')} to {before}, {share:.2%}: now {after}.",
    ]
