"""A visitor's work: plain files in a folder of their own, which the command line reads too."""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Final, NamedTuple

from wadforms.catalogue.shape import NAME
from wadforms.errors import BadInput, Fault
from wadforms.files import LARGEST_TOML, read_at_most, write_whole

VARIABLE: Final = "WADFORMS_WORK"
"""Environment variable that names another folder for what visitors keep."""

SHAPES: Final = "shapes"
DRAWINGS: Final = "drawings"


def data_folder() -> Path:
    r"""Where work is kept.

    The folder that `VARIABLE` names, else ``$XDG_DATA_HOME/wadforms``, else
    ``~/.local/share/wadforms``; on Windows ``%LOCALAPPDATA%\wadforms``.
    """
    if named := os.environ.get(VARIABLE):
        return Path(named)
    base = os.environ.get("LOCALAPPDATA" if sys.platform == "win32" else "XDG_DATA_HOME")
    return (Path(base) if base else Path.home() / ".local" / "share") / "wadforms"


class Work(NamedTuple):
    """What one visitor keeps.

    Parameters
    ----------
    folder : Path
        Theirs alone.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as place:
    ...     mine = Work.of("a token", Path(place))
    ...     mine.keep("one-pot", ["contact", "--weight=2,4 kg"])
    ...     mine.kept("one-pot"), Work.of("another", Path(place)).kept("one-pot")
    (['contact', '--weight=2,4 kg'], [])
    """

    folder: Path

    @classmethod
    def of(cls, token: str, within: Path) -> Work:
        """The work of whoever has this token; the folder's name does not give it away."""
        return cls(within / hashlib.sha256(token.encode()).hexdigest()[:16])

    @property
    def shapes(self) -> Path:
        """The visitor's own shapes."""
        return self.folder / SHAPES

    @property
    def drawings(self) -> Path:
        """Drawings that were dropped in."""
        return self.folder / DRAWINGS

    @property
    def shapes_in(self) -> list[Path]:
        """The folders of shapes to look into besides those that are always looked into."""
        return [self.shapes] if self.shapes.is_dir() else []

    def refuse_others(self, typed: Mapping[str, str]) -> None:
        """Refuse what names a file that is not this visitor's, or is no name at all.

        Raises
        ------
        BadInput
            With all faults.
        """
        faults = []
        named = {"--mix": typed.get("mix", ""), "--foot-outline": typed.get("foot_outline", "")}
        for part in typed.get("with_", "").split("|"):
            name, _, value = part.partition("=")
            if name.strip() == "outline":
                named["--with outline"] = value
        for where, text in named.items():
            if _is_path(text) and not self._is_own(text.strip()):
                right = "drop the file in at “Shapes” or “Mixes”"
                faults.append(Fault(where, f"the file {text.strip()[:60]!r}", right))
        for where, name in (("shape", typed.get("shape", "")), ("--wad", typed.get("wad", ""))):
            if name.strip() and not NAME.fullmatch(name.strip()):
                right = "give a name out of the list, such as disk-20"
                faults.append(Fault(where, repr(name.strip()[:60]), right))
        if faults:
            raise BadInput(*faults)

    def allows(self, typed: Mapping[str, str]) -> bool:
        """Whether `refuse_others` has nothing to refuse.

        Examples
        --------
        >>> mine = Work(Path("mine"))
        >>> mine.allows({"mix": "open"}), mine.allows({"mix": "mine/mixes/own.toml"})
        (True, True)
        >>> mine.allows({"mix": "yours/mixes/own.toml"})
        False
        """
        try:
            self.refuse_others(typed)
        except BadInput:
            return False
        return True

    def _is_own(self, text: str) -> bool:
        try:
            return Path(text).resolve().is_relative_to(self.folder.resolve())
        except (OSError, ValueError):
            return False

    def file(self, name: str) -> Path:
        """The file of arguments of that name: ``wadforms @FILE`` runs it."""
        return self.folder / f"{name}.txt"

    def kept(self, name: str) -> list[str]:
        """The arguments that were kept; none where nothing was."""
        file = self.file(name)
        if not file.is_file():
            return []
        data = read_at_most(file, LARGEST_TOML, "arguments")
        return data.decode("utf-8", errors="replace").splitlines()

    def keep(self, name: str, given: Iterable[str]) -> None:
        """Keep arguments, one a line."""
        self.folder.mkdir(parents=True, exist_ok=True)
        lines = (" ".join(argument.split()) for argument in given)
        write_whole(self.file(name), "".join(f"{line}\n" for line in lines).encode(), force=True)


def _is_path(text: str) -> bool:
    return any(mark in text for mark in ("/", "\\", "."))
