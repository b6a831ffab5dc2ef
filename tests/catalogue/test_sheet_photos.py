"""Photos of a sheet of known size: its perspective, its map, and what lies over the photo.

Sheets are drawn by the map that numpy solves for their corners (see `drawn_photos`).
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from drawn_photos import SHAPES, SIZE, VIEWS, camera, on_a_sheet, photo, pinhole, placed
from PIL import Image
from taken_photos import agrees, take

from wadforms.catalogue.photo import Sheet, Wanted, overlay, read_photo, traced
from wadforms.catalogue.photo.scale import other_sheet, seen_ratio
from wadforms.errors import BadInput

A4, LETTER = Sheet(210.0, 297.0, "a4"), Sheet(215.9, 279.4, "letter")


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


@pytest.mark.parametrize("lens", [0.6, 0.75, 1.2])
@pytest.mark.parametrize("turns", [(0, 0, 5), (25, 0, 0), (0, -20, 90), (-18, 14, 10), (30, 8, -4)])
@pytest.mark.parametrize("sheet", [A4, LETTER])
def test_a_camera_tells_a4_from_letter(
    sheet: Sheet, turns: tuple[float, float, float], lens: float
) -> None:
    sides = (sheet.height, sheet.width)
    corners = np.array(pinhole(sides, (1200, 900), lens=lens, turns=turns, share=0.6))
    corners += np.random.default_rng(3).normal(0.0, 0.3, (4, 2))  # as far as they are found
    ratio = seen_ratio([(float(x), float(y)) for x, y in corners], (1200, 900))
    assert ratio is not None
    other = LETTER if sheet is A4 else A4
    assert other_sheet(sheet._replace(others=(other,)), ratio) is None
    told = other_sheet(other._replace(others=(sheet,)), ratio)
    # Tilted about one axis alone, the sides tell nothing but their longest and shortest.
    assert told is sheet or (told is None and ratio[1] / ratio[0] > 1.04)


def test_what_no_camera_sees_tells_nothing() -> None:
    askew = [(130.0, 45.0), (440.0, 65.0), (490.0, 462.0), (82.0, 440.0)]
    assert seen_ratio(askew, (600, 500)) is None


def test_what_the_picture_does_not_tell_is_said(tmp_path: Path) -> None:
    corners = [(130.0, 45.0), (440.0, 65.0), (490.0, 462.0), (82.0, 440.0)]
    sheet = np.array([[-210, -297], [210, -297], [210, 297], [-210, 297]]) / 2
    place = camera(corners, (210.0, 297.0))
    shapes = [(sheet, 0.92), (2.0 * SHAPES["leaf"], 0.2)]
    picture = photo(shapes, size=(600, 500), place=place, ground=0.35)
    found = take(tmp_path, picture, LETTER._replace(others=(A4,)))
    told = "Be sure that it is letter: the picture does not tell it from a4."
    assert told in found.notes


def test_the_wrong_sheet_is_told(tmp_path: Path) -> None:
    corners = pinhole((297.0, 210.0), (900, 700), turns=(-20.0, 10.0, 4.0))
    sheet = np.array([[-297, -210], [297, -210], [297, 210], [-297, 210]]) / 2
    picture = photo(
        [(sheet, 0.92), (2.0 * SHAPES["leaf"], 0.2)],
        size=(900, 700),
        place=camera(corners, (297.0, 210.0)),
        ground=0.35,
    )
    found = take(tmp_path, picture, LETTER._replace(others=(A4,)))
    assert any("Assumed: the sheet is letter, 215.9 × 279.4 mm" in note for note in found.notes)
    (told,) = [note for note in found.notes if "looks like" in note]
    assert "a4, 210 × 297 mm: its sides are as 1 to 1.4" in told
    found = take(tmp_path, picture, A4._replace(others=(LETTER,)))
    assert not any("looks like" in note for note in found.notes)
    agrees(found, 2.0 * SHAPES["leaf"])


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
