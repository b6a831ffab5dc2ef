"""Writes a mould's file, proven before it gets its name."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from wadforms.errors import ProofFailed, WouldOverwrite
from wadforms.families.base import Piece
from wadforms.files import write_whole
from wadforms.moulds.making import Making
from wadforms.moulds.mesh import stl_bytes
from wadforms.moulds.proof import VOLUME_TOLERANCE, Proof, facing_down, prove, read_triangles
from wadforms.moulds.tray import Size, Tray, tray


@dataclass(frozen=True, slots=True)
class TrayResult:
    """What was written, in the words of the command line's JSON.

    Parameters
    ----------
    files : tuple of str
        The files.
    cavities : int
        How many pieces one filling gives.
    piece_volume_mm3, wet_volume_mm3 : float
        Of one piece at its set size, and as it leaves the tray [mm³].
    read_back_volume_mm3 : float
        What the file, read back, lacks of the full block: the cavity [mm³].
    contact_top_area_mm2 : float
        What of the piece can touch the pot, at its set size [mm²].
    wet_size_mm, outer_size_mm : tuple of float
        Extent of the piece as it leaves the tray, and of the tray [mm].
    material_volume_mm3 : float
        Of the tray itself [mm³].
    facets : int
        Triangles in the file.
    """

    files: tuple[str, ...]
    cavities: int
    piece_volume_mm3: float
    wet_volume_mm3: float
    read_back_volume_mm3: float
    contact_top_area_mm2: float
    wet_size_mm: Size
    outer_size_mm: Size
    material_volume_mm3: float
    facets: int


def write_tray(
    piece: Piece,
    path: Path,
    *,
    shrinkage: float,
    making: Making | None = None,
    force: bool = False,
) -> TrayResult:
    """Write a press tray for one piece as STL [mm], and prove the file.

    The file is written beside its place, read back, proven, and only then given its name.

    Parameters
    ----------
    piece : Piece
        At its set size [mm].
    path : Path
        The file.
    shrinkage : float
        Linear, as a share of the wet length (ASTM C326).
    making : Making, optional
        Wall, floor and relief; the defaults where left out.
    force : bool
        Whether a file that is there is replaced.

    Raises
    ------
    WouldOverwrite
        The file is there and `force` is not given.
    ProofFailed
        What was written is not what was meant; it was not kept.
    BadInput, NotMakeable, KernelMissing
        See `tray`; and `wadforms.files.write_whole`.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from wadforms.families import family
    >>> disk = family("disk")(diameter=20, height=8).piece()
    >>> with TemporaryDirectory() as folder:
    ...     made = write_tray(disk, Path(folder, "disk.stl"), shrinkage=0.05)
    >>> abs(made.read_back_volume_mm3 / made.wet_volume_mm3 - 1) < 0.001
    True
    """
    if path.exists() and not force:
        raise WouldOverwrite(path)  # now, not after seconds of work
    made = tray(piece, shrinkage=shrinkage, making=making)
    proofs: list[Proof] = []
    write_whole(
        path,
        stl_bytes(made.mesh, "press tray, mm"),
        force=force,
        prove=lambda written: proofs.append(_prove_tray(written, made, path.name)),
    )
    return TrayResult(
        files=(str(path),),
        cavities=1,
        piece_volume_mm3=made.piece_volume,
        wet_volume_mm3=made.wet_volume,
        read_back_volume_mm3=made.block_volume - proofs[0].volume,
        contact_top_area_mm2=made.contact_top_area,
        wet_size_mm=made.wet_size,
        outer_size_mm=made.outer_size,
        material_volume_mm3=made.material_volume,
        facets=proofs[0].facets,
    )


def _prove_tray(written: Path, made: Tray, name: str) -> Proof:
    """The proof of a file, and that its cavity is the wet piece.

    Raises
    ------
    ProofFailed
        See `prove`; or size or volume is not what was meant.
    """
    triangles = read_triangles(written)
    proof = prove(triangles, name)
    size = tuple(b - a for a, b in zip(proof.low, proof.high, strict=True))
    if max(abs(a - b) for a, b in zip(size, made.outer_size, strict=True)) > 1e-3:
        raise ProofFailed(f"{name}: measures {size} mm instead of {made.outer_size} mm")
    if abs(proof.low[2]) > 1e-4:
        raise ProofFailed(f"{name}: does not stand on z = 0 but on {proof.low[2]:g} mm")
    if facing_down(triangles, above=made.relief).any():
        raise ProofFailed(f"{name}: has a wall that leans over and would hold the piece")
    cavity = made.block_volume - proof.volume
    if abs(cavity - made.wet_volume) > VOLUME_TOLERANCE * made.wet_volume:
        raise ProofFailed(
            f"{name}: its cavity holds {cavity:.2f} mm³ instead of {made.wet_volume:.2f} mm³"
        )
    return proof
