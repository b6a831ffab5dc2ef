"""`wadforms measure`: what it writes and says, and how the other commands reckon with it."""

from __future__ import annotations

import json
import math
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import openpyxl
import pytest

from wadforms.cli import call
from wadforms.errors import BadInput, UnknownName, WouldOverwrite

DAY = ("--on", "2026-11-01")
BARS = ("--bar", "100/95/88", "--bar", "100/94.8/87.7", "--bar", "100/95.1/88.2")
HOT = ("--wad", "4kg/20/19.7", "--wad", "4kg/20/19.72", "--wad", "4kg/20/19.69")
SAGS = ("--bar", "100/5/1.8", "--bar", "100/5/2.1", "--bar", "100/5.1/1.9")
PLATE = ["-w", "1.2kg", "-f", "240mm", "--foot-width", "8mm", "--height", "50mm"]
WADS = ["--wad", "disk-16", "-n", "12"]


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def answer(capsys: pytest.CaptureFixture[str], command: str, *arguments: str) -> dict[str, Any]:
    assert call([command, *arguments, "--json"]) in {0, 3}
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def told(capsys: pytest.CaptureFixture[str], command: str, *arguments: str) -> str:
    assert call([command, *arguments]) in {0, 3}
    return " ".join(capsys.readouterr().out.split())


def faults(*arguments: str) -> str:
    with pytest.raises(BadInput) as caught:
        call(["measure", *arguments])
    assert not list(Path().glob("*.toml"))  # nothing is written
    return str(caught.value)


def test_bars_make_a_dated_mix(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "measure", "shrinkage", *BARS, *DAY)
    assert found["files"] == ["open-2026-11-01.toml"]
    drying, firing = found["results"]
    # By hand: (5 + 5.2 + 4.9)/3 %, and (7/95 + 7.1/94.8 + 6.9/95.1)/3.
    assert drying["mean"] == pytest.approx(0.0503333, abs=1e-6)
    assert firing["mean"] == pytest.approx((7 / 95 + 7.1 / 94.8 + 6.9 / 95.1) / 3, abs=1e-6)
    assert drying["spread"] == pytest.approx(0.00152753, abs=1e-6)
    # k_n of 3 readings is 3.37: EN 1990, table D1, from memory.
    assert drying["judged_by"] == pytest.approx(0.0503333 + 3.37 * 0.00152753, abs=1e-5)
    kept = tomllib.loads(Path("open-2026-11-01.toml").read_text(encoding="utf-8"))
    assert kept["shrinkage"]["drying_most"]["readings"]["on"] == date(2026, 11, 1)
    assert kept["shrinkage"]["drying_most"]["assumed"] is False
    wads = answer(capsys, "contact", *PLATE, *WADS, "--mix", found["files"][0])
    before = answer(capsys, "contact", *PLATE, *WADS)
    shares = [made["fired_contact_area_mm2"] / made["contact_area_mm2"] for made in (wads, before)]
    # Wet wads shrink by both; a ring 8 mm wide cuts them, so not quite by the square.
    assert shares[0] < shares[1]


def test_wads_under_load_set_the_limit_that_contact_prints(
    capsys: pytest.CaptureFixture[str],
) -> None:
    arguments = ("bearing", *HOT, "--diameter", "30mm", "--out", "own.toml", *DAY)
    found = answer(capsys, "measure", *arguments, "--note", "cone 10")["results"][0]
    tested = 4.0 * 9.80665 / (math.pi * 15.0**2) * 1000.0  # kPa
    # They lost 1.5, 1.4 and 1.55 % of their height, and may lose 1 %.
    borne = [tested * 0.01 / lost for lost in (0.015, 0.014, 0.0155)]
    assert found["readings"] == pytest.approx(borne, abs=1e-4)
    assert found["mean"] == pytest.approx(sum(borne) / 3, abs=1e-4)
    text = told(capsys, "contact", *PLATE, *WADS, "--mix", "own.toml")
    mean, spread = np.mean(borne), np.std(borne, ddof=1)
    assert f"(measured 2026-11-01, 3 readings {mean:.1f} ± {spread:.2f} kPa)" in text
    assert "cone 10" in text
    checked = answer(capsys, "contact", *PLATE, *WADS, "--mix", "own.toml")
    heat = next(c for c in checked["checks"] if c["name"] == "pressure at top heat")
    assert heat["assumed"] is False
    assert heat["readings"]["n"] == 3
    assert heat["readings"]["on"] == "2026-11-01"
    assert heat["limit"] < min(borne)
    sized = answer(capsys, "size", *PLATE, "--mix", "own.toml")
    assert sized["limit_kpa"] <= heat["readings"]["mean"]


def test_more_than_one_wad_shares_a_load(capsys: pytest.CaptureFixture[str]) -> None:
    one = ("bearing", "--limit", "cold", "--diameter", "20mm", "--height", "15mm", "--dry-run")
    alone = answer(capsys, "measure", *one, "--wad", "5kg")["results"][0]["mean"]
    shared = answer(capsys, "measure", *one, "--wad", "15kg", "--together", "3")["results"][0]
    assert shared["mean"] == pytest.approx(alone)
    assert shared["judged_by"] == pytest.approx(0.75 * alone / 3)  # one broke, once: a third of it
    assert shared["spread"] is None


def test_one_test_after_another_adds_up_in_one_file(capsys: pytest.CaptureFixture[str]) -> None:
    told(capsys, "measure", "shrinkage", *BARS, "--out", "own.toml", *DAY)
    cup = ("--cup", "250ml", "--empty", "120g", "--filled", "247g", "--filled", "249.5g")
    kaolin = ("loose-density", "--ingredient", "kaolin", *cup, "--mix", "own.toml")
    text = told(capsys, "measure", *kaolin, "--out", "own.toml", "--force", *DAY)
    assert "2 readings 0.51 ± 0.01 g/cm³" in text
    assert "wear a fitted respirator" in text
    mixed = answer(capsys, "batch", "--volume", "3l", "--mix", "own.toml")
    portion = mixed["ingredients"][0]
    assert portion["mass_g"] / portion["volume_mm3"] * 1000 == pytest.approx(0.513, abs=1e-6)
    assert not any("kaolin" in text for text in mixed["assumed"])
    kept = tomllib.loads(Path("own.toml").read_text(encoding="utf-8"))
    assert kept["shrinkage"]["drying"] == pytest.approx(0.0503333)


def test_a_table_gives_what_typing_gives(capsys: pytest.CaptureFixture[str]) -> None:
    Path("bars.csv").write_text(
        "plastic;dry;fired\n# of Tuesday\n100;95;88\n100;94,8;87,7\n\n100;95,1;88,2\n",
        encoding="utf-8",
    )
    book = openpyxl.Workbook()
    page: Any = book.active
    for row in (
        ["Plastic (cm)", "Dry (cm)", "Fired (cm)"],
        [10, 9.5, 8.8],
        [10, 9.48, 8.77],
        [10, 9.51, 8.82],
    ):
        page.append(row)
    book.save("bars.xlsx")
    typed = answer(capsys, "measure", "shrinkage", *BARS, *DAY, "--dry-run")
    for table in ("bars.csv", "bars.xlsx"):
        read = answer(capsys, "measure", "shrinkage", "--readings", table, *DAY, "--dry-run")
        assert read == typed
    assert not list(Path().glob("*.toml"))


def test_a_length_may_be_a_fraction(capsys: pytest.CaptureFixture[str]) -> None:
    inches = answer(capsys, "measure", "shrinkage", "--bar", "4;3 13/16;3 1/2 in", "--dry-run")
    assert inches["results"][0]["mean"] == pytest.approx(1 - 3.8125 / 4, abs=1e-6)
    assert inches["results"][1]["mean"] == pytest.approx(1 - 3.5 / 3.8125, abs=1e-6)


def test_a_clay_says_how_far_a_base_sags(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "measure", "clay-sag", *SAGS, "--out", "white.toml", *DAY)
    (index,) = found["results"]
    assert index["unit"] == "1e-9/mm"
    by_hand = [s * t**2 / 100**4 * 1e9 for t, s in ((5, 1.8), (5, 2.1), (5.1, 1.9))]
    assert index["readings"] == pytest.approx(by_hand, abs=1e-4)
    text = told(capsys, "contact", *PLATE, *WADS, "--clay", "white.toml", "--base-thickness", "6mm")
    spacing = 2 * math.pi * 116 / 12  # along the circle
    sag = index["judged_by"] * 1e-9 * spacing**4 / 6.0**2
    assert f"the base may sag {sag:.2f} mm between wads" in text
    assert "by the clay 'white' of index 6.17e-07 /mm: measured 2026-11-01, 3 readings" in text
    sized = told(capsys, "size", *PLATE, "--clay", "white.toml", "--base-thickness", "6mm")
    assert "by the clay 'white'" in sized


def test_a_clay_is_of_no_use_alone(capsys: pytest.CaptureFixture[str]) -> None:
    told(capsys, "measure", "clay-sag", *SAGS, "--out", "white.toml", *DAY)
    with pytest.raises(BadInput) as caught:
        call(["contact", *PLATE, *WADS, "--clay", "white.toml", "--pyroplastic-index", "0.0000005"])
    assert {fault.where for fault in caught.value.faults} == {
        "--base-thickness",
        "--pyroplastic-index",
    }


@pytest.mark.parametrize(
    ("arguments", "caution"),
    [
        (("bearing", *HOT, "--diameter", "30mm"), "until the kiln is cold"),
        (
            (
                *("bearing", "--limit", "cold", "--wad", "9kg"),
                *("--diameter", "20mm", "--height", "9mm"),
            ),
            "The load drops when the wad breaks",
        ),
        (
            (
                *("bearing", "--limit", "point", "--wad", "9kg"),
                *("--diameter", "2mm", "--mix", "fireclay"),
            ),
            "The load drops when the wad breaks",
        ),
        (("clay-sag", *SAGS), "it may slip or melt"),
    ],
)
def test_what_can_hurt_is_said(
    arguments: tuple[str, ...], caution: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert caution in told(capsys, "measure", *arguments, "--dry-run")
    assert caution in answer(capsys, "measure", *arguments, "--dry-run")["caution"]


def test_nothing_is_written_over(capsys: pytest.CaptureFixture[str]) -> None:
    told(capsys, "measure", "shrinkage", *BARS, *DAY)
    before = Path("open-2026-11-01.toml").read_bytes()
    with pytest.raises(WouldOverwrite):
        call(["measure", "shrinkage", "--bar", "100/90/80", *DAY])
    assert Path("open-2026-11-01.toml").read_bytes() == before
    # A mix of another day is named after that day.
    found = answer(
        capsys,
        *("measure", "shrinkage", *BARS, "--mix", "open-2026-11-01.toml"),
        *("--on", "2026-12-24", "--dry-run"),
    )
    assert found["files"] == []
    told(capsys, "measure", "shrinkage", *BARS, "--mix", "open-2026-11-01.toml", "--on=2026-12-24")
    assert Path("open-2026-12-24.toml").exists()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("shrinkage",), "readings: nothing was given; give --bar PLASTIC/DRY/FIRED"),
        (("shrinkage", "--bar", "100"), "--bar: '100' was given; write it as PLASTIC/DRY/FIRED"),
        (("shrinkage", "--bar", "100/x"), "--bar 100/x, dry: 'x' was given; give a length"),
        (("shrinkage", "--bar", "100/101"), "--bar 100/101, dry length: 101 mm was given"),
        (("shrinkage", "--bar", "100/0"), "--bar 100/0, dry: '0' was given; give more than 0"),
        (("shrinkage", *BARS, "--cup", "3l"), "--cup: something without effect here"),
        (("shrinkage", *BARS, "--on", "1.11.2026"), "--on: '1.11.2026' was given; give a day"),
        (("shrinkage", *BARS, "--on", "2026-02-30"), "--on: '2026-02-30' was given; give a day"),
        (("shrinkage", *BARS, "--note", "a\nb"), "--note: 'a\\nb' was given; leave out"),
        (("shrinkage", *BARS, "--out", "own.csv"), "end it with .toml"),
        (("shrinkage", "--readings", "none.csv"), "none.csv: a file that is not there"),
        (("bearing", *HOT), "--diameter: nothing was given; give --diameter 30mm"),
        (("bearing", *HOT, "--limit", "warm"), "--limit: 'warm' was given"),
        (
            ("bearing", *HOT, "--diameter", "3cm", "--together", "0"),
            "--together: 0 was given; give 1 to 1000",
        ),
        (("bearing", "--wad", "4/20/19", "--diameter", "3cm"), "load: '4' was given; give a mass"),
        (
            ("bearing", "--limit", "cold", "--wad", "9kg", "--diameter", "3cm"),
            "--height: nothing was given",
        ),
        (
            ("bearing", "--limit", "point", "--wad", "9kg", "--diameter", "2mm"),
            "--mix: 'open' was given; name a mix for solid pieces",
        ),
        (("loose-density", "--filled", "247g"), "--cup: nothing was given"),
        (
            ("loose-density", "--filled", "247g", "--cup", "250ml"),
            "--ingredient: nothing was given; give one of kaolin, alumina hydrate, fine sawdust",
        ),
        (
            ("loose-density", "--ingredient", "kaolin", "--filled", "9kg", "--cup", "250ml"),
            "--filled 9kg, filled cup: 9 kg was given",
        ),
        (("clay-sag", "--bar", "100/5"), "write it as SPAN/THICKNESS/SAG"),
        (("clay-sag", *SAGS, "--mix", "open"), "--mix: something without effect here"),
    ],
)
def test_each_fault_has_its_place(arguments: tuple[str, ...], words: str) -> None:
    assert words in faults(*arguments)


def test_all_faults_of_the_readings_come_at_once() -> None:
    Path("bars.csv").write_text("plastic,dry\n100,95\n100,102\nlong,90\n", encoding="utf-8")
    found = faults("shrinkage", "--bar", "100/40", "--bar", "1/2/3/4", "--readings", "bars.csv")
    assert "bars.csv, row 4, plastic: 'long'" in found
    assert "--bar: '1/2/3/4'" in found
    assert "bars.csv, row 3, dry length: 102 mm was given" in found
    assert "--bar 100/40, dry length: 40 mm was given" in found


def test_a_test_that_nothing_here_makes() -> None:
    with pytest.raises(UnknownName, match="did you mean 'bearing'"):
        call(["measure", "bearings"])


def test_readings_beyond_any_wad_are_not_written() -> None:
    # Read back, the file would be refused: 1 g on a wad of 30 mm is 0.014 kPa.
    words = faults("bearing", "--wad", "1g/20/19.9", "--diameter", "30mm", *DAY)
    assert "limits.at_heat.value" in words
    assert "give 1 kPa" in words
