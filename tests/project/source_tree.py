"""The package as the tests find it, checkout or built wheel, read but not run."""

from __future__ import annotations

import ast
import subprocess
import sys
from functools import cache
from pathlib import Path

import wadforms

ROOT = Path(__file__).resolve().parents[2]
"""Where README.md and tests/ stand: the checkout, or a copy of those beside a built wheel."""

PACKAGE = Path(str(wadforms.__file__)).resolve().parent
"""The package under test."""

COMMAND_LINE = (
    "import sys; sys.argv[0] = 'wadforms'; from wadforms.cli import main; sys.exit(main())"
)
"""`wadforms` for whatever interpreter runs the tests, installed as a script or not."""


@cache
def modules() -> dict[str, Path]:
    """Every module of the package by its dotted name."""
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = ["wadforms", *path.relative_to(PACKAGE).with_suffix("").parts]
        if parts[-1] == "__init__":
            parts.pop()
        found[".".join(parts)] = path
    return found


@cache
def tree(path: Path) -> ast.Module:
    """The module as Python parses it."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def is_public(name: str) -> bool:
    """Whether no part of a dotted name starts with an underscore."""
    return not any(part.startswith("_") for part in name.split("."))


def fresh(code: str, *arguments: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    """Run code in a process of its own, outside the checkout."""
    return subprocess.run(
        [sys.executable, "-c", code, *arguments],
        cwd=cwd,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )
