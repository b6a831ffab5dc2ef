"""What to do where a print did not come out true: why that was, and a sheet that makes up for it.

The sheet is laid out at true size on the paper as the printer shows it, which is smaller or
larger than the page of the file, and then scaled so that the printer undoes it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, NamedTuple

from wadforms.errors import BadInput, Fault, NotMakeable
from wadforms.templates.drawing import Drawing
from wadforms.templates.paper import Paper
from wadforms.templates.placing import scaled
from wadforms.templates.proof import HEIGHT, SQUARE, WIDTH

SMALLEST: Final = 50.0
LARGEST: Final = 200.0
"""What a 100 mm square can measure on a print of it [mm]; beyond, something else was measured."""

_RULER: Final = 0.3  # what a ruler cannot tell [mm]


class Cause(NamedTuple):
    """Why a print is too small or too large.

    Parameters
    ----------
    low, high : float
        What the square measures then [mm].
    words : str
        Why.
    """

    low: float
    high: float
    words: str


# Common practice, no source; the figures are arithmetic: 90/96 = 0.9375, 72/96 = 0.75, and
# 279.4/297 = 0.941 for A4 on Letter.
CAUSES: Final = (
    Cause(SQUARE - _RULER, SQUARE + _RULER, "none: that is true within what a ruler can tell"),
    Cause(74.5, 75.5, "a program that took 72 units to the inch for 96: 75 mm"),
    Cause(93.45, 93.9, "a program that took 90 units to the inch for 96: 93.75 mm"),
    Cause(93.9, 94.4, "an A4 page fitted to Letter paper: 94.1 mm"),
    Cause(95.0, SQUARE - _RULER, "the printer's 'fit to page', usually about 97 mm"),
    Cause(106.2, 107.2, "a program that took 96 units to the inch for 90: 106.7 mm"),
    Cause(132.8, 133.8, "a program that took 96 units to the inch for 72: 133.3 mm"),
)
"""The usual ones."""


@dataclass(frozen=True, slots=True)
class Correction:
    """What makes up for a printer that does not print true.

    Parameters
    ----------
    measured : float
        What the 100 mm square measured on a print that was made the same way [mm].

    Raises
    ------
    BadInput
        No print of the square measures that.

    Examples
    --------
    >>> shrunk = Correction(97.0)
    >>> round(shrunk.factor, 4), shrunk.cause
    (1.0309, "the printer's 'fit to page', usually about 97 mm")
    """

    measured: float

    def __post_init__(self) -> None:
        if not SMALLEST <= self.measured <= LARGEST:
            right = (
                f"give {SMALLEST:g} mm to {LARGEST:g} mm: a side of the 100 mm square, as printed"
            )
            raise BadInput(Fault("square measured", f"{self.measured:g} mm", right))

    @property
    def factor(self) -> float:
        """By what factor the sheet is drawn larger than it shall come out."""
        if abs(self.measured - SQUARE) <= _RULER:
            return 1.0  # true within what a ruler can tell
        return SQUARE / self.measured

    @property
    def cause(self) -> str:
        """What most likely made the print so large or small."""
        for cause in CAUSES:
            if cause.low <= self.measured <= cause.high:
                return cause.words
        return "none of the usual ones: measure both ways again, and look at the printer's scaling"

    def paper(self, paper: Paper) -> Paper:
        """The page as it comes out of the printer, with the box that is on the paper for sure.

        A printer puts a page that it shrinks or enlarges into a corner of the paper or its
        middle; the box stays clear of the edges in any of these cases.

        Parameters
        ----------
        paper : Paper
            The page of the file [mm].

        Raises
        ------
        NotMakeable
            The square has no room in that box.

        Examples
        --------
        >>> from wadforms.templates.paper import paper
        >>> sheet = Correction(97.0).paper(paper("a4"))
        >>> [round(v, 2) for v in (sheet.width, sheet.height, *sheet.box)]
        [203.7, 288.09, 10.0, 10.0, 193.7, 278.09]
        """
        if self.factor == 1.0:
            return paper
        share = self.measured / SQUARE
        width, height = paper.width * share, paper.height * share
        x0, y0, x1, y1 = paper.box
        across, up = width - paper.width, height - paper.height
        box = (
            x0 + max(0.0, across),
            y0 + max(0.0, up),
            x1 + min(0.0, across),
            y1 + min(0.0, up),
        )
        if box[2] - box[0] < WIDTH or box[3] - box[1] < HEIGHT:
            raise NotMakeable(
                f"a printer that makes 100 mm into {self.measured:g} mm leaves the square no room "
                f"on the sheet {paper.name!r}; set it to 100 %, no scaling"
            )
        return Paper(paper.name, width, height, box)

    def drawing(self, drawing: Drawing) -> Drawing:
        """What was laid out at true size on `paper`, drawn so that the printer makes it true."""
        return scaled(drawing, self.factor)

    @property
    def words(self) -> str:
        """One line for the sheet.

        Examples
        --------
        >>> Correction(97.0).words
        'Corrected, × 1.0309: the square measured 97 mm.'
        """
        return f"Corrected, × {self.factor:.4f}: the square measured {self.measured:g} mm."
