"""How far a pot on its side bears along its axis: assumed, or told."""

from __future__ import annotations

import pytest

from wadforms.errors import BadInput
from wadforms.families.disk import Disk
from wadforms.firing.list_file import parse_list
from wadforms.firing.touches import audit
from wadforms.setting.arrangement import Arrangement, Spot
from wadforms.setting.checks import check
from wadforms.setting.feet import SideFoot
from wadforms.setting.layouts import layouts
from wadforms.setting.mixes import mix
from wadforms.setting.pot import Pot, Setting

HEAD = "name;count;weight;foot kind;foot;height;length\n"
DISK = Disk(diameter=16, height=8).piece()


def assumed(foot: SideFoot, *spots: Spot) -> list[str]:
    pot = Pot(mass=1600.0, foot=foot, height=foot.diameter)
    setting = Setting(pot=pot, arrangement=Arrangement(DISK, spots), body="wet", mix=mix("open"))
    return [text for text in check(setting).assumed if "the belly bears" in text]


def pairs(apart: float) -> tuple[Spot, ...]:
    return tuple(
        Spot(x, y, 0.0 if y > 0 else 180.0) for x in (apart / 2, -apart / 2) for y in (32, -32)
    )


def test_that_the_belly_bears_between_its_pairs_is_said_as_assumed() -> None:
    (text,) = assumed(SideFoot(130.0), *pairs(97.5))
    assert text.startswith("the belly bears over 97.5 mm along its axis")
    assert assumed(SideFoot(130.0, 200.0), *pairs(97.5)) == []


@pytest.mark.parametrize(
    ("foot", "far"),
    [(SideFoot(130.0), 97.5), (SideFoot(130.0, 100.0), 60.0), (SideFoot(130.0, 300.0), 180.0)],
)
def test_pairs_stand_within_the_length_that_was_told(foot: SideFoot, far: float) -> None:
    found = list(layouts(Pot(mass=1600.0, foot=foot, height=130.0), DISK))
    assert found
    for layout in found:
        xs = [spot.x for spot in layout.spots]
        assert max(xs) - min(xs) == pytest.approx(far)


def test_a_list_tells_the_length_of_a_bottle() -> None:
    (bottle,) = parse_list(f"{HEAD}Bottle;1;1.6 kg;side;130;130;220\n".encode(), "list.csv").wares
    assert bottle.foot == SideFoot(130.0, 220.0)


def test_no_other_pot_has_a_length() -> None:
    with pytest.raises(BadInput, match="it is for shelves and for pots on their side"):
        parse_list(f"{HEAD}Bowl;1;1.6 kg;flat;130;130;220\n".encode(), "list.csv")


@pytest.mark.parametrize(("length", "told"), [("", True), ("220", False)])
def test_a_list_that_tells_no_length_is_told_what_was_assumed(length: str, told: bool) -> None:
    listed = parse_list(f"{HEAD}Bottle;1;1.6 kg;side;130;130;{length}\n".encode(), "list.csv")
    notes = audit(listed).notes
    assert any("belly is assumed to bear along its axis" in note for note in notes) == told
