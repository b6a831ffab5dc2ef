"""Tight bends of drawn lines stay bends, and the middle of a line stays in its ink.

The shapes are drawn by Pillow (see `drawn_photos`); the ink they leave is shapely's own offset of
the true curve.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely
from drawn_photos import SHAPES, blossom, hausdorff, photo, placed
from taken_photos import ring, seen, take

from wadforms.catalogue.photo import Between, Wanted


@pytest.mark.parametrize(("scale", "pen"), [(6.0, 1.2), (6.0, 0.6)])
def test_the_hollows_of_a_blossom_are_bends(scale: float, pen: float, tmp_path: Path) -> None:
    size = (round(66 * scale), round(66 * scale))
    picture = photo([(blossom(), 0.2)], size=size, place=placed(scale=scale, size=size), pen=pen)
    found = take(tmp_path, picture, Between((0.0, 0.0), (10 * scale, 0.0), 10.0))
    assert (found.corners, found.sharpened) == (0, 0.0)
    true = seen(blossom())
    line = shapely.LinearRing(ring(found.outline))
    assert shapely.LinearRing(true).buffer(pen / 2).contains(line)
    # As much as smoothing may move it, and as much again for the picture itself.
    assert hausdorff(ring(found.outline), true) < 2 * max(0.2, 1 / scale)


def test_a_filled_blossom_has_no_corners_either(tmp_path: Path) -> None:
    size = (400, 400)
    picture = photo([(blossom(), 0.2)], size=size, place=placed(scale=6.0, size=size))
    found = take(tmp_path, picture, Between((0.0, 0.0), (60.0, 0.0), 10.0))
    assert found.corners == 0
    assert hausdorff(ring(found.outline), seen(blossom())) < 0.3


def test_a_tight_bend_that_may_be_a_corner_is_told_with_its_place(tmp_path: Path) -> None:
    radius = 0.8
    rounded = shapely.box(-18, -12, 18, 12).buffer(-radius).buffer(radius, quad_segs=32)
    points = shapely.get_coordinates(rounded.exterior)[:-1]
    size = (480, 360)
    picture = photo([(points, 0.2)], size=size, place=placed(scale=10.0, size=size), pen=0.8)
    found = take(tmp_path, picture, Between((0.0, 0.0), (100.0, 0.0), 10.0))
    assert found.corners == 0
    (told,) = [note for note in found.notes if "tight bend" in note]
    places = [(x, y) for x in (60, 420) for y in (60, 300)]
    numbers = told.replace("(", " ").replace(")", " ").replace(",", " ").split()
    values = [int(word) for word in numbers if word.isdigit()]
    pairs = np.array(values).reshape(-1, 2)
    assert len(pairs) == 4
    for place in places:
        assert np.linalg.norm(pairs - place, axis=1).min() < 8.0
    # Who allows more smoothing says that such bends are none.
    coarse = take(tmp_path, picture, Between((0.0, 0.0), (100.0, 0.0), 10.0), Wanted(tolerance=0.6))
    assert coarse.corners == 4


@pytest.mark.parametrize(("name", "corners"), [("leaf", 2), ("star", 10), ("ell", 6)])
def test_the_corners_of_a_line_stay_corners(name: str, corners: int, tmp_path: Path) -> None:
    size = (480, 420)
    place = placed(scale=7.0, size=size, turn=10.0)
    picture = photo([(SHAPES[name], 0.2)], size=size, place=place, pen=1.5, grain=0.02)
    found = take(tmp_path, picture, Between((0.0, 0.0), (70.0, 0.0), 10.0))
    assert found.corners == corners
