"""Photos of a sheet of known size: its perspective, its map, and what lies over the photo.

Sheets are drawn by the map that numpy solves for their corners (see `drawn_photos`).
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from drawn_photos import SHAPES, SIZE, VIEWS, camera, on_a_sheet, photo, placed
from PIL import Image
from taken_photos import agrees, take

from wadforms.catalogue.photo import Sheet, Wanted, overlay, read_photo, traced
from wadforms.errors import BadInput


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("name", SHAPES)
def test_a_sheet_takes_the_perspective_out(name: str, view: str, tmp_path: Path) -> None:
    points = 2.2 * SHAPES[name]
    found = take(tmp_path, on_a_sheet(points, view, (297.0, 210.0)), Sheet(210.0, 297.0))
    agrees(found, points)


@pytest.mark.parametrize("view", VIEWS)
def test_the_map_of_a_sheet_is_the_one_it_was_drawn_by(view: str, tmp_path: Path) -> None:
    sides = (279.4, 215.9)  # Letter, ANSI/ASME Y14.1 size A
    found = take(tmp_path, on_a_sheet(SHAPES["circle"] * 2, view, sides), Sheet(215.9, 279.4))
    assert np.array(found.plane.corners) == pytest.approx(np.array(VIEWS[view]), abs=0.5)
    grid = np.array([(x, y) for x in (-120.0, 0.0, 130.0) for y in (-90.0, 20.0, 100.0)])
    places = found.plane.to_mm(camera(VIEWS[view], sides)(grid))
    expected = np.column_stack([grid[:, 0] + sides[0] / 2, sides[1] / 2 - grid[:, 1]])
    assert np.linalg.norm(places - expected, axis=1).max() < found.resolution


def test_the_overlay_is_the_photo_with_the_outline_on_the_edge(tmp_path: Path) -> None:
    picture = on_a_sheet(SHAPES["leaf"] * 2, "tilted", (297.0, 210.0))
    path = tmp_path / "photo.png"
    picture.save(path)
    read = read_photo(path)
    found = traced(read, Sheet(210.0, 297.0), Wanted())
    shown = tmp_path / "over.png"
    shown.write_bytes(overlay(read, found))
    with Image.open(shown) as image:
        assert image.size == picture.size
        drawn = np.asarray(image).astype(int)
    plain = np.asarray(picture.convert("RGB")).astype(int)
    changed = np.abs(drawn - plain).sum(axis=2) > 60
    # All along the true edge something is drawn, and nothing far from all that is drawn on it.
    edge = camera(VIEWS["tilted"], (297.0, 210.0))(SHAPES["leaf"] * 2)
    at = np.rint(edge).astype(int)
    around = [changed[at[:, 1] + dy, at[:, 0] + dx] for dy in range(-2, 3) for dx in range(-2, 3)]
    assert np.any(around, axis=0).mean() > 0.99
    assert 0.001 < changed.mean() < 0.05


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: Image.new("L", SIZE, 240), "sheet"),
        (
            lambda: photo([(SHAPES["leaf"], 0.2)], size=SIZE, place=placed(scale=9, size=SIZE)),
            "sheet",
        ),
        (
            lambda: photo(
                [(SHAPES["circle"], 0.9)], size=SIZE, place=placed(scale=12, size=SIZE), ground=0.2
            ),
            "no sheet with four corners",
        ),
        (
            lambda: photo(
                [(SHAPES["ell"], 0.9)], size=SIZE, place=placed(scale=12, size=SIZE), ground=0.2
            ),
            "no sheet with four corners",
        ),
        (
            lambda: photo(
                [(np.array([[-15, -15], [15, -15], [15, 15], [-15, 15]]), 0.9)],
                size=SIZE,
                place=placed(scale=12, size=SIZE),
                ground=0.2,
            ),
            "longer sides",
        ),
    ],
)
def test_a_sheet_that_is_not_found_is_told(
    make: Callable[[], Image.Image], message: str, tmp_path: Path
) -> None:
    with pytest.raises(BadInput, match=message):
        take(tmp_path, make(), Sheet(210.0, 297.0))
