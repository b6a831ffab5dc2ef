"""Draws the photo among the examples: a leaf drawn with a pen on a sheet of A4 on a dark table.

    python tests/catalogue/draw_example_photo.py output_examples/outline-from-photo/leaf.jpg

It is a drawing by `drawn_photos`, with a camera that does not look straight down, light that
falls off, blur and grain; so its true outline is known.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Final

import numpy as np
import shapely
import shapely.affinity
from drawn_photos import Points, camera, leaf, photo, pinhole
from PIL import Image

LENGTH: Final = 84.0
WIDTH: Final = 46.0
"""Of the leaf, from middle to middle of the line [mm]."""
PEN: Final = 3.0
"""Width of the line [mm]."""
SHEET: Final = (297.0, 210.0)
"""A4, ISO 216, lying [mm]."""
SIZE: Final = (900, 675)
_TURNS: Final = (-28.0, 4.0, 3.0)  # of the camera [deg]
_PAPER: Final = (1.0, 0.985, 0.95)  # a little warm
_TURN: Final = 17.0


def outline() -> Points:
    """The true outline on the sheet, y down [mm]."""
    turned = shapely.affinity.rotate(shapely.Polygon(leaf(LENGTH, WIDTH)), _TURN, origin=(0, 0))
    return np.asarray(shapely.get_coordinates(turned.exterior))[:-1]


def drawn() -> Image.Image:
    """The photo."""
    w, h = SHEET
    sheet = np.array([[-w, -h], [w, -h], [w, h], [-w, h]]) / 2
    # A line is two areas, the inner one as bright as the paper.
    line = shapely.LinearRing(outline()).buffer(PEN / 2)
    rings = [np.asarray(shapely.get_coordinates(r)) for r in (line.exterior, *line.interiors)]
    grey = photo(
        [(sheet, 0.9), (rings[0], 0.2), (rings[1], 0.9)],
        size=SIZE,
        place=camera(pinhole(SHEET, SIZE, turns=_TURNS, share=0.72), SHEET),
        ground=0.26,
        falloff=0.25,
        grain=0.006,
    )
    tinted = np.asarray(grey, float)[..., None] * np.array(_PAPER)
    return Image.fromarray(np.rint(tinted).astype(np.uint8))


if __name__ == "__main__":
    drawn().save(Path(sys.argv[1]), quality=80)
