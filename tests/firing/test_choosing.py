"""What a firing's touches are given: against the size of each by itself, and by hand."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import Any

import pytest

from wadforms import units
from wadforms.catalogue import find
from wadforms.errors import BadInput
from wadforms.families.base import SOLID, WET
from wadforms.firing.candidates import candidate, candidates
from wadforms.firing.choosing import choose
from wadforms.firing.options import options
from wadforms.firing.plan import Plan
from wadforms.firing.programme import _Programme
from wadforms.firing.reasons import NOT_HELD
from wadforms.firing.rows import Cones, Ware
from wadforms.firing.touches import FOOT, LID, SEAT, STACKED, Audit, Touch
from wadforms.setting.assessment import SOUND, TIGHT_WORD, UNSAFE
from wadforms.setting.checks import check
from wadforms.setting.feet import FlatFoot, Foot, GalleryFoot, RingFoot, SideFoot
from wadforms.setting.layouts import Layout
from wadforms.setting.limits import PLACES, SHEAR
from wadforms.setting.mixes import USUAL, mix
from wadforms.setting.pot import Pot
from wadforms.setting.sizing import bodies_for, size
from wadforms.setting.tries import Choice, Conditions, Lot
from wadforms.setting.tries import chosen as chosen_in_full

MIXES = {body: mix(name) for body, name in USUAL.items()}
FIRM = SHEAR["firm"]


def ware(number: int, name: str, count: int, foot: Foot, mass: float, **more: Any) -> Ware:
    place = PLACES[more.pop("place", "sheltered")]
    return Ware(row=number, name=name, count=count, place=place, mass=mass, foot=foot, **more)


def touch(row: Ware, kind: str = FOOT, **given: Any) -> Touch:
    pot = given.pop("pot", None) or Pot(mass=row.mass, foot=row.foot, height=row.height)
    more: dict[str, Any] = {"upper": row.name, "lower": "shelf", "count": row.count, **given}
    return Touch(row=row, kind=kind, pot=pot, **more)


def plan(*touches: Touch, shapes: tuple[str, ...] = (), **more: Any) -> Plan:
    tried = candidates(shapes)
    lids = candidates(shapes, lid=True)
    return choose(Audit(touches=touches), tried, lids, mixes=MIXES, shear=FIRM, **more)


MUG = ware(2, "mug", 12, FlatFoot(80.0), 450.0, height=95.0)
BOWL = ware(3, "bowl", 20, RingFoot(70.0, 6.0), 600.0, height=80.0)
JAR = ware(4, "jar", 2, FlatFoot(240.0), 30000.0, height=600.0)
FIREBOX_JAR = ware(5, "old jar", 1, FlatFoot(200.0), 9000.0, height=300.0, place="firebox")


def test_one_row_gets_what_size_gives_it() -> None:
    for row in (MUG, BOWL, JAR):
        bodies = bodies_for(row.place, None)
        mixes = {body: MIXES[body] for body in bodies}
        one = touch(row)
        assert one.pot is not None
        alone = size(one.pot, candidates(), place=row.place, shear=FIRM, mixes=mixes).best
        (chosen,) = plan(one).chosen
        assert alone is not None
        assert chosen.choice is not None
        assert chosen.choice.mass == pytest.approx(alone.mass)
        assert chosen.verdict == alone.assessment.verdict


def test_every_choice_is_what_the_check_says() -> None:
    found = plan(touch(MUG), touch(BOWL), touch(JAR), touch(FIREBOX_JAR))
    for one in found.chosen:
        assert one.choice is not None
        again = check(one.choice.setting)
        assert one.choice.assessment.governing == again.governing
        assert one.verdict == SOUND
        assert one.wads is not None
        assert one.wads.number == one.choice.count
        assert one.choice.setting.pot == one.touch.pot


def test_the_fewest_shapes_and_then_the_least_mix() -> None:
    shapes = ("disk-10", "disk-16", "disk-25", "disk-31")
    rows = (MUG, BOWL, JAR)
    found = plan(*map(touch, rows), shapes=shapes)
    made = {(one.wads.shape, one.wads.body) for one in found.chosen if one.wads}
    mass = sum(one.choice.mass * one.touch.count for one in found.chosen if one.choice)
    # All sound answers, with what size finds for each row, shape and body.
    ways: list[dict[tuple[str, str], float]] = []
    for row in rows:
        served = {}
        for name, body in itertools.product(shapes, ("wet", "dry")):
            one = touch(row)
            assert one.pot is not None
            best = size(
                one.pot,
                candidates([name]),
                place=row.place,
                shear=FIRM,
                mixes={body: MIXES[body]},
            ).best
            if best is not None and best.assessment.verdict == SOUND:
                served[name, body] = best.mass * row.count
        ways.append(served)
    every = [
        (len(set(pick)), sum(way[mould] for way, mould in zip(ways, pick, strict=True)))
        for pick in itertools.product(*ways)
    ]
    assert len(every) > 10
    assert (len(made), round(mass, 4)) == (min(every)[0], round(min(every)[1], 4))
    assert found.gap == 0.0


def test_what_is_in_the_boxes_is_used_first_and_needs_no_mould() -> None:
    shapes = ("disk-16", "disk-25")
    (without,) = plan(touch(MUG), shapes=shapes).chosen
    assert without.wads is not None
    assert without.wads.shape == "disk-16"
    # Boxes full of the other shape, which is heavier but costs nothing.
    found = plan(touch(MUG), shapes=shapes, stock={("disk-25", "wet"): 100})
    (one,) = found.chosen
    assert one.wads is not None
    assert (one.wads.shape, one.wads.body) == ("disk-25", "wet")
    assert found.from_stock == {("disk-25", "wet"): one.wads.number * MUG.count}
    assert found.one_fewer == "no fewer shapes are possible"


def test_at_most_so_many_shapes_makes_some_tight_or_says_how_many_it_takes() -> None:
    rows = (touch(MUG), touch(FIREBOX_JAR))
    found = plan(*rows)
    assert len({(one.wads.shape, one.wads.body) for one in found.chosen if one.wads}) == 2
    with pytest.raises(BadInput) as caught:
        plan(*rows, at_most=1)
    assert "give 2 or more" in str(caught.value)


def test_what_one_shape_more_would_save_is_told() -> None:
    crock = ware(6, "crock", 12, FlatFoot(160.0), 1500.0, height=150.0)
    shapes = ("disk-16", "disk-31", "disk-40", "hexagon-40")
    found = plan(touch(crock), touch(JAR), shapes=shapes)
    assert found.one_fewer == "no fewer shapes are possible"
    one, jar = found.chosen
    assert one.wads is not None
    assert jar.wads is not None
    assert one.wads[:2] == jar.wads[:2]
    (alone,) = plan(touch(crock), shapes=shapes).chosen
    assert alone.choice is not None
    assert one.choice is not None
    saved = units.show((one.choice.mass - alone.choice.mass) * crock.count, "g")
    assert found.one_more.endswith(f"would save {saved} of wet mix")
    assert any("by itself it would take" in why for why in one.why)


def test_what_one_shape_fewer_would_cost_is_told() -> None:
    found = plan(touch(MUG), touch(JAR), shapes=("disk-16", "disk-31"))
    assert len({one.wads[:2] for one in found.chosen if one.wads}) == 2
    # The disks that carry the jar hold the mugs too, but not as far out.
    by_name = {c.name: plan(touch(MUG), shapes=(c.name,)) for c in candidates(["disk-31"])}
    (tight,) = by_name["disk-31"].chosen
    assert tight.verdict == TIGHT_WORD
    assert found.one_fewer.startswith("one shape fewer, without disk-16 set wet, would take ")
    assert found.one_fewer.endswith("leave 12 touches tight instead of sound")
    held = plan(touch(MUG), touch(JAR), shapes=("disk-16", "disk-31"), at_most=1)
    assert [one.verdict for one in held.chosen] == [TIGHT_WORD, SOUND]
    assert any("so that fewer shapes do" in why for why in held.chosen[0].why)


@pytest.mark.parametrize("at_most", [None, 1])
def test_all_searches_of_a_choice_keep_one_deadline(
    at_most: int | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    now, given = 0.0, []
    solve = _Programme.solve

    def slow(self: _Programme, costs: Any, most: Any, seconds: float) -> Any:
        # A search that takes all the time that it is given.
        nonlocal now
        now += seconds
        given.append(seconds)
        return solve(self, costs, most, 10.0)

    monkeypatch.setattr(_Programme, "solve", slow)
    monkeypatch.setattr("time.monotonic", lambda: now)
    plan(touch(MUG), touch(JAR), shapes=("disk-16", "disk-31"), seconds=8.0, at_most=at_most)
    assert len(given) >= 3
    assert max(given[:-1]) <= 4.0
    assert sum(given) <= 8.0 + 0.05 * len(given)


def test_no_saving_is_named_that_does_not_hold_in_full(monkeypatch: pytest.MonkeyPatch) -> None:
    rows, shapes = (touch(MUG), touch(JAR)), ("disk-16", "disk-31")
    told = plan(*rows, shapes=shapes)
    assert "touches tight" in told.one_fewer
    held = chosen_in_full

    def stricter(lot: Lot, layout: Layout, pot: Pot, met: Conditions) -> Choice | None:
        # As if the full check found the mug on larger disks unsafe, which the closed forms miss.
        found = held(lot, layout, pot, met)
        return None if pot.mass == MUG.mass and lot.name == "disk-31" else found

    monkeypatch.setattr("wadforms.firing.choosing.chosen", stricter)
    found = plan(*rows, shapes=shapes)
    assert [one.wads and one.wads.shape for one in found.chosen] == ["disk-16", "disk-31"]
    assert found.one_fewer == NOT_HELD


def test_at_the_firebox_fine_tips_come_first_and_then_solid_ones() -> None:
    bowl = ware(2, "bowl", 3, FlatFoot(70.0), 300.0, height=60.0, place="firebox")
    (one,) = plan(touch(bowl)).chosen
    assert one.wads is not None
    assert one.wads.body == SOLID
    assert one.wads.piece.tips
    heavy = ware(2, "jar", 1, FlatFoot(240.0), 35000.0, height=600.0, place="firebox")
    (jar,) = plan(touch(heavy)).chosen
    assert jar.wads is not None
    assert jar.wads.body == SOLID
    assert not jar.wads.piece.tips
    (why,) = [why for why in jar.why if why.startswith("fine tips: ")]
    # 35 kg on four bases of 25 mm: 175 kPa, where fireclay at the firebox bears half of 200 kPa.
    pressure = 35.0 * 9.80665 / (4 * math.pi * 12.5**2) * 1000.0
    assert why == (
        "fine tips: 1 × pointed-stand-4-140 comes nearest: "
        f"pressure at the base of a tip {units.show(pressure, 'kPa')}, at most 100 kPa"
    )
    assert not any("fine tips" in why for why in one.why)
    where_wood_flies = ware(2, "jug", 3, FlatFoot(90.0), 900.0, height=200.0, place="stoking")
    (jug,) = plan(touch(where_wood_flies)).chosen
    assert jug.wads is not None
    assert jug.wads.body == WET


@pytest.mark.parametrize(
    ("mass", "across", "height", "count"),
    [(3000.0, 120.0, 210.0, 4), (9000.0, 200.0, 300.0, 1), (15000.0, 220.0, 300.0, 1)],
)
def test_jars_at_the_firebox_stand_on_tips(
    mass: float, across: float, height: float, count: int
) -> None:
    row = ware(2, "jar", count, FlatFoot(across), mass, height=height, place="firebox")
    (one,) = plan(touch(row)).chosen
    assert one.wads is not None
    assert one.wads.piece.tips
    assert one.wads.number == 1
    assert one.verdict == SOUND
    # Half of 2 MPa on the flats, the even share of each: by hand.
    flats = one.wads.piece.top_area
    assert mass / 1000.0 * 9.80665 / flats <= 1.0


def test_a_foot_too_small_for_any_pointed_piece_is_told() -> None:
    cup = ware(2, "cup", 4, FlatFoot(30.0), 90.0, height=30.0, place="firebox")
    (one,) = plan(touch(cup)).chosen
    assert one.wads is not None
    assert not one.wads.piece.tips
    assert "fine tips: no pointed piece that may be used can be set under this foot" in one.why


def test_a_shape_and_a_body_that_are_asked_for_are_kept_and_not_for_the_lid() -> None:
    leaf = candidate(find("leaf-55"))
    row = ware(2, "jar", 2, FlatFoot(200.0), 6000.0, height=260.0, shape=leaf, body="dry")
    lid = Pot(mass=500.0, foot=GalleryFoot(120.0, 8.0), height=40.0)
    foot, top = plan(touch(row), touch(row, LID, pot=lid, lower="gallery")).chosen
    assert foot.wads is not None
    assert (foot.wads.shape, foot.wads.body) == ("leaf-55", "dry")
    assert "the list asks for leaf-55" in foot.why
    assert top.wads is not None
    assert top.wads.shape != "leaf-55"


def test_a_shape_that_is_asked_for_and_cannot_carry_is_told_with_its_row() -> None:
    small = candidate(find("disk-5"))
    row = ware(7, "jar", 2, FlatFoot(240.0), 35000.0, height=600.0, shape=small)
    found = plan(touch(row), touch(MUG))
    bad, good = found.chosen
    assert bad.verdict == UNSAFE
    assert bad.wads is None
    assert bad.nearest is not None
    assert good.verdict == SOUND
    assert [problem[:6] for problem in found.problems] == ["row 7,"]


def test_a_stack_shares_one_arrangement_that_serves_every_level() -> None:
    row = ware(2, "plate", 20, RingFoot(180.0, 8.0), 700.0, height=25.0, stack=5)
    levels = [Pot(mass=700.0 * n, foot=row.foot, height=25.0 * n, ware="hollow") for n in (5, 4, 1)]
    found = plan(
        touch(row, pot=levels[0], count=4),
        touch(row, STACKED, pot=levels[1], count=4, aligned_with=0),
        touch(row, STACKED, pot=levels[2], count=4, aligned_with=1),
    ).chosen
    choices = [one.choice for one in found if one.choice]
    assert len(choices) == 3
    assert len({choice.setting.arrangement.spots for choice in choices}) == 1
    assert [choice.setting.pot for choice in choices] == levels
    assert all(one.verdict == SOUND for one in found)
    assert any("in line" in why for why in found[1].why)


def test_cones_get_one_seat_and_what_stands_bare_is_told() -> None:
    cones = Cones(row=9, name="cones", count=3, place=PLACES["sheltered"])
    bare = ware(8, "brick", 2, FlatFoot(80.0), 900.0, height=60.0, bare=True)
    seat = Touch(row=cones, kind=SEAT, upper="cones", lower="seat", count=3, pot=None)
    found = plan(seat, touch(bare), touch(MUG))
    seated, stuck, mug = found.chosen
    assert seated.wads is not None
    assert (seated.wads.shape, seated.wads.body, seated.wads.number) == ("cone-seat-3", "dry", 1)
    assert seated.verdict is None
    assert (stuck.wads, stuck.choice, stuck.verdict) == (None, None, UNSAFE)
    assert found.problems == ("row 8, brick on shelf: stands bare: it will stick",)
    assert mug.verdict == SOUND


@pytest.mark.parametrize(("shape", "says"), [("disk-16", "no slots"), ("cone-seat-3", "'wet'")])
def test_what_cannot_hold_cones_is_told(shape: str, says: str) -> None:
    cones = Cones(
        row=9,
        name="cones",
        count=3,
        place=PLACES["sheltered"],
        shape=candidate(find(shape)),
        body="wet",
    )
    seat = Touch(row=cones, kind=SEAT, upper="cones", lower="seat", count=3, pot=None)
    found = plan(seat)
    assert says in found.problems[0]


def test_rows_that_ask_the_same_are_worked_out_once_and_progress_is_told_seldom() -> None:
    told: list[tuple[int, int]] = []
    rows = [ware(n, f"mug {n}", 1, MUG.foot, MUG.mass, height=95.0) for n in range(50)]
    found = plan(*map(touch, rows), shapes=("disk-16",), progress=lambda d, t: told.append((d, t)))
    assert told == [(0, 1), (1, 1)]
    assert len({one.choice.setting.arrangement for one in found.chosen if one.choice}) == 1
    assert [one.touch.row.row for one in found.chosen] == list(range(50))


def test_a_firing_of_nothing_has_an_empty_plan() -> None:
    found = plan()
    assert (found.chosen, found.from_stock, found.problems) == ((), {}, ())


def test_wads_do_not_stand_out_far_beyond_their_pot_unless_that_is_asked_for() -> None:
    cup = ware(2, "cup", 30, FlatFoot(60.0), 250.0, height=70.0)
    (one,) = plan(touch(cup), shapes=("stand-6-160", "disk-16")).chosen
    assert one.wads is not None
    assert one.wads.shape == "disk-16"
    (one,) = plan(touch(cup), touch(cup), shapes=("stand-6-160", "stand-5-125")).chosen[:1]
    assert one.wads is None
    # Three of 50 mm under its edge would reach 25 mm beyond it, and more; of 20 mm they may.
    (one,) = plan(touch(ware(2, "cup", 30, RingFoot(60.0, 5.0), 250.0, height=70.0)),
                  shapes=("disk-50", "disk-20")).chosen  # fmt: skip
    assert one.wads is not None
    assert one.wads.shape == "disk-20"
    asked = ware(
        2, "cup", 30, FlatFoot(60.0), 250.0, height=70.0, shape=candidate(find("stand-6-160"))
    )
    (one,) = plan(touch(asked)).chosen
    assert one.wads is not None
    assert one.wads.shape == "stand-6-160"


@pytest.mark.parametrize("shape", ["stand-5-125", "angle-40", "tee-50", "cradle-80", "tripod-50"])
def test_pieces_with_arms_or_a_hollow_are_not_set_in_several_unasked(shape: str) -> None:
    planter = ware(2, "planter", 2, FlatFoot(400.0), 14000.0, height=350.0)
    met = Conditions(place=PLACES["sheltered"], shear=FIRM, mixes=MIXES)
    one = touch(planter)
    assert one.pot is not None
    beside = options([one.pot], candidates([shape, "disk-40"]), met, widest=160.0)
    numbers = {o.lot.number for o in beside.options if o.lot.name == shape}
    assert numbers <= ({1} if "cradle" not in shape else set())
    assert any(o.lot.name == "disk-40" for o in beside.options)
    # The only shape is one that was asked for.
    asked = options([one.pot], candidates([shape]), met)
    assert {o.lot.number for o in asked.options} - {1}


def test_quarters_of_a_ring_and_cradles_under_a_belly_are_offered() -> None:
    met = Conditions(place=PLACES["sheltered"], shear=FIRM, mixes=MIXES)
    ring = Pot(mass=1500.0, foot=RingFoot(140.0, 9.0), height=140.0)
    found = options([ring], candidates(["arc-100", "disk-16"]), met, widest=56.0)
    assert {o.lot.number for o in found.options if o.lot.name == "arc-100"} >= {3}
    lies = Pot(mass=900.0, foot=SideFoot(120.0), height=60.0)
    found = options([lies], candidates(["cradle-130", "rail-63"]), met)
    assert any(o.lot.name == "cradle-130" for o in found.options)


def test_wads_stay_on_the_end_of_a_post() -> None:
    # A ring of 70 mm bears 5 mm within its edge: wads of 20 mm reach beyond what is as wide.
    ring = touch(ware(2, "collar", 4, RingFoot(70.0, 5.0), 900.0, height=60.0))
    for room, sizes in (
        (None, {"disk-20"}),
        (FlatFoot(70.0), {None}),
        (FlatFoot(95.0), {"disk-20"}),
    ):
        (found,) = plan(replace(ring, room=room), shapes=("disk-20", "disk-31")).chosen
        assert {found.wads and found.wads.shape} == sizes
        if found.choice and room:
            base = found.choice.setting.arrangement.piece.body.base
            spots = found.choice.setting.arrangement.spots
            assert max(abs(v) for s in spots for v in s.place(base).bounds) <= room.diameter / 2
