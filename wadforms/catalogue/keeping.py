"""Puts an outline into a folder of the user's shapes: a TOML file and a drawing, or neither."""

from __future__ import annotations

import contextlib
import json
import os
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final, NamedTuple

from wadforms.catalogue.folders import user_folder
from wadforms.catalogue.shape import NAME, named
from wadforms.errors import BadInput, Fault, quoted
from wadforms.families import known_family
from wadforms.files import refuse_place, shortened, write_all

FOLDER: Final = "outlines"
"""Where drawings lie, within a folder of shapes."""


class Entry(NamedTuple):
    """A shape's file to be.

    Parameters
    ----------
    family, summary, source : str
        As in the file.
    parameters : mapping
        Name to value, as they were typed.
    outline : str
        The name of the parameter that is the outline.
    note : str
        What else is worth knowing; may be empty.
    """

    family: str
    summary: str
    source: str
    parameters: Mapping[str, str]
    outline: str = "outline"
    note: str = ""

    def toml(self, name: str) -> str:
        """The text of the file of a shape of that name.

        Examples
        --------
        >>> entry = Entry("custom", "a fish", "fish.svg", {"height": "1 cm"})
        >>> print(entry.toml("fish"))
        family = "custom"
        summary = "a fish"
        source = "fish.svg"
        <BLANKLINE>
        [parameters]
        outline = "outlines/fish.svg"
        height = "1 cm"
        <BLANKLINE>
        """
        head = {"family": self.family, "summary": self.summary, "source": self.source}
        if self.note:
            head["note"] = self.note
        values = {self.outline: f"{FOLDER}/{name}.svg", **self.parameters}
        lines = [f"{key} = {_text(value)}" for key, value in head.items()]
        lines += ["", "[parameters]"]
        lines += [f"{key} = {_text(value)}" for key, value in values.items()]
        return "\n".join(lines) + "\n"


def _text(value: str) -> str:
    """A basic string of TOML 1.0; JSON escapes the same characters, but for U+007F."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def name_for(file: Path) -> str:
    """A shape's name, made of the name of a drawing's file; may be empty.

    Examples
    --------
    >>> name_for(Path("My Fish_2.svg"))
    'my-fish-2'
    """
    words = re.findall(r"[a-z0-9]+", file.stem.lower())
    return "-".join(words)


def place_for(
    name: str, into: Path | None, also: Sequence[Path] = (), *, force: bool
) -> tuple[Path, Path]:
    """Where the TOML file and the drawing of a new shape go.

    Parameters
    ----------
    name : str
        Of the shape.
    into : Path or None
        The folder of shapes; the user's own where it is None.  Made if it is not there.
    also : sequence of Path
        Further folders that no other shape of this name may lie in.
    force : bool
        Whether files that are there are replaced.

    Raises
    ------
    BadInput
        The name is none, or taken, or the folder cannot be used.
    WouldOverwrite
        One of the files is there.
    """
    if not NAME.fullmatch(name):
        right = "give --as a name of small letters, digits and single hyphens, such as fish-60"
        raise BadInput(Fault("name", quoted(name), right))
    if known_family(name) is not None:
        raise BadInput(Fault("name", quoted(name), "give another with --as: a family has this one"))
    folder = into if into is not None else user_folder()
    if folder is None:
        raise BadInput(Fault("--into", "no folder", "name a folder for your shapes"))
    toml, drawing = folder / f"{name}.toml", folder / FOLDER / f"{name}.svg"
    for other in named(name, also):
        if not _same(other, toml):
            right = f"give another with --as: {shortened(other)} has this one"
            raise BadInput(Fault("name", quoted(name), right))
    # What is not there yet is made.  os.path: a name that is too long is not there either.
    if os.path.exists(folder):  # noqa: PTH110
        refuse_place(toml, force=force)
    if os.path.exists(drawing.parent):  # noqa: PTH110
        refuse_place(drawing, force=force)
    return toml, drawing


def _same(other: str, toml: Path) -> bool:
    try:
        return toml.samefile(other)
    except OSError:
        return False


def write_files(contents: Mapping[Path, bytes], *, force: bool) -> None:
    """Write files, all of them or none, and the folders that they want.

    Parameters
    ----------
    contents : mapping of Path to bytes
        What goes where.
    force : bool
        Whether files that are there are replaced.

    Raises
    ------
    WouldOverwrite
        One of them is there and `force` is not given.
    BadInput
        The place cannot be written.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     target = Path(folder, "shapes", "fish.toml")
    ...     write_files({target: b"a fish"}, force=False)
    ...     target.read_bytes()
    b'a fish'
    """
    made: list[Path] = []
    try:
        for path in contents:
            made += _made(path.parent)
        write_all(contents, force=force)
    except BaseException:
        for folder in sorted(made, key=lambda path: -len(path.parts)):
            with contextlib.suppress(OSError):
                folder.rmdir()
        raise


def _made(folder: Path) -> list[Path]:
    """Make a folder with those above it; gives the new ones, the deepest first."""
    missing = []
    try:
        above = folder
        while not above.exists():
            missing.append(above)
            above = above.parent
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        given = f"a folder that cannot be made ({error.strerror})"
        raise BadInput(Fault(shortened(folder), given, "give another one with --into")) from None
    return missing
