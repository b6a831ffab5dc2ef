"""What a firing takes, counted and reckoned by hand."""

from __future__ import annotations

import csv
import io
import math
from dataclasses import replace

import pytest

from wadforms.catalogue import find
from wadforms.errors import BadInput
from wadforms.firing.make_list import (
    Make,
    boxes_after,
    boxes_csv,
    make_list,
    make_list_csv,
    mix_volumes,
    with_spare,
)
from wadforms.firing.plan import Chosen, Plan, Wads
from wadforms.firing.rows import Shelf, Ware
from wadforms.firing.touches import FOOT, Touch
from wadforms.firing.wash import COAT, WASH_DENSITY, kiln_wash
from wadforms.firing.write import touches_csv
from wadforms.setting.feet import FlatFoot
from wadforms.setting.limits import PLACES
from wadforms.setting.mixes import USUAL, mix
from wadforms.setting.pot import Pot

SHELTERED = PLACES["sheltered"]

ASKED = (  # how many touches, of how many wads each, of which shape, set how
    (12, 3, "disk-16", "dry"),
    (7, 3, "disk-16", "dry"),
    (5, 4, "disk-16", "wet"),
    (4, 3, "disk-20", "dry"),
    (4, 8, "disk-5", "wet"),
)


def wads(number: int, shape: str, body: str) -> Wads:
    return Wads(shape, body, find(shape).sized().piece(), mix(USUAL[body]), number)


def chosen(row: int, touches: int, under: Wads | None) -> Chosen:
    foot = FlatFoot(80.0)
    ware = Ware(row=row, name=f"Pot {row}", count=touches, place=SHELTERED, mass=450.0, foot=foot)
    pot = Pot(mass=450.0, foot=foot, height=95.0)
    touch = Touch(row=ware, kind=FOOT, upper=ware.name, lower="shelf", count=touches, pot=pot)
    return Chosen(touch=touch, wads=under, why=() if under else ("nothing serves",))


def plan(from_stock: dict[tuple[str, str], int] | None = None) -> Plan:
    rows = [
        chosen(row, touches, wads(number, shape, body))
        for row, (touches, number, shape, body) in enumerate(ASKED, 2)
    ]
    return Plan(
        chosen=(*rows, chosen(9, 2, None)),
        from_stock=from_stock or {},
        gap=0.0,
        one_fewer="",
        one_more="",
    )


def frustum(top: float, height: float, draft: float = 5.0) -> float:
    """Volume of a disk that widens downward; any textbook."""
    r, b = top / 2, top / 2 + height * math.tan(math.radians(draft))
    return math.pi * height / 3 * (r * r + r * b + b * b)


def told(makes: tuple[Make, ...]) -> list[tuple[str, str, str, int, int, int]]:
    return [(m.shape, m.body, m.mix.name, m.needed, m.from_stock, m.to_make) for m in makes]


def test_totals_by_hand() -> None:
    makes = make_list(plan(), spare=0.1)
    assert told(makes) == [
        ("disk-16", "dry", "open", 57, 0, 63),  # (12 + 7) × 3, and 5.7 more
        ("disk-16", "wet", "open", 20, 0, 22),
        ("disk-20", "dry", "open", 12, 0, 14),
        ("disk-5", "wet", "open", 32, 0, 36),
    ]
    # Dry pieces of the open mix shrink by 5 % before they are set; wet ones are set as pressed.
    grown = 1 / 0.95**3
    wet = [
        63 * frustum(16, makes[0].piece.height) * grown,
        22 * frustum(16, makes[1].piece.height),
        14 * frustum(20, 8) * grown,
        36 * frustum(5, 4),
    ]
    assert [m.wet_volume for m in makes] == pytest.approx(wet, rel=1e-9)
    assert [m.wet_mass for m in makes] == pytest.approx([v / 1000 * 1.5 for v in wet], rel=1e-9)
    assert mix_volumes(makes) == {"open": pytest.approx(sum(wet), rel=1e-9)}


def test_what_is_in_the_boxes_is_not_made_again() -> None:
    taken = {("disk-16", "dry"): 57, ("disk-5", "wet"): 20}
    makes = make_list(plan(taken), spare=0.1, an_hour=60.0)
    assert told(makes) == [
        ("disk-16", "dry", "open", 57, 57, 0),
        ("disk-16", "wet", "open", 20, 0, 22),
        ("disk-20", "dry", "open", 12, 0, 14),
        ("disk-5", "wet", "open", 32, 20, 14),  # 12 more, and 1.2 to spare
    ]
    assert [m.minutes for m in makes] == [0.0, 22.0, 14.0, 14.0]
    boxes = boxes_after(makes, {("disk-16", "dry"): 80, ("tee-50", "dry"): 3})
    # Two soft ones of each shape are left too; they do not keep.
    assert [tuple(box) for box in boxes] == [
        ("disk-16", "dry", 23),
        ("disk-20", "dry", 2),
        ("tee-50", "dry", 3),
    ]
    rows = list(csv.DictReader(io.StringIO(boxes_csv(boxes).decode())))
    assert [(r["shape"], r["body"], int(r["count"])) for r in rows] == [tuple(b) for b in boxes]


def test_the_table_says_what_the_list_says() -> None:
    makes = make_list(plan({("disk-20", "dry"): 5}), spare=0.1)
    rows = list(csv.DictReader(io.StringIO(make_list_csv(makes).decode())))
    assert [(r["shape"], r["body"], int(r["in stock"]), int(r["to make"])) for r in rows] == [
        (m.shape, m.body, m.from_stock, m.to_make) for m in makes
    ]
    assert [float(r["wet [g]"]) for r in rows] == pytest.approx(
        [m.wet_mass for m in makes], abs=0.05
    )


def test_wash_covers_wads_and_shelves() -> None:
    # A disk of 16 mm, 8 mm high, with 5° of draft: top, and the side of a frustum.
    makes = make_list(plan(), spare=0.1)
    lower = 8.0 + makes[0].piece.height * math.tan(math.radians(5.0))
    slant = math.hypot(makes[0].piece.height, lower - 8.0)
    each = math.pi * 8.0**2 + math.pi * (8.0 + lower) * slant
    assert makes[0].coated_area == pytest.approx(57 * each, rel=1e-6)
    shelf = Shelf(
        row=20, name="Shelf", count=2, place=SHELTERED, mass=9e3, length=600.0, width=450.0,
        posts_at=((40.0, 40.0), (560.0, 40.0), (300.0, 410.0)), load_at=(300.0, 225.0),
    )  # fmt: skip
    wash = kiln_wash(makes, [shelf])
    assert wash.shelves_area == 2 * 600.0 * 450.0
    assert wash.wads_area == pytest.approx(sum(m.coated_area for m in makes if m.body == "dry"))
    assert 0.0 < wash.wads_area < sum(m.coated_area for m in makes)  # soft ones must bed
    assert wash.volume == pytest.approx((wash.wads_area + wash.shelves_area) * COAT.value)
    assert wash.mass == pytest.approx(wash.volume / 1000.0 * WASH_DENSITY.value)
    # Loose kaolin weighs 0.5 g/cm³ in the mix, alumina hydrate 0.9; grains and the water between
    # them fill the wash.
    assert wash.each_volume is not None
    kaolin, hydrate = (wash.each_volume / 1000.0 * density for density in (0.5, 0.9))
    water = wash.mass - kaolin - hydrate
    assert kaolin / 2.6 + hydrate / 2.42 + water == pytest.approx(wash.volume / 1000.0)
    assert f"{wash.each_volume / 1e6:.2g} l of each" in wash.recipe
    assert "equal parts" in kiln_wash((), [shelf]).recipe
    assert kiln_wash((), [shelf]).each_volume is None


@pytest.mark.parametrize(
    ("count", "spare", "made"),
    [(10, 0.1, 11), (10, 0.0, 10), (1, 0.01, 2), (100, 0.15, 115), (30, 1.0, 60), (110, 0.1, 121)],
)
def test_spare_pieces_are_whole_and_not_one_too_many(count: int, spare: float, made: int) -> None:
    assert with_spare(count, spare) == made


@pytest.mark.parametrize("spare", [-0.1, 2.5, float("nan")])
def test_a_spare_that_makes_no_sense(spare: float) -> None:
    with pytest.raises(BadInput, match="give 0 % to 200 %"):
        make_list(plan(), spare=spare)


@pytest.mark.parametrize("rate", [0.0, -3.0, float("inf")])
def test_a_rate_that_makes_no_sense(rate: float) -> None:
    with pytest.raises(BadInput, match="pieces an hour"):
        make_list(plan(), an_hour=rate)


def test_the_table_of_touches_tells_every_load() -> None:
    rows = list(csv.DictReader(io.StringIO(touches_csv(plan().chosen).decode())))
    assert rows[-1]["shape"] == ""  # nothing serves there, and it weighs as much
    assert {row["load [kg]"] for row in rows} == {"0.450"}
    assert {float(row["load [N]"]) for row in rows} == {round(0.45 * 9.80665, 2)}


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t"])
def test_no_name_is_a_formula_in_a_spreadsheet(start: str) -> None:
    (first, *_) = plan().chosen
    name = f"{start}cmd|' /C calc'!A0"
    row = replace(first.touch.row, name=name)
    told = replace(first, touch=replace(first.touch, row=row, upper=name))
    ((_, cell, *_),) = list(csv.reader(io.StringIO(touches_csv([told]).decode())))[1:]
    assert cell == f"'{told.name}"
    made = replace(make_list(plan())[0], shape=name)
    assert list(csv.reader(io.StringIO(make_list_csv([made]).decode())))[1][0] == f"'{name}"
