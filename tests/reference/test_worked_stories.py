"""Six pots set on wads, worked by hand.

Source
------
Invented pots; every figure was computed on paper from the weight with g = 9.81 m/s², areas of
circles and arcs, and the statics of a rigid body on a plane (derived, no publication).

Ours uses g = 9.80665 m/s².  So a figure that was written with some digits must agree within half
of its last digit and those 0.034 %.
"""

from __future__ import annotations

import math

import pytest
import shapely

from wadforms.catalogue import find
from wadforms.families.disk import Disk
from wadforms.families.rail import Rail
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.setting.arrangement import Arrangement, Spot, circle
from wadforms.setting.assessment import UNSAFE, Assessment, Check
from wadforms.setting.checks import check
from wadforms.setting.feet import FlatFoot, GalleryFoot, RingFoot, SideFoot
from wadforms.setting.limits import PLACES, SHEAR
from wadforms.setting.mixes import mix
from wadforms.setting.pot import Pot, Setting
from wadforms.setting.rounds import perch
from wadforms.setting.shrinkage import mould_factor
from wadforms.setting.span import least_wads

GRAVITIES = 9.81 / 9.80665 - 1


def written(value: float, digit: float, *, weight: bool = True) -> object:
    """A figure of the stories, rounded to `digit`; `weight` tells whether g is in it."""
    return pytest.approx(value, abs=digit / 2 + (GRAVITIES * value if weight else 0.0) + 1e-9)


def named(answer: Assessment, part: str) -> Check:
    """The one check whose name has this in it."""
    (found,) = [c for c in answer.checks if part in c.name]
    return found


class TestTeaBowlAndMug:
    """1: a tea bowl of 380 g and a mug of 450 g on foot rings."""

    def bowl(self, count: int) -> Assessment:
        pot = Pot(mass=380.0, foot=RingFoot(50.0, 5.0), centre_height=45.0)
        piece = Disk(diameter=10, height=8).piece()
        wads = Arrangement(piece, tuple(circle(count, 22.5)))
        return check(Setting(pot=pot, arrangement=wads, body="dry", mix=mix("open")))

    def test_three_wads(self) -> None:
        answer = self.bowl(3)
        for wad in answer.wads:
            assert wad.area == written(47.9, 0.1, weight=False)
            assert wad.used == written(0.61, 0.01, weight=False)
            # A patch's middle moves 1e-5 of the radius with how its arcs fall on the polygon.
            assert wad.load == pytest.approx(0.380 * 9.81 / 3, rel=GRAVITIES + 1e-5)
        assert math.pi * 25 == written(78.5, 0.1, weight=False)
        assert answer.pressure == written(25.9, 0.1)

    @pytest.mark.parametrize(("count", "story"), [(3, 12.0), (4, 16.7)])
    def test_tipping(self, count: int, story: float) -> None:
        # The story reckons to the middles of the wads, 22.5 mm out, and 53 mm down to the shelf.
        # What touches is a lens cut by two circles, whose middle is 0.13 mm nearer; ours turns
        # about that, the safer figure, and so is up to 0.1° less.
        apothem = math.cos(math.pi / count)
        assert math.degrees(math.atan2(22.5 * apothem, 53.0)) == written(story, 0.1, weight=False)
        ring = shapely.Point(0, 0).buffer(25, 256).difference(shapely.Point(0, 0).buffer(20, 256))
        middle = ring.intersection(shapely.Point(22.5, 0).buffer(5, 256)).centroid.x
        nearer = math.degrees(math.atan2(middle * apothem, 53.0))
        assert story - 0.1 < nearer < story
        # Flattened arcs move the middle by up to 0.005 mm, which is 0.005° over 53 mm.
        assert self.bowl(count).tipping_angle == pytest.approx(nearer, abs=0.006)

    def test_says_that_the_wad_is_wider_than_the_ring(self) -> None:
        (note,) = [n for n in self.bowl(3).notes if "61%" in n]
        assert "10 mm wide" in note
        assert "ring 5 mm" in note

    def test_mug(self) -> None:
        # The story leaves the centre of gravity out; its 15.4° are those of 52 mm above the foot.
        pot = Pot(mass=450.0, foot=RingFoot(70.0, 6.0), centre_height=52.0)
        wads = Arrangement(Disk(diameter=12, height=6).piece(), tuple(circle(3, 32.0)))
        answer = check(Setting(pot=pot, arrangement=wads, body="dry", mix=mix("open")))
        assert answer.pressure == written(21.3, 0.1)
        assert answer.tipping_angle == written(15.4, 0.1, weight=False)


class TestJarBesideTheFirebox:
    """2: a jar of 35 kg on a flat base."""

    def jar(self, count: int, diameter: float, body: str = "dry", feel: str = "firm") -> Assessment:
        pot = Pot(mass=35_000.0, foot=FlatFoot(240.0), centre_height=300.0)
        piece = Disk(diameter=diameter, height=18).piece()
        wads = Arrangement(piece, tuple(circle(count, 95.0)))
        setting = Setting(
            pot=pot,
            arrangement=wads,
            body=body,
            mix=mix("open"),
            place=PLACES["firebox"],
            shear=SHEAR[feel],
        )
        return check(setting)

    def test_three_small_ones_are_too_few(self) -> None:
        answer = self.jar(3, 20.0)
        assert answer.pressure == written(364.0, 1.0)
        assert named(answer, "at top heat").verdict == UNSAFE

    def test_three_of_40(self) -> None:
        answer = self.jar(3, 40.0)
        assert answer.pressure == written(91.0, 1.0)
        assert answer.tipping_angle == written(8.5, 0.1, weight=False)

    def test_five_of_45_wet(self) -> None:
        answer = self.jar(5, 45.0, body="wet")
        assert answer.pressure == written(43.0, 1.0)
        assert answer.tipping_angle == written(13.6, 0.1, weight=False)

    @pytest.mark.parametrize(("feel", "squash"), [("soft", 59.0), ("firm", 118.0)])
    def test_squash(self, feel: str, squash: float) -> None:
        answer = self.jar(5, 45.0, body="wet", feel=feel)
        # Written without its decimals: 59.2 and 118.5.
        assert squash <= answer.cold_limit.value < squash + 1
        assert named(answer, "soft wads").verdict != UNSAFE


class TestPlatter:
    """3: a platter of 6.5 kg, 600 mm wide."""

    def platter(self, *spots: Spot) -> Assessment:
        pot = Pot(mass=6500.0, foot=FlatFoot(420.0), height=50.0)
        wads = Arrangement(Disk(diameter=12, height=8).piece(), spots)
        return check(Setting(pot=pot, arrangement=wads, body="wet", mix=mix("open")))

    def test_three_wads_are_too_far_apart(self) -> None:
        answer = self.platter(*circle(3, 180.0))
        assert answer.spacing == written(377.0, 1.0, weight=False)
        assert answer.pressure == written(188.0, 1.0)
        assert named(answer, "spacing").verdict == UNSAFE
        assert named(answer, "at top heat").verdict == UNSAFE

    def test_24_wads(self) -> None:
        counts = [least_wads(radius, 76.2) for radius in (180.0, 90.0)]
        assert counts == [15, 8]
        outer, inner = (circle(n, r) for n, r in zip(counts, (180.0, 90.0), strict=True))
        answer = self.platter(*outer, *inner, Spot(0.0, 0.0))
        assert len(answer.wads) == 24
        assert answer.pressure == written(23.5, 0.1)
        assert answer.spacing == written(76.0, 2.0, weight=False)  # "at 76 mm": at most that
        assert named(answer, "spacing").verdict != UNSAFE


class TestLiddedJar:
    """4: a jar of 2.4 kg, its lid of 600 g on wads of its own."""

    def lid(self, count: int, diameter: float) -> Assessment:
        pot = Pot(mass=600.0, foot=GalleryFoot(117.0, 7.0))
        piece = Disk(diameter=diameter, height=4).piece()
        wads = Arrangement(piece, tuple(circle(count, 55.0)))
        return check(Setting(pot=pot, arrangement=wads, body="dry", mix=mix("open")))

    def test_eight_on_the_ledge(self) -> None:
        answer = self.lid(8, 5.0)
        assert answer.spacing == written(43.0, 1.0, weight=False)
        assert answer.pressure == written(37.0, 1.0)
        assert named(answer, "wall").verdict != UNSAFE
        assert self.lid(6, 5.0).pressure == written(50.0, 1.0)

    def test_wider_ones_touch_the_wall(self) -> None:
        answer = self.lid(8, 7.0)
        assert named(answer, "wall").verdict == UNSAFE
        assert answer.verdict == UNSAFE

    def test_the_base_carries_both(self) -> None:
        pot = Pot(mass=2400.0 + 600.0, foot=RingFoot(110.0, 8.0))
        wads = Arrangement(Disk(diameter=16).piece(), tuple(circle(3, 51.0)))
        answer = check(Setting(pot=pot, arrangement=wads, body="dry", mix=mix("open")))
        assert answer.load == pytest.approx(3.0 * 9.81, rel=GRAVITIES + 1e-9)


class TestBottleOnItsSide:
    """5: a bottle of 1.6 kg laid down, 70 % of it on two rails."""

    def test_by_the_check(self) -> None:
        pot = Pot(mass=1600.0, foot=SideFoot(130.0), share=0.7)
        half = 65.0 * math.sin(math.radians(40.0))
        wads = Arrangement(
            Rail(length=30, width=12, height=20).piece(),
            (Spot(half, 0.0, 90.0), Spot(-half, 0.0, 90.0)),
        )
        answer = check(Setting(pot=pot, arrangement=wads, body="wet", mix=mix("open")))
        assert answer.extra["contact_angle_deg"] == pytest.approx(40.0, abs=1e-9)
        assert answer.extra["normal_n"] == written(7.17, 0.01)
        assert answer.extra["thrust_n"] == written(4.61, 0.01)
        assert answer.extra["half_spacing_mm"] == written(41.8, 0.1, weight=False)
        assert answer.extra["rise_mm"] == written(15.2, 0.1, weight=False)
        assert [wad.load for wad in answer.wads] == [written(7.17, 0.01)] * 2

    def test_the_three_forces_close(self) -> None:
        """Weight and two normals, as vectors."""
        force = 0.7 * 1.6 * 9.81
        one = perch(force, 2, 65.0, 40.0)
        assert math.hypot(one.thrust, one.vertical) == pytest.approx(one.normal, rel=1e-12)
        assert 2 * one.normal * math.cos(math.radians(40.0)) == pytest.approx(force, rel=1e-12)


def leaf() -> Outline:
    """Two arcs of 55 mm chord, each rising 14 mm: radius (27.5² + 14²)/(2 · 14)."""
    bulge = 14.0 / 27.5  # tan(sweep/4) is rise over half chord
    return Outline(Contour(((-27.5, 0.0), (27.5, 0.0)), (bulge, bulge)))


class TestLeafWads:
    """6: four leaves of two arcs under 12 kg."""

    def test_area_of_two_arcs(self) -> None:
        radius = (27.5**2 + 14.0**2) / 28.0
        half = math.asin(27.5 / radius)
        by_segments = 2 * radius**2 * (half - math.sin(half) * math.cos(half))
        assert by_segments == written(1078.0, 1.0, weight=False)
        assert leaf().area == pytest.approx(by_segments, rel=1e-12)
        assert leaf().size == pytest.approx((55.0, 28.0), rel=1e-12)

    def test_named_shape_is_that_leaf(self) -> None:
        piece = find("leaf-55").piece()
        # The drawing gives radii with nine digits after the point.
        assert piece.top_area == pytest.approx(leaf().area, rel=1e-8)
        assert piece.outline.size == pytest.approx((55.0, 28.0), rel=1e-8)

    def test_four_under_12_kg(self) -> None:
        pot = Pot(mass=12_000.0, foot=FlatFoot(200.0))
        wads = Arrangement(find("leaf-55").piece(), tuple(circle(4, 60.0)))
        answer = check(Setting(pot=pot, arrangement=wads, body="wet", mix=mix("open")))
        assert [wad.area for wad in answer.wads] == [written(1078.0, 1.0, weight=False)] * 4
        assert answer.pressure == written(27.3, 0.1)

    def test_wet_size(self) -> None:
        assert mix("open").total == pytest.approx(0.121, abs=5e-4)
        wet = leaf().scaled(mould_factor(0.121))
        assert wet.size[0] == written(62.6, 0.1, weight=False)
        assert wet.size[1] == written(31.9, 0.1, weight=False)
