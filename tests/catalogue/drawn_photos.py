"""Photos of shapes whose true outline is known, drawn by Pillow and never by the code under test.

A shape is a polygon in mm with y down.  It is drawn eight times as fine as the photo and averaged
down, so that its edge is right to about a tenth of a pixel; then come the faults of a camera:
blur, light that falls off, grain.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import TypeAlias

import numpy as np
import shapely
import shapely.ops
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter

Points: TypeAlias = NDArray[np.float64]
Place: TypeAlias = Callable[[Points], Points]

FINE = 8
SIZE = (800, 700)
"""Of a photo in pixels, where nothing else is said."""
SCALE = 10.0
"""Pixels per mm, where nothing else is said."""


def circle(radius: float) -> Points:
    turn = np.linspace(0.0, math.tau, 720, endpoint=False)
    return np.asarray(radius * np.column_stack([np.cos(turn), np.sin(turn)]))


def leaf(length: float, width: float) -> Points:
    """Two equal arcs that meet in two tips."""
    sagitta = width / 2
    radius = (length**2 / 4 + sagitta**2) / (2 * sagitta)
    x = np.linspace(-length / 2, length / 2, 400)
    y = np.sqrt(radius**2 - x**2) - (radius - sagitta)
    return np.vstack([np.column_stack([x, -y]), np.column_stack([x, y])[::-1][1:-1]])


def star(arms: int, reach: float, inner: float) -> Points:
    turn = np.arange(2 * arms) * math.pi / arms - math.pi / 2
    far = np.where(np.arange(2 * arms) % 2, inner, reach)
    return np.asarray(far[:, None] * np.column_stack([np.cos(turn), np.sin(turn)]))


def ell(leg: float, width: float) -> Points:
    half = leg / 2
    x = width - half
    ring = [(-half, -half), (x, -half), (x, half - width), (half, half - width), (half, half)]
    return np.array([*ring, (-half, half)], float)


def bean(size: float) -> Points:
    """A smooth shape with one bay and no corner."""
    turn = np.linspace(0.0, math.tau, 900, endpoint=False)
    far = size * (1.0 + 0.22 * np.cos(turn) + 0.16 * np.cos(2 * turn + 0.4))
    return np.asarray(far[:, None] * np.column_stack([np.cos(turn), np.sin(turn)]))


def blossom() -> Points:
    """Five rounded lobes with five rounded hollows between them, their radius about 2 mm."""
    turn = np.linspace(0.0, math.tau, 1440, endpoint=False)
    far = 22.0 + 6.0 * np.cos(5 * turn) + 2.0 * np.sin(3 * turn)
    return np.asarray(far[:, None] * np.column_stack([np.cos(turn), -np.sin(turn)]))


SHAPES: dict[str, Points] = {
    "circle": circle(20.0),
    "leaf": leaf(55.0, 28.0),
    "star": star(5, 25.0, 11.0),
    "ell": ell(44.0, 16.0),
    "bean": bean(20.0),
}


def placed(*, scale: float, size: tuple[int, int], turn: float = 0.0) -> Place:
    """From mm to pixels by a plain scale [pixels per mm], turned by degrees about the middle."""
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def place(points: Points) -> Points:
        x, y = points.T
        turned = np.column_stack([c * x - s * y, s * x + c * y])
        middle: Points = turned * scale + np.array(size) / 2
        return middle

    return place


def photo(
    shapes: Sequence[tuple[Points, float]],
    *,
    size: tuple[int, int],
    place: Place,
    ground: float = 0.9,
    pen: float | None = None,
    blur: float = 1.0,
    falloff: float = 0.0,
    grain: float = 0.0,
    gap: float = 0.0,
) -> Image.Image:
    """A photo of filled shapes, each with its brightness, or of lines of a pen's width [mm].

    `falloff` is the share of the light that is lost from one corner to the other; `grain` the
    noise as a share of white, by a fixed seed; `gap` leaves that much of a line open [mm].
    """
    width, height = size
    picture = Image.new("L", (width * FINE, height * FINE), round(255 * ground))
    draw = ImageDraw.Draw(picture)
    for points, tone in shapes:
        if pen is None:
            draw.polygon(_fine(place(points)), fill=round(255 * tone))
            continue
        ring = shapely.LinearRing(points)
        line = shapely.ops.substring(ring, 0.0, ring.length - gap - (pen if gap else 0.0))
        area = line.buffer(pen / 2)
        draw.polygon(_fine(place(shapely.get_coordinates(area.exterior))), fill=round(255 * tone))
        for hole in area.interiors:
            around = _fine(place(shapely.get_coordinates(hole)))
            draw.polygon(around, fill=round(255 * ground))
    picture = picture.reduce(FINE)
    if blur:
        picture = picture.filter(ImageFilter.GaussianBlur(blur))
    light = np.asarray(picture, float)
    y, x = np.mgrid[0 : 1 : height * 1j, 0 : 1 : width * 1j]
    light = light * (1.0 - falloff * (0.6 * x + 0.4 * y))
    light = light + np.random.default_rng(7).normal(0.0, 255 * grain, light.shape)
    return Image.fromarray(np.clip(np.rint(light), 0, 255).astype(np.uint8))


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


def pinhole(
    sides: tuple[float, float],
    size: tuple[int, int],
    *,
    lens: float = 0.75,
    turns: tuple[float, float, float] = (0.0, 0.0, 0.0),
    share: float = 0.7,
) -> list[tuple[float, float]]:
    """Where a pinhole camera above the middle of a sheet sees its corners, from the upper left.

    `lens` is its distance from the picture over the picture's longer side, `turns` how it is
    turned about x, y and the line of sight [deg], `share` what the sheet takes of the picture.
    """
    a, b, c = (math.radians(turn) for turn in turns)
    about_x = np.array([[1, 0, 0], [0, math.cos(a), -math.sin(a)], [0, math.sin(a), math.cos(a)]])
    about_y = np.array([[math.cos(b), 0, math.sin(b)], [0, 1, 0], [-math.sin(b), 0, math.cos(b)]])
    about_z = np.array([[math.cos(c), -math.sin(c), 0], [math.sin(c), math.cos(c), 0], [0, 0, 1]])
    (w, h), focal = sides, lens * max(size)
    corners = np.array([[-w, -h, 0], [w, -h, 0], [w, h, 0], [-w, h, 0]]) / 2
    away = focal * max(w / size[0], h / size[1]) / share
    x, y, z = (corners @ (about_z @ about_x @ about_y).T + [0.0, 0.0, away]).T
    middle = (np.array(size) - 1.0) / 2
    at = np.column_stack([focal * x / z, focal * y / z]) + middle
    return [(float(u), float(v)) for u, v in at]


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


def _fine(points: Points) -> list[tuple[float, float]]:
    # Pillow fills a polygon as if a pixel's coordinates were its middle.
    return [(x, y) for x, y in ((points + 0.5) * FINE - 0.5).tolist()]


def hausdorff(outline: Points, true: Points) -> float:
    """The farthest that one of two closed curves lies from the other [mm]."""
    one, two = shapely.LinearRing(outline), shapely.LinearRing(true)
    return float(shapely.hausdorff_distance(one, two, densify=0.01))
