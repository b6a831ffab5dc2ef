"""What is kept from tipping by something else, as a shelf is on each one of its posts."""

from __future__ import annotations

import pytest

from wadforms.errors import BadInput
from wadforms.families.disk import Disk
from wadforms.setting.arrangement import Arrangement, circle
from wadforms.setting.assessment import SOUND, UNSAFE, Assessment
from wadforms.setting.checks import check
from wadforms.setting.feet import FlatFoot, RoundFoot
from wadforms.setting.mixes import mix
from wadforms.setting.pot import Pot, Setting


def slender(*, held: bool, height: float | None = 900.0) -> Assessment:
    """A tall load on a small foot."""
    pot = Pot(mass=4000.0, foot=FlatFoot(70.0), height=height, held=held)
    wads = Arrangement(Disk(diameter=20, height=10).piece(), tuple(circle(3, 20.0)))
    return check(Setting(pot=pot, arrangement=wads, body="wet", mix=mix("open")))


def test_what_is_held_elsewhere_is_not_judged_for_tipping() -> None:
    held, free = slender(held=True), slender(held=False)
    assert free.verdict == UNSAFE
    assert free.governing.name == "tipping angle"
    assert (held.verdict, held.tipping_angle) == (SOUND, None)
    assert [one for one in free.checks if one.name != "tipping angle"] == list(held.checks)


def test_what_is_held_elsewhere_says_so_and_is_not_called_unchecked() -> None:
    held, free = slender(held=True, height=None), slender(held=False, height=None)
    assert free.unchecked
    assert held.unchecked == ()
    assert "something else keeps it from tipping, so that was not judged" in held.notes
    assert not any("keeps it from tipping" in note for note in free.notes)


def test_a_round_pot_cannot_be_held() -> None:
    with pytest.raises(BadInput, match="a round foot was given; say so for a flat foot only"):
        Pot(mass=900.0, foot=RoundFoot(200.0), held=True)
