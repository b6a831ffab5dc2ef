"""The invented firing that ships with the program, in one command, with totals by hand."""

from __future__ import annotations

import contextlib
import csv
import io
import json
import math
import os
import signal
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from wadforms.cli import call
from wadforms.firing.list_file import example

G = 9.80665


@pytest.fixture(name="folder", scope="module")
def _folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    here = tmp_path_factory.mktemp("firing")
    (here / "list.csv").write_bytes(example())
    asked = ["--without-moulds", "--pieces-an-hour", "120", "--title", "Autumn", "--json"]
    with contextlib.redirect_stdout(io.StringIO()):
        code = call(["firing", str(here / "list.csv"), "--out", str(here / "made"), *asked])
    assert code == 0
    return here / "made"


@pytest.fixture(name="told", scope="module")
def _told(folder: Path) -> dict[str, Any]:
    record: dict[str, Any] = json.loads((folder / "firing.json").read_text(encoding="utf-8"))
    return record


def test_about_two_hundred_pots_of_ten_kinds(told: dict[str, Any]) -> None:
    rows = csv.DictReader(line for line in example().decode().splitlines() if line[0] != "#")
    pots = [(row["name"], int(row["count"])) for row in rows if row["kind"] == ""]
    assert (len(pots), sum(count for _, count in pots)) == (10, 200)
    touched = {touch["name"] for touch in told["touches"]}
    assert all(any(name in touch for touch in touched) for name, _ in pots)
    assert {touch["verdict"] for touch in told["touches"]} <= {"sound", "tight", None}
    assert told["problems"] == []


def test_what_the_floor_carries_by_hand(told: dict[str, Any]) -> None:
    # A bay: bowls 13 and cups 10 on top; mugs 9, two stacks of three plates and two draw rings in
    # the middle; jars with lids 2, bowls 3 and vases 4 below; three shelves; three lines of posts.
    top = 13 * 0.38 + 10 * 0.14
    middle = 9 * 0.45 + 2 * 3 * 1.1 + 2 * 0.05
    lower = 2 * (2.4 + 0.6) + 3 * 1.8 + 4 * 1.3
    posts = 3 * (3.2 + 6.5 + 6.5)
    by_hand = 4 * (top + middle + lower + 3 * 11 + posts)
    by_hand += 8 * 0.9 + 5 * 1.6 + 35.0  # trays, bottles and the jar, on the floor
    found = sum(
        touch["times"] * touch["load_n"]
        for touch in told["touches"]
        if touch["name"].endswith("on floor")
    )
    assert found == pytest.approx(by_hand * G, rel=1e-9)


def test_pieces_and_mix_by_hand(told: dict[str, Any], folder: Path) -> None:
    needed: Counter[tuple[str, str]] = Counter()
    for touch in told["touches"]:
        needed[touch["shape"], touch["body"]] += touch["times"] * touch["count"]
    assert {(w["shape"], w["body"]): w["needed"] for w in told["wads"]} == needed
    for wad in told["wads"]:
        assert wad["to_make"] == math.ceil(round(1.1 * wad["needed"], 6))
        assert wad["minutes"] == pytest.approx(wad["to_make"] / 2)  # 120 an hour
        assert wad["wet_volume_mm3"] == pytest.approx(wad["to_make"] * wad["each_wet_volume_mm3"])
    assert told["mix_volume_mm3"] == pytest.approx(sum(w["wet_volume_mm3"] for w in told["wads"]))
    for batch in told["batches"]:
        wet = sum(w["wet_volume_mm3"] for w in told["wads"] if w["mix"] == batch["mix"])
        assert batch["wet_volume_mm3"] == pytest.approx(wet)
    left = {(b["shape"], b["body"]): b["number"] for b in told["boxes_after"]}
    assert left == {
        (w["shape"], w["body"]): w["to_make"] - w["needed"]
        for w in told["wads"]
        if w["body"] != "wet"
    }
    with (folder / "touches.csv").open(encoding="utf-8") as text:
        rows = list(csv.DictReader(text))
    assert sum(int(r["times"]) * int(r["wads each"]) for r in rows) == sum(needed.values())


def test_every_kind_of_touch_is_there(told: dict[str, Any]) -> None:
    kinds = {touch["kind"] for touch in told["touches"]}
    assert kinds == {"foot", "lid", "stacked", "shelf", "post", "cones"}
    jar = next(t for t in told["touches"] if t["name"].startswith("Jar by the firebox"))
    assert jar["body"] == "solid"
    assert jar["limit_kpa"] is not None
    marked = next(t for t in told["touches"] if t["name"].startswith("Bowl with a mark"))
    assert marked["shape"] == "leaf-55"


def test_the_sheet_has_everything(told: dict[str, Any], folder: Path) -> None:
    from pypdf import PdfReader

    page = (folder / "crew-sheet.html").read_text(encoding="utf-8")
    paper = " ".join(p.extract_text() for p in PdfReader(folder / "crew-sheet.pdf").pages)
    for text in (page, " ".join(paper.split())):
        assert "Autumn" in text
        for wad in told["wads"]:
            assert wad["shape"] in text
        for touch in told["touches"]:
            if touch["kind"] == "foot":
                assert touch["name"].partition(" on ")[0] in text
        assert "respirator" in text
        assert "35 kg" in text  # who lifts the jar
        assert "ocal codes and licensed practice come first" in text


@pytest.mark.slow
@pytest.mark.skipif(os.name != "posix", reason="signals of this kind are POSIX")
def test_an_interrupted_run_leaves_nothing(tmp_path: Path) -> None:
    rows = "name,count,weight,foot,height\nMug,12,450 g,80,95\nJar,4,2 kg,120,200\n"
    (tmp_path / "list.csv").write_text(rows, encoding="utf-8")
    started = "import sys; sys.argv[0] = 'wadforms'; from wadforms.cli import main; main()"
    for politely in (signal.SIGTERM, signal.SIGINT):
        run = subprocess.Popen(
            [sys.executable, "-c", started, "firing", "list.csv"],
            cwd=tmp_path, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        until = time.monotonic() + 240
        while time.monotonic() < until and not list(tmp_path.glob(".*.part/settings/*.svg")):
            assert run.poll() is None, "it was done before it could be interrupted"
            time.sleep(0.02)
        run.send_signal(politely)
        assert run.wait(timeout=60) != 0
        assert [path.name for path in tmp_path.iterdir()] == ["list.csv"]
