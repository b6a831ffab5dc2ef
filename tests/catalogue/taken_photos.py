"""Takes outlines from drawn photos, and compares them with what was drawn."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely
import shapely.affinity
from drawn_photos import SCALE, Points, hausdorff
from PIL import Image

from wadforms.catalogue.photo import Between, Traced, Wanted, read_photo, traced
from wadforms.geometry.outline import Outline

TEN_MM = Between((0.0, 0.0), (10.0 * SCALE, 0.0), 10.0)


def seen(points: Points, turn: float = 0.0) -> Points:
    """The true outline as it should come out: y up, turned as drawn, centred on its area."""
    flipped = shapely.affinity.scale(shapely.Polygon(points), 1.0, -1.0, origin=(0.0, 0.0))
    turned = shapely.affinity.rotate(flipped, -turn, origin=(0.0, 0.0))
    middle = turned.centroid
    return np.asarray(
        shapely.get_coordinates(shapely.affinity.translate(turned, -middle.x, -middle.y))
    )


def ring(outline: Outline) -> Points:
    return np.array(outline.outer.flattened(0.002))


def take(
    tmp_path: Path, picture: Image.Image, known: object, wanted: Wanted | None = None
) -> Traced:
    path = tmp_path / "drawing.png"
    picture.save(path)
    return traced(read_photo(path), known, wanted or Wanted())  # type: ignore[arg-type]


def agrees(found: Traced, points: Points, turn: float = 0.0) -> None:
    area = shapely.Polygon(points).area
    assert found.outline.area == pytest.approx(area, rel=0.01)
    assert hausdorff(ring(found.outline), seen(points, turn)) < 2.0 * found.resolution
    assert found.points <= 300
