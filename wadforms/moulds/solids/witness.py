"""The kernel's own word on what shapes the clay, and parts as exact solids for STEP."""

from __future__ import annotations

from typing import Any

from wadforms.errors import ProofFailed
from wadforms.geometry.body import Body
from wadforms.moulds.part import Part, Placed
from wadforms.moulds.proofs.proof import VOLUME_TOLERANCE
from wadforms.moulds.solids import kernel
from wadforms.moulds.solids.solid import solid


def witness(body: Body, name: str) -> float:
    """The volume that the kernel finds for a body [mm³], shown to be the one reckoned here.

    Raises
    ------
    ProofFailed
        The two differ by more than a thousandth, or the kernel's solid is not valid.
    KernelMissing
        The kernel cannot be loaded.

    Examples
    --------
    >>> from wadforms.families import family
    >>> disk = family("disk")().piece().body
    >>> abs(witness(disk, "disk") / disk.volume - 1) < 1e-6
    True
    """
    made = solid(body)
    if not made.isValid():
        raise ProofFailed(f"{name}: the modelling kernel cannot make a sound solid of its form")
    found = float(made.Volume())
    if abs(found - body.volume) > VOLUME_TOLERANCE * body.volume:
        raise ProofFailed(
            f"{name}: the modelling kernel finds {found:.2f} mm³ in what shapes the clay, "
            f"its outlines give {body.volume:.2f} mm³"
        )
    return found


def part_solid(part: Part) -> Any:
    """A part as one solid of the kernel, arcs kept; takes seconds where there are many cavities.

    Raises
    ------
    KernelMissing
        The kernel cannot be loaded.
    """
    kept: dict[int, Any] = {}
    first, *others = [_placed(placed, kept) for placed in part.solids]
    whole = first.fuse(*others).clean() if others else first
    cuts = [_placed(placed, kept) for placed in (*part.cuts, *part.words)]
    return whole.cut(*cuts) if cuts else whole


def _placed(placed: Placed, kept: dict[int, Any]) -> Any:
    made = kept.get(id(placed.body))
    if made is None:
        made = kept[id(placed.body)] = solid(placed.body)
    if placed.over:
        made = made.rotate((0, 0, 0), (0, 1, 0), 180)
    turned = made.rotate((0, 0, 0), (0, 0, 1), placed.turn)
    return turned.translate(kernel.cadquery().Vector(placed.x, placed.y, placed.z))
