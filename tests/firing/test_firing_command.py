"""`wadforms firing` and `wadforms batch` as they are typed."""

from __future__ import annotations

import contextlib
import json
import math
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from defusedxml.ElementTree import parse

from wadforms.cli import call
from wadforms.errors import BadInput, NotMakeable, WouldOverwrite

LIST = """name,count,weight,foot,height,lid weight,gallery diameter,gallery width,shape,body
Mug,12,450 g,80,95,,,,disk-16,
Jar,4,2 kg,120,200,600 g,117,7,disk-20,dry
"""
TOO_MUCH = LIST + "Boulder,1,900 kg,60,800,,,,disk-8,\n"


@pytest.fixture(name="here")
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "nobody"))
    (tmp_path / "list.csv").write_text(LIST, encoding="utf-8")
    (tmp_path / "heavy.csv").write_text(TOO_MUCH, encoding="utf-8")
    return tmp_path


def answer(capsys: pytest.CaptureFixture[str], *arguments: str, code: int = 0) -> dict[str, Any]:
    assert call([*arguments, "--json"]) == code
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


SHAPES = ("--shape", "disk-5", "--shape", "disk-16", "--without-moulds")


def test_one_command_gives_the_folder(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "firing", "list.csv", "--out", "out", *SHAPES)
    assert [(t["name"], t["times"], t["shape"]) for t in found["touches"]] == [
        ("Mug on shelf", 12, "disk-16"),
        ("Jar on shelf", 4, "disk-20"),
        ("lid on Jar", 4, "disk-5"),
    ]
    assert {t["verdict"] for t in found["touches"]} <= {"sound", "tight"}
    assert [(w["shape"], w["needed"], w["from_stock"], w["to_make"]) for w in found["wads"]] == [
        (t["shape"], t["times"] * t["count"], 0, math.ceil(1.1 * t["times"] * t["count"] - 1e-6))
        for t in found["touches"]
    ]
    assert found["shapes"] == ["disk-16", "disk-20", "disk-5"]
    assert found["problems"] == []
    assert found["mix_volume_mm3"] == pytest.approx(sum(w["wet_volume_mm3"] for w in found["wads"]))
    assert sum(made["wet_volume_mm3"] for made in found["batches"]) == pytest.approx(
        found["mix_volume_mm3"]
    )
    mass = sum(sum(i["mass_g"] for i in b["ingredients"]) + b["water_g"] for b in found["batches"])
    assert mass == pytest.approx(sum(w["wet_mass_g"] for w in found["wads"]), rel=1e-6)
    assert {path.name for path in here.iterdir()} == {"list.csv", "heavy.csv", "out"}
    assert {path.name for path in (here / "out").iterdir()} == {
        *("crew-sheet.html", "crew-sheet.pdf", "firing.json", "make-list.csv", "touches.csv"),
        *("boxes-after.csv", "outlines", "settings"),
    }


def test_names_in_letters_that_paper_lacks_cost_the_paper_alone(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (here / "list.csv").write_text(LIST.replace("Mug", "湯呑"), "utf-8")
    found = answer(capsys, "firing", "list.csv", "--out", "out", *SHAPES)
    (problem,) = found["problems"]
    assert problem.startswith("no crew-sheet.pdf: ")
    assert not (here / "out" / "crew-sheet.pdf").exists()
    assert "湯呑" in (here / "out" / "crew-sheet.html").read_text(encoding="utf-8")


def test_what_is_in_the_boxes_is_used_first(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / "boxes.csv").write_text("shape,body,count\ndisk-16,dry,50\ndisk-20,dry,50\n", "utf-8")
    asked = ("--shapes-in-stock", "boxes.csv", "--out", "out", *SHAPES)
    found = answer(capsys, "firing", "list.csv", *asked)
    mugs = next(w for w in found["wads"] if w["shape"] == "disk-16")
    assert (mugs["needed"], mugs["from_stock"], mugs["to_make"]) == (36, 36, 0)
    left = {(box["shape"], box["body"]): box["number"] for box in found["boxes_after"]}
    used = sum(w["from_stock"] for w in found["wads"] if w["shape"] == "disk-20")
    assert left == {("disk-16", "dry"): 14, ("disk-20", "dry"): 50 - used}
    # What is left is a stock for the next firing.
    again = ("--shapes-in-stock", "out/boxes-after.csv", "--dry-run", *SHAPES)
    assert answer(capsys, "firing", "list.csv", *again)["problems"] == []


def test_the_record_is_the_answer_and_names_every_file(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = answer(capsys, "firing", "list.csv", "--out", "out", *SHAPES)
    record = json.loads((here / "out" / "firing.json").read_text(encoding="utf-8"))
    files = {p.relative_to(here / "out").as_posix() for p in here.glob("out/**/*") if p.is_file()}
    assert set(record["files"]) == files
    assert [Path(name) for name in found["files"]] == [Path("out", f) for f in record["files"]]
    assert found | {"files": record["files"]} == record
    for touch in found["touches"]:
        picture = parse(here / "out" / touch["picture"])
        title = picture.findtext("{http://www.w3.org/2000/svg}title")
        assert title is not None
        assert title.startswith(f"{touch['name']} on {touch['count']} × {touch['shape']}")
    assert {name for name in files if name.startswith("outlines/")} == {
        f"outlines/{w['shape']}-{w['body']}.svg" for w in found["wads"]
    }


def test_outlines_are_drawn_at_the_size_to_cut(here: Path) -> None:
    assert call(["firing", "list.csv", "--out", "out", *SHAPES]) == 0
    text = (here / "out" / "outlines" / "disk-20-dry.svg").read_text(encoding="utf-8")
    assert "wet size" in text
    assert "21.1" in text  # 20/0.95 mm


def test_where_nothing_serves_the_exit_code_says_so(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = answer(capsys, "firing", "heavy.csv", *SHAPES, code=3)
    *others, boulder = found["touches"]
    assert {touch["verdict"] for touch in others} <= {"sound", "tight"}
    assert (boulder["shape"], boulder["count"], boulder["verdict"]) == (None, None, "unsafe")
    assert [problem[:36] for problem in found["problems"]] == [
        "row 4, Boulder on shelf: nothing ser"
    ]
    assert "Nothing serves: Boulder" in (here / "heavy-firing" / boulder["picture"]).read_text(
        "utf-8"
    )


def test_a_dry_run_tells_all_and_writes_nothing(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = answer(capsys, "firing", "list.csv", "--dry-run", *SHAPES)
    assert found["files"] == []
    assert len(found["touches"]) == 3
    assert not (here / "list-firing").exists()


def test_what_is_there_is_kept_unless_asked(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert call(["firing", "list.csv", *SHAPES]) == 0
    said = capsys.readouterr().out
    assert "12 × Mug" in said
    assert "40 × disk-16" in said
    assert "respirator" in said
    for extra in ([], ["--dry-run"]):
        with pytest.raises(WouldOverwrite):
            call(["firing", "list.csv", *SHAPES, *extra])
    assert call(["firing", "list.csv", *SHAPES, "--force"]) == 0


@pytest.mark.parametrize("failure", [KeyboardInterrupt, RuntimeError])
def test_a_failure_half_way_leaves_no_folder(
    failure: type[BaseException], here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from wadforms.firing import write

    seen = []

    def fail(folder: Path, make: object) -> str:
        seen.append(sorted(path.name for path in folder.rglob("*.svg")))
        raise failure

    monkeypatch.setattr(write, "_outline", fail)
    with contextlib.suppress(RuntimeError):  # an interruption becomes an exit code
        assert call(["firing", "list.csv", *SHAPES]) == 130
    assert [len(names) for names in seen] == [3]  # half of it was there
    assert {path.name for path in here.iterdir()} == {"list.csv", "heavy.csv"}


def test_a_faulty_list_writes_nothing(here: Path) -> None:
    (here / "bad.csv").write_text("name,count,weight,foot\nA,1,heavy,50\nB,0,1kg,50\n", "utf-8")
    with pytest.raises(BadInput) as caught:
        call(["firing", "bad.csv"])
    assert [fault.where for fault in caught.value.faults] == [
        "bad.csv, row 2, weight",
        "bad.csv, row 3, count",
    ]
    assert not (here / "bad-firing").exists()


def test_a_mould_that_cannot_be_made_does_not_stop_the_others(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from wadforms import moulds

    def some(made: object, path: Path, **_: object) -> SimpleNamespace:
        if "disk-16" in path.name:
            raise NotMakeable("too odd")
        path.write_bytes(b"a tray")
        return SimpleNamespace(files=(str(path),))

    monkeypatch.setattr(moulds, "write_mould", some)
    found = answer(capsys, "firing", "list.csv", *SHAPES[:4])
    (problem,) = found["problems"]
    assert problem.startswith("no mould of disk-16")
    assert problem.endswith(": too odd")
    moulds_made = {path.name for path in (here / "list-firing" / "moulds").iterdir()}
    assert {name.split("-")[1] for name in moulds_made} == {"20", "5"}


@pytest.mark.slow
def test_trays_come_with_it(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    trimesh = pytest.importorskip("trimesh")
    found = answer(capsys, "firing", "list.csv", *SHAPES[:4])
    trays = sorted((here / "list-firing" / "moulds").iterdir())
    assert len(trays) == len(found["wads"])
    assert all(trimesh.load(tray).is_watertight for tray in trays)


def test_an_example_to_fill_in(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert call(["firing", "--start", "mine.csv"]) == 0
    assert "wadforms firing mine.csv" in capsys.readouterr().out
    with pytest.raises(WouldOverwrite):
        call(["firing", "--start", "mine.csv"])
    assert (here / "mine.csv").read_bytes().startswith(b"# A firing list")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([], "LIST: nothing was given; give a table, or --start FILE to get one to fill in"),
        (["list.csv", "--start", "x"], "--start: a list too, list.csv was given"),
        (["none.csv"], "none.csv: a file that is not there was given; give a table"),
        (["list.csv", "--spare", "lots"], "--spare: 'lots' was given"),
        (["list.csv", "--spare", "300%"], "spare: 300 % was given; give 0 % to 200 %"),
        (["list.csv", "--feel", "hard"], "--feel: 'hard' was given"),
        (["list.csv", "--mix", "opne"], "mix: 'opne' was given; did you mean 'open'"),
        (["list.csv", "--mix", "open", "--mix", "dense"], "--mix: 'dense' was given; leave it out"),
        (["list.csv", "--shape", "dsk-16"], "shape: 'dsk-16' was given"),
        (["list.csv", "--at-most", "0"], "--at-most: 0 was given; give 1 or more"),
        (["list.csv", "--seconds", "0"], "--seconds: 0 was given; give 1 to 3600"),
        (["list.csv", "--pieces-an-hour", "-4"], "pieces an hour: -4 was given; give more than 0"),
        (["list.csv", "--paper", "a5"], "--paper: 'a5' was given; give a4 or letter"),
        (["list.csv", "--bed", "3x3"], "--bed: '3x3' was given; give 40 mm to 2000 mm a side"),
        (["list.csv", "--shapes-in-stock", "no.csv"], "no.csv: a file that is not there was given"),
    ],
)  # fmt: skip
def test_what_cannot_be_used_is_refused(arguments: list[str], said: str, here: Path) -> None:
    with pytest.raises(BadInput) as caught:
        call(["firing", *arguments])
    assert str(caught.value).startswith(said)
    assert {path.name for path in here.iterdir()} == {"list.csv", "heavy.csv"}


def test_a_mix_is_used_for_the_bodies_it_suits(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = answer(capsys, "firing", "list.csv", "--dry-run", "--mix", "dense", *SHAPES)
    assert {w["mix"] for w in found["wads"]} == {"dense"}


def test_batch_in_words_and_for_scripts(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "batch", "--volume", "3l", "--mix", "dense", "--scoop", "400ml")
    # 3.3 l × 1.7 kg/l = 5.61 kg, 29 % of it water; kaolin and alumina hydrate as 0.5 to 0.9.
    assert found["water_g"] == pytest.approx(5610 * 0.29)
    kaolin, alumina = found["ingredients"]
    assert kaolin["mass_g"] == pytest.approx(5610 * 0.71 * 5 / 14)
    assert alumina["mass_g"] == pytest.approx(5610 * 0.71 * 9 / 14)
    assert kaolin["volume_mm3"] == pytest.approx(kaolin["mass_g"] / 0.5 * 1000)
    assert kaolin["scoops"] == pytest.approx(kaolin["volume_mm3"] / 400e3)
    assert call(["batch", "--volume", "3l", "--mix", "dense", "--scoop", "400ml"]) == 0
    said = capsys.readouterr().out
    assert "kaolin           1.423 kg  2.845 l  7.1 scoops" in said
    assert "wear a fitted respirator" in said
    assert "scoops" not in (call(["batch", "--volume", "3l"]), capsys.readouterr().out)[1]


def test_all_faults_of_a_batch_come_at_once() -> None:
    with pytest.raises(BadInput) as caught:
        call(["batch", "--volume", "3", "--spare", "x", "--scoop", "1 kg"])
    assert [fault.where for fault in caught.value.faults] == ["--volume", "--spare", "--scoop"]


def test_problems_come_right_after_what_goes_where(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = ("--dry-run", "--scoop", "20l", *SHAPES)
    assert call(["firing", "heavy.csv", *asked]) == 3
    said = capsys.readouterr().out
    heads = ("What goes where:", "Problem:", "What to make,", "What to weigh out", "Kiln wash,")
    places = [said.index(head) for head in heads]
    assert places == sorted(places)
    assert said.rindex("Problem:") < places[2]


def test_what_is_assumed_of_a_mix_names_it(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "firing", "list.csv", "--dry-run", "--scoop", "20l", *SHAPES)
    mixes = {made["mix"] for made in found["batches"]}
    assert mixes
    for mix in mixes:
        assert any(text.startswith(f"wet density of mix {mix!r} ") for text in found["assumed"])


def test_less_than_a_tenth_of_a_scoop_is_no_0(capsys: pytest.CaptureFixture[str]) -> None:
    assert call(["batch", "--volume", "0.1l", "--mix", "dense", "--scoop", "2l"]) == 0
    said = capsys.readouterr().out
    assert "< 0.1 scoops" in said
    assert " 0.0 scoops" not in said


def test_what_to_make_is_not_said_of_nothing(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = LIST.splitlines()[0] + "\nBoulder,1,900 kg,60,800,,,,disk-8,\n"
    (here / "nothing.csv").write_text(rows, encoding="utf-8")
    call(["firing", "nothing.csv", "--out", "none", *SHAPES])
    said = capsys.readouterr().out
    assert "nothing serves" in said
    assert "What to make" not in said
    call(["firing", "list.csv", "--out", "some", *SHAPES])
    assert "What to make" in capsys.readouterr().out


@pytest.mark.parametrize("title", ["x" * 121, "two\nlines", "bell\a"])
def test_a_title_is_limited_as_names_are(here: Path, title: str) -> None:
    with pytest.raises(BadInput, match=r"--title: .*at most 120 letters"):
        call(["firing", "list.csv", "--out", "out", *SHAPES, "--title", title])
    assert not (here / "out").exists()
