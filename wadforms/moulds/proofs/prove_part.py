"""Shows that a written part is the part that was meant, from its file alone."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from wadforms.errors import ProofFailed
from wadforms.moulds.part import Part, around
from wadforms.moulds.proofs.crossing import crossing
from wadforms.moulds.proofs.proof import (
    VOLUME_TOLERANCE,
    facing_down,
    place_of,
    prove,
    read_triangles,
)
from wadforms.moulds.proofs.thickness import lowest_upward, thinnest_wall

_FINE: Final = (
    0.01  # sizes, walls and floors may be off by this [mm]; a printed line is not as true
)


@dataclass(frozen=True, slots=True)
class PartProof:
    """What a part's file was shown to be.

    Parameters
    ----------
    facets : int
        Number of triangles.
    volume : float
        Enclosed volume [mm³].
    thinnest_wall : float or None
        Thickness of the thinnest wall [mm]; None where none is near what was asked.
    lowest_floor : float
        The lowest level that faces up [mm].
    """

    facets: int
    volume: float
    thinnest_wall: float | None
    lowest_floor: float


def prove_part(
    file: Path, part: Part, *, printable: tuple[float, float] | None = None
) -> PartProof:
    """Read a file back and show that it is closed, outward, clear of itself, drawable and true.

    Parameters
    ----------
    file : Path
        An STL file.
    part : Part
        What was meant.
    printable : tuple of float, optional
        Width and depth of the bed that may be printed on [mm].

    Raises
    ------
    ProofFailed
        It is not; the message tells what, and where.
    """
    triangles = read_triangles(file)
    name = file.name
    proof = prove(triangles, name)
    mesh = proof.mesh
    if (place := crossing(mesh.points, mesh.facets)) is not None:
        raise ProofFailed(f"{name}: facets run through each other at {place_of(place)}")
    size = tuple(b - a for a, b in zip(proof.low, proof.high, strict=True))
    if max(abs(a - b) for a, b in zip(size, part.size, strict=True)) > _FINE:
        raise ProofFailed(f"{name}: measures {_sizes(size)} instead of {_sizes(part.size)}")
    if abs(proof.low[2]) > 1e-4:
        raise ProofFailed(f"{name}: does not stand on z = 0 but on {proof.low[2]:g} mm")
    if (over := facing_down(triangles, above=part.relief)).any():
        where = place_of(triangles[over][0].mean(axis=0))
        raise ProofFailed(f"{name}: a wall leans over at {where} and would hold what is pressed")
    # The part may be large and its cavity small: the cavity's volume sets how much it may be off.
    meant = part.volume
    if abs(proof.volume - meant) > VOLUME_TOLERANCE * min(meant, part.form.volume):
        raise ProofFailed(f"{name}: holds {proof.volume:.2f} mm³ instead of {meant:.2f} mm³")
    # A ridge within what shapes the clay, sunk or standing up, is the piece's own and no wall.
    shaping = (*part.cuts, *(solid for solid in part.solids if solid.body is part.form))
    wall = thinnest_wall(
        mesh,
        asked=part.wall,
        words=around(part.words) if part.words else None,
        hollows=[around([placed]) for placed in shaping],
    )
    if wall.width < part.wall - _FINE:
        raise ProofFailed(
            f"{name}: a wall is {wall.width:.2f} mm thick at {place_of(wall.place)}, "
            f"{part.wall:g} mm were asked"
        )
    floor = lowest_upward(triangles)
    if floor < part.floor - _FINE:
        raise ProofFailed(f"{name}: a floor is {floor:.2f} mm thick, {part.floor:g} mm were asked")
    # What fills a bed to the last bit may be read back a bit larger.
    if printable is not None and max(size[0] - printable[0], size[1] - printable[1]) > _FINE:
        bed = " × ".join(f"{side:g}" for side in printable)
        raise ProofFailed(f"{name}: measures {_sizes(size)} and does not fit on {bed} mm")
    return PartProof(
        facets=proof.facets,
        volume=proof.volume,
        thinnest_wall=wall.width if math.isfinite(wall.width) else None,
        lowest_floor=floor,
    )


def _sizes(size: tuple[float, ...]) -> str:
    return " × ".join(f"{side:.2f}" for side in size) + " mm"
