"""Patches of disks against the area common to two circles.

Source
------
Eric W. Weisstein, "Circle-Circle Intersection" and "Circular Segment", MathWorld, a Wolfram web
resource: mathworld.wolfram.com/Circle-CircleIntersection.html and
mathworld.wolfram.com/CircularSegment.html.  Formulas written out here; nothing of ours is used
for what is expected.
"""

from __future__ import annotations

import math

import pytest
import shapely

from wadforms.families.disk import Disk
from wadforms.families.rail import Rail
from wadforms.geometry.outline import Outline
from wadforms.setting.arrangement import Arrangement, Spot
from wadforms.setting.contact import patches
from wadforms.setting.feet import FlatFoot, PlaneFoot, RingFoot

# Our arcs are flattened within 0.005 mm of the arc, in polygons of the arc's own area.  What is
# left of the error, where two boundaries cross, stays below 1e-4 of the patch for the sizes here.
FLATTENED = 1e-4

# The published figures are rounded to eight digits after the point or more.
ROUNDED = 1e-7


def lens(r: float, big: float, d: float) -> float:
    """Area common to circles of radius `r` and `big` whose centres are `d` apart."""
    if d >= r + big:
        return 0.0
    if d <= abs(big - r):
        return math.pi * min(r, big) ** 2
    a = r * r * math.acos((d * d + r * r - big * big) / (2 * d * r))
    b = big * big * math.acos((d * d + big * big - r * r) / (2 * d * big))
    root = math.sqrt((-d + r + big) * (d + r - big) * (d - r + big) * (d + r + big))
    return a + b - root / 2


def segment(radius: float, beyond: float) -> float:
    """Area of a disk beyond a chord at the distance `beyond` from its centre."""
    return radius**2 * math.acos(beyond / radius) - beyond * math.sqrt(radius**2 - beyond**2)


def touching(foot: PlaneFoot, diameter: float, distance: float) -> float:
    """Area of our patch of one disk whose middle is `distance` from the foot's."""
    piece = Disk(diameter=diameter).piece()
    return sum(p.area for p in patches(Arrangement(piece, (Spot(distance, 0.0),)), foot.zone))


def test_lens_of_two_unit_circles() -> None:
    # Published: 2π/3 − √3/2 = 1.2283697 for two unit circles through each other's centre.
    assert lens(1.0, 1.0, 1.0) == pytest.approx(1.2283697, abs=5e-8)
    regions = [Outline.circle(1.0, (x, 0.0)).polygon() for x in (0.0, 1.0)]
    # A circle of 1 mm has steps of 3°: the polygon strays 3.4e-4 of the radius.
    assert shapely.intersection(*regions).area == pytest.approx(1.2283697, rel=3e-4)
    # The same as a wad of Ø150 under a foot of Ø150, half way out.
    assert touching(FlatFoot(150.0), 150.0, 75.0) == pytest.approx(
        75.0**2 * 1.2283697, rel=FLATTENED
    )


def test_half_of_a_wad_touches_at_the_published_distance() -> None:
    # Published: two equal circles share half their area at 0.80794551 radii.
    assert lens(1.0, 1.0, 0.80794551) == pytest.approx(math.pi / 2, abs=2e-8)
    area = touching(FlatFoot(40.0), 40.0, 0.80794551 * 20.0)
    assert area == pytest.approx(math.pi * 400.0 / 2, rel=FLATTENED)


@pytest.mark.parametrize(
    ("radius", "distance", "inner", "outer", "expected"),
    [
        # Computed here by the formula above, and once with shapely from circles of 4096 sides.
        (12.0, 38.0, 35.0, 41.0, 143.03563),
        (10.0, 45.0, 40.0, 50.0, 191.59176),
        (15.0, 50.0, 48.0, 52.0, 120.08618),
    ],
)
def test_disk_on_a_foot_ring(
    radius: float, distance: float, inner: float, outer: float, expected: float
) -> None:
    by_formula = lens(radius, outer, distance) - lens(radius, inner, distance)
    assert by_formula == pytest.approx(expected, rel=ROUNDED)
    # A difference of two lenses: its edges are four arcs, so allow four times the error of one.
    foot = RingFoot(2 * outer, outer - inner)
    assert touching(foot, 2 * radius, distance) == pytest.approx(by_formula, rel=4 * FLATTENED)


def test_strip_across_a_disk_and_an_annulus() -> None:
    strip = Rail(length=200, width=10, ends="square").piece()
    across = Arrangement(strip, (Spot(0.0, 25.0),))  # from y = 20 to y = 30
    full = segment(50.0, 20.0) - segment(50.0, 30.0)
    hole = segment(40.0, 20.0) - segment(40.0, 30.0)
    assert full == pytest.approx(863.44552, rel=ROUNDED)
    assert full - hole == pytest.approx(243.39916, rel=ROUNDED)
    (patch,) = patches(across, FlatFoot(100.0).zone)
    assert patch.area == pytest.approx(full, rel=FLATTENED)
    (split,) = patches(across, RingFoot(100.0, 10.0).zone)
    assert split.area == pytest.approx(full - hole, rel=4 * FLATTENED)
    assert shapely.get_num_geometries(split.region) == 2


@pytest.mark.parametrize("distance", [0.0, 10.0, 29.0, 31.0, 45.0, 59.0, 61.0])
def test_every_way_two_circles_can_lie(distance: float) -> None:
    """Inside, crossing, nearly apart and apart."""
    expected = lens(15.0, 45.0, distance)
    # Next to a graze the patch is a sliver whose width is a few flattening errors: 0.005 mm
    # along its two arcs is allowed besides.
    sliver = 0.005 * 2 * 15.0
    found = touching(FlatFoot(90.0), 30.0, distance)
    assert found == pytest.approx(expected, rel=FLATTENED, abs=sliver)
