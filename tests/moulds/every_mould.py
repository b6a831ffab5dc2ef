"""Every named shape by every kind of mould that suits it, one and several at a time.

    python tests/moulds/every_mould.py [SHAPE ...]

prints a table of what was made and proven.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

from wadforms.catalogue import shapes
from wadforms.errors import NotMakeable
from wadforms.families.base import Piece
from wadforms.moulds import Board, Order, Written, kind, kinds, write_mould
from wadforms.moulds.label import words
from wadforms.moulds.part import Mould

SEVERAL = 4
LARGE: dict[str, dict[str, float]] = {"die": {"barrel": 300.0}}  # so that all shapes have room
SHRINKAGE = 0.121  # linear, of a published test bar of kaolin and alumina hydrate


class Outcome(NamedTuple):
    """What came of a shape and a kind: the mould and its files, or why there is none."""

    made: Mould | None
    written: Written | None
    refused: str


def outcome(name: str, piece: Piece, by: str, pieces: int, folder: Path) -> Outcome:
    """Make and prove one mould."""
    how = kind(by)(**LARGE.get(by, {}))
    order = Order(piece, SHRINKAGE, words(name, piece, SHRINKAGE), Board(pieces=pieces))
    try:
        made = how.make(order)
    except NotMakeable as error:  # a barrel of a stated width has no room for several
        return Outcome(None, None, str(error))
    return Outcome(made, write_mould(made, folder / f"{name}-{by}-{pieces}.stl"), "")


def _row(name: str, by: str, pieces: int, folder: Path) -> str:
    start = time.perf_counter()
    found = outcome(name, shapes()[name].piece(), by, pieces, folder)
    taken = time.perf_counter() - start
    if found.written is None:
        return f"{name:20} {by:7} {pieces:2}  refused: {found.refused}"
    parts = found.written.parts
    off = max(abs(p.read_back_volume_mm3 / p.material_volume_mm3 - 1) for p in parts)
    facets = sum(p.facets for p in parts)
    return (
        f"{name:20} {by:7} {found.written.cavities:2}  proven: {len(parts)} file(s), "
        f"{facets:6} facets, volume off {off:.0e}, {taken:5.2f} s"
    )


def main() -> None:
    """Print the table, and how many moulds it holds."""
    made = refused = 0
    with tempfile.TemporaryDirectory() as folder:
        for name in sys.argv[1:] or shapes():
            for by in kinds():
                for pieces in (1, SEVERAL):
                    row = _row(name, by, pieces, Path(folder))
                    print(row, flush=True)
                    made, refused = made + ("proven" in row), refused + ("proven" not in row)
    print(f"{made} moulds proven, {refused} refused with a reason")


if __name__ == "__main__":
    main()
