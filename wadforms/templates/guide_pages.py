"""All that a setting guide consists of: the sheet for the shelf, and the pages that follow it."""

from __future__ import annotations

from typing import NamedTuple

from wadforms.templates.correction import Correction
from wadforms.templates.drawing import Drawing
from wadforms.templates.paper import Paper
from wadforms.templates.setting_guide import setting_guide
from wadforms.templates.setting_notes import setting_notes
from wadforms.templates.setting_view import SettingView
from wadforms.templates.tiles import grid, tiled


class GuideSheets(NamedTuple):
    """What a guide takes on paper.

    Parameters
    ----------
    pages : tuple of Drawing
        All of them.
    columns, rows : int
        Of the sheets that show it at full size.
    """

    pages: tuple[Drawing, ...]
    columns: int
    rows: int


def guide_pages(
    view: SettingView, *, paper: Paper, tiles: bool, correction: Correction | None = None
) -> tuple[Drawing, ...]:
    """The sheet for the shelf, then the mark that will stay and the places in numbers.

    Parameters
    ----------
    view, paper, tiles, correction
        As for `guide_sheets`.

    Raises
    ------
    NotMakeable
        The printer is so far from true that a sheet has no room for the square.
    """
    return guide_sheets(view, paper=paper, tiles=tiles, correction=correction).pages


def guide_sheets(
    view: SettingView, *, paper: Paper, tiles: bool, correction: Correction | None = None
) -> GuideSheets:
    """The sheet for the shelf on as many sheets of paper as it takes, and what follows it.

    Parameters
    ----------
    view : SettingView
        What was checked.
    paper : Paper
        What it is printed on.
    tiles : bool
        Whether a sheet that is larger than the paper is taken apart into several.
    correction : Correction or None
        Makes up for a printer that does not print true.

    Raises
    ------
    NotMakeable
        The printer is so far from true that a sheet has no room for the square.
    """
    shown = correction.paper(paper) if correction else paper
    corrected = correction.words if correction else None
    columns = rows = 1
    sheet = setting_guide(view, paper=shown, corrected=corrected)
    if tiles and (sheet.width, sheet.height) != (shown.width, shown.height):
        # Each tile brings its own square.
        sheet = setting_guide(view, paper=shown, square=False)
        taken = grid(sheet.width, sheet.height, paper=shown)
        columns, rows = taken.columns, taken.rows
        sheets = tiled(sheet, paper=paper, correction=correction)
    else:
        sheets = (correction.drawing(sheet),) if correction else (sheet,)
    notes = setting_notes(view, paper=shown)
    last = (correction.drawing(page) if correction else page for page in notes)
    return GuideSheets((*sheets, *last), columns, rows)
