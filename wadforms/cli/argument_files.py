"""Lets arguments be read from a file, one a line: `wadforms @pot.txt`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

_LARGEST: Final = 100_000  # bytes of a file of arguments


def expanded(arguments: Sequence[str]) -> list[str]:
    r"""The arguments, those in files in place of the file's name after an @.

    Empty lines are left out, and so are those that start with #.

    Raises
    ------
    BadInput
        The file cannot be read.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     file = Path(folder, "pot.txt")
    ...     _ = file.write_text("contact\n# my jar\n--weight=35 kg\n")
    ...     expanded([f"@{file}", "--json"])
    ['contact', '--weight=35 kg', '--json']
    """
    found: list[str] = []
    for argument in arguments:
        if argument.startswith("@") and len(argument) > 1:
            found += _lines(Path(argument[1:]))
        else:
            found.append(argument)
    return found


def _lines(file: Path) -> list[str]:
    from wadforms.errors import BadInput, Fault
    from wadforms.files import read_at_most, shortened

    data = read_at_most(file, _LARGEST, "a file of arguments")
    if len(data) > _LARGEST:
        given = f"a file of more than {_LARGEST} bytes"
        raise BadInput(Fault(shortened(file), given, "give arguments, one a line"))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        right = "save it as UTF-8"
        raise BadInput(Fault(shortened(file), "text that is not UTF-8", right)) from None
    lines = [line.strip() for line in text.splitlines()]
    return [line for line in lines if line and not line.startswith("#")]
