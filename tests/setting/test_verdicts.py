"""What the check says of single settings: each kind of foot, each way to fail, in which words."""

from __future__ import annotations

import math

import pytest

from wadforms import units
from wadforms.catalogue import find
from wadforms.errors import BadInput
from wadforms.families.base import Piece
from wadforms.families.cradle import Cradle
from wadforms.families.disk import Disk
from wadforms.families.rail import Rail
from wadforms.setting.arrangement import Arrangement, Spot, circle
from wadforms.setting.assessment import (
    SOUND,
    TIGHT_WORD,
    UNSAFE,
    Assessment,
    Check,
    least,
    most,
    worst_verdict,
)
from wadforms.setting.checks import check
from wadforms.setting.feet import FlatFoot, Foot, RingFoot, RoundFoot, SideFoot
from wadforms.setting.limits import PLACES, Limit
from wadforms.setting.mixes import USUAL, mix
from wadforms.setting.pot import Pot, Setting

TEN = Limit(10.0, "kPa", "here", assumed=False)


def set_on(
    foot: Foot,
    piece: Piece,
    *spots: Spot,
    body: str = "dry",
    place: str = "sheltered",
    **pot: object,
) -> Assessment:
    """The assessment of a pot of 1 kg, where nothing else is said."""
    standing = Pot(**({"mass": 1000.0, "foot": foot} | pot))  # type: ignore[arg-type]
    return check(
        Setting(
            pot=standing,
            arrangement=Arrangement(piece, spots),
            body=body,
            mix=mix(USUAL[body]),
            place=PLACES[place],
        )
    )


def named(answer: Assessment, part: str) -> Check:
    """The one check with this in its name."""
    (found,) = [one for one in answer.checks if part in one.name]
    return found


@pytest.mark.parametrize(
    ("one", "verdict"),
    [
        (most("p", 0.0, TEN), SOUND),
        (most("p", 8.0, TEN), SOUND),
        (most("p", 8.1, TEN), TIGHT_WORD),
        (most("p", 10.0, TEN), TIGHT_WORD),
        (most("p", 10.1, TEN), UNSAFE),
        (most("p", math.nan, TEN), UNSAFE),
        (least("a", 10.0, TEN), SOUND),
        (least("a", 9.9, TEN), UNSAFE),
        (least("a", -5.0, TEN), UNSAFE),
        (least("a", 10.0, TEN, sound=15.0), TIGHT_WORD),
        (least("a", 14.9, TEN, sound=15.0), TIGHT_WORD),
        (least("a", 15.0, TEN, sound=15.0), SOUND),
        (least("a", 400.0, TEN, sound=15.0), SOUND),
    ],
)
def test_verdict_of_a_value_beside_its_limit(one: Check, verdict: str) -> None:
    assert one.verdict == verdict


def test_a_value_at_its_limit_is_sound_whatever_its_digits() -> None:
    limits = [k / 2 for k in range(10, 700)]
    found = [least("radius", value, Limit(value, "mm", "here")).verdict for value in limits]
    assert set(found) == {SOUND}


def test_the_worst_value_governs() -> None:
    assert worst_verdict([SOUND, TIGHT_WORD]) == TIGHT_WORD
    answer = set_on(FlatFoot(100.0), Disk(diameter=12).piece(), *circle(3, 40.0), mass=30_000.0)
    assert answer.verdict == UNSAFE
    assert answer.governing.used == max(one.used for one in answer.checks)
    assert "mm²" in named(answer, "at top heat").mend


def test_rigid_wads_are_judged_by_the_worst_three_and_soft_ones_are_not() -> None:
    disk = Disk(diameter=20, height=10).piece()
    dry = set_on(FlatFoot(100.0), disk, *circle(6, 40.0))
    wet = set_on(FlatFoot(100.0), disk, *circle(6, 40.0), body="wet")
    assert dry.worst_pressure == pytest.approx(3 * dry.pressure)  # half of it, not a sixth
    assert wet.worst_pressure == pytest.approx(wet.pressure)
    assert [w.load for w in dry.wads] == pytest.approx([w.load for w in wet.wads])


def test_a_wad_that_misses_the_foot_is_named() -> None:
    spots = (*circle(3, 40.0), Spot(90.0, 0.0))
    answer = set_on(FlatFoot(100.0), Disk(diameter=12).piece(), *spots, height=60.0)
    assert answer.verdict == UNSAFE
    assert named(answer, "wads that touch").mend == "move wad 4 under the foot"


def test_when_every_wad_misses_nothing_is_balanced() -> None:
    answer = set_on(FlatFoot(100.0), Disk().piece(), *circle(3, 200.0), height=60.0)
    assert answer.contact_area == 0.0
    assert named(answer, "balance").verdict == UNSAFE


def test_weight_outside_the_wads_is_not_balanced() -> None:
    disk = Disk(diameter=12).piece()
    answer = set_on(FlatFoot(100.0), disk, *circle(3, 40.0), height=60.0, centre=(0.0, -45.0))
    assert named(answer, "balance").verdict == UNSAFE
    assert answer.tipping_angle is not None
    assert answer.tipping_angle < 0


def test_off_centre_weight_lifts_a_wad_and_the_note_says_so() -> None:
    disk = Disk(diameter=12).piece()
    spots = circle(4, 40.0, first=45.0)
    answer = set_on(
        FlatFoot(120.0), disk, *spots, body="wet", height=60.0, centre=(26.0, 0.0), mass=300.0
    )
    assert named(answer, "contact that lifts").verdict == TIGHT_WORD
    left, right = answer.wads[1], answer.wads[0]
    assert left.load < 0.1 * right.load


@pytest.mark.parametrize("turn", [0.0, 12.0, 37.0, 90.0])
@pytest.mark.parametrize("body", ["wet", "dry"])
def test_three_wads_in_a_row_stand_on_their_width(turn: float, body: str) -> None:
    spots = [
        Spot(x * math.cos(math.radians(turn)), x * math.sin(math.radians(turn)))
        for x in (-30.0, 0.0, 30.0)
    ]
    answer = set_on(FlatFoot(100.0), Disk(diameter=12).piece(), *spots, body=body, height=50.0)
    # 6 mm to the side less a quarter of 12 mm, over 25 + 8 mm; the polygon of a wad is within
    # 0.005 mm of its circle, but its hull's edges are up to 3° apart.
    assert answer.tipping_angle == pytest.approx(math.degrees(math.atan(3 / 33)), abs=0.05)
    assert answer.wads[0].load == pytest.approx(answer.load / 3, rel=1e-6)


def test_tipping_is_stricter_where_wood_is_thrown() -> None:
    disk = Disk(diameter=12, height=8).piece()
    verdicts = {}
    for place in PLACES:
        answer = set_on(
            FlatFoot(100.0), disk, *circle(3, 40.0), place=place, centre_height=92.0
        )  # 20 mm over 100: 11.3°
        verdicts[place] = named(answer, "tipping").verdict
    assert verdicts == {"sheltered": TIGHT_WORD, "firebox": TIGHT_WORD, "stoking": UNSAFE}


def test_limits_at_heat_are_halved_beside_the_firebox_and_no_others() -> None:
    disk = Disk(diameter=20, height=10).piece()
    here, there = (
        set_on(FlatFoot(100.0), disk, *circle(3, 40.0), place=place)
        for place in ("sheltered", "firebox")
    )
    assert there.limit.value == pytest.approx(here.limit.value / 2)
    assert there.cold_limit == here.cold_limit
    assert "firebox" in there.limit.source


def test_what_was_not_said_is_noted() -> None:
    answer = set_on(FlatFoot(100.0), Disk(diameter=12).piece(), *circle(3, 40.0))
    assert answer.tipping_angle is None
    assert answer.unchecked == ("tipping, since the height of the pot is not known",)
    assert answer.governing.verdict == SOUND
    assert answer.verdict == TIGHT_WORD
    assert any("shrinks 5 % in drying and 7.5 % in firing" in words for words in answer.assumed)


def test_flatware_is_told_its_sag() -> None:
    disk = Disk(diameter=12).piece()
    index = 2.0 * 5.0**2 / 100.0**4
    answer = set_on(
        FlatFoot(150.0),
        disk,
        *circle(6, 60.0),
        height=25.0,
        base_thickness=5.0,
        pyroplastic_index=index,
    )
    spacing = math.tau * 60 / 6
    assert answer.spacing == pytest.approx(spacing)
    sag = 2.0 * (spacing / 100.0) ** 4
    assert any(f"sag {sag:.2f} mm" in note for note in answer.notes)


def test_tips_are_judged_by_their_flats_and_their_bases() -> None:
    shape = find("pointed-tripod-63")
    answer = set_on(FlatFoot(100.0), shape.piece(), Spot(0.0, 0.0), body="solid", height=90.0)
    tips = shape.piece().tips
    assert tips is not None
    third = answer.load / 3
    assert named(answer, "tip while cold").value == pytest.approx(
        third / tips.flat_area * 1000, rel=1e-3
    )
    assert named(answer, "base of a tip").value == pytest.approx(
        third / tips.base_area * 1000, rel=1e-3
    )
    assert named(answer, "base of a tip").limit.value == 200.0
    assert answer.wads[0].load == pytest.approx(answer.load, rel=1e-6)


def test_tips_need_a_mix_that_has_a_limit_for_them() -> None:
    piece = find("pointed-tripod-63").piece()
    pot = Pot(mass=500.0, foot=FlatFoot(100.0))
    clay = mix("fireclay")._replace(tip=None)
    setting = Setting(
        pot=pot, arrangement=Arrangement(piece, (Spot(0, 0),)), body="solid", mix=clay
    )
    with pytest.raises(BadInput, match=r"limits\.tip"):
        check(setting)


def test_a_fired_solid_piece_keeps_its_contact_and_others_lose_some() -> None:
    disk = Disk(diameter=20).piece()
    kept = {
        body: set_on(FlatFoot(100.0), disk, *circle(3, 30.0), body=body).fired_contact_area
        / (3 * math.pi * 100)
        for body in ("wet", "dry", "solid")
    }
    expected = {"wet": (0.95 * 0.925) ** 2, "dry": 0.925**2, "solid": 1.0}
    assert kept == pytest.approx(expected, rel=1e-9)


def test_one_wad_that_spans_two_rings_is_one_support() -> None:
    answer = set_on(
        RingFoot(100.0, 5.0, (80.0,)), Disk(diameter=30).piece(), *circle(3, 42.5), height=60.0
    )
    assert len(answer.support) == 3
    assert answer.wads[0].used < 0.5
    assert answer.wads[0].load == pytest.approx(answer.load / 3, rel=1e-4)


class TestCurved:
    """Round bottoms and pots on their side."""

    disk = Disk(diameter=20, height=20).piece()
    rail = Rail(length=60, width=20, height=24, ends="square").piece()

    def test_loose_wads_under_a_round_bottom_topple(self) -> None:
        # Rigid discs 10 mm in radius, 48 mm out: a sphere meets them at their inner edge.
        steep = set_on(RoundFoot(120.0), self.disk, *circle(3, 48.0), centre_height=60.0)
        angle = math.asin(38 / 60)
        assert steep.extra["contact_angle_deg"] == pytest.approx(math.degrees(angle), abs=0.05)
        assert steep.extra["rise_mm"] == pytest.approx(60 * (1 - math.cos(angle)), rel=2e-3)
        base = 20 + 2 * 20 * math.tan(math.radians(5.0))
        expected = math.tan(angle) * 20 / (base / 2)
        assert named(steep, "outward push").value == pytest.approx(expected, rel=2e-3)
        assert named(steep, "outward push").verdict == UNSAFE

    def test_one_ring_holds_it_together(self) -> None:
        ring = find("ring-63").piece()
        answer = set_on(RoundFoot(200.0), ring, Spot(0.0, 0.0), centre_height=60.0)
        assert not [one for one in answer.checks if "outward push" in one.name]
        assert sum(w.load for w in answer.wads) * math.cos(
            math.radians(answer.extra["contact_angle_deg"])
        ) == pytest.approx(answer.load)

    @pytest.mark.parametrize(
        ("foot", "spots", "words"),
        [
            (RoundFoot(120.0), circle(3, 60.0), "radius: 60 mm was given; give more than 0"),
            (RoundFoot(120.0), circle(2, 30.0), "a round bottom needs three or more wads"),
            (RoundFoot(120.0), [*circle(3, 30.0), Spot(0, 0)], "on one circle"),
            (SideFoot(120.0), circle(3, 40.0), "lies on two rails, one on each side"),
            (SideFoot(120.0), [Spot(40, 0), Spot(-30, 0)], "not opposite each other"),
            (SideFoot(120.0), [Spot(70, 0), Spot(-70, 0)], "less than half the belly, 60 mm"),
        ],
    )
    def test_what_cannot_hold_it(self, foot: Foot, spots: list[Spot], words: str) -> None:
        with pytest.raises(BadInput) as caught:
            set_on(foot, self.disk, *spots)
        assert words in str(caught.value)

    def test_a_pot_that_would_touch_the_shelf(self) -> None:
        low = Rail(length=60, width=20, height=8).piece()
        spots = (Spot(40.0, 0.0, 90.0), Spot(-40.0, 0.0, 90.0))
        answer = set_on(SideFoot(120.0), low, *spots)
        rise = 60 - math.sqrt(60**2 - 30**2)  # at the inner edges of rails 20 mm wide
        assert named(answer, "room between pot and shelf").value == pytest.approx(8 - rise)
        assert answer.verdict == UNSAFE
        assert named(set_on(SideFoot(120.0), self.rail, *spots), "room").verdict == SOUND

    @pytest.mark.parametrize(
        ("body", "kept", "sunk"), [("wet", 0.95 * 0.925, 24 / 4), ("dry", 0.925, 1.0)]
    )
    def test_pressure_is_square_to_the_belly_and_on_what_can_bed(
        self, body: str, kept: float, sunk: float
    ) -> None:
        spots = (Spot(40.0, 0.0, 90.0), Spot(-40.0, 0.0, 90.0))
        answer = set_on(SideFoot(120.0), self.rail, *spots, body=body)
        # The belly meets the top 30 mm out; sunk, it cuts the level of the top farther out.
        reach = math.sqrt(60**2 - (math.sqrt(60**2 - 30**2) - sunk) ** 2)
        contact = reach if body == "wet" else 30.0
        normal = 9.80665 / 2 / math.cos(math.asin(contact / 60))
        assert answer.pressure == pytest.approx(normal / (60 * (reach - 30)) * 1000)
        assert answer.fired_pressure == pytest.approx(answer.pressure / kept**2)
        assert named(answer, "at top heat").value == answer.fired_pressure

    def test_a_rigid_wad_touches_at_a_point(self) -> None:
        spots = circle(3, 20.0)
        dry = set_on(RoundFoot(160.0), self.disk, *spots)
        wet = set_on(RoundFoot(160.0), self.disk, *spots, body="wet")
        assert "bruise_diameter_mm" not in wet.extra
        normal = max(wad.worst_load for wad in dry.wads)
        crushed = math.pi * dry.extra["bruise_diameter_mm"] ** 2 / 4
        assert crushed * dry.cold_limit.value / 1000.0 == pytest.approx(normal)
        assert any("touches a round pot at a point" in note for note in dry.notes)

    def test_a_single_piece_stands_in_the_middle(self) -> None:
        ring = find("ring-63").piece()
        with pytest.raises(BadInput, match="stand a single piece in the middle"):
            set_on(RoundFoot(160.0), ring, Spot(80.0, 0.0))

    def test_a_bottle_off_the_middle_leans_on_one_rail(self) -> None:
        rails = circle(2, 41.78)
        evenly = set_on(SideFoot(130.0), self.disk, *rails, body="wet")
        (x, y), reach = (rails[0].x, rails[0].y), evenly.extra["half_spacing_mm"]
        toward = set_on(
            SideFoot(130.0), self.disk, *rails, body="wet", centre=(x * 20 / 41.78, y * 20 / 41.78)
        )
        # Lever rule: the nearer rail takes 1/2 + 20/(2 a) of the weight, a out.
        share = toward.wads[0].load / (2 * evenly.wads[0].load)
        assert share == pytest.approx(0.5 + 20 / (2 * reach))

    def test_a_hollow_far_wider_than_the_belly_is_no_bed(self) -> None:
        wide = Cradle(hollow=150.0).piece()
        answer = set_on(SideFoot(100.0), wide, Spot(0.0, 0.0), body="wet")
        assert named(answer, "hollow over belly").verdict == UNSAFE

    def test_cradle(self) -> None:
        piece = find("cradle-130").piece()
        answer = set_on(SideFoot(130.0), piece, Spot(0.0, 0.0), body="wet")
        assert answer.contact_area == pytest.approx(piece.top_area)
        assert named(answer, "radius of the hollow").verdict == SOUND
        larger = set_on(SideFoot(140.0), piece, Spot(0.0, 0.0), body="wet")
        assert named(larger, "radius of the hollow").verdict == UNSAFE


def test_a_wet_wad_that_lifts_is_judged_by_what_stays_loaded() -> None:
    wide = Disk(diameter=60, height=10).piece()
    pushed = set_on(
        FlatFoot(60.0), wide, Spot(0.0, 0.0), body="wet", mass=12_000.0, centre=(25.0, 0.0)
    )
    evenly = set_on(FlatFoot(60.0), wide, Spot(0.0, 0.0), body="wet", mass=12_000.0)
    assert evenly.fired_pressure * evenly.fired_contact_area / 1000.0 == pytest.approx(evenly.load)
    assert pushed.fired_pressure > 3 * evenly.fired_pressure
    assert pushed.verdict == UNSAFE


def test_a_measured_limit_is_taken_as_it_is() -> None:
    """A test of a whole wad has its squatness in it; the place in the kiln still counts."""
    squat = Disk(diameter=60, height=6).piece()
    clay = mix("open").measured({"at-heat": 80.0}, "brick test")
    for place, allowed in (("sheltered", 80.0), ("firebox", 40.0)):
        answer = check(
            Setting(
                pot=Pot(mass=1000.0, foot=FlatFoot(200.0), height=100.0),
                arrangement=Arrangement(squat, tuple(circle(3, 60.0))),
                body="dry",
                mix=clay,
                place=PLACES[place],
            )
        )
        assert answer.limit.value == pytest.approx(allowed)
        assert any("brick test" in note for note in answer.notes)


def test_a_squat_piece_bears_by_the_width_that_touches() -> None:
    wide = Disk(diameter=25, height=3).piece()
    on_ring = set_on(RingFoot(100.0, 3.0), wide, *circle(3, 48.5), height=100.0)
    on_flat = set_on(FlatFoot(140.0), wide, *circle(3, 48.5), height=100.0)
    # 50 kPa (1 + D/(3√3 h)) with D of the ring, 3 mm, and of the disk, 25 mm.
    assert on_ring.limit.value == pytest.approx(50 * (1 + 3 / (3 * math.sqrt(3) * 3)))
    assert on_flat.limit.value == pytest.approx(50 * (1 + 25 / (3 * math.sqrt(3) * 3)))


def test_a_measured_limit_is_told_as_it_is_applied() -> None:
    """Under a narrow ring too, where the limit is that of the width that touches."""
    setting = Setting(
        pot=Pot(mass=500.0, foot=RingFoot(100.0, 3.0), height=80.0),
        arrangement=Arrangement(Disk(diameter=25, height=3).piece(), tuple(circle(3, 48.5))),
        body="wet",
        mix=mix("open"),
        shear=Limit(25.0, "kPa", "vane test", assumed=False),
    )
    answer = check(setting)
    (told,) = [note for note in answer.notes if "vane test" in note]
    assert told.startswith(f"limit while cold {units.show(answer.cold_limit.value, 'kPa')}:")
