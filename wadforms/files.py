"""Writes a file whole or not at all, and never over another one unless that was asked for."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable
from pathlib import Path

from wadforms.errors import BadInput, Fault, WouldOverwrite


def write_whole(
    path: Path, data: bytes, *, force: bool, prove: Callable[[Path], None] | None = None
) -> None:
    """Write `data` to `path`; whoever looks sees the old file or the whole new one.

    The bytes go to a neighbour in the same folder first, which then takes the name in one step.

    Parameters
    ----------
    path : Path
        Where to.
    data : bytes
        All of the file.
    force : bool
        Whether a file that is already there is replaced.
    prove : callable, optional
        Reads the finished neighbour before it takes the name; if it raises, nothing is kept.

    Raises
    ------
    WouldOverwrite
        A file is there and `force` is not given.
    BadInput
        The folder is missing or cannot be written, or `path` is itself a folder.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     target = Path(folder, "note.txt")
    ...     write_whole(target, b"three wads", force=False)
    ...     target.read_bytes()
    b'three wads'
    """
    if path.is_dir():
        raise BadInput(Fault(str(path), "a folder", "give the name of a file"))
    if not path.parent.is_dir():
        raise BadInput(Fault(str(path), f"the folder {path.parent}", "make that folder first"))
    if path.exists() and not force:
        raise WouldOverwrite(path)
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        # Not tempfile: that would hide the finished file from everybody but its owner.
        with beside.open("xb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        if prove is not None:
            prove(beside)
        beside.replace(path)
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise BadInput(
            Fault(str(path), f"a place that cannot be written ({why})", "give another one")
        ) from error
    finally:
        with contextlib.suppress(OSError):
            beside.unlink(missing_ok=True)
