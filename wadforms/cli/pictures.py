"""Draws pictures into files, or says what it would write."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from wadforms.cli.options import Writing
from wadforms.errors import BadInput, Fault
from wadforms.files import refuse_place, shortened

if TYPE_CHECKING:
    from wadforms.setting.assessment import Assessment
    from wadforms.setting.pot import Setting
    from wadforms.templates.drawing import Drawing


def draw(drawing: Drawing, path: Path, writing: Writing) -> list[str]:
    """Write a drawing as SVG and give the files' names; a dry run only looks.

    Raises
    ------
    WouldOverwrite
        The file is there and was not to be replaced.
    BadInput
        It cannot be written there, or its name says that it is no SVG file.
    """
    check_name(path, ".svg")
    from wadforms.templates.svg import svg, write_svg

    if writing.dry_run:
        svg(drawing)  # all the work but the writing, so that its faults are told too
        refuse_overwrite(path, writing)
        return []
    write_svg(drawing, path, force=writing.force)
    return [str(path)]


def check_name(path: Path, suffix: str) -> None:
    """Refuse a name that says that a file is of another kind than it will be.

    Raises
    ------
    BadInput
        It does not end with `suffix`, in small letters or large.
    """
    if path.suffix.lower() != suffix:
        given = f"the name {shortened(path)}"
        raise BadInput(Fault("output", given, f"end it with {suffix}, which is what it will hold"))


def refuse_overwrite(path: Path, writing: Writing) -> None:
    """Refuse a place that cannot be written, or a file there, before any work is done for it.

    Raises
    ------
    WouldOverwrite
        It is there and was not to be replaced.
    BadInput
        Nothing can be written there.
    """
    refuse_place(path, force=writing.force)


def draw_setting(
    title: str,
    shape: str,
    setting: Setting,
    answer: Assessment,
    path: Path,
    writing: Writing,
) -> list[str]:
    """Draw a checked setting from below and from the side."""
    from wadforms.templates.setting_picture import setting_picture
    from wadforms.templates.setting_view import setting_view

    return draw(
        setting_picture(setting_view(setting, answer, title=title, shape=shape)), path, writing
    )
