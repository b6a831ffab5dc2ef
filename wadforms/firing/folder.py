"""A folder that appears whole or not at all, and replaces only what it made before."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from wadforms.errors import BadInput, Fault, WouldOverwrite

RECORD: Final = "firing.json"
"""The file in such a folder that tells, under ``files``, all that was put into it."""


@contextlib.contextmanager
def whole_folder(path: Path, *, force: bool) -> Iterator[Path]:
    """Give a folder to write into; it takes its name when all went well, else it is gone.

    Parameters
    ----------
    path : Path
        The name that it takes.
    force : bool
        Whether a folder that is there is replaced; see `refuse_folder`.

    Raises
    ------
    WouldOverwrite
        A folder is there and `force` is not given.
    BadInput
        It cannot be made there, or what is there is not ours to replace.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as here:
    ...     with whole_folder(Path(here, "firing"), force=False) as folder:
    ...         _ = (folder / "note.txt").write_text("three wads")
    ...     [file.name for file in Path(here).iterdir()]
    ['firing']
    """
    refuse_folder(path, force=force)
    target = path.resolve()
    beside = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        try:
            beside.mkdir()
            yield beside
            _take_name(beside, target, force=force)
        except OSError as error:
            if isinstance(error, WouldOverwrite):
                raise
            why = error.strerror or type(error).__name__
            given = f"a place that cannot be written ({why})"
            raise BadInput(Fault(str(path), given, "give another one")) from error
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def refuse_folder(path: Path, *, force: bool) -> None:
    """Refuse a folder that must not be made, before any work is done for it.

    One that is there is replaced only with `force`, and only where its record names every file
    in it: no file of anybody else's is ever thrown away.

    Raises
    ------
    WouldOverwrite
        It is there and `force` is not given.
    BadInput
        Its parent is missing, it is a file, or it holds what is not ours.
    """
    if not path.resolve().parent.is_dir():
        raise BadInput(Fault(str(path), f"the folder {path.parent}", "make that folder first"))
    if not path.exists():
        return
    if not force:
        raise WouldOverwrite(path)
    if not path.is_dir():
        raise BadInput(Fault(str(path), "a file", "give the name of a folder"))
    ours = _recorded(path)
    for file in sorted(path.rglob("*")):
        name = file.relative_to(path).as_posix()
        if (file.is_symlink() or not file.is_dir()) and name not in ours:
            given = f"a folder with {name} in it, which was not made by this command"
            raise BadInput(Fault(str(path), given, "give another name, or move that file away"))


def _recorded(path: Path) -> set[str]:
    """The files that a folder's record names, from the folder."""
    try:
        files = json.loads((path / RECORD).read_text(encoding="utf-8"))["files"]
        return {str(file) for file in files}
    except (OSError, ValueError, KeyError, TypeError):
        return set()


def _take_name(beside: Path, target: Path, *, force: bool) -> None:
    if not target.exists():
        beside.rename(target)
        return
    refuse_folder(target, force=force)  # it may have changed while we worked
    old = target.with_name(f".{target.name}.{os.getpid()}.old")
    target.rename(old)
    try:
        beside.rename(target)
    except OSError:
        old.rename(target)
        raise
    shutil.rmtree(old)
