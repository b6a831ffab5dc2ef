"""Writes drawings in the format that the file's name asks for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from wadforms.errors import BadInput, Fault
from wadforms.files import shortened, write_all
from wadforms.templates.drawing import Drawing

SVG: Final = ".svg"
PDF: Final = ".pdf"
DXF: Final = ".dxf"

PAPER: Final = {SVG: "SVG", PDF: "PDF for paper"}
MACHINE: Final = {SVG: "SVG", DXF: "DXF"}
"""What is written for each, by the end of the name."""


def contents(
    drawings: Sequence[Drawing], path: Path, formats: Mapping[str, str] = PAPER
) -> dict[Path, bytes]:
    """What would be written where: one PDF file of all drawings, or another file for each.

    Parameters
    ----------
    drawings : sequence of Drawing
        One or more.
    path : Path
        The file; where there are several, each has its number after the name's stem.
    formats : mapping of str to str
        `PAPER`, or `MACHINE` for a stencil.

    Raises
    ------
    BadInput
        The name ends with none of them, or a text cannot be written.

    Examples
    --------
    >>> page = Drawing(title="", description="", width=20, height=20, items=())
    >>> [place.name for place in contents([page, page], Path("ring.svg"))]
    ['ring-1.svg', 'ring-2.svg']
    >>> [place.name for place in contents([page, page], Path("ring.pdf"))]
    ['ring.pdf']
    """
    check_suffix(path, formats)
    suffix = path.suffix.lower()
    if suffix == PDF:
        from wadforms.templates.pdf import pdf

        return {path: pdf(drawings)}
    if suffix == DXF:
        from wadforms.templates.dxf import dxf as written
    else:
        from wadforms.templates.svg import svg as written
    files = places(path, len(drawings))
    return {file: written(drawing) for file, drawing in zip(files, drawings, strict=True)}


def check_suffix(path: Path, formats: Mapping[str, str] = PAPER) -> None:
    """Refuse a name that does not tell which of some formats the file shall have.

    Parameters
    ----------
    path : Path
        The file.
    formats : mapping of str to str
        What each suffix stands for.

    Raises
    ------
    BadInput
        It ends with none of them, in small letters or large.

    Examples
    --------
    >>> check_suffix(Path("leaf.SVG"))
    >>> check_suffix(Path("leaf.stl"))
    Traceback (most recent call last):
    ...
    wadforms.errors.BadInput: output: the name leaf.stl was given; end it with .svg (SVG) or \
.pdf (PDF for paper)
    """
    if path.suffix.lower() not in formats:
        right = " or ".join(f"{suffix} ({what})" for suffix, what in formats.items())
        raise BadInput(Fault("output", f"the name {shortened(path)}", f"end it with {right}"))


def places(path: Path, count: int) -> list[Path]:
    """The files that `count` drawings take.

    Examples
    --------
    >>> [place.name for place in places(Path("ring.svg"), 2)]
    ['ring-1.svg', 'ring-2.svg']
    """
    if count == 1 or path.suffix.lower() == PDF:
        return [path]
    return [path.with_stem(f"{path.stem}-{k}") for k in range(1, count + 1)]


def write(
    drawings: Sequence[Drawing],
    path: Path,
    *,
    force: bool,
    formats: Mapping[str, str] = PAPER,
) -> tuple[Path, ...]:
    """Write drawings in the format that the file's name tells; all files or none.

    Parameters
    ----------
    drawings : sequence of Drawing
        One or more.
    path, formats
        See `contents`.
    force : bool
        Whether files that are there are replaced.

    Raises
    ------
    WouldOverwrite
        A file is there and `force` is not given.
    BadInput
        See `contents`; or the place cannot be written.
    """
    made = contents(drawings, path, formats)
    write_all(made, force=force)
    return tuple(made)
