"""Outlines taken from photos, against the shapes that were drawn into them.

The photos are drawn by Pillow (see `drawn_photos`), true outlines are compared by shapely, areas
by closed forms.  A pixel's edge is drawn right to about a tenth of a pixel; what is asked for is
an area within 1 % and no place farther off than two pixels.
"""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
import shapely
import shapely.affinity
from drawn_photos import SCALE, SHAPES, SIZE, photo, placed
from PIL import Image, ImageDraw
from taken_photos import TEN_MM, agrees, take

from wadforms.catalogue.photo import Extent, Wanted


@pytest.mark.parametrize("name", SHAPES)
def test_a_filled_shape(name: str, tmp_path: Path) -> None:
    picture = photo([(SHAPES[name], 0.15)], size=SIZE, place=placed(scale=SCALE, size=SIZE))
    found = take(tmp_path, picture, TEN_MM)
    agrees(found, SHAPES[name])
    assert found.resolution == pytest.approx(0.1)
    assert found.line_width is None
    assert found.moved_most <= found.tolerance


@pytest.mark.parametrize("name", SHAPES)
def test_a_shape_turned_under_uneven_light_with_blur_and_grain(name: str, tmp_path: Path) -> None:
    place = placed(scale=SCALE, size=SIZE, turn=23.0)
    picture = photo(
        [(SHAPES[name], 0.25)], size=SIZE, place=place, falloff=0.5, grain=0.03, blur=1.5
    )
    agrees(take(tmp_path, picture, TEN_MM), SHAPES[name], 23.0)


@pytest.mark.parametrize("pen", [0.5, 1.5])
@pytest.mark.parametrize("name", SHAPES)
def test_of_a_line_the_middle_is_taken(name: str, pen: float, tmp_path: Path) -> None:
    place = placed(scale=SCALE, size=SIZE, turn=10.0)
    picture = photo([(SHAPES[name], 0.2)], size=SIZE, place=place, pen=pen, falloff=0.3, grain=0.02)
    found = take(tmp_path, picture, TEN_MM)
    agrees(found, SHAPES[name], 10.0)
    assert found.line_width == pytest.approx(pen, abs=0.05)
    assert any("middle was taken" in note for note in found.notes)


def test_the_area_of_a_circle_is_pi_r_squared(tmp_path: Path) -> None:
    picture = photo([(SHAPES["circle"], 0.1)], size=SIZE, place=placed(scale=SCALE, size=SIZE))
    found = take(tmp_path, picture, TEN_MM)
    assert found.outline.area == pytest.approx(math.pi * 20.0**2, rel=0.002)
    assert found.points == 2  # it is known for a circle


@pytest.mark.parametrize(("name", "corners"), [("leaf", 2), ("star", 10), ("ell", 6), ("bean", 0)])
def test_corners_stay_sharp_where_there_are_some(name: str, corners: int, tmp_path: Path) -> None:
    picture = photo([(SHAPES[name], 0.15)], size=SIZE, place=placed(scale=SCALE, size=SIZE))
    found = take(tmp_path, picture, TEN_MM)
    assert found.corners == corners
    # Elsewhere one segment goes on as the one before ended: a smooth shape has no kinks.
    segments = found.outline.outer.segments
    turns = [
        abs(math.remainder(b.heading(False) - a.heading(True), math.tau))
        for a, b in zip(segments, (*segments[1:], segments[0]), strict=True)
    ]
    assert sum(turn > math.radians(20) for turn in turns) == corners
    assert all(turn < math.radians(1) or turn > math.radians(20) for turn in turns)


def test_the_extent_that_is_known_comes_out_exactly(tmp_path: Path) -> None:
    place = placed(scale=7.3, size=SIZE)
    picture = photo([(SHAPES["leaf"], 0.2)], size=SIZE, place=place, grain=0.02)
    wide = take(tmp_path, picture, Extent("width", 55.0))
    assert wide.outline.size[0] == pytest.approx(55.0, abs=1e-9)
    assert wide.outline.size[1] == pytest.approx(28.0, abs=0.2)
    high = take(tmp_path, picture, Extent("height", 28.0))
    assert high.outline.size[1] == pytest.approx(28.0, abs=1e-9)
    assert wide.resolution == pytest.approx(1 / 7.3, rel=0.005)


def test_holes_are_kept_where_they_are_asked_for(tmp_path: Path) -> None:
    shapes = [(SHAPES["circle"], 0.2), (SHAPES["circle"] * 0.4, 0.9)]
    picture = photo(shapes, size=SIZE, place=placed(scale=SCALE, size=SIZE))
    whole = take(tmp_path, picture, TEN_MM)
    assert whole.outline.area == pytest.approx(math.pi * 400, rel=0.01)
    pierced = take(tmp_path, picture, TEN_MM, Wanted(holes=True))
    assert pierced.outline.area == pytest.approx(math.pi * (400 - 64), rel=0.01)


def test_a_light_shape_on_a_dark_ground(tmp_path: Path) -> None:
    place = placed(scale=SCALE, size=SIZE)
    picture = photo([(SHAPES["leaf"], 0.85)], size=SIZE, place=place, ground=0.2, grain=0.02)
    agrees(take(tmp_path, picture, TEN_MM, Wanted(light=True)), SHAPES["leaf"])


def test_of_several_shapes_the_one_that_is_pointed_at(tmp_path: Path) -> None:
    left = SHAPES["circle"] * 0.6 - [20.0, 0.0]
    right = SHAPES["leaf"] * 0.5 + [20.0, 0.0]
    picture = photo([(left, 0.2), (right, 0.2)], size=SIZE, place=placed(scale=SCALE, size=SIZE))
    for x, y in ((30, 40), (700, 90), (90, 600)):  # specks
        ImageDraw.Draw(picture).rectangle((x, y, x + 9, y + 9), fill=30)
    largest = take(tmp_path, picture, TEN_MM)
    assert (largest.among, largest.equals) == (2, 2)
    assert largest.place == pytest.approx((200, 350), abs=2)
    other = take(tmp_path, picture, TEN_MM, Wanted(near=(590.0, 340.0)))
    agrees(other, SHAPES["leaf"] * 0.5)
    beside = take(tmp_path, picture, TEN_MM, Wanted(near=(620.0, 620.0)))
    assert beside.outline.area == pytest.approx(other.outline.area)


def test_a_shaky_hand_is_smoothed_within_what_is_allowed(tmp_path: Path) -> None:
    turn = np.linspace(0.0, math.tau, 720, endpoint=False)
    waves = np.arange(30, 60)[:, None]
    shake = np.cos(waves * turn + waves**2).sum(axis=0) / math.sqrt(15.0)
    far = 20.0 + 0.08 * shake
    points = far[:, None] * np.column_stack([np.cos(turn), np.sin(turn)])
    picture = photo([(points, 0.2)], size=SIZE, place=placed(scale=SCALE, size=SIZE))
    rough = take(tmp_path, picture, TEN_MM, Wanted(tolerance=0.05))
    calm = take(tmp_path, picture, TEN_MM, Wanted(tolerance=0.8))
    assert calm.points < rough.points
    assert calm.moved_most <= 0.8
    assert calm.outline.perimeter == pytest.approx(math.tau * 20.0, rel=0.005)
    assert rough.outline.perimeter > calm.outline.perimeter


def test_a_line_is_found_across_the_edge_of_a_shadow(tmp_path: Path) -> None:
    place = placed(scale=SCALE, size=SIZE, turn=7.0)
    picture = photo([(SHAPES["leaf"], 0.2)], size=SIZE, place=place, pen=0.8, grain=0.02)
    y, x = np.mgrid[0 : SIZE[1], 0 : SIZE[0]]
    shadow = 1.0 - 0.35 / (1.0 + np.exp(-(0.6 * x + y - 600.0) / 20.0))
    dark = Image.fromarray((np.asarray(picture) * shadow).astype(np.uint8))
    agrees(take(tmp_path, dark, TEN_MM, Wanted(kind="line")), SHAPES["leaf"], 7.0)


@pytest.mark.parametrize("pen", [0.5, 1.5, 6.0])
@pytest.mark.parametrize("name", ["circle", "leaf", "ell"])
def test_what_is_said_to_be_a_line_may_be_thin_or_very_thick(
    name: str, pen: float, tmp_path: Path
) -> None:
    place = placed(scale=SCALE, size=SIZE, turn=10.0)
    picture = photo([(SHAPES[name], 0.2)], size=SIZE, place=place, pen=pen, grain=0.02)
    found = take(tmp_path, picture, TEN_MM, Wanted(kind="line"))
    assert found.line_width == pytest.approx(pen, rel=0.03, abs=0.08)
    # Round a corner the two edges of a thick line do not run alike.
    assert found.outline.area == pytest.approx(shapely.Polygon(SHAPES[name]).area, rel=0.03)
