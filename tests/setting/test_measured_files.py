"""What measuring writes into files, and how those are read again."""

from __future__ import annotations

import re
import tomllib
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wadforms.errors import BadInput
from wadforms.setting.clays import clay
from wadforms.setting.limits import Limit
from wadforms.setting.measured import Trial, bearing, ingredient_density, sagging, shrinkages
from wadforms.setting.measuring import Bar, Borne
from wadforms.setting.mixes import MEASURABLE, mix, mix_file, names, read
from wadforms.setting.readings import Readings
from wadforms.setting.table_writer import Changes, changed

DAY = date(2026, 11, 1)
TRIAL = Trial(DAY, "by hand", 'cone 10, "four" hours')

LIMIT = Limit(43.1, "kPa", "ours", assumed=False, readings=Readings(5, 52.0, 4.0, DAY, 1.58))
CHANGES: Changes = {("limits", "at_heat"): LIMIT, ("shrinkage", "drying"): 0.052}


def everything(name: str) -> Changes:
    """Changes by one test of every kind that this mix allows."""
    of = mix(name)
    found: dict[tuple[str, ...], object] = {}
    for result in shrinkages([Bar(100, 95, 88), Bar(100, 94.8, 87.7)], TRIAL):
        found |= result.changes
    for which, key in MEASURABLE.items():
        if getattr(of, key) is not None:
            borne = [Borne(value, 1.0, proof=False) for value in (410.0, 433.0, 402.0)]
            found |= bearing(which, borne, TRIAL, diameter=30, height=20).changes
    for ingredient in of.ingredients:
        found |= ingredient_density(of, ingredient.name, [0.61, 0.64], TRIAL).changes
    return found  # type: ignore[return-value]


@pytest.mark.parametrize("name", names())
def test_a_mix_written_is_the_mix_read(name: str) -> None:
    data, where = mix_file(name)
    text = changed(data, everything(name), where, "a mix").decode()
    before, after = mix(name), read(text, name, where)
    assert after.drying == pytest.approx(0.051, abs=1e-6)
    assert after.drying_limit is not None
    assert after.firing_limit is not None
    # The highest of two readings and a quarter more.
    assert after.drying_limit.value == pytest.approx(0.052 * 1.25, rel=1e-5)
    for key in MEASURABLE.values():
        limit, old = getattr(after, key), getattr(before, key)
        assert (limit is None) is (old is None)
        if limit is not None:
            assert not limit.assumed
            assert limit.readings.n == 3
            assert limit.readings.mean == pytest.approx(415.0, abs=1e-3)
            assert limit.readings.on == DAY
            assert limit.value < 402.0
            assert limit.source.endswith('cone 10, "four" hours')
    for ingredient in after.ingredients:
        assert ingredient.loose_density == pytest.approx(0.625)
        assert not ingredient.assumed
        assert ingredient.readings == Readings(2, 0.625, 0.0212132, DAY)
    # All else is as it was.
    assert (after.summary, after.water, after.bodies) == (
        before.summary,
        before.water,
        before.bodies,
    )
    assert (after.wet_density, after.dry_density) == (before.wet_density, before.dry_density)


@pytest.mark.parametrize("name", names())
def test_the_remarks_of_a_file_stay(name: str) -> None:
    data, where = mix_file(name)
    text = changed(data, everything(name), where, "a mix").decode()
    remarks = [line for line in data.decode().splitlines() if "#" in line]
    assert remarks
    for line in remarks:
        assert line.partition("#")[2] in text


@pytest.mark.parametrize(
    "form",
    [
        b"",
        b"[limits]\nat_heat.value = 50\nat_heat.source = 'x'\n",
        b"limits = {at_heat = {value = 5, source = 'y'}}\n",
        b"limits.at_heat.value = 3\n",
        b"\xef\xbb\xbf[limits.at_heat]\r\nvalue = 5\r\n[limits.cold]\r\nvalue = 3\r\n",
        b"[shrinkage]\ndrying = 1\n[limits.at_heat.readings]\nn = 3\nmean = 4.0\n",
        b"[[other]]\nx = 1\n[[other]]\nx = 2\n",
    ],
)
def test_tables_written_in_any_way_take_it(form: bytes) -> None:
    before = tomllib.loads(form.decode("utf-8-sig"))
    found = tomllib.loads(changed(form, CHANGES, "own.toml", "a mix").decode())
    assert found["shrinkage"]["drying"] == 0.052
    at_heat = found["limits"]["at_heat"]
    assert (at_heat["value"], at_heat["source"], at_heat["assumed"]) == (43.1, "ours", False)
    assert at_heat["readings"] == {
        **{"on": DAY, "n": 5, "mean": 52.0},
        **{"spread": 4.0, "squat": 1.58},
    }
    assert found.get("other") == before.get("other")
    assert found["limits"].get("cold") == before.get("limits", {}).get("cold")


def test_something_else_where_a_table_should_be_is_told() -> None:
    with pytest.raises(BadInput, match=r"own\.toml: limits: something else was given"):
        changed(b"limits = 3\n", CHANGES, "own.toml", "a mix")


@pytest.mark.parametrize("name", names())
def test_a_file_that_was_written_takes_the_next_test(name: str) -> None:
    data, where = mix_file(name)
    once = changed(data, everything(name), where, "a mix")
    again = changed(once, {**everything(name), **CHANGES}, where, "a mix").decode()
    assert read(again, name, where).at_heat == LIMIT
    assert read(again, name, where).drying == 0.052


HEAD, *TABLES = re.split(r"^(?=\[)", mix_file("open")[0].decode(), flags=re.MULTILINE)


@given(st.permutations(TABLES))
def test_the_order_of_tables_does_not_matter(tables: list[str]) -> None:
    text = HEAD + "".join(table.rstrip() + "\n" for table in tables)
    found = tomllib.loads(changed(text.encode(), CHANGES, "own.toml", "a mix").decode())
    assert found["shrinkage"] == {"drying": 0.052, "firing": 0.075}
    assert found["limits"]["at_heat"]["value"] == 43.1
    assert found["density"] == tomllib.loads(text)["density"]


@given(st.permutations([*TABLES, "[shrinkage.remark]\nwords = 'mine'\n", "[limits.own]\na = 1\n"]))
def test_what_cannot_be_written_as_meant_is_not_written(tables: list[str]) -> None:
    text = HEAD + "".join(table.rstrip() + "\n" for table in tables)
    try:
        found = tomllib.loads(changed(text.encode(), CHANGES, "own.toml", "a mix").decode())
    except BadInput:  # told: no file
        return
    before = tomllib.loads(text)
    assert found["shrinkage"] == before["shrinkage"] | {"drying": 0.052}
    assert found["limits"]["own"] == {"a": 1}
    assert found["limits"]["cold"] == before["limits"]["cold"]


def test_tables_far_from_their_own_are_told() -> None:
    text = b"[limits.own]\na = 1\n[limits]\n"  # a whole after its part
    with pytest.raises(BadInput, match="put each table right after the one that it belongs to"):
        changed(text, CHANGES, "own.toml", "a mix")


def test_no_toml_is_told() -> None:
    with pytest.raises(BadInput, match="text that is not TOML"):
        changed(b"limits =\n", CHANGES, "own.toml", "a mix")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("n = 5,", "n = 0,", "readings.n: 0 was given; give a whole number, 1 to 1000"),
        ("n = 5,", "n = true,", "readings.n: True was given"),
        ("n = 5, ", "", "readings.n: nothing was given"),
        ("mean = 52.0", 'mean = "heavy"', "readings.mean: 'heavy' was given"),
        ("spread = 4.0", "spread = -1", "readings.spread: -1 was given"),
        (", spread = 4.0", "", "readings.spread: nothing was given"),
        ("on = 2026-11-01", 'on = "yesterday"', "readings.on: 'yesterday' was given; give a day"),
        ("on = 2026-11-01", "on = 2026-11-01T10:00:00", "readings.on: datetime"),
        ("squat = 1.58", "squat = 0.5", "readings.squat: 0.5 was given; give 1 to 1000"),
        ("\nassumed = false", "\nassumed = true", "at_heat.assumed: True was given; write false"),
    ],
)
def test_each_fault_of_readings_has_its_key(old: str, new: str, words: str) -> None:
    data, where = mix_file("open")
    text = changed(data, {("limits", "at_heat"): LIMIT}, where, "a mix").decode()
    assert text.count(old) == 1
    with pytest.raises(BadInput) as caught:
        read(text.replace(old, new), "own", "own.toml")
    assert words in str(caught.value)
    assert len(caught.value.faults) == 1


def test_no_more_than_the_mean_may_be_called_the_most() -> None:
    data, where = mix_file("open")
    (drying, _) = shrinkages([Bar(100, 95, 88), Bar(100, 94.8, 87.7)], TRIAL)
    text = changed(data, drying.changes, where, "a mix").decode()
    with pytest.raises(BadInput, match=r"drying_most\.value: 0\.02 was given; give at least"):
        read(text.replace("value = 0.065\n", "value = 0.02\n"), "own", "own.toml")


def test_a_clay_written_is_the_clay_read(tmp_path: Path) -> None:
    result = sagging([4e-7, 4.4e-7, 4.1e-7], TRIAL)
    path = tmp_path / "white.toml"
    path.write_bytes(changed(b"", result.changes, "white.toml", "a clay"))
    found = clay(path)
    assert found.name == "white"
    assert found.sags.value == pytest.approx(result.limit.value, rel=1e-5)
    assert found.sags.readings == Readings(3, 4.16667e-7, 2.08167e-8, DAY)
    assert "measured 2026-11-01, 3 readings 4.17e-07 ± 2.08e-08 /mm" in found.words


def test_a_mix_is_no_clay(tmp_path: Path) -> None:
    path = tmp_path / "open.toml"
    path.write_bytes(mix_file("open")[0])
    with pytest.raises(BadInput, match=r"pyroplastic_index\.value: nothing was given"):
        clay(path)
