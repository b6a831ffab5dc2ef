"""The label of a mould, sunk into it so that it stays readable: shape, set size, shrinkage."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from wadforms.families.base import Piece
from wadforms.geometry.outline import Outline
from wadforms.moulds.base import WORDS_DEEP
from wadforms.moulds.board import Block
from wadforms.moulds.lettering import STROKE, lettering
from wadforms.moulds.part import Placed, prism

_READABLE: Final = 3.2  # capitals of this height [mm] are still read with ease


def words(name: str, piece: Piece, shrinkage: float) -> tuple[str, ...]:
    """The lines of a label.

    Parameters
    ----------
    name : str
        Of the shape.
    piece : Piece
        At its set size [mm].
    shrinkage : float
        Linear, that the mould is enlarged for, as a share.

    Examples
    --------
    >>> from wadforms.families import family
    >>> words("disk-20", family("disk")(diameter=20, height=8).piece(), 0.065)
    ('disk-20', '20 × 20 × 8 mm', '−6.5 %')
    """
    x, y = piece.outline.size
    size = " × ".join(f"{round(v, 1):g}" for v in (x, y, piece.height))
    return name, f"{size} mm", f"−{round(100 * shrinkage, 2):g} %"


def sunk(lines: Sequence[str], made: Block, *, letters: float, nozzle: float) -> tuple[Placed, ...]:
    """The letters as bodies to cut out of a block's ledge.

    Parameters
    ----------
    lines : sequence of str
        What it says; lines that find no room are left out, the last ones first.
    made : Block
        With its place for a label.
    letters : float
        Height of capitals at most [mm]; 0 for none.
    nozzle : float
        Width of a printed line [mm], which a stroke must have.
    """
    x, y, z, length, depth, turn = made.field
    least = max(nozzle / STROKE, 2.0)
    if not lines or letters < least or length <= 0.0:
        return ()
    drawn = _drawn(lines, width=length, depth=depth, letters=letters, least=least)
    return tuple(Placed(prism(o, WORDS_DEEP), x, y, z - WORDS_DEEP, turn) for o in drawn)


def left_out(lines: Sequence[str], drawn: Sequence[Placed]) -> tuple[str, ...]:
    """The lines of a label that found no room.

    Parameters
    ----------
    lines : sequence of str
        What it was to say.
    drawn : sequence of Placed
        What `sunk` made of them.

    Examples
    --------
    >>> left_out(["disk-20", "20 mm"], ())
    ('disk-20', '20 mm')
    """
    count = 0
    for number, line in enumerate(lines):
        count += len(lettering([line], width=1e4, depth=1e4, letters=5.0, least=1.0))
        if count > len(drawn):
            return tuple(lines[number:])
    return ()


def _drawn(
    lines: Sequence[str], *, width: float, depth: float, letters: float, least: float
) -> tuple[Outline, ...]:
    """The words in one line or two where they are readable so, else one below the other."""
    readable = max(least, min(letters, _READABLE))
    for order in ((" · ".join(lines),), (lines[0], " · ".join(lines[1:]))):
        drawn = lettering(order, width=width, depth=depth, letters=letters, least=readable)
        every = lettering(order, width=1e4, depth=1e4, letters=letters, least=readable)
        if len(drawn) == len(every):
            return drawn
    return lettering(lines, width=width, depth=depth, letters=letters, least=least)
