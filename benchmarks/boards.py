"""What a board of many cavities costs beside one cavity, and beside cutting with the kernel.

    python benchmarks/boards.py [--runs 5] [--without-kernel]

In process, after everything is imported: laid, made, written, read back and proven.  Exits with
1 where the board takes more than twice as long as one cavity.  The plain way, the kernel's own
booleans on the same block and cavities, takes minutes and is done once; its file is not proven.
"""

from __future__ import annotations

import argparse
import math
import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import Final

from wadforms.families.base import Piece
from wadforms.families.custom import Custom
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds import Board, Order, kind, write_mould
from wadforms.moulds.label import words
from wadforms.moulds.solids.witness import part_solid

VERTICES: Final = 300
CAVITIES: Final = 24
MOST: Final = 2.0
SHRINKAGE: Final = 0.065


def wavy(rounding: float) -> Piece:
    """A rosette of seven waves, 30 mm across, of straight lines."""
    turns = [math.tau * k / VERTICES for k in range(VERTICES)]
    radii = [15.0 + 1.5 * math.cos(7 * t) for t in turns]
    corners = [(r * math.cos(t), r * math.sin(t)) for r, t in zip(radii, turns, strict=True)]
    outline = Outline(Contour.polygon(corners))
    return Custom(outline=outline, height=8.0, draft=5.0, rounding=rounding).piece()


def made(piece: Piece, cavities: int, folder: Path) -> float:
    """How long a proven tray takes [s]."""
    start = time.perf_counter()
    order = Order(piece, SHRINKAGE, words("wavy", piece, SHRINKAGE), Board(pieces=cavities))
    write_mould(kind("tray")().make(order), folder / "tray.stl", force=True)
    return time.perf_counter() - start


def cut_by_the_kernel(piece: Piece, cavities: int, folder: Path) -> float:
    """How long the kernel takes to cut the same board and to write it [s]."""
    import cadquery

    order = Order(piece, SHRINKAGE, (), Board(pieces=cavities))
    part = kind("tray")().make(order).parts[0]
    start = time.perf_counter()
    cadquery.exporters.export(cadquery.Workplane(part_solid(part)), str(folder / "plain.stl"))
    return time.perf_counter() - start


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--without-kernel", action="store_true", help="leave out the plain way")
    given = parser.parse_args()
    missed = False
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for rounding in (0.0, 1.0):
            piece = wavy(rounding)
            made(piece, 1, folder), made(piece, CAVITIES, folder)  # all is imported now
            times = [
                (made(piece, 1, folder), made(piece, CAVITIES, folder)) for _ in range(given.runs)
            ]
            one, board = (statistics.median(side) for side in zip(*times, strict=True))
            ratio = board / one
            missed |= ratio > MOST
            edge = f"edge rounded by {rounding:g} mm" if rounding else "sharp edge"
            print(f"{VERTICES} vertices, {edge}:")
            print(f"  one cavity {one:.2f} s, {CAVITIES} cavities {board:.2f} s: {ratio:.2f} times")
            if not given.without_kernel:
                plain = [cut_by_the_kernel(piece, n, folder) for n in (1, CAVITIES)]
                print(
                    f"  the kernel's own cuts, unproven: {plain[0]:.2f} s and {plain[1]:.2f} s: "
                    f"{plain[1] / plain[0]:.1f} times"
                )
    sys.exit(missed)


if __name__ == "__main__":
    main()
