"""Where shapes lie."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from wadforms.errors import BadInput, Fault
from wadforms.files import is_folder, shortened

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

VARIABLE: Final = "WADFORMS_SHAPES"
"""Environment variable that names folders of the user's own shapes, separated as in PATH."""


def own_folder() -> Traversable:
    """The folder of our own shapes: in an installed package, in a checkout, or in a zip.

    Examples
    --------
    >>> own_folder().joinpath("README.md").is_file()
    True
    """
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "_shapes", package.parent / "shapes"):
        if folder.is_dir():
            return folder
    from importlib import resources  # slow to import, and needed in a zip only

    return resources.files("wadforms").joinpath("_shapes")


def user_folder() -> Path | None:
    r"""The folder that is looked into without being named, whether or not it is there.

    ``$XDG_CONFIG_HOME/wadforms/shapes``, else ``~/.config/wadforms/shapes``; on Windows
    ``%APPDATA%\wadforms\shapes``.
    """
    base = os.environ.get("APPDATA" if sys.platform == "win32" else "XDG_CONFIG_HOME")
    try:
        root = Path(base) if base else Path.home() / ".config"
    except RuntimeError:  # a user without a home
        return None
    return root / "wadforms" / "shapes"


def user_folders(named: Sequence[Path] = ()) -> tuple[Path, ...]:
    """The user's own folders, each once: those named, those of `VARIABLE`, `user_folder`.

    Raises
    ------
    BadInput
        A folder that was named is not there.
    """
    asked = [(str(folder), Path(folder)) for folder in named]
    for text in os.environ.get(VARIABLE, "").split(os.pathsep):
        if text:
            asked.append((VARIABLE, Path(text)))
    faults = [
        Fault(
            shortened(where), f"the folder {shortened(str(folder))}", "give a folder that is there"
        )
        for where, folder in asked
        if not is_folder(folder)
    ]
    if faults:
        raise BadInput(*faults)
    found = [folder for _, folder in asked]
    default = user_folder()
    if default is not None and is_folder(default):
        found.append(default)
    return tuple({folder.resolve(): folder for folder in reversed(found)}.values())[::-1]
