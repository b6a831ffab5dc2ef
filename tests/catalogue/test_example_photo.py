"""The photo among the examples gives the outline that was drawn into it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely
from draw_example_photo import LENGTH, SIZE, WIDTH, drawn, outline
from drawn_photos import hausdorff
from PIL import Image
from taken_photos import ring, seen

from wadforms.catalogue.photo import Sheet, Wanted, read_photo, traced

KEPT = Path(__file__).parents[2] / "output_examples" / "outline-from-photo" / "leaf.jpg"


@pytest.mark.skipif(not KEPT.exists(), reason="the examples are not beside these tests")
def test_the_photo_is_the_drawn_one_and_gives_its_outline() -> None:
    assert KEPT.stat().st_size < 150_000
    with Image.open(KEPT) as image:
        assert image.size == SIZE
        kept = np.asarray(image.convert("RGB"), float)
    assert np.abs(kept - np.asarray(drawn(), float)).mean() < 4.0  # what JPEG loses
    found = traced(read_photo(KEPT), Sheet(210.0, 297.0), Wanted())
    # Two circular segments: the area of a leaf of that length and width by the closed form.
    radius = (LENGTH**2 / 4 + WIDTH**2 / 4) / WIDTH
    half = np.arcsin(LENGTH / 2 / radius)
    assert found.outline.area == pytest.approx(radius**2 * (2 * half - np.sin(2 * half)), rel=0.01)
    assert found.corners == 2
    assert shapely.Polygon(outline()).area == pytest.approx(found.outline.area, rel=0.01)
    assert hausdorff(ring(found.outline), seen(outline())) < 2.0 * found.resolution
