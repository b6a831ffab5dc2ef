"""A page to try a printer with: the square, the line, and how to measure them."""

from __future__ import annotations

from collections.abc import Iterator

from wadforms.templates import look, proof
from wadforms.templates.correction import CAUSES, LARGEST, SMALLEST, Correction
from wadforms.templates.drawing import Drawing, Item, Text
from wadforms.templates.paper import paper as paper_named
from wadforms.templates.words import folded, measure

_LINE = 5.2  # from baseline to baseline [mm]

_STEPS = (
    "Print this page from the program that you will print templates with, at 100 %, with 'fit', "
    "'shrink' and 'scale to paper' off.",
    "Lay a steel ruler across the square, from the middle of one line to the middle of the other, "
    "first across the page and then along it. Read to half a millimetre.",
    "100 mm both ways: all templates come out true. Print them in just the same way.",
    "Not 100 mm: set the printer to 100 % and print again. Where that does not help, write the "
    "templates with --square-measured and what you read, which makes up for it. Each sheet "
    "carries the square again.",
    "Two different readings: the printer stretches one way, and nothing here makes up for that.",
)


def proof_page(*, paper: str = "either", correction: Correction | None = None) -> Drawing:
    """The page.

    Parameters
    ----------
    paper : str
        As for `wadforms.templates.outline_sheet.outline_sheet`.
    correction : Correction or None
        Makes up for a printer that does not print true; the square must then come out so.

    Raises
    ------
    UnknownName
        There is no such paper.
    NotMakeable
        The printer is so far from true that the page has no room for the square.

    Examples
    --------
    >>> proof_page(paper="letter").width
    215.9
    """
    sheet = paper_named(paper)
    shown = correction.paper(sheet) if correction else sheet
    corner = shown.box[:2]
    top = shown.box[3] - 6.0
    width = shown.box[2] - shown.box[0]
    items: list[Item] = [
        *proof.proof(corner),
        *proof.instructions(corner, correction.words if correction else None),
        *_lines(corner[0], top, width, top - corner[1] - proof.HEIGHT),
    ]
    drawing = Drawing(
        title="A square to try the printer with",
        description="A 100 mm square and a 4 in line, with how to measure them.",
        width=shown.width,
        height=shown.height,
        items=tuple(items),
    )
    return correction.drawing(drawing) if correction else drawing


def _lines(x: float, top: float, width: float, room: float) -> Iterator[Item]:
    """Yield the words above the square, as many paragraphs as have room."""
    yield Text((x, top - 1.0), "A square to try the printer with", look.HEADING)
    y = top - 10.0
    causes = [
        f"{measure(cause.low)} to {measure(cause.high)} mm: {cause.words}"
        for cause in sorted(CAUSES[1:])
    ]
    paragraphs = [
        *([f"{k}. {step}"] for k, step in enumerate(_STEPS, 1)),
        ["What a reading mostly comes from:", *causes],
        [f"Readings from {SMALLEST:g} to {LARGEST:g} mm can be told to --square-measured."],
    ]
    for paragraph in paragraphs:
        rows = [row for line in paragraph for row in folded(line, look.BODY, width)]
        if y - _LINE * len(rows) < top - room:
            return
        for row in rows:
            yield Text((x, y), row, look.BODY)
            y -= _LINE
        y -= 2.0
