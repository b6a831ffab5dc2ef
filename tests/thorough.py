"""How much is tested: a part of large collections and long stories; WADFORMS_THOROUGH=1 all."""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import Final, TypeVar

import pytest

THOROUGH: Final = bool(os.environ.get("WADFORMS_THOROUGH"))

only_thoroughly = pytest.mark.skipif(not THOROUGH, reason="WADFORMS_THOROUGH=1 runs it")
"""For a test that takes long beside what it may find."""

Item = TypeVar("Item")


def every(nth: int, items: Iterable[Item]) -> list[Item]:
    """Every nth item; all of them where thoroughness is asked for."""
    return list(items)[:: 1 if THOROUGH else nth]
