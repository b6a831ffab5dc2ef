"""What the wads of a setting are and take, for printing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wadforms import units

if TYPE_CHECKING:
    from wadforms.setting.pot import Setting


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
    radii = sorted({round(spot.radius, 1) for spot in arrangement.spots}, reverse=True)
    where = (
        "in the middle"
        if radii == [0.0]
        else "on radius " + ", ".join(f"{r:g}" for r in radii) + " mm"
    )
    return (
        f"{count} × {name}, {setting.body}, {where}; together "
        f"{units.show(count * each.wet_volume, 'mm3')} of wet mix, "
        f"{units.show(count * each.wet_mass, 'g')}"
    )
