"""Mix files: what ships, what a file of the user's must say, and what is told where it does not."""

from __future__ import annotations

from pathlib import Path

import pytest

from wadforms.errors import BadInput, UnknownName
from wadforms.families.base import BODIES
from wadforms.setting.mixes import USUAL, mix, names, read

GOOD = """
summary = "ours"
source = "measured here"
bodies = ["dry"]
[water]
value = 0.2
source = "weighed"
assumed = false
[ingredients."no. 2 kaolin"]
parts = 2
loose_density = "600 kg/m3"
[ingredients.husk]
parts = 1.5
loose_density = 0.11
burns_out = true
[shrinkage]
drying = "5 %"
firing = 0.07
[density]
wet = 1.6
dry = 1.3
source = "weighed"
[limits.at_heat]
value = "80 kPa"
source = "brick test"
assumed = false
[limits.cold]
value = 400
source = "assumed"
"""


def test_what_ships_can_be_read_and_serves_every_body() -> None:
    assert {"open", "dense", "fireclay"} <= set(names())
    for name in names():
        assert mix(name).name == name
        assert mix(name).dry_density <= mix(name).wet_density
    assert set(USUAL) == set(BODIES)
    for body, name in USUAL.items():
        assert body in mix(name).bodies


def test_nobody_measured_what_ships() -> None:
    for name in names():
        assert mix(name).at_heat.assumed
        assert mix(name).cold.assumed


def test_a_file_of_ones_own(tmp_path: Path) -> None:
    path = tmp_path / "ours.toml"
    path.write_text(GOOD, encoding="utf-8")
    found = mix(str(path))
    assert found.name == "ours"
    assert (found.drying, found.firing) == pytest.approx((0.05, 0.07))
    assert (found.at_heat.value, found.at_heat.assumed) == (80.0, False)
    assert (found.cold.value, found.cold.assumed, found.tip) == (400.0, True, None)
    kaolin, husk = found.ingredients
    assert (kaolin.name, kaolin.parts, kaolin.loose_density) == ("no. 2 kaolin", 2.0, 0.6)
    assert (husk.burns_out, kaolin.burns_out) == (True, False)


def test_a_measured_limit_replaces_the_assumed_one() -> None:
    found = mix("open").measured({"at-heat": 91.0}, "crush test of May")
    assert (found.at_heat.value, found.at_heat.assumed) == (91.0, False)
    assert found.at_heat.source == "crush test of May"
    assert found.cold == mix("open").cold


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('drying = "5 %"', 'drying = "50 %"', "shrinkage.drying: '50 %' was given"),
        ('drying = "5 %"', "drying = true", "shrinkage.drying: True was given; give 0 % to 30 %"),
        ('drying = "5 %"', "drying = nan", "shrinkage.drying: nan was given"),
        ("firing = 0.07", "", "shrinkage.firing: nothing was given"),
        ("wet = 1.6", 'wet = "heavy"', "density.wet"),
        ('bodies = ["dry"]', 'bodies = ["moist"]', "give a list of wet, dry, solid"),
        ('bodies = ["dry"]', 'bodies = [["dry"]]', "give a list of wet, dry, solid"),
        ('bodies = ["dry"]', "bodies = []", "give a list of wet, dry, solid"),
        ('value = "80 kPa"', 'value = "80 mm"', "limits.at_heat.value: '80 mm' was given"),
        ('value = "80 kPa"', "value = 0", "limits.at_heat.value: 0 was given; give 1 kPa"),
        ("burns_out = true", "burns_out = 1", "burns_out: 1 was given; give true or false"),
        ("parts = 1.5", "parts = -1", "ingredients.husk: parts: -1 was given"),
        ('source = "brick test"', "", "limits.at_heat.source: nothing was given; give a text"),
        ('summary = "ours"', "summary = 3", "summary: 3 was given; give a text"),
        ("summary =", "summary", "mend it ("),
    ],
)
def test_each_fault_has_its_key(old: str, new: str, words: str) -> None:
    assert GOOD.count(old) == 1
    with pytest.raises(BadInput) as caught:
        read(GOOD.replace(old, new), "ours", "ours.toml")
    assert words in str(caught.value)
    assert all(fault.where.startswith("ours.toml") for fault in caught.value.faults)
    assert len(caught.value.faults) == 1


def test_all_faults_are_told_at_once() -> None:
    with pytest.raises(BadInput) as caught:
        read("", "empty", "empty.toml")
    keys = [fault.where.removeprefix("empty.toml: ") for fault in caught.value.faults]
    assert len(keys) == len(set(keys))
    assert {"summary", "bodies", "ingredients", "shrinkage.drying", "limits.cold.value"} <= set(
        keys
    )


def test_a_name_that_is_no_mix() -> None:
    with pytest.raises(UnknownName, match="did you mean 'dense'"):
        mix("dence")


@pytest.mark.parametrize("name", ["missing.toml", "folder.toml"])
def test_a_file_that_cannot_be_read(name: str, tmp_path: Path) -> None:
    (tmp_path / "folder.toml").mkdir()
    with pytest.raises(BadInput, match="give a mix that can be read"):
        mix(str(tmp_path / name))
