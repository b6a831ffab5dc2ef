"""Whatever is typed or handed over: one clear line, soon, and never a traceback."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

RUN = (sys.executable, "-c", "from wadforms.cli import main; main()")
BOWL = ("contact", "-w", "380g", "-f", "50mm", "--foot-width", "5mm", "--wad")
LONG = "a" * 300
SVG = '<svg xmlns="http://www.w3.org/2000/svg"><path d="{}"/></svg>'

FILES = {
    "deep.toml": "a = " + "[ " * 4000,
    "dotted.toml": "a" + ".a" * 40_000 + " = 1",
    "tables.toml": f"[{'.'.join('a' * 20)}]\n",
    "digits.toml": "a = " + "9" * 5000,
    "hexadecimal.toml": "a = 0x" + "f" * 5000,
    "large.toml": "#" * 200_000,
    "list.csv": f"name,count,weight,foot\nJar,1,{'9' * 400}/1 kg,100\n",
    "shape.csv": f"name,count,weight,foot,shape\nJar,1,1 kg,100,{LONG}\n",
    "arc.svg": SVG.format("M0 0 A1e308 1e-308 0 0 0 9 9 Z"),
    "round.svg": SVG.format("M0 0 A1e12 1e12 0 1 0 9 9 Z"),
    "entity.svg": '<!DOCTYPE svg [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg"/>',
    "note.txt": "a note",
}

CASES = {
    "fraction beyond any float": (
        (*BOWL, "disk-10", "--radius", "9" * 400 + "/1 mm"),
        "--radius: '9999",
    ),
    "thousands of digits": ((*BOWL, "disk-10", "--radius", "9" * 5000), "give a length such as"),
    "two signs": ((*BOWL, "stand", "-s", "arms=+-3"), "give a whole number, 3 to 12"),
    "minus twice": ((*BOWL, "stand", "-s", "arms=--3"), "give a whole number, 3 to 12"),
    "count of digits": ((*BOWL, "stand", "-s", "arms=" + "9" * 5000), "give a whole number"),
    "sign within": (("contact", "-w", "5 lb -4 oz", "-f", "50", "--wad", "disk-10"), "give a mass"),
    "number in a list": (("firing", "list.csv"), "list.csv, row 2, weight: '9999"),
    "name in a list": (("firing", "shape.csv"), "shape.csv, row 2, shape: 'aaaa"),
    "mix nested deep": ((*BOWL, "disk-10", "--mix", "deep.toml"), "nested too deep"),
    "mix of one long key": ((*BOWL, "disk-10", "--mix", "dotted.toml"), "very many full stops"),
    "mix of many tables": ((*BOWL, "disk-10", "--mix", "tables.toml"), "nested too deep"),
    "mix of digits": ((*BOWL, "disk-10", "--mix", "digits.toml"), "a number has too many digits"),
    "mix in hex": ((*BOWL, "disk-10", "--mix", "hexadecimal.toml"), "too many digits"),
    "large mix": ((*BOWL, "disk-10", "--mix", "large.toml"), "a mix takes less than 100 kB"),
    "no such mix": ((*BOWL, "disk-10", "--mix", "no.toml"), "no.toml: a file that is not there"),
    "mix name too long": ((*BOWL, "disk-10", "--mix", LONG + ".toml"), "a name that is too long"),
    "picture name too long": (
        (*BOWL, "disk-10", "--picture", LONG + ".svg"),
        "a name that is too long",
    ),
    "picture of another kind": ((*BOWL, "disk-10", "--picture", "a.txt"), "end it with .svg"),
    "shape name too long": ((*BOWL, LONG), "shape: 'aaaa"),
    "folder name too long": ((*BOWL, "disk-10", "--shapes-in", "a" * 5000), "a folder that is"),
    "endless device as drawing": (
        ("contact", "-w", "1kg", "--foot-outline", "/dev/zero", "--wad", "disk-10"),
        "/dev/zero: a device or a pipe",
    ),
    "endless device as list": (("firing", "/dev/zero"), "/dev/zero: a device or a pipe"),
    "pipe": (("firing", "pipe"), "pipe: a device or a pipe"),
    "file as folder": (("template", "disk-20", "--out", "note.txt/a.svg"), "a name inside note"),
    "link to nowhere": (("template", "disk-20", "--out", "link.svg"), "is already there"),
    "ellipse beyond any float": (
        ("contact", "-w", "1kg", "--foot-outline", "arc.svg", "--wad", "disk-10"),
        "arc.svg: ",
    ),
    "circle beyond any float": (
        ("contact", "-w", "1kg", "--foot-outline", "round.svg", "--wad", "disk-10"),
        "an arc of radius",
    ),
    "entities": (
        ("contact", "-w", "1kg", "--foot-outline", "entity.svg", "--wad", "disk-10"),
        "a drawing that declares entities was given",
    ),
    "foot beyond any float": (
        ("contact", "-w", "1kg", "-f", "1e300mm", "--wad", "disk-10"),
        "foot diameter",
    ),
    "a thousand million copies": (
        ("template", "disk-20", "--copies", "1000000000", "--dry-run"),
        "sheets of paper; give",
    ),
}


def run(*arguments: str, cwd: Path, **variables: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*RUN, *arguments],
        cwd=cwd,
        env={**os.environ, **variables},
        capture_output=True,
        text=True,
        encoding=variables.get("PYTHONIOENCODING", "utf-8"),
        timeout=20,
        check=False,
    )


@pytest.fixture(scope="module")
def here(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("hostile")
    for name, text in FILES.items():
        (folder / name).write_text(text, encoding="utf-8")
    if sys.platform != "win32":
        os.mkfifo(folder / "pipe")
        (folder / "link.svg").symlink_to("nowhere.svg")
    return folder


@pytest.mark.skipif(sys.platform == "win32", reason="devices, pipes and links have other names")
@pytest.mark.parametrize("case", CASES)
def test_one_clear_line(case: str, here: Path) -> None:
    arguments, said = CASES[case]
    done = run(*arguments, cwd=here)
    assert done.returncode == 2, done.stderr
    assert said in done.stderr
    assert done.stderr.startswith("wadforms: ")
    assert done.stderr.count("\n") == 1
    assert len(done.stderr) < 1000
    assert not done.stdout


@pytest.mark.parametrize("encoding", ["ascii", "latin-1"])
def test_a_terminal_that_does_not_know_all_signs(encoding: str, here: Path) -> None:
    done = run(*BOWL, "disk-10", cwd=here, PYTHONIOENCODING=encoding)
    assert done.returncode in {0, 3}, done.stderr
    assert "disk-10" in done.stdout


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no disk that is always full")
@pytest.mark.parametrize("arguments", [(*BOWL, "disk-10"), ("shapes",), ("--help",)])
def test_a_full_disk_is_told(arguments: tuple[str, ...], here: Path) -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = subprocess.run(
            [*RUN, *arguments], cwd=here, stdout=full, stderr=subprocess.PIPE, check=False
        )
    assert done.returncode == 2
    assert done.stderr.startswith(b"wadforms: the output cannot be written")
    assert done.stderr.count(b"\n") == 1
