"""`wadforms mould`: kinds, boards, formats, and what is said where something cannot be made."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
import trimesh

from wadforms.cli import call
from wadforms.errors import BadInput, NotMakeable, WouldOverwrite


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def answer(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    capsys.readouterr()
    assert call(["mould", *arguments, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_every_kind_that_can_make_the_shape(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "rail-63", "--kind", "all")
    assert [mould["kind"] for mould in found["moulds"]] == [
        "tray", "frame", "cutter", "die", "master"
    ]  # fmt: skip
    assert not found["refused"]
    assert {path.name for path in here.iterdir()} == {
        "rail-63-tray.stl", "rail-63-frame.stl", "rail-63-frame-pusher.stl", "rail-63-cutter.stl",
        "rail-63-die.stl", "rail-63-master.stl",
    }  # fmt: skip
    assert all(trimesh.load_mesh(path).is_watertight for path in here.iterdir())


def test_kinds_that_cannot_say_why(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "pointed-tripod-63", "--kind", "all", "--dry-run")
    assert [mould["kind"] for mould in found["moulds"]] == ["tray", "master"]
    assert set(found["refused"]) == {"frame", "cutter", "die"}
    with pytest.raises(NotMakeable, match=r"points on its top.*; tray or master can"):
        call(["mould", "pointed-tripod-63", "--kind", "cutter"])
    assert not list(here.iterdir())


def test_a_full_bed_and_what_one_filling_takes(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = answer(capsys, "disk-40", "--fill-bed", "180x160")
    board = found["boards"][0]
    width, depth, _ = board["parts"][0]["size_mm"]
    assert width <= 170
    assert depth <= 150
    assert board["cavities"] == found["cavities"] >= 6
    assert board["filling_mass_g"] == pytest.approx(board["cavities"] * found["wet_mass_g"])
    imperial = answer(capsys, "disk-40", "--fill-bed", "7.0866 x 6.2992 in", "--force")
    assert imperial["cavities"] == found["cavities"]


def test_more_than_a_bed_takes_is_split(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "disk-40", "--cavities", "20", "--bed", "150x150")
    boards = [(board["times"], board["cavities"]) for board in found["boards"]]
    assert sum(times * cavities for times, cavities in boards) == found["cavities"] == 20
    assert len(boards) == 2
    names = {f"disk-40-tray-{cavities}.stl" for _, cavities in boards}
    assert {path.name for path in here.iterdir()} == names


def test_other_formats_and_a_picture(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "disk-20", "--also", "step", "--also", "3mf", "--picture")
    assert {Path(file).suffix for file in found["files"]} == {".stl", ".step", ".3mf", ".png"}
    assert all(Path(file).stat().st_size > 1000 for file in found["files"])
    assert (here / "disk-20-tray.png").read_bytes().startswith(b"\x89PNG")


def test_nothing_is_overwritten_and_a_dry_run_writes_nothing(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert answer(capsys, "disk-20", "--dry-run")["files"] == []
    assert not list(here.iterdir())
    (here / "disk-20-tray.png").write_text("mine")
    with pytest.raises(WouldOverwrite, match=r"disk-20-tray\.png"):
        call(["mould", "disk-20", "--picture"])
    assert [path.name for path in here.iterdir()] == ["disk-20-tray.png"]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--kind", "tary"], "did you mean 'tray'"),
        (["--making", "wal=4mm"], "did you mean 'wall'"),
        (["--kind", "all", "--making", "barel=90mm"], "did you mean 'barrel'"),
        (["--making", "wall=0.5mm"], r"wall: 0\.5 mm was given; give 2\.4 mm to 20 mm"),
        (["--margin", "-3mm"], "give 0 mm to 100 mm"),
        (
            ["--fill-bed", "220x220", "--cavities", "4"],
            "--cavities beside it was given; give one of them",
        ),
        (["--fill-bed", "220x220", "--bed", "220x220"], "--bed beside it"),
        (["--fill-bed", "220"], "give two lengths such as '220x180'"),
        (["--fill-bed", "22x22"], "give 40 mm to 2000 mm a side"),
        (["--cavities", "0"], "give 1 to 1000"),
        (["--search", "-1"], "give 0 to 600 seconds"),
        (["--also", "obj"], "one of 3mf, step, stl"),
    ],
)
def test_what_cannot_be_used(here: Path, arguments: list[str], said: str) -> None:
    with pytest.raises(BadInput, match=said):
        call(["mould", "disk-20", *arguments])
    assert not list(here.iterdir())


def test_too_large_for_the_bed_names_what_fits(here: Path) -> None:
    with pytest.raises(NotMakeable, match=r"does not fit a bed of 120 × 120 mm.*0\.8\d+ of it"):
        call(["mould", "rail-160", "--bed", "120x120"])
    assert not list(here.iterdir())


def test_all_kinds_are_refused_before_the_first_is_written(here: Path) -> None:
    (here / "m-frame-pusher.stl").write_text("mine")
    with pytest.raises(WouldOverwrite, match=r"m-frame-pusher\.stl"):
        call(["mould", "rail-63", "--kind", "all", "--out", "m.stl"])
    assert [path.name for path in here.iterdir()] == ["m-frame-pusher.stl"]


def test_where_no_kind_can_make_it(here: Path) -> None:
    with pytest.raises(NotMakeable, match="no kind can make it"):
        call(["mould", "post-pad-114", "--kind", "all", "--bed", "120x120"])


def test_what_one_kind_cannot_be_given_stops_no_other(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = answer(
        capsys, "rail-63", "--kind", "all", "--making", "nozzle=1.2mm", "--making", "layer=0.4mm",
        "--dry-run",
    )  # fmt: skip
    assert set(found["refused"]) == {"cutter"}
    assert len(found["moulds"]) == 4


def test_a_ridge_of_the_mould_too_thin_to_print(here: Path) -> None:
    """A slit of 2 mm between walls that lean by 8 mm × tan 5° = 0.7 mm leaves a ridge of 0.6 mm."""
    (here / "slit.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">'
        '<path d="M0 0H19V20H21V0H40V30H0Z"/></svg>'
    )
    arguments = ["mould", "custom", "--with", "outline=slit.svg", "--with", "height=8mm"]
    with pytest.raises(NotMakeable, match=r"only 0\.60 mm\s+thick at its rim") as caught:
        call([*arguments, "--dry-run"])
    assert "by 0.20 mm" in str(caught.value)
    assert call([*arguments, "--kind", "cutter", "--dry-run"]) == 0


def test_a_bed_or_margin_that_takes_all_on_one_board_is_told(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """What is told does; one board of that bed holds them all."""
    order = ["disk-40", "--cavities", "12", "--dry-run", "--bed"]
    (note,) = (n for n in answer(capsys, *order, "150x150")["notes"] if "a bed of" in n)
    found = re.search(r"a bed of (\d+) × (\d+) mm would take all 12 on one board", note)
    assert found
    wide, deep = (int(side) for side in found.groups())
    assert [b["times"] for b in answer(capsys, *order, f"{wide}x{deep}")["boards"]] == [1]
    assert len(answer(capsys, *order, f"{wide - 1}x{deep - 1}")["boards"]) > 1
    # A bed larger by 4 mm is one with a margin smaller by 2 mm.
    (note,) = (n for n in answer(capsys, *order, f"{wide - 4}x{deep - 4}")["notes"] if "bed" in n)
    (margin,) = re.findall(r"--margin (\S+)mm", note)
    assert float(margin) == pytest.approx(3.0, abs=0.6)
    told = answer(capsys, *order, f"{wide - 4}x{deep - 4}", "--margin", margin)
    assert [b["times"] for b in told["boards"]] == [1]


def test_what_a_label_leaves_out_and_long_parts_are_told(
    capsys: pytest.CaptureFixture[str],
) -> None:
    (note,) = answer(capsys, "disk-16", "--body", "dry", "--dry-run")["notes"]
    assert "no room for" in note
    assert "−5 %" in note
    wide = ["disk-16", "--body", "dry", "--dry-run", "--cavities"]
    assert answer(capsys, *wide, "12")["notes"] == []
    assert answer(capsys, "disk-16", "--dry-run", "--making", "letters=0")["notes"] == []
    (note,) = answer(capsys, "rail-160", "--dry-run", "--kind", "master")["notes"]
    assert "220 mm" in note
    assert int(re.findall(r"(\d+) mm long", note)[0]) > 220


def test_a_family_that_others_are_named_after_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    for shape, said in (("tripod", True), ("tripod-50", False), ("disk", False)):
        assert call(["mould", shape, "--dry-run"]) == 0
        assert ("others are called pointed-tripod" in capsys.readouterr().out) == said
