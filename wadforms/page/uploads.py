"""Takes files that a visitor drops in: of few kinds, not too large, not too slow, not too many."""

from __future__ import annotations

import asyncio
import re
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Final

from wadforms.errors import BadInput, Fault

LARGEST: Final = 20_000_000
"""Largest file that is taken [bytes]; photos are the largest."""

MOST: Final = 50
"""As many files are kept of one visitor."""

SECONDS: Final = 60.0
"""As long may one take to arrive."""

DRAWINGS: Final = (".svg", ".dxf", ".csv")
PHOTOS: Final = (".png", ".jpg", ".jpeg")
TABLES: Final = (".csv", ".xlsx")
MIXES: Final = (".toml",)
ENDINGS: Final = tuple(dict.fromkeys((*DRAWINGS, *PHOTOS, *TABLES, *MIXES)))


def safe_name(name: str) -> str:
    """A file's name for us, made of the visitor's: no folders, no marks, not long.

    Raises
    ------
    BadInput
        It is of a kind that is not taken.

    Examples
    --------
    >>> safe_name("../../My leaf (2).SVG")
    'my-leaf-2.svg'
    """
    last = re.split(r"[\\/]", name)[-1]
    stem, dot, ending = last.rpartition(".")
    ending = f".{ending.lower()}" if dot else ""
    if ending not in ENDINGS:
        given = f"the file {last[:60]!r}"
        raise BadInput(Fault("file", given, f"give one that ends with {', '.join(ENDINGS)}"))
    words = "-".join(re.findall(r"[a-z0-9]+", stem.lower()))[:40].strip("-")
    return f"{words or 'drawing'}{ending}"


async def take(stream: AsyncIterator[bytes], name: str, size: int, folder: Path) -> Path:
    """Write what arrives into a folder, whole or not at all; one of the same name goes.

    Parameters
    ----------
    stream : async iterator of bytes
        What arrives.
    name : str
        As the visitor calls it.
    size : int
        What the sender says it is long [bytes].
    folder : Path
        The visitor's.

    Raises
    ------
    BadInput
        It is too large, too slow, one too many, or of another kind.
    """
    safe = safe_name(name)
    large = BadInput(
        Fault("file", f"more than {LARGEST // 1_000_000} MB", "give a smaller file or photo")
    )
    if size > LARGEST:
        raise large
    folder.mkdir(parents=True, exist_ok=True)
    place = folder / safe
    _refuse_one_too_many(place)
    data = bytearray()
    try:
        async with asyncio.timeout(SECONDS):
            async for part in stream:
                data += part
                if len(data) > LARGEST:
                    raise large
    except TimeoutError:
        given = f"a file that takes more than {SECONDS:.0f} s to arrive"
        raise BadInput(Fault("file", given, "try again, or give a smaller one")) from None
    from wadforms.files import write_whole

    # Others may have arrived meanwhile; from here on nothing is waited for.
    _refuse_one_too_many(place)
    write_whole(place, bytes(data), force=True)
    return place


def arrived(file: Path, largest: int) -> bytes:
    """The bytes of a table that was dropped in, of a larger one the first `largest` + 1.

    It is not kept as such: the file goes.

    Parameters
    ----------
    file : Path
        Where it was written.
    largest : int
        As many bytes are of use.

    Raises
    ------
    BadInput
        It is not there.
    """
    from wadforms.files import read_at_most

    try:
        return read_at_most(file, largest, "a table")
    finally:
        file.unlink(missing_ok=True)


def _refuse_one_too_many(place: Path) -> None:
    there = sum(1 for _ in place.parent.iterdir())
    if there >= MOST and not place.exists():
        given = f"one more than {MOST} files"
        raise BadInput(Fault("file", given, "ask whoever runs the page to delete some"))
