"""Shows at a terminal how far long work is; elsewhere nothing, unless it is asked for."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Callable, Iterator
from typing import Final

LINES: Final = "WADFORMS_PROGRESS"
"""Environment variable by which another program asks for lines on stderr: its name, DONE/TOTAL."""


@contextlib.contextmanager
def progress(label: str) -> Iterator[Callable[[int, int], None]]:
    """A bar on stderr, given as a function that is told how much of how much is done."""
    if sys.stderr is not None and os.environ.get(LINES):
        yield lambda done, total: print(f"{LINES} {done}/{total}", file=sys.stderr, flush=True)
        return
    if sys.stderr is None or not sys.stderr.isatty():
        yield lambda done, total: None
        return
    import typer

    with contextlib.ExitStack() as shown:
        bar = None

        def told(done: int, total: int) -> None:
            nonlocal bar
            if bar is None:
                bar = shown.enter_context(
                    typer.progressbar(length=total, label=label, file=sys.stderr)
                )
            bar.update(done - bar.pos)

        yield told
