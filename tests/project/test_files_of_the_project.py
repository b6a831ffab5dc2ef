"""Rules for every file: short modules, unique test names, and nothing of where it was made."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from source_tree import PACKAGE, ROOT, modules

LONGEST = 400

# A folder of somebody's machine: nothing in the project may lean on one.
FORBIDDEN = re.compile(r"/(home|root|tmp|work|Users)/\w")

OURS = ("wadforms", "shapes", "tests", "benchmarks", "output_examples", ".ci")


def texts() -> Iterator[Path]:
    """Every text file of the project that stands beside these tests, and of the package."""
    found = {path for path in ROOT.glob("*") if path.suffix in {".md", ".toml"}}
    for folder in (PACKAGE, *(ROOT / name for name in OURS)):
        found |= {path for path in folder.rglob("*") if path.is_file()}
    for path in sorted(found):
        if "__pycache__" not in path.parts and b"\0" not in path.read_bytes():
            yield path


def test_no_file_names_where_it_was_made() -> None:
    found = []
    for path in texts():
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            if match := FORBIDDEN.search(line):
                found.append(f"{path.name}:{number}: {match[0]!r}")
    assert not found, "\n".join(found)


def test_the_search_sees_the_project() -> None:
    names = {path.name for path in texts()}
    assert {"README.md", "pyproject.toml", "errors.py", Path(__file__).name} <= names
    assert FORBIDDEN.search("found at /" + "home/potter/wads")


@pytest.mark.parametrize("name", modules())
def test_no_module_is_too_long_to_read(name: str) -> None:
    assert len(modules()[name].read_text(encoding="utf-8").splitlines()) <= LONGEST


def test_test_files_have_names_of_their_own() -> None:
    # pytest and mypy both know them by their bare names.
    counts = Counter(path.name for path in (ROOT / "tests").rglob("*.py"))
    assert [name for name, count in counts.items() if count > 1] == []
