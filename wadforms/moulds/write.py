"""Writes a mould's files, each proven before any of them gets its name."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from wadforms.errors import KernelMissing, ProofFailed, UnknownName
from wadforms.files import refuse_place, write_all
from wadforms.moulds.meshes.assembly import assembled
from wadforms.moulds.meshes.mesh import Mesh, stl_bytes, turned_over
from wadforms.moulds.part import Mould, Part, Size
from wadforms.moulds.proofs.proof import VOLUME_TOLERANCE
from wadforms.moulds.proofs.prove_part import PartProof, prove_part
from wadforms.moulds.solids.witness import part_solid, witness

if TYPE_CHECKING:
    from wadforms.moulds.board import Board

STL: Final = "stl"
THREE_MF: Final = "3mf"
STEP: Final = "step"
FORMATS: Final = (STL, THREE_MF, STEP)
"""The kinds of file; STL is always written, since the proof is read from it."""


@dataclass(frozen=True, slots=True)
class WrittenPart:
    """One part as it was written and read back, in the words of the command line's JSON.

    Parameters
    ----------
    part : str
        Its name.
    files : tuple of str
        The files that hold it.
    size_mm : tuple of float
        Extent along x, y and z [mm].
    material_volume_mm3 : float
        What the printer lays down, were it printed solid [mm³].
    read_back_volume_mm3 : float
        What the file encloses [mm³].
    thinnest_wall_mm : float or None
        As measured in the file [mm]; None where no wall is near the least one asked.
    lowest_floor_mm : float
        The lowest level that faces up in the file [mm].
    facets : int
        Triangles in the file.
    """

    part: str
    files: tuple[str, ...]
    size_mm: Size
    material_volume_mm3: float
    read_back_volume_mm3: float
    thinnest_wall_mm: float | None
    lowest_floor_mm: float
    facets: int


@dataclass(frozen=True, slots=True)
class Written:
    """What was written, in the words of the command line's JSON.

    Parameters
    ----------
    kind : str
        The kind of mould.
    files : tuple of str
        All files.
    cavities : int
        How many pieces one filling gives.
    piece_volume_mm3, wet_volume_mm3 : float
        Of one piece at its set size, and as it leaves the mould [mm³].
    kernel_volume_mm3 : float or None
        What the modelling kernel finds for the wet piece, or for what shapes it [mm³]; None
        where the kernel cannot be loaded.
    contact_top_area_mm2 : float
        What of the piece can touch the pot, at its set size [mm²].
    wet_size_mm, wet_outline_size_mm : tuple of float
        Extent of the piece as it leaves the mould, and of its bearing face [mm].
    material_volume_mm3 : float
        Of all parts [mm³].
    parts : tuple of WrittenPart
        Each part.
    """

    kind: str
    files: tuple[str, ...]
    cavities: int
    piece_volume_mm3: float
    wet_volume_mm3: float
    kernel_volume_mm3: float | None
    contact_top_area_mm2: float
    wet_size_mm: Size
    wet_outline_size_mm: tuple[float, float]
    material_volume_mm3: float
    parts: tuple[WrittenPart, ...]


def write_mould(
    made: Mould,
    path: Path,
    *,
    formats: Sequence[str] = (STL,),
    board: Board | None = None,
    force: bool = False,
    picture: bool = False,
) -> Written:
    """Write the parts of a mould [mm], every one proven by reading it back.

    Parameters
    ----------
    made : Mould
        What a kind made.
    path : Path
        The file of the part that is called as the kind; further parts add their name to it.
    formats : sequence of str
        Of `FORMATS`; STL is written in any case.
    board : Board, optional
        The bed that each part must fit.
    force : bool
        Whether files that are there are replaced.
    picture : bool
        Whether all parts are drawn too, as PNG; see `picture_path`.

    Raises
    ------
    WouldOverwrite
        A file is there and `force` is not given; nothing was written.
    ProofFailed
        What was made is not what was meant; nothing was written.
    BadInput, KernelMissing
        See `wadforms.files.write_whole`; there is no such format, or it needs a library that
        cannot be loaded.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from wadforms.families import family
    >>> from wadforms.moulds.base import Order
    >>> from wadforms.moulds.kinds.tray import Tray
    >>> made = Tray().make(Order(family("disk")(diameter=20, height=8).piece(), 0.05))
    >>> with TemporaryDirectory() as folder:
    ...     written = write_mould(made, Path(folder, "disk-tray.stl"))
    >>> part = written.parts[0]
    >>> abs(part.read_back_volume_mm3 / part.material_volume_mm3 - 1) < 0.0001
    True
    """
    where = places(made, path, formats)
    drawn = [picture_path(path)] if picture else []
    for place in (*where.values(), *drawn):
        refuse_place(place, force=force)  # now, not after seconds of work
    kernel_volume = _witnessed(made)
    contents: dict[Path, bytes] = {}
    parts: list[WrittenPart] = []
    meshes = [assembled(part) for part in made.parts]
    for part, mesh in zip(made.parts, meshes, strict=True):
        stl = where[part.name, STL]
        contents[stl] = stl_bytes(mesh, f"{part.name}, mm")
        proof = _proven(contents[stl], stl.name, part, board)
        own = {form: place for (name, form), place in where.items() if name == part.name}
        for form, place in own.items():
            if form != STL:
                contents[place] = _other(form, part, mesh)
        files = tuple(map(str, own.values()))
        parts.append(_told(part, files, proof))
    for place in drawn:
        from wadforms.moulds.picture import picture as drawing

        names = [part.name for part in made.parts]
        seen = list(meshes)
        if made.kind == "die":  # the clay comes out at the side on the bed
            seen, names = [*seen, turned_over(meshes[0])], ["die", "from below:"]
        contents[place] = drawing(seen, names=names, fitted=True)
    write_all(contents, force=force, prove=_same)
    return Written(
        kind=made.kind,
        files=tuple(str(place) for place in contents),
        cavities=made.cavities,
        piece_volume_mm3=made.set_volume,
        wet_volume_mm3=made.wet.volume,
        kernel_volume_mm3=kernel_volume,
        contact_top_area_mm2=made.contact_top_area,
        wet_size_mm=(*made.wet.base.size, made.wet.height),
        wet_outline_size_mm=made.wet_outline_size,
        material_volume_mm3=sum(part.material_volume_mm3 for part in parts),
        parts=tuple(parts),
    )


def places(made: Mould, path: Path, formats: Sequence[str]) -> dict[tuple[str, str], Path]:
    """Where each part goes in each format: by the part's name and the format, STL first.

    Raises
    ------
    UnknownName
        There is no such format.

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.moulds.base import Order
    >>> from wadforms.moulds.kinds.tray import Tray
    >>> made = Tray().make(Order(family("disk")().piece(), 0.05))
    >>> [place.name for place in places(made, Path("disk.stl"), ["step"]).values()]
    ['disk.stl', 'disk.step']
    """
    if unknown := [form for form in formats if form not in FORMATS]:
        raise UnknownName("format", unknown[0], FORMATS)
    return {
        (part.name, form): part_path(made, part, path).with_suffix(f".{form}")
        for part in made.parts
        for form in FORMATS
        if form == STL or form in formats
    }


def picture_path(path: Path) -> Path:
    """Where the picture of a mould goes, whose main part goes to `path`.

    Examples
    --------
    >>> picture_path(Path("disk-tray.stl")).name
    'disk-tray.png'
    """
    return path.with_suffix(".png")


def part_path(made: Mould, part: Part, path: Path) -> Path:
    """Where a part's STL goes: the path itself for what is called as the kind.

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.moulds.base import Order
    >>> from wadforms.moulds.kinds.tray import Tray
    >>> made = Tray().make(Order(family("disk")().piece(), 0.05))
    >>> part_path(made, made.parts[0], Path("disk-tray.stl")).name
    'disk-tray.stl'
    """
    return path if part.name == made.kind else path.with_stem(f"{path.stem}-{part.name}")


def _witnessed(made: Mould) -> float | None:
    """The kernel's volume of the first part's form; None where the kernel is missing.

    What was made is proven against its own outlines in any case, so a machine without the
    kernel still gets its moulds; the answer tells that one check less was made.
    """
    try:
        found = [witness(part.form, part.name) for part in made.parts]
    except KernelMissing:
        return None
    return found[0]


def _proven(data: bytes, name: str, part: Part, board: Board | None) -> PartProof:
    """Write a file where nobody looks, read it back and prove it."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, name)
        file.write_bytes(data)
        return prove_part(file, part, printable=board.printable if board else None)


def _same(file: Path, data: bytes) -> None:
    """Show that a file holds what was proven."""
    if file.read_bytes() != data:
        raise ProofFailed(f"{file.name}: the disk gives back other bytes than were written")


def _other(form: str, part: Part, mesh: Mesh) -> bytes:
    """A part in another format than STL."""
    if form == THREE_MF:
        from wadforms.moulds.three_mf import three_mf_bytes

        return three_mf_bytes([(part.name, mesh)])
    from wadforms.moulds.solids.step import step_bytes

    solid = part_solid(part)
    if not solid.isValid() or abs(solid.Volume() - part.volume) > VOLUME_TOLERANCE * part.volume:
        raise ProofFailed(f"{part.name}: the modelling kernel cannot make a sound solid of it")
    return step_bytes(solid, name=part.name)


def _told(part: Part, files: tuple[str, ...], proof: PartProof) -> WrittenPart:
    return WrittenPart(
        part=part.name,
        files=files,
        size_mm=part.size,
        material_volume_mm3=part.volume,
        read_back_volume_mm3=proof.volume,
        thinnest_wall_mm=proof.thinnest_wall,
        lowest_floor_mm=proof.lowest_floor,
        facets=proof.facets,
    )
