"""What a crew sheet is made of: plain data that any writer can write."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from wadforms.setting.sizing import Choice
from wadforms.templates.drawing import Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class Pick:
    """The wads of one touch on its card.

    Parameters
    ----------
    where : str
        What they lie between.
    wads : str
        How many of which, the largest words on the card; empty where nothing is set.
    lines : tuple of str
        How they are set, in a few short lines.
    verdict : str or None
        Sound, tight or unsafe; None where there is no load to judge.
    remarks : tuple of str
        Why it is not sound, and what else to heed.
    choice : Choice or None
        What the picture shows.
    alone : Drawing or None
        The picture where there is no arrangement.
    figures : tuple of str
        What the verdict rests on, in small print.
    wide : bool
        Whether the picture wants more of the card's width.
    """

    where: str
    wads: str
    lines: tuple[str, ...] = ()
    verdict: str | None = None
    remarks: tuple[str, ...] = ()
    choice: Choice | None = None
    alone: Drawing | None = None
    figures: tuple[str, ...] = ()
    wide: bool = False

    @property
    def picture(self) -> Drawing | None:
        """Drawn when it is asked for: a firing of a thousand rows need not hold them all."""
        if self.choice is None:
            return self.alone
        from wadforms.templates.card_picture import from_above

        return from_above(self.choice.setting, title=f"{self.wads}, {self.where}".strip(", "))


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """What is set in one go: its name, how many, and the wads of each of its touches."""

    name: str
    count: str
    picks: tuple[Pick, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One cell of a table.

    Parameters
    ----------
    text : str
        What stands in it.
    detail : tuple of str
        Smaller lines below.
    verdict : str or None
        Whose mark stands before the text.
    picture : Drawing or None
        That stands above or before it.
    """

    text: str
    detail: tuple[str, ...] = ()
    verdict: str | None = None
    picture: Drawing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table whose rows are headed by their first cells.

    Parameters
    ----------
    caption : str
        What it tells.
    heads : tuple of str
        Of its columns; all but the first and those in `words` hold numbers.
    rows : tuple of tuple of Cell
        As many cells each as there are heads.
    words : tuple of int
        Which columns hold words, besides the first.
    tick : bool
        Whether each row has a box to tick.
    small : bool
        Whether it is for the desk rather than for the kiln.
    """

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    words: tuple[int, ...] = ()
    tick: bool = False
    small: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Cards:
    """Cards, one after the other."""

    cards: tuple[Card, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Points:
    """A list, numbered where its order matters.

    Parameters
    ----------
    items : tuple of (str, str)
        What it is about, in a word or two, and what there is to say.
    numbered : bool
        Whether one comes after the other.
    small : bool
        Whether it is for the desk rather than for the kiln.
    caption : str
        What it tells, where the heading does not.
    """

    items: tuple[tuple[str, str], ...]
    numbered: bool = False
    small: bool = False
    caption: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plain:
    """A paragraph."""

    text: str


Block: TypeAlias = Cards | Table | Points | Plain


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of the sheet under its heading.

    Parameters
    ----------
    key : str
        Names the part for links.
    heading : str
        Its title.
    blocks : tuple of Block
        What it says.
    alarm : bool
        Whether nothing may go on before it is dealt with.
    apart : bool
        Whether it begins on a page of its own.
    """

    key: str
    heading: str
    blocks: tuple[Block, ...]
    alarm: bool = False
    apart: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewSheet:
    """The whole sheet.

    Parameters
    ----------
    title : str
        Of the firing.
    date : str
        As the crew leader writes it; a line to write on where empty.
    tally : tuple of (str, str)
        Each verdict that occurs, with how many touches it has, in words.
    parts : tuple of Part
        In the order of the sheet.
    """

    title: str
    date: str
    tally: tuple[tuple[str, str], ...]
    parts: tuple[Part, ...]
