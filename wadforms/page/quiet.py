"""Has something done once nothing has asked for it for a moment."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import Any


class Quiet:
    """Waits until nothing has asked for a moment, and then acts on what was asked last.

    Parameters
    ----------
    seconds : float
        Without another call [s].
    act : callable
        What is done, with what the last call gave.
    """

    def __init__(self, seconds: float, act: Callable[..., Any]) -> None:
        self.seconds, self.act = seconds, act
        self._waiting: asyncio.TimerHandle | None = None

    def later(self, *given: object) -> None:
        """Ask for it."""
        self.cancel()
        loop = asyncio.get_running_loop()
        self._waiting = loop.call_later(self.seconds, self.act, *given)

    def cancel(self) -> None:
        """Let it be, where it was asked for and is not done yet."""
        if self._waiting is not None:
            self._waiting.cancel()
