"""What a firing takes, counted and reckoned by hand."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Sequence

import pytest

from wadforms.errors import BadInput
from wadforms.firing.candidates import candidates
from wadforms.firing.choosing import Touch, touches
from wadforms.firing.list_file import parse_list
from wadforms.firing.make_list import make_list, make_list_csv, mix_volumes, with_spare
from wadforms.setting.limits import SHEAR
from wadforms.setting.mixes import USUAL, mix

LIST = b"""name,count,weight,foot,height,place,body,shape,lid weight,gallery diameter,gallery width
Mug,12,450 g,80,95,,dry,disk-16,,,
Tall mug,7,500 g,80,110,,dry,disk-16,,,
Vase,5,600 g,90,150,,wet,disk-16,,,
Jar,4,2 kg,120,200,,dry,disk-20,600 g,117,7
Boulder,2,900 kg,60,800,,,disk-8,,,
"""


def chosen(text: bytes, names: Sequence[str] = ("disk-5", "disk-16")) -> tuple[Touch, ...]:
    return touches(
        parse_list(text, "list.csv"),
        candidates(names),
        candidates(names, lid=True),
        mixes={body: mix(usual) for body, usual in USUAL.items()},
        shear=SHEAR["firm"],
    )


def frustum(top: float, height: float, draft: float = 5.0) -> float:
    """Volume of a disk that widens downward; any textbook."""
    r, b = top / 2, top / 2 + height * math.tan(math.radians(draft))
    return math.pi * height / 3 * (r * r + r * b + b * b)


def test_totals_by_hand() -> None:
    found = chosen(LIST)
    counts = {touch.name: touch.best and (touch.best.name, touch.best.count) for touch in found}
    assert counts == {
        "Mug": ("disk-16", 3),
        "Tall mug": ("disk-16", 3),
        "Vase": ("disk-16", 4),
        "Jar": ("disk-20", 3),
        "Jar, lid": ("disk-5", 8),
        "Boulder": None,
    }
    makes = make_list(found, spare=0.1)
    rows = [(m.shape, m.body, m.mix.name, m.needed, m.to_make) for m in makes]
    assert rows == [
        ("disk-16", "dry", "open", 57, 63),  # (12 + 7) × 3, and 5.7 more
        ("disk-16", "wet", "open", 20, 22),
        ("disk-20", "dry", "open", 12, 14),
        ("disk-5", "wet", "open", 32, 36),
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


def test_what_nothing_serves_is_told_and_not_made() -> None:
    *_, boulder = chosen(LIST)
    assert boulder.verdict == "unsafe"
    assert boulder.problem is not None
    assert boulder.problem.startswith("row 6, Boulder: nothing serves: of ")
    assert make_list([boulder]) == ()


def test_a_shape_that_must_be_is_not_refused_for_the_usual_body() -> None:
    # Sheltered pots get wet or dry wads; this shape can only be solid.
    (one,) = chosen(b"name,count,weight,foot,height,shape\nA,1,1 kg,90,60,pointed-tripod-63\n")
    assert one.best is not None
    assert (one.best.name, one.best.setting.body) == ("pointed-tripod-63", "solid")


def test_a_lid_weighs_on_the_foot_too() -> None:
    foot, lid = chosen(LIST)[3:5]
    assert foot.best is not None
    assert lid.best is not None
    assert foot.best.assessment.load == pytest.approx(2.6 * 9.80665)
    assert lid.best.assessment.load == pytest.approx(0.6 * 9.80665)


def test_rows_in_another_order_take_the_same() -> None:
    head, *rows = LIST.splitlines(keepends=True)
    turned = b"".join([head, *reversed(rows)])

    def key(text: bytes) -> set[tuple[str, str, int, int]]:
        makes = make_list(chosen(text), spare=0.1)
        return {(m.shape, m.body, m.needed, m.to_make) for m in makes}

    assert key(turned) == key(LIST)


def test_the_table_says_what_the_list_says() -> None:
    makes = make_list(chosen(LIST), spare=0.1)
    rows = list(csv.DictReader(io.StringIO(make_list_csv(makes).decode())))
    assert [(r["shape"], r["body"], int(r["to make"])) for r in rows] == [
        (m.shape, m.body, m.to_make) for m in makes
    ]
    assert [float(r["wet [g]"]) for r in rows] == pytest.approx(
        [m.wet_mass for m in makes], abs=0.05
    )


@pytest.mark.parametrize(
    ("count", "spare", "made"),
    [(10, 0.1, 11), (10, 0.0, 10), (1, 0.01, 2), (100, 0.15, 115), (30, 1.0, 60), (110, 0.1, 121)],
)
def test_spare_pieces_are_whole_and_not_one_too_many(count: int, spare: float, made: int) -> None:
    assert with_spare(count, spare) == made


@pytest.mark.parametrize("spare", [-0.1, 2.5, float("nan")])
def test_a_spare_that_makes_no_sense(spare: float) -> None:
    with pytest.raises(BadInput, match="give 0 % to 200 %"):
        make_list([], spare=spare)
