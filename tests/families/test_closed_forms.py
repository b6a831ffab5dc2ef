"""Each family against formulas worked out apart from it.

Sources: textbook formulas for circles, frusta and spherical caps; Steiner's formula for the
parallel body of a convex region, A(d) = A + P d + π d² (round corners) or with mitres
Σ tan(turn/2) in place of π; the ponton formula for a block between two rectangles.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from shapely import Point, box, unary_union

from wadforms.errors import BadInput
from wadforms.families import families, family
from wadforms.families.angle import Angle
from wadforms.families.base import BODIES, Family
from wadforms.families.cone_seat import ConeSeat
from wadforms.families.cradle import Cradle
from wadforms.families.crescent import Crescent
from wadforms.families.custom import Custom
from wadforms.families.disk import Disk
from wadforms.families.pad import Pad
from wadforms.families.pointed_tripod import PointedTripod
from wadforms.families.rail import Rail
from wadforms.families.ring import Ring
from wadforms.families.stand import Stand
from wadforms.families.stone_seat import StoneSeat
from wadforms.families.tee import Tee
from wadforms.families.tripod import Tripod
from wadforms.geometry.body import Loft
from wadforms.geometry.outline import Outline

FLOAT = 1e-9
"""Both sides are exact but for floating point."""


def tan(degrees: float) -> float:
    return math.tan(math.radians(degrees))


def frustum(low: float, high: float, height: float) -> float:
    """Volume of a cone's frustum between two radii."""
    return math.pi * height * (low * low + low * high + high * high) / 3


def swept(area: float, perimeter: float, corners: float, height: float, draft: float) -> float:
    """∫ of the parallel region's area over the height; `corners` is its d² term."""
    t = tan(draft)
    return area * height + perimeter * t * height**2 / 2 + corners * t**2 * height**3 / 3


def test_disk_is_a_frustum() -> None:
    piece = Disk(diameter=20, height=8, draft=5).piece()
    low = 10 + 8 * tan(5)
    assert piece.volume == pytest.approx(frustum(low, 10, 8), rel=FLOAT)
    side = math.pi * (low + 10) * math.hypot(8, low - 10)
    assert piece.coated_area == pytest.approx(side + math.pi * 100, rel=FLOAT)


def test_disk_with_a_rounded_edge_bears_on_what_is_left() -> None:
    piece = Disk(diameter=20, height=8, draft=0, rounding=2).piece()
    assert piece.top_area == pytest.approx(math.pi * 8**2, rel=FLOAT)
    # Pappus: the corner that a true quarter circle takes off has the area (1 − π/4) r² and its
    # centre (10 − 3π)/(12 − 3π) r from the corner's sides; flats take off a little more.
    off = (10 - 3 * math.pi) / (12 - 3 * math.pi) * 2
    exact = math.pi * 100 * 8 - (1 - math.pi / 4) * 4 * math.tau * (10 - off)
    assert exact - 0.005 * exact < piece.volume < exact


def test_rectangle_with_mitred_walls() -> None:
    piece = Pad(length=40, width=20, corner=0, height=15, draft=3).piece()
    assert piece.top_area == 800
    assert piece.volume == pytest.approx(swept(800, 120, 4.0, 15, 3), rel=FLOAT)
    assert piece.volume == pytest.approx(12719.86461, abs=1e-5)


def test_rectangle_with_round_corners() -> None:
    piece = Pad(length=40, width=20, corner=4, height=10, draft=5).piece()
    area = 800 - (4 - math.pi) * 16
    perimeter = 120 - (8 - math.tau) * 4
    assert piece.top_area == pytest.approx(area, rel=FLOAT)
    assert piece.volume == pytest.approx(swept(area, perimeter, math.pi, 10, 5), rel=FLOAT)


@pytest.mark.parametrize("sides", [3, 5, 6, 12])
def test_regular_polygon(sides: int) -> None:
    piece = Pad(sides=sides, length=30, corner=2, height=8, draft=0).piece()
    slope = sides * tan(180 / sides)
    assert piece.top_area == pytest.approx(slope * 15**2 - (slope - math.pi) * 2**2, rel=FLOAT)
    assert piece.outline.inscribed_width == pytest.approx(30, abs=0.011)


def test_a_pad_rounded_all_the_way_is_a_disk() -> None:
    pad = Pad(sides=6, length=30, corner=15).piece()
    disk = Disk(diameter=30).piece()
    assert pad.volume == pytest.approx(disk.volume, rel=FLOAT)
    assert pad.coated_area == pytest.approx(disk.coated_area, rel=FLOAT)


def test_rail_with_round_ends() -> None:
    piece = Rail(length=80, width=12, height=10, draft=5).piece()
    area, perimeter = 68 * 12 + math.pi * 36, 2 * 68 + math.tau * 6
    assert piece.top_area == pytest.approx(area, rel=FLOAT)
    assert piece.volume == pytest.approx(swept(area, perimeter, math.pi, 10, 5), rel=FLOAT)


def test_ring_is_the_difference_of_two_frusta() -> None:
    piece = Ring(diameter=60, width=8, height=10, draft=5).piece()
    out = 10 * tan(5)
    volume = frustum(30 + out, 30, 10) - frustum(22 - out, 22, 10)
    assert piece.top_area == pytest.approx(math.pi * (30**2 - 22**2), rel=FLOAT)
    assert piece.volume == pytest.approx(volume, rel=FLOAT)


def test_part_of_a_ring() -> None:
    piece = Ring(diameter=60, width=8, arc=90, height=10, draft=5).piece()
    # A band along an arc of radius 26 and half width b has the area 26 φ 2b + π b².
    half = [4 + z * tan(5) for z in (10, 5, 0)]
    a, b, c = (26 * math.pi / 2 * 2 * h + math.pi * h * h for h in half)
    assert piece.top_area == pytest.approx(c, rel=FLOAT)
    assert piece.volume == pytest.approx(10 * (a + 4 * b + c) / 6, rel=FLOAT)


def test_crescent_against_shapely() -> None:
    piece = Crescent(diameter=40, thickness=14, hollow=34, horn=3).piece()
    disk = Point(0, 0).buffer(20, quad_segs=2000)
    lune = disk.difference(Point(0, 14 + 17 - 20).buffer(17, quad_segs=2000))
    # What a disk of the horns' radius can reach from within the lune.
    rounded = lune.buffer(-3, quad_segs=500).buffer(3, quad_segs=500)
    assert piece.top_area == pytest.approx(rounded.area, rel=2e-5)


@pytest.mark.parametrize(("corner", "inner"), [(0, 0), (4, 5)])
def test_tee_and_angle_are_made_of_rectangles(corner: float, inner: float) -> None:
    tee = Tee(span=45, depth=35, width=12, corner=corner, inner=inner).piece()
    angle = Angle(leg=40, other_leg=50, width=12, corner=corner, inner=inner).piece()
    off = (1 - math.pi / 4) * corner**2
    on = (1 - math.pi / 4) * inner**2
    assert tee.top_area == pytest.approx(45 * 12 + 23 * 12 - 6 * off + 2 * on, rel=FLOAT)
    assert angle.top_area == pytest.approx(40 * 12 + 38 * 12 - 5 * off + on, rel=FLOAT)


def test_angle_of_the_section_tables() -> None:
    """L 40 × 40 × 10: area 700 mm², centroid 13.5714 mm (computed with sectionproperties 3.10)."""
    outline = Angle(leg=40, other_leg=40, width=10, corner=0, inner=0).piece().outline
    assert outline.area == pytest.approx(700, rel=FLOAT)
    assert outline.bounds[:2] == pytest.approx((-13.5714, -13.5714), abs=5e-5)


@pytest.mark.parametrize("arms", [3, 4, 5, 12])
def test_arms_against_rectangles_laid_over_each_other(arms: int) -> None:
    from shapely.affinity import rotate

    piece = Stand(arms=arms, reach=60, width=10, end=0, inner=0).piece()
    arm = box(-5, 0, 5, 60)
    union = unary_union([rotate(arm, 360 * k / arms, origin=(0, 0)) for k in range(arms)])
    shared = arms * 5**2 / tan(180 / arms)  # kites between the centre and the hollow corners
    assert piece.top_area == pytest.approx(arms * 600 - shared, rel=FLOAT)
    assert piece.outline.polygon().symmetric_difference(union).area < 1e-6


def test_tripod_is_a_stand_of_three() -> None:
    same = {"reach": 40.0, "width": 14.0, "end": 6.0, "inner": 8.0, "height": 10.0}
    assert Tripod(**same).piece() == Stand(arms=3, **same).piece()  # type: ignore[arg-type]


def test_pointed_plate_is_a_frustum_with_three_more() -> None:
    size = PointedTripod(form="plate", reach=40, width=16, height=20, rounding=0)
    low = 40 + 12 * tan(5)
    volume = frustum(low, 40, 12) + 3 * frustum(4.5, 1, 8)
    piece = size.piece()
    assert piece.volume == pytest.approx(volume, rel=FLOAT)
    assert piece.height == 20
    side = math.pi * (low + 40) * math.hypot(12, low - 40)
    cones = 3 * (math.pi * 5.5 * math.hypot(8, 3.5) + math.pi - math.pi * 4.5**2)
    assert piece.coated_area == pytest.approx(side + math.pi * 1600 + cones, rel=FLOAT)


@pytest.mark.parametrize("arms", [3, 5, 8])
def test_tips_stand_evenly_round_the_centre(arms: int) -> None:
    piece = Stand(arms=arms, top="pointed", reach=60, width=14, inner=6, height=18).piece()
    centres = [
        ((f.bounds[0] + f.bounds[2]) / 2, (f.bounds[1] + f.bounds[3]) / 2) for f in piece.faces
    ]
    assert [math.hypot(*c) for c in centres] == pytest.approx([53.0] * arms)
    gaps = [math.dist(a, b) for a, b in pairwise([*centres, centres[0]])]
    assert gaps == pytest.approx([2 * 53 * math.sin(math.pi / arms)] * arms)
    assert piece.tips is not None
    assert piece.tips.flat_area == pytest.approx(math.pi)


def test_cradle_against_a_sum_of_slices() -> None:
    piece = Cradle(hollow=80, length=30, width=50, lip=5, height=20, draft=6).piece()
    n, r, b = 200_000, 40.0, 20.0
    centre = math.sqrt(r * r - b * b)
    taken = 0.0
    for k in range(n):
        x = -b + 2 * b * (k + 0.5) / n
        depth = math.sqrt(r * r - x * x) - centre
        # The ends lean out: the slice is a trapezium, longer at the channel's floor.
        taken += depth * (30 + depth * tan(6)) * 2 * b / n
    block = swept(1500, 160, 4.0, 20, 6)
    assert piece.volume == pytest.approx(block - taken, rel=1e-7)
    assert piece.hollow_radius == 40
    assert piece.top_area == 40 * 30


def test_cones_lean_eight_degrees_in_their_slots() -> None:
    """Large pyrometric cones lean 8° from the upright (standard practice, from memory)."""
    piece = ConeSeat(cones=2).piece()
    for slot in piece.body.pockets:
        assert isinstance(slot, Loft)
        (z0, low), (z1, high) = slot.sections
        rest = math.degrees(math.atan2(high.bounds[2] - low.bounds[2], z1 - z0))
        away = math.degrees(math.atan2(low.bounds[0] - high.bounds[0], z1 - z0))
        assert (rest, away) == pytest.approx((8.0, 5.0))
        (a, b), (c, d) = low.size, high.size
        ponton = (z1 - z0) / 6 * (a * (2 * b + d) + c * (2 * d + b))
        assert slot.volume == pytest.approx(ponton, rel=FLOAT)
    assert piece.faces == ()


def test_pebbles_rest_on_the_floor_of_their_pockets() -> None:
    size = StoneSeat(pebble=12, depth=5, play=0.5, height=12, draft=0, rounding=0)
    piece = size.piece()
    # A cap of depth d of a sphere of radius R: π d² (3 R − d)/3.
    cap = math.pi * 25 * (3 * 6.5 - 5) / 3
    assert piece.volume == pytest.approx(math.pi * 30**2 * 12 - 3 * cap, rel=FLOAT)
    floor = piece.body.height - size.depth
    assert piece.height == pytest.approx(floor + 12)


def test_custom_scales_to_a_width() -> None:
    outline = Pad(length=40, width=20, corner=3).piece().outline
    piece = Custom(outline=outline, width=60).piece()
    assert piece.outline.size == pytest.approx((60, 30))
    assert piece.outline.area == pytest.approx(outline.area * 2.25)


@pytest.mark.parametrize("kind", families().values(), ids=families())
def test_parameters_are_declared_whole(kind: type[Family]) -> None:
    assert kind.summary
    assert set(kind.bodies) <= set(BODIES)
    for parameter in kind.parameters():
        assert parameter.help
        if parameter.unit == "choice":
            assert parameter.default in parameter.choices
        elif parameter.unit != "outline":
            assert parameter.low <= parameter.default <= parameter.high


def test_pointed_things_are_solid() -> None:
    solid = {name for name, kind in families().items() if kind.bodies == ("solid",)}
    assert solid == {"pointed-tripod", "stone-seat"}
    assert Stand(top="pointed").allowed_bodies == ("solid",)
    assert Stand(top="flat").allowed_bodies == BODIES


@pytest.mark.parametrize(
    ("name", "values", "where", "right"),
    [
        ("disk", {"diameter": 2}, "diameter", "give 4 mm to 150 mm"),
        ("disk", {"diameter": 8, "rounding": 4}, "rounding", "at most 3.8 mm"),
        ("disk", {"diameter": math.nan}, "diameter", "give 4 mm to 150 mm"),
        ("pad", {"sides": 5, "width": 20}, "width", "give 0: a pad of 5 sides"),
        ("pad", {"length": 10, "corner": 6}, "length", "at least 12 mm for corner 6 mm"),
        ("pad", {"width": 2}, "width", "at least 4 mm or 0 for a square"),
        ("pad", {"corner": 1, "rounding": 1}, "corner", "at least 1.2 mm or 0"),
        ("rail", {"length": 10, "width": 20}, "length", "at least 20 mm"),
        ("ring", {"diameter": 20, "width": 9}, "diameter", "so that the hole stays open"),
        ("ring", {"arc": 350}, "arc", "or 360 for a whole ring"),
        ("crescent", {"horn": 8}, "hollow", "makes no two horns"),
        ("tee", {"span": 20}, "span", "at least 30 mm for its roundings"),
        ("tee", {"inner": 0.5, "height": 20}, "inner", "the walls lean out there"),
        ("angle", {"leg": 15}, "leg", "at least 21 mm"),
        ("tripod", {"reach": 10}, "reach", "so that the arms stand clear"),
        ("pointed-tripod", {"height": 9}, "height", "at least 11 mm"),
        ("pointed-tripod", {"tip_foot": 3}, "tip_foot", "lean as much as the draft"),
        ("pointed-tripod", {"tip_foot": 13}, "width", "so that the tips stand on it"),
        ("pointed-tripod", {"form": "disk"}, "form", "give arms or plate"),
        ("stand", {"arms": 12, "reach": 40}, "reach", "so that the arms stand clear"),
        ("stand", {"arms": 2}, "arms", "give 3 to 12"),
        ("cradle", {"hollow": 40}, "hollow", "for a channel of this width"),
        ("cradle", {"height": 6}, "height", "so that a floor is left"),
        ("cone-seat", {"lean": 3}, "lean", "give at least the draft, 5°"),
        ("cone-seat", {"height": 14}, "height", "at least 16 mm"),
        ("stone-seat", {"depth": 6}, "depth", "so that the pocket leaves its mould"),
        ("stone-seat", {"circle": 12}, "circle", "so that the pebbles lie apart"),
        ("stone-seat", {"circle": 50}, "diameter", "so that the pockets lie inside"),
        ("custom", {}, "outline", "give an outline file"),
        ("custom", {"outline": Outline.circle(9), "height": 4, "rounding": 4}, "rounding", "3.8"),
    ],
)
def test_what_does_not_go_together_is_said(
    name: str, values: dict[str, object], where: str, right: str
) -> None:
    with pytest.raises(BadInput) as caught:
        family(name).sized(values)
    assert any(f.where == where and right in f.right for f in caught.value.faults), caught.value


def test_following_the_advice_helps() -> None:
    """The size that a message names is one that is then taken."""
    with pytest.raises(BadInput, match=r"at least (\d+\.\d+) mm") as caught:
        Stand(arms=12, reach=40)
    (fault,) = (f for f in caught.value.faults if f.where == "reach")
    least = float(fault.right.split("at least ")[1].split(" mm")[0])
    assert Stand(arms=12, reach=least).piece().volume > 0
    with pytest.raises(BadInput):
        Stand(arms=12, reach=least - 0.02)
