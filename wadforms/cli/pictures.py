"""Draws pictures into files, or says what it would write."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from wadforms.cli.options import PaperOptions, SettingDrawings, Writing
from wadforms.errors import BadInput, Fault
from wadforms.files import refuse_place, shortened

if TYPE_CHECKING:
    from wadforms.setting.assessment import Assessment
    from wadforms.setting.pot import Setting
    from wadforms.templates.correction import Correction
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


def draw_all(drawings: Sequence[tuple[Path, Sequence[Drawing]]], writing: Writing) -> list[str]:
    """Write several drawings as SVG or PDF, all or none, and give the files' names.

    Raises
    ------
    WouldOverwrite
        A file is there and was not to be replaced.
    BadInput
        One cannot be written there, its name has another ending, or two have one name.
    """
    from wadforms.files import write_all
    from wadforms.templates.write import contents

    made: dict[Path, bytes] = {}
    for path, pages in drawings:
        for place, data in contents(pages, path).items():
            if place in made:
                raise BadInput(Fault("output", f"{shortened(place)} twice", "give two names"))
            made[place] = data
    if writing.dry_run:
        for place in made:
            refuse_overwrite(place, writing)
        return []
    write_all(made, force=writing.force)
    return [str(place) for place in made]


class SettingFiles(NamedTuple):
    """The drawings of a setting.

    Parameters
    ----------
    files : list of str
        Their names.
    guide : tuple of int or None
        Pages of the guide, and the columns and rows of sheets that show it at full size.
    """

    files: list[str]
    guide: tuple[int, int, int] | None

    @property
    def lines(self) -> list[str]:
        """How many pages the guide has, and how they are joined."""
        if self.guide is None:
            return []
        from wadforms.templates.tiles import JOIN

        pages, columns, rows = self.guide
        if columns * rows == 1:
            return [f"The guide has {pages} pages: one at full size, then the places in numbers."]
        return [
            f"The guide has {pages} pages: {columns} columns × {rows} rows of sheets at full size, "
            "then the places in numbers.",
            JOIN,
        ]

    @property
    def told(self) -> dict[str, Any]:
        """The same in the words of JSON."""
        if self.guide is None:
            return {"files": self.files}
        pages, columns, rows = self.guide
        return {"files": self.files, "pages": pages, "columns": columns, "rows": rows}


def draw_setting(
    title: str,
    shape: str,
    setting: Setting,
    answer: Assessment,
    wanted: SettingDrawings,
    paper: PaperOptions,
    writing: Writing,
) -> SettingFiles:
    """Draw a checked setting: from below and from the side, and the guide for the shelf.

    Raises
    ------
    WouldOverwrite, BadInput
        As for `draw_all`; or the paper is unknown, or would have no effect.
    """
    from wadforms.templates.paper import paper as paper_named

    sheet = paper_named(paper.paper)
    if wanted.guide is None and paper != PaperOptions():
        right = "they are for the sheets of --guide: name its file, or leave them out"
        raise BadInput(Fault("--paper, --square-measured", "something without effect here", right))
    if wanted.picture is None and wanted.guide is None:
        return SettingFiles([], None)
    from wadforms.templates.setting_view import setting_view

    view = setting_view(setting, answer, title=title, shape=shape)
    drawings: list[tuple[Path, Sequence[Drawing]]] = []
    guide = None
    if wanted.picture is not None:
        from wadforms.templates.setting_picture import setting_picture

        check_name(wanted.picture, ".svg")
        drawings.append((wanted.picture, [setting_picture(view)]))
    if wanted.guide is not None:
        from wadforms.templates.guide_pages import guide_sheets

        made = guide_sheets(
            view,
            paper=sheet,
            tiles=is_pdf(wanted.guide),
            correction=needed(correction(paper)),
        )
        drawings.append((wanted.guide, made.pages))
        guide = (len(made.pages), made.columns, made.rows)
    return SettingFiles(draw_all(drawings, writing), guide)


def is_pdf(path: Path) -> bool:
    """Whether a file's name says that it is for paper."""
    return path.suffix.lower() == ".pdf"


def correction(paper: PaperOptions) -> Correction | None:
    """What makes up for a printer that is not true; None where it was not measured.

    Raises
    ------
    BadInput
        No print of the square measures that.
    """
    if paper.square_measured is None:
        return None
    from wadforms import units
    from wadforms.templates.correction import Correction

    return Correction(units.parse(paper.square_measured, "mm", "--square-measured"))


def needed(correction: Correction | None) -> Correction | None:
    """The correction where it changes anything."""
    return correction if correction is not None and correction.factor != 1.0 else None


def how_to_print(correction: Correction | None) -> list[str]:
    """How sheets are printed, and what was likely wrong with the last print."""
    if correction is None:
        return ["Print at 100 %, no scaling; the square must measure 100 mm before you cut."]
    if needed(correction) is None:
        return [
            f"The square measured {correction.measured:g} mm: the printer is true. "
            "Print just as before."
        ]
    return [
        f"The square measured {correction.measured:g} mm. Likely cause: {correction.cause}.",
        f"Drawn × {correction.factor:.4f} to make up for it: print just as before, and the square "
        "must measure 100 mm before you cut.",
    ]


def correction_json(correction: Correction | None) -> dict[str, Any]:
    """What a print that was measured means; nothing where none was."""
    if correction is None:
        return {}
    return {
        "square_measured_mm": correction.measured,
        "likely_cause": correction.cause,
        "correction_factor": correction.factor,
    }


def correction_lines(paper: PaperOptions) -> list[str]:
    """What is told of a print that was measured; nothing where none was."""
    measured = correction(paper)
    return [] if measured is None else how_to_print(measured)
