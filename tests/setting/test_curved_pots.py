"""Round bottoms and pots on their side: which way they roll and tip, and what is refused."""

from __future__ import annotations

import math

import pytest
import shapely

from wadforms.catalogue import find
from wadforms.errors import BadInput
from wadforms.families.base import Piece
from wadforms.families.disk import Disk
from wadforms.families.rail import Rail
from wadforms.setting.arrangement import Arrangement, Spot, circle
from wadforms.setting.assessment import UNSAFE, Assessment, Check
from wadforms.setting.checks import check
from wadforms.setting.feet import CurvedFoot, Foot, RoundFoot, SideFoot
from wadforms.setting.layouts import layouts
from wadforms.setting.limits import PLACES, SHEAR, SINKING
from wadforms.setting.mixes import USUAL, mix
from wadforms.setting.pot import Pot, Setting
from wadforms.setting.rounds import bedded_reach
from wadforms.setting.sides import share_along
from wadforms.setting.sizing import Candidate, size
from wadforms.templates.setting_view import setting_view

RAIL = Rail(length=60, width=12, height=20, ends="square").piece()
DISK = Disk(diameter=20, height=20).piece()
CRADLE = find("cradle-130").piece()
LYING = circle(2, 40.0)  # the pot's axis along x


def setting_of(foot: Foot, piece: Piece, *spots: Spot, body: str = "dry", **pot: object) -> Setting:
    standing = Pot(**({"mass": 1000.0, "foot": foot} | pot))  # type: ignore[arg-type]
    return Setting(
        pot=standing, arrangement=Arrangement(piece, spots), body=body, mix=mix(USUAL[body])
    )


def set_on(foot: Foot, piece: Piece, *spots: Spot, body: str = "dry", **pot: object) -> Assessment:
    return check(setting_of(foot, piece, *spots, body=body, **pot))


def named(answer: Assessment, name: str) -> Check:
    (found,) = [one for one in answer.checks if one.name == name]
    return found


class TestAlongTheAxis:
    """A pot on its side also falls over the ends of what it lies on."""

    def test_rails_hold_it_over_their_own_length(self) -> None:
        answer = set_on(SideFoot(130.0), RAIL, *LYING)
        above = math.sqrt(65**2 - 34**2)  # contacts at the inner edges, 40 − 12/2 mm out
        along = named(answer, "tipping angle along the axis").value
        assert along == pytest.approx(math.degrees(math.atan2(30, above)))
        across = named(answer, "tipping angle").value
        assert across == pytest.approx(math.degrees(math.atan2(34, above)))
        assert answer.tipping_angle == min(along, across)
        assert shapely.Polygon(answer.support).area == pytest.approx(60 * 68)

    @pytest.mark.parametrize(("off", "turn"), [((300.0, 0.0), 0.0), ((0.0, 300.0), 90.0)])
    def test_weight_beyond_the_ends_of_rails(self, off: tuple[float, float], turn: float) -> None:
        rails = circle(2, 40.0, first=90.0 + turn)
        answer = set_on(SideFoot(130.0), RAIL, *rails, centre=off)
        assert named(answer, "the wads balance the pot").verdict == UNSAFE
        assert named(answer, "tipping angle along the axis").value < 0.0

    def test_weight_beside_the_end_of_a_cradle(self) -> None:
        lying = set_on(SideFoot(130.0), CRADLE, Spot(0.0, 0.0), body="wet", centre=(0.0, 5.0))
        along = named(lying, "tipping angle along the axis").value
        assert along == pytest.approx(math.degrees(math.atan2(20 - 5, 65)))
        fallen = set_on(SideFoot(130.0), CRADLE, Spot(0.0, 0.0), body="wet", centre=(0.0, 200.0))
        assert named(fallen, "the wads balance the pot").verdict == UNSAFE
        assert fallen.verdict == UNSAFE

    def test_two_cradles_share_by_the_lever_rule(self) -> None:
        spots = (Spot(0.0, 50.0), Spot(0.0, -50.0))
        answer = set_on(SideFoot(130.0), CRADLE, *spots, body="wet", centre=(0.0, 20.0))
        force = 9.80665
        assert [w.load for w in answer.wads] == pytest.approx([0.7 * force, 0.3 * force])

    def test_a_weight_off_the_middle_presses_harder(self) -> None:
        middle = set_on(SideFoot(130.0), CRADLE, Spot(0.0, 0.0), body="wet")
        off = set_on(SideFoot(130.0), CRADLE, Spot(0.0, 0.0), body="wet", centre=(0.0, 10.0))
        assert off.pressure == pytest.approx(2 * middle.pressure)  # on 40 − 2 · 10 of 40 mm
        rails = set_on(SideFoot(130.0), RAIL, *LYING, centre=(15.0, 0.0))
        evenly = set_on(SideFoot(130.0), RAIL, *LYING)
        assert rails.pressure == pytest.approx(2 * evenly.pressure)  # on 60 − 2 · 15 of 60 mm

    def test_held_elsewhere_it_does_not_tip_that_way(self) -> None:
        for piece, spots in ((RAIL, LYING), (CRADLE, [Spot(0.0, 0.0)])):
            answer = set_on(SideFoot(130.0), piece, *spots, body="wet", share=0.7)
            assert not [one for one in answer.checks if "along" in one.name]
            assert any("held elsewhere" in note for note in answer.notes)

    def test_rigid_discs_touch_at_a_point_and_do_not_hold_it(self) -> None:
        answer = set_on(SideFoot(130.0), DISK, *LYING)
        assert named(answer, "tipping angle along the axis").verdict == UNSAFE

    def test_two_pairs_share_along_and_across(self) -> None:
        spots = [Spot(x, y) for x in (40.0, -40.0) for y in (40.0, -40.0)]
        answer = set_on(SideFoot(130.0), DISK, *spots, body="wet", centre=(10.0, 8.0))
        half = answer.extra["half_spacing_mm"]
        angle = math.radians(answer.extra["contact_angle_deg"])
        expected = [
            9.80665 * (0.5 + sx * 10 / 80) * (0.5 + sy * 8 / (2 * half)) / math.cos(angle)
            for sx in (1, -1)
            for sy in (1, -1)
        ]
        assert [w.load for w in answer.wads] == pytest.approx(expected)


@pytest.mark.parametrize("at", [-40.0, -10.0, 0.0, 25.0, 49.0])
def test_supports_in_a_line_balance_force_and_moment(at: float) -> None:
    stations = [-50.0, -10.0, 30.0, 60.0]
    shared = share_along(stations, at)
    assert sum(shared.even) == pytest.approx(1.0)
    assert sum(a * b for a, b in zip(shared.even, stations, strict=True)) == pytest.approx(at)
    assert all(w >= e - 1e-12 for w, e in zip(shared.worst, shared.even, strict=True))


def test_an_off_centre_bottle_rolls_sooner() -> None:
    answer = set_on(SideFoot(130.0), RAIL, *LYING, centre=(0.0, -20.0))
    above = math.sqrt(65**2 - 34**2)
    expected = math.degrees(math.atan2(34 - 20, above))
    assert named(answer, "tipping angle").value == pytest.approx(expected)
    lying = set_on(SideFoot(130.0), CRADLE, Spot(0.0, 0.0), body="wet", centre=(-6.0, 0.0))
    half = 25.0 - 4.0  # of the hollow, between its lips
    rolls = named(lying, "angle at which the belly rolls out").value
    assert rolls == pytest.approx(math.degrees(math.atan2(half - 6, math.sqrt(65**2 - half**2))))


@pytest.mark.parametrize("off", [-20.0, 20.0])
def test_picture_leans_to_the_side_of_the_weight(off: float) -> None:
    setting = setting_of(SideFoot(130.0), RAIL, *LYING, centre=(10.0, off))
    view = setting_view(setting, check(setting), title="Off", shape="rail")
    assert view.lean is not None
    assert view.across[1] * off > 0.0
    assert view.lean.reach == pytest.approx(34 - 20)


@pytest.mark.parametrize(
    ("piece", "spots", "words"),
    [
        (CRADLE, [Spot(0, 50), Spot(0, -50, 40)], "a pot on its side has one axis"),
        (CRADLE, [Spot(20, 50), Spot(-20, -50)], "one line along the pot's axis"),
        (RAIL, [Spot(0, 40), Spot(0, -40, 30)], "turned 30° from each other"),
        (RAIL, circle(2, 40.0, turn=90.0), "on the pot's axis, which the pieces' turns set at 90°"),
        (RAIL, circle(2, 64.9), "5° to 75° up its curve"),
        (RAIL, circle(2, 10.0), "4 mm out, 3.53° up"),
        (RAIL, [*circle(2, 40.0), *circle(2, 20.0)], "not opposite each other"),
    ],
)
def test_what_cannot_hold_a_belly(piece: Piece, spots: list[Spot], words: str) -> None:
    with pytest.raises(BadInput) as caught:
        set_on(SideFoot(130.0), piece, *spots, body="dry")
    assert words in str(caught.value)


def test_wads_that_reach_the_middle_or_stand_askew() -> None:
    first, *others = circle(3, 28.0)
    with pytest.raises(BadInput, match="reaches to the middle"):
        set_on(RoundFoot(160.0), RAIL, first._replace(turn=90.0), *others)
    askew = [spot._replace(turn=spot.turn + 45.0 * k) for k, spot in enumerate(circle(3, 60.0))]
    with pytest.raises(BadInput, match="turn them alike"):
        set_on(RoundFoot(160.0), RAIL, *askew)
    with pytest.raises(BadInput, match="a cradle takes a pot on its side"):
        set_on(RoundFoot(160.0), CRADLE, *circle(3, 60.0))


class TestRoundBottoms:
    """A sphere on flat tops."""

    def test_rigid_tops_are_met_at_their_inner_edge_and_soft_ones_bed(self) -> None:
        dry = set_on(RoundFoot(160.0), DISK, *circle(3, 35.0), centre_height=60.0)
        wet = set_on(RoundFoot(160.0), DISK, *circle(3, 35.0), centre_height=60.0, body="wet")
        assert dry.extra["half_spacing_mm"] == pytest.approx(35 - 10, abs=0.02)
        assert wet.extra["half_spacing_mm"] == pytest.approx(35)
        assert dry.tipping_angle is not None
        assert wet.tipping_angle is not None
        assert dry.tipping_angle < wet.tipping_angle

    @pytest.mark.parametrize("body", ["dry", "wet"])
    def test_area_that_beds_is_a_lens(self, body: str) -> None:
        """Two circles meet in a lens (Weisstein, MathWorld, "Circle-Circle Intersection")."""
        answer = set_on(RoundFoot(160.0), DISK, *circle(3, 35.0), body=body)
        limit = SINKING[body].value
        big = bedded_reach(80.0, 25.0, limit * 20 if body == "wet" else limit)
        small, apart = 10.0, 35.0
        lens = (
            small**2 * math.acos((apart**2 + small**2 - big**2) / (2 * apart * small))
            + big**2 * math.acos((apart**2 + big**2 - small**2) / (2 * apart * big))
            - math.sqrt(
                (-apart + small + big)
                * (apart + small - big)
                * (apart - small + big)
                * (apart + small + big)
            )
            / 2
            if big < apart + small
            else math.pi * small**2
        )
        assert answer.wads[0].area == pytest.approx(lens, rel=5e-3)

    def test_outside_the_wads_is_unsafe(self) -> None:
        answer = set_on(
            RoundFoot(160.0), DISK, *circle(3, 35.0), centre=(60.0, 0.0), centre_height=70.0
        )
        assert named(answer, "the wads balance the pot").verdict == UNSAFE
        assert not [one for one in answer.checks if "pressure" in one.name]
        assert answer.tipping_angle is not None
        assert answer.tipping_angle < 0.0

    def test_turn_of_a_pointed_piece_counts(self) -> None:
        piece = find("pointed-tripod-63").piece()
        for turn in (0.0, 25.0):
            answer = set_on(
                RoundFoot(160.0),
                piece,
                Spot(0.0, 0.0, turn),
                body="solid",
                centre_height=60.0,
                mass=300.0,
            )
            tip = piece.faces[0].bounds
            away = math.degrees(math.atan2((tip[1] + tip[3]) / 2, (tip[0] + tip[2]) / 2))
            found = math.degrees(math.atan2(answer.wads[0].y, answer.wads[0].x))
            assert (found - away - turn) % 360.0 == pytest.approx(0.0, abs=1e-6) or (
                found - away - turn
            ) % 360.0 == pytest.approx(360.0)
            assert {wad.turn for wad in answer.wads} == {turn}

    def test_each_wad_tells_its_turn(self) -> None:
        spots = circle(3, 35.0)
        answer = set_on(RoundFoot(160.0), DISK, *spots)
        assert [wad.turn for wad in answer.wads] == [spot.turn for spot in spots]


def test_both_kinds_of_curve_are_curved_feet() -> None:
    assert isinstance(RoundFoot(10.0), CurvedFoot)
    assert isinstance(SideFoot(10.0), CurvedFoot)


def test_layouts_under_a_belly() -> None:
    pot = Pot(mass=2000.0, foot=SideFoot(100.0))
    assert {len(one.spots) for one in layouts(pot, RAIL)} == {2}
    assert {len(one.spots) for one in layouts(pot, DISK)} == {4}
    cradles = layouts(pot, CRADLE)
    assert [len(one.spots) for one in cradles] == [1, 2]
    assert "75 mm apart along the pot's axis" in cradles[1].words
    for piece in (RAIL, DISK, CRADLE):
        for one in layouts(pot, piece):
            check(setting_of(pot.foot, piece, *one.spots, body="wet"))  # each can be judged


def test_two_discs_are_not_chosen_for_a_bottle() -> None:
    names = ("disk-16", "disk-25", "rail-63")
    found = size(
        Pot(mass=2000.0, foot=SideFoot(100.0)),
        [Candidate(name, find(name).piece(), ("wet", "dry")) for name in names],
        place=PLACES["sheltered"],
        shear=SHEAR["firm"],
        mixes={body: mix(USUAL[body]) for body in ("wet", "dry")},
    )
    assert found.best is not None
    assert found.best.name == "rail-63" or found.best.count == 4
    angle = found.best.assessment.extra["tipping_along_deg"]
    assert angle >= PLACES["sheltered"].tipping_least.value
