"""Outlines taken from photos, against the shapes that were drawn into them.

The photos are drawn by Pillow (see `drawn_photos`), true outlines are compared by shapely, areas
by closed forms.  A pixel's edge is drawn right to about a tenth of a pixel; what is asked for is
an area within 1 % and no place farther off than two pixels.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import shapely
import shapely.affinity
from drawn_photos import SHAPES, Place, Points, hausdorff, photo, placed
from PIL import Image, ImageDraw, ImageOps

from wadforms.catalogue.outlines import read_outline
from wadforms.catalogue.photo import (
    Between,
    Extent,
    Sheet,
    Traced,
    Wanted,
    overlay,
    read_photo,
    traced,
)
from wadforms.errors import BadInput
from wadforms.geometry.outline import Outline
from wadforms.templates.kept_outline import kept_outline
from wadforms.templates.svg import svg

SIZE = (800, 700)
SCALE = 10.0
"""Pixels per mm, where nothing else is said."""

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


def camera(corners: list[tuple[float, float]], sides: tuple[float, float]) -> Place:
    """Where mm about the middle of a sheet come to lie, by numpy's own solution of the map."""
    w, h = sides
    sheet = [(-w / 2, -h / 2), (w / 2, -h / 2), (w / 2, h / 2), (-w / 2, h / 2)]
    rows, values = [], []
    for (x, y), (u, v) in zip(sheet, corners, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        values += [u, v]
    a, b, c, d, e, f, g, h = np.linalg.solve(rows, values)

    def place(points: Points) -> Points:
        x, y = points.T
        depth = g * x + h * y + 1.0
        return np.column_stack([(a * x + b * y + c) / depth, (d * x + e * y + f) / depth])

    return place


VIEWS = {
    "straight": [(100.0, 100.0), (1100.0, 100.0), (1100.0, 807.0), (100.0, 807.0)],
    "tilted": [(250.0, 130.0), (950.0, 160.0), (1100.0, 810.0), (80.0, 760.0)],
    "askew": [(180.0, 260.0), (900.0, 90.0), (1140.0, 600.0), (260.0, 840.0)],
}


def on_a_sheet(points: Points, view: str, sides: tuple[float, float]) -> Image.Image:
    w, h = sides
    sheet = np.array([[-w, -h], [w, -h], [w, h], [-w, h]]) / 2
    return photo(
        [(sheet, 0.92), (points, 0.2)],
        size=(1200, 900),
        place=camera(VIEWS[view], sides),
        ground=0.35,
        falloff=0.3,
        grain=0.015,
    )


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


def test_the_extent_that_is_known_comes_out_exactly(tmp_path: Path) -> None:
    place = placed(scale=7.3, size=SIZE)
    picture = photo([(SHAPES["leaf"], 0.2)], size=SIZE, place=place, grain=0.02)
    wide = take(tmp_path, picture, Extent("width", 55.0))
    assert wide.outline.size[0] == pytest.approx(55.0, abs=1e-9)
    assert wide.outline.size[1] == pytest.approx(28.0, abs=0.2)
    high = take(tmp_path, picture, Extent("height", 28.0))
    assert high.outline.size[1] == pytest.approx(28.0, abs=1e-9)
    assert wide.resolution == pytest.approx(1 / 7.3, rel=0.005)


def test_what_is_written_is_read_again_as_a_custom_outline(tmp_path: Path) -> None:
    picture = photo([(SHAPES["star"], 0.2)], size=SIZE, place=placed(scale=SCALE, size=SIZE))
    found = take(tmp_path, picture, TEN_MM)
    path = tmp_path / "star.svg"
    path.write_bytes(svg(kept_outline(found.outline, "star")))
    assert read_outline(path).area == pytest.approx(found.outline.area, rel=1e-5)


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


def test_a_large_picture_is_averaged_and_places_still_count_its_own_pixels(tmp_path: Path) -> None:
    picture = Image.new("L", (6000, 4000), 230)
    ImageDraw.Draw(picture).ellipse((2000, 1000, 3999, 2999), fill=40)
    found = take(tmp_path, picture, Between((0.0, 0.0), (2000.0, 0.0), 50.0))
    assert found.outline.area == pytest.approx(math.pi * 25**2, rel=0.005)
    assert found.place == pytest.approx((3000, 2000), abs=3)
    assert found.resolution == pytest.approx(0.025)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_photo_is_turned_as_its_camera_says(orientation: int, tmp_path: Path) -> None:
    # Exif 2.3, tag 0x0112: what the rows and columns of the file are as seen.
    place = placed(scale=SCALE, size=SIZE)
    upright = photo([(SHAPES["ell"], 0.2)], size=SIZE, place=place)
    ways = {
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_90,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }
    stored = upright.transpose(ways[orientation]) if orientation > 1 else upright
    exif = Image.Exif()
    exif[0x0112] = orientation
    path = tmp_path / "turned.jpg"
    stored.save(path, exif=exif, quality=95)
    agrees(traced(read_photo(path), TEN_MM, Wanted()), SHAPES["ell"])


def test_every_kind_of_picture_gives_the_same_outline(tmp_path: Path) -> None:
    grey = photo([(SHAPES["leaf"], 0.2)], size=SIZE, place=placed(scale=SCALE, size=SIZE))
    clear = Image.new("RGBA", SIZE, (60, 20, 20, 0))
    clear.putalpha(ImageOps.invert(grey))
    deep = Image.fromarray(np.asarray(grey).astype(np.uint16) * 257)
    kinds = {
        "rgb.png": grey.convert("RGB"),
        "palette.png": grey.convert("P"),
        "deep.png": deep,
        "clear.png": clear,
        "grey_alpha.png": grey.convert("LA"),
        "photo.jpg": grey.convert("RGB"),
        "grey.jpeg": grey,
    }
    for name, picture in kinds.items():
        path = tmp_path / name
        picture.save(path)
        agrees(traced(read_photo(path), TEN_MM, Wanted()), SHAPES["leaf"])


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


@pytest.mark.parametrize("light", [False, True])
@pytest.mark.parametrize("blur", [1.0, 2.5])
@pytest.mark.parametrize("name", SHAPES)
def test_a_filled_shape_is_not_taken_for_a_line(
    name: str, blur: float, light: bool, tmp_path: Path
) -> None:
    place = placed(scale=SCALE, size=SIZE, turn=10.0)
    picture = photo(
        [(SHAPES[name], 0.25)], size=SIZE, place=place, blur=blur, falloff=0.3, grain=0.02
    )
    if light:
        picture = ImageOps.invert(picture)
    with pytest.raises(BadInput, match=r"a filled shape around .* say --drawn filled"):
        take(tmp_path, picture, TEN_MM, Wanted(kind="line", light=light))


REFUSED: dict[str, tuple[Callable[[], Image.Image], str]] = {
    "nothing on it": (lambda: Image.new("L", SIZE, 255), "nothing stands out"),
    "all dark": (lambda: Image.new("L", SIZE, 0), "nothing stands out"),
    "noise": (
        lambda: Image.fromarray(
            np.random.default_rng(3).integers(0, 256, (600, 800), dtype=np.uint8)
        ),
        "nothing stands out",
    ),
    "at the border": (
        lambda: photo(
            [(SHAPES["circle"] + 30.0, 0.2)], size=SIZE, place=placed(scale=SCALE, size=SIZE)
        ),
        "reaches the border",
    ),
    "specks": (
        lambda: photo(
            [(SHAPES["circle"] * 0.05, 0.2)], size=SIZE, place=placed(scale=SCALE, size=SIZE)
        ),
        "nothing but specks",
    ),
}


@pytest.mark.parametrize("what", REFUSED)
def test_what_is_no_shape_is_refused(what: str, tmp_path: Path) -> None:
    make, message = REFUSED[what]
    with pytest.raises(BadInput, match=message) as told:
        take(tmp_path, make(), TEN_MM)
    assert "\n" not in str(told.value)


@pytest.mark.parametrize("name", SHAPES)
def test_an_open_line_is_refused_with_its_gap(name: str, tmp_path: Path) -> None:
    place = placed(scale=SCALE, size=SIZE)
    picture = photo([(SHAPES[name], 0.2)], size=SIZE, place=place, pen=0.8, gap=1.5)
    with pytest.raises(BadInput, match=r"open by \d+ px near \(\d+, \d+\) px") as told:
        take(tmp_path, picture, TEN_MM)
    words = str(told.value).split("open by ")[1]
    width = float(words.split()[0])
    x, y = (float(part) for part in words.split("(")[1].split(")")[0].split(","))
    # The gap ends at the first point of the ring; its middle lies half of it before that.
    line = shapely.LinearRing(SHAPES[name])
    middle = line.interpolate(line.length - (1.5 + 0.8) / 2)
    expected = place(np.array([[middle.x, middle.y]]))[0]
    assert (x, y) == pytest.approx(expected, abs=12)
    assert 4 <= width <= 17  # across a corner it is shorter than along the line


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
