"""How much of a large collection a test takes: a part of it, or with WADFORMS_THOROUGH=1 all."""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import TypeVar

Item = TypeVar("Item")


def every(nth: int, items: Iterable[Item]) -> list[Item]:
    """Every nth item; all of them where thoroughness is asked for."""
    return list(items)[:: 1 if os.environ.get("WADFORMS_THOROUGH") else nth]
