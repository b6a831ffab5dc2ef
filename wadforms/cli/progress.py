"""Shows at a terminal how far long work is; elsewhere nothing."""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Callable, Iterator


@contextlib.contextmanager
def progress(label: str) -> Iterator[Callable[[int, int], None]]:
    """A bar on stderr, given as a function that is told how much of how much is done."""
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
