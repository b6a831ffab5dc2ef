"""The slab command and the guides of `contact` and `size`: what they print, write and refuse.

Sources
-------
- Discs of Ø 25 on ISO 216 A4 in tight hexagonal rows: 99, from the rows' own arithmetic.
- Wet size = set size/(1 − S) by the definition of drying shrinkage in ASTM C326.
- Pages of a PDF: the count in its page tree, ISO 32000-1, 7.7.3.2.
"""

from __future__ import annotations

import math
import re
from functools import partial
from pathlib import Path

import asked
import pytest
import reading
from asked import JUDGED

from wadforms.cli import call
from wadforms.errors import BadInput, NotMakeable, WouldOverwrite
from wadforms.setting.mixes import mix

BOWL = ["-w", "380g", "-f", "50mm", "--foot-width", "5mm", "--height", "60mm"]
WADS = ["--wad", "disk-10", "-b", "dry"]


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


told, answer = partial(asked.told, codes=JUDGED), partial(asked.answer, codes=JUDGED)


def pages(file: Path) -> int:
    """Pages of a PDF: what its page tree counts (ISO 32000-1, 7.7.3.2)."""
    (count,) = re.findall(rb"/Count (\d+)", file.read_bytes())
    return int(count)


def test_a_slab_of_disks(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "slab", "disk-25", "--size", "210x297", "--gap", "0")
    assert found["pieces"] >= 99
    assert found["counts"] == {"disk-25": found["pieces"]}
    used = found["pieces"] * math.pi * 12.5**2
    assert found["area_mm2"] == pytest.approx(used, rel=1e-6)
    assert found["yield_share"] == pytest.approx(used / (210 * 297), abs=1e-5)
    assert found["waste_share"] == pytest.approx(1 - used / (210 * 297), abs=1e-5)
    assert found["files"] == ["disk-25-slab.svg"]
    sizes = [reading.size(path) for path in reading.paths((here / "disk-25-slab.svg").read_bytes())]
    assert sum(size == pytest.approx((25.0, 25.0), abs=0.01) for size in sizes) == found["pieces"]


def test_wet_pieces_are_larger_and_have_their_mass(capsys: pytest.CaptureFixture[str]) -> None:
    slab = ["slab", "disk-25", "--size", "400x300", "--body", "dry", "--dry-run"]
    as_set, wet = answer(capsys, *slab), answer(capsys, *slab, "--wet")
    assert wet["factor"] == pytest.approx(1 / (1 - mix("open").drying), abs=1e-6)
    each = wet["area_mm2"] / wet["pieces"]
    assert each == pytest.approx(math.pi * (12.5 * wet["factor"]) ** 2, rel=1e-5)
    assert wet["pieces"] < as_set["pieces"]
    thick = answer(capsys, *slab, "--thickness", "12mm")
    # g/cm³ times cm³: 40 × 30 × 1.2 cm
    assert thick["slab_mass_g"] == pytest.approx(40 * 30 * 1.2 * mix("open").wet_density, rel=1e-6)
    share = thick["pieces_mass_g"] / thick["slab_mass_g"]
    assert share == pytest.approx(thick["yield_share"], abs=1e-5)


def test_several_shapes_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    some = ["slab", "disk-25:6", "tee-50:2", "--size", "8x8in", "--dry-run"]
    text = told(capsys, *some)
    assert "6 × disk-25 and 2 × tee-50, from a slab of 203.2 × 203.2 mm" in text
    assert "% of the slab; left over" in text
    sets = answer(capsys, *some, "--sets")
    assert sets["sets"] > 1
    assert sets["counts"] == {"disk-25": 6 * sets["sets"], "tee-50": 2 * sets["sets"]}
    assert sets["files"] == []


def test_a_slab_on_paper(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    slab = ["slab", "disk-25", "--size", "400x300"]
    assert answer(capsys, *slab, "--out", "slab.pdf")["files"] == ["slab.pdf"]
    assert pages(here / "slab.pdf") == 7  # an overview, and 3 × 2 sheets
    assert answer(capsys, *slab, "--out", "plan.pdf", "--overview")["files"] == ["plan.pdf"]
    assert pages(here / "plan.pdf") == 1


def test_what_no_outline_can_cut_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    text = told(capsys, "slab", "cradle-130:1", "--size", "400x300", "--dry-run")
    assert "cradle-130: The outline only" in text


SLAB = ["slab", "disk-25", "--size", "200x150"]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["slab", "disk-25", "--size", "200"], "--size"),
        (["slab", "disk-25", "--size", "200x9999"], "slab"),
        (["slab", "disk-25:none", "--size", "200x150"], "SHAPE:COUNT"),
        (["slab", "disk-25:0", "--size", "200x150"], "SHAPE:COUNT"),
        (["slab", "disk-25:2", "tee-50", "--size", "200x150"], "not for all"),
        (["slab", "disk-25", "disk-25", "--size", "200x150"], "twice"),
        (["slab", "disk-25", "tee-50", "--size", "200x150", "--with", "height=9"], "--with"),
        (["slab", "no-such", "--size", "200x150"], "no-such"),
        (["slab", "disk-25", "pointed-tripod-63", "--size", "200x150", "-b", "wet"], "--body"),
        ([*SLAB, "--sets"], "no counts"),
        ([*SLAB, "--gap", "wide"], "--gap"),
        ([*SLAB, "--edge", "90mm"], "edge"),
        ([*SLAB, "--thickness", "0"], "--thickness"),
        ([*SLAB, "--search", "-1"], "--search"),
        ([*SLAB, "--seed", "-1"], "--seed"),
        ([*SLAB, "--out", "slab.stl"], "end it with"),
        ([*SLAB, "--paper", "a3", "--out", "slab.pdf"], "a3"),
        ([*SLAB, "--paper", "a4"], "--paper"),
        ([*SLAB, "--square-measured", "97mm"], "--square-measured"),
        ([*SLAB, "--square-measured", "9mm", "--out", "slab.pdf"], "square measured"),
        (["contact", *BOWL, *WADS, "--guide", "guide.stl"], "end it with"),
        (["contact", *BOWL, *WADS, "--guide", "guide.pdf", "--paper", "a3"], "a3"),
        (["contact", *BOWL, *WADS, "--paper", "a4"], "--guide"),
        (["contact", *BOWL, *WADS, "--guide", "a.svg", "--picture", "a-1.svg"], "twice"),
    ],
)
def test_bad_input_is_refused_and_nothing_written(
    here: Path, arguments: list[str], says: str
) -> None:
    with pytest.raises(BadInput, match=re.escape(says)):
        call(arguments)
    assert not list(here.iterdir())


def test_too_many_for_the_slab(here: Path) -> None:
    with pytest.raises(NotMakeable, match=r"500 × disk-25 do not fit .*; \d+ do"):
        call(["slab", "disk-25:500", "--size", "200x150"])
    assert not list(here.iterdir())


def test_a_slab_tells_its_sheets(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    slab = ["slab", "disk-40:4", "--size", "300x200", "--out", "slab.pdf", "--paper", "a4"]
    words = told(capsys, *slab)
    assert "3 pages: an overview, then 2 columns × 1 rows of sheets at full size." in words
    assert pages(here / "slab.pdf") == 3
    assert "half crosses make whole ones" in words


def test_a_guide_in_sheets_of_paper(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "contact", *BOWL, *WADS, "--guide", "bowl.pdf", "--name", "Tea bowl")
    assert found["files"] == ["bowl.pdf"]
    assert (found["pages"], found["columns"], found["rows"]) == (2, 1, 1)
    assert pages(here / "bowl.pdf") == 2  # the sheet for the shelf; mark and places
    wide = ["-w", "2.4kg", "-f", "360mm", "--foot-width", "12mm", "--height", "60mm"]
    found = answer(capsys, "size", *wide, "--guide", "wide.pdf")
    assert found["files"] == ["wide.pdf"]
    assert pages(here / "wide.pdf") == found["pages"] == 2 * 2 + 1
    assert (found["columns"], found["rows"]) == (2, 2)
    words = told(capsys, "size", *wide, "--guide", "wide.pdf", "--force")
    assert "The guide has 5 pages: 2 columns × 2 rows of sheets" in words
    assert "half crosses make whole ones" in words
    assert "against a window" in words


def test_a_guide_as_svg_with_a_picture(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    both = ["contact", *BOWL, *WADS, "--guide", "bowl.svg", "--picture", "picture.svg"]
    assert answer(capsys, *both)["files"] == ["picture.svg", "bowl-1.svg", "bowl-2.svg"]
    sizes = [reading.size(path) for path in reading.paths((here / "bowl-1.svg").read_bytes())]
    for side in (50.0, 100.0, 10.0):  # foot, square, top of a wad [mm]
        assert any(size == pytest.approx((side, side), abs=0.01) for size in sizes)
    assert "Lay it on the shelf" in (here / "bowl-1.svg").read_text("utf-8")


def test_nothing_is_overwritten_and_a_dry_run_writes_nothing(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    guide = ["contact", *BOWL, *WADS, "--guide", "bowl.svg", "--picture", "picture.svg"]
    assert answer(capsys, *guide, "--dry-run")["files"] == []
    assert not list(here.iterdir())
    (here / "bowl-2.svg").write_text("mine", encoding="utf-8")
    with pytest.raises(WouldOverwrite, match="bowl-2"):
        call(guide)
    with pytest.raises(WouldOverwrite, match="bowl-2"):
        call([*guide, "--dry-run"])
    assert [file.name for file in here.iterdir()] == ["bowl-2.svg"]
    assert len(answer(capsys, *guide, "--force")["files"]) == 3
    assert "mine" not in (here / "bowl-2.svg").read_text("utf-8")


def test_the_printer_is_made_up_for(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    guide = ["contact", *BOWL, *WADS, "--guide", "bowl.svg", "--square-measured", "97mm"]
    answer(capsys, *guide)
    sizes = [reading.size(path) for path in reading.paths((here / "bowl-1.svg").read_bytes())]
    square = 100 / 0.97
    assert any(size == pytest.approx((square, square), abs=0.01) for size in sizes)
    assert "the square measured 97 mm" in (here / "bowl-1.svg").read_text("utf-8")
