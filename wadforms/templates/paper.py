"""Sheets of paper, and what a printer can reach on them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from wadforms.errors import UnknownName


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper and the box on it that is drawn in.

    Parameters
    ----------
    name : str
        As it is typed.
    width, height : float
        Of the sheet [mm].
    box : tuple of float
        Smallest x, smallest y, largest x, largest y of what any printer reaches [mm].
    """

    name: str
    width: float
    height: float
    box: tuple[float, float, float, float]

    @classmethod
    def with_margin(cls, name: str, width: float, height: float, margin: float) -> Paper:
        """A sheet with the same margin [mm] on all sides.

        Examples
        --------
        >>> Paper.with_margin("a5", 148, 210, 10).box
        (10, 10, 138, 200)
        """
        return cls(name, width, height, (margin, margin, width - margin, height - margin))


_MARGIN: Final = 10.0  # no desk printer needs more than 6 to 8 mm (common practice, no source)

PAPERS: Final[dict[str, Paper]] = {
    paper.name: paper
    for paper in (
        # What A4 and Letter have in common, so that whoever gets the file can print it: as wide
        # as A4, as high as Letter, with 190 × 259 mm drawn on.
        Paper("either", 210.0, 279.4, (10.0, 10.2, 200.0, 269.2)),
        Paper.with_margin("a4", 210.0, 297.0, _MARGIN),  # ISO 216
        Paper.with_margin("letter", 215.9, 279.4, _MARGIN),  # ANSI/ASME Y14.1, size A
    )
}
"""The sheets by name."""


def paper(name: str) -> Paper:
    """The sheet of that name.

    Raises
    ------
    UnknownName
        There is none.

    Examples
    --------
    >>> paper("a4").height
    297.0
    """
    try:
        return PAPERS[name.lower()]
    except KeyError:
        raise UnknownName("paper", name, PAPERS) from None
