"""Writes drawings in the format that the file's name asks for."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from wadforms.errors import BadInput, Fault
from wadforms.files import shortened, write_all
from wadforms.templates.drawing import Drawing

SVG: Final = ".svg"
PDF: Final = ".pdf"


def contents(drawings: Sequence[Drawing], path: Path) -> dict[Path, bytes]:
    """What would be written where: one PDF file of all drawings, or one SVG file for each.

    Parameters
    ----------
    drawings : sequence of Drawing
        One or more.
    path : Path
        The file; of several SVG files each has its number after the name's stem.

    Raises
    ------
    BadInput
        The name ends neither with .svg nor with .pdf, or a text cannot be written.

    Examples
    --------
    >>> page = Drawing(title="", description="", width=20, height=20, items=())
    >>> [place.name for place in contents([page, page], Path("ring.svg"))]
    ['ring-1.svg', 'ring-2.svg']
    >>> [place.name for place in contents([page, page], Path("ring.pdf"))]
    ['ring.pdf']
    """
    suffix = path.suffix.lower()
    if suffix == PDF:
        from wadforms.templates.pdf import pdf

        return {path: pdf(drawings)}
    if suffix != SVG:
        given = f"the name {shortened(path)}"
        right = f"end it with {SVG}, or with {PDF} for paper"
        raise BadInput(Fault("output", given, right))
    from wadforms.templates.svg import svg

    return {
        place: svg(drawing)
        for place, drawing in zip(places(path, len(drawings)), drawings, strict=True)
    }


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


def write(drawings: Sequence[Drawing], path: Path, *, force: bool) -> tuple[Path, ...]:
    """Write drawings as SVG or PDF, as the file's name says; all files or none.

    Parameters
    ----------
    drawings : sequence of Drawing
        One or more.
    path : Path
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
    made = contents(drawings, path)
    write_all(made, force=force)
    return tuple(made)
