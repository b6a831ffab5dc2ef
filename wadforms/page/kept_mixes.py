"""Mixes and clays: those that come with wadforms, and those that a visitor measured."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms.errors import WadformsError
from wadforms.setting.clays import clay
from wadforms.setting.mixes import mix, names

if TYPE_CHECKING:
    from wadforms.page.work import Work
    from wadforms.setting.clays import Clay
    from wadforms.setting.mixes import Mix

MIXES: Final = "mixes"
"""The folder of a visitor's own mixes and clays."""


class Kept(NamedTuple):
    """What can be named as a mix or a clay.

    Parameters
    ----------
    name : str
        As an option takes it: a name, or the path of a file.
    file : Path or None
        Of a visitor's own.
    mix : Mix or None
        What it says; None of a clay, and of a file that cannot be read.
    clay : Clay or None
        As for `mix`.
    wrong : str
        Why it cannot be read.
    """

    name: str
    file: Path | None = None
    mix: Mix | None = None
    clay: Clay | None = None
    wrong: str = ""


def folder_of(work: Work) -> Path:
    """Where a visitor's own mixes are."""
    return work.folder / MIXES


def all_kept(work: Work) -> list[Kept]:
    """The visitor's own mixes and clays, by name, then those that come with wadforms."""
    return [*_own(folder_of(work)), *(Kept(name, mix=mix(name)) for name in names())]


def mix_options(work: Work, *bodies: str) -> list[tuple[str, str]]:
    """What an option for a mix takes, each with what it is.

    Parameters
    ----------
    work : Work
        The visitor's.
    bodies : str
        Only mixes that suit one of these; any where none is given.
    """
    return [
        (one.name, one.mix.name if one.file is None else f"{one.mix.name}: your own")
        for one in all_kept(work)
        if one.mix is not None and (not bodies or set(bodies) & set(one.mix.bodies))
    ]


def mix_choices(work: Work, now: str) -> list[tuple[str, str]]:
    """The list of all mixes, with the usual one first, and what stands there now among them.

    Parameters
    ----------
    work : Work
        The visitor's.
    now : str
        What stands in the field.
    """
    options = [("", "the usual one"), *mix_options(work)]
    if now not in (name for name, _ in options):
        options.append((now, Path(now).name))
    return options


def _own(folder: Path) -> list[Kept]:
    if not folder.is_dir():
        return []
    return [_read(file) for file in sorted(folder.glob("*.toml"))]


def _read(file: Path) -> Kept:
    name = str(file)
    try:
        return Kept(name, file, mix=mix(name))
    except WadformsError as error:
        wrong = str(error)
    try:
        return Kept(name, file, clay=clay(file))
    except WadformsError:
        return Kept(name, file, wrong=wrong)
