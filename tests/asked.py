"""A command asked as it is typed: what it prints, and what it answers as JSON."""

from __future__ import annotations

import json
from typing import Any, Final

import pytest

from wadforms.cli import call

DONE: Final = (0,)
JUDGED: Final = (0, 3)
"""Exit codes of what was done, and of what was done whatever its verdict."""


def told(capsys: pytest.CaptureFixture[str], *arguments: str, codes: tuple[int, ...] = DONE) -> str:
    assert call(list(arguments)) in codes
    return capsys.readouterr().out


def answer(
    capsys: pytest.CaptureFixture[str], *arguments: str, codes: tuple[int, ...] = DONE
) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(told(capsys, *arguments, "--json", codes=codes))
    return found
