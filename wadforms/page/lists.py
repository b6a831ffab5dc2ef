"""A firing's list on the page: read, audited, and chosen for by the command line's own calls."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final, NamedTuple

from wadforms.cli.options import Among, ChoosingOptions, CrewSheetOptions, MakingOptions
from wadforms.errors import BadInput, Fault
from wadforms.families.base import BODIES
from wadforms.firing.list_columns import BARE, FOOT_KINDS, MARKS
from wadforms.firing.list_file import example, parse_list
from wadforms.firing.rows import FLOOR, KINDS
from wadforms.firing.touches import Audit, audit
from wadforms.page.measures import IMPERIAL
from wadforms.page.sheets import Sheet, sheet_of
from wadforms.page.told import Typed, arguments
from wadforms.setting.limits import PLACES

FILE: Final = "firing.csv"
"""The list, in the visitor's folder."""

FOLDER: Final = "firing"
"""The folder that is made."""

GROUPS: Final = (ChoosingOptions, MakingOptions, CrewSheetOptions, Among)

OFTEN: Final = (
    "name", "count", "kind", "weight", "foot", "foot width", "height", "stands on", "level",
    "place",
)  # fmt: skip
"""Columns that are shown though they are empty."""

TICKED: Final = "yes"

_IMPERIAL: Final = {"kg": "lb", "mm": "in"}
_WITHOUT: Final = "--without-moulds"


def invented() -> Sheet:
    """The invented list, without the remarks that the page gives as hints.

    Examples
    --------
    >>> sheet = invented()
    >>> sheet.first, sheet.headings[:4], len(sheet.rows)
    (2, ['name', 'count', 'kind', 'weight (kg)'], 17)
    """
    sheet = sheet_of(example(), "the example").sheet
    return Sheet(sheet.headings, sheet.rows)


def empty(system: str) -> Sheet:
    """A list with all columns and one row to fill in.

    Parameters
    ----------
    system : str
        Of units, for the headings.

    Examples
    --------
    >>> empty("imperial").headings[3:6], empty("metric").headings[3]
    (['weight (lb)', 'foot kind', 'foot (in)'], 'weight (kg)')
    """
    heads = list(invented().headings)
    if system == IMPERIAL:
        for metric, imperial in _IMPERIAL.items():
            heads = [head.replace(f"({metric})", f"({imperial})") for head in heads]
    return Sheet(heads, [[""] * len(heads)])


def known_words(shapes: Sequence[str]) -> dict[str, Sequence[str]]:
    """The words that may stand in a column.

    Parameters
    ----------
    shapes : sequence of str
        Names of shapes.
    """
    return {
        "kind": KINDS,
        "foot kind": FOOT_KINDS,
        "stands on": (FLOOR,),
        "place": tuple(PLACES),
        "mark": (*MARKS, *shapes),
        "body": (*BODIES, BARE),
        "shape": shapes,
    }


class Read(NamedTuple):
    """What a list says, as far as it can be read.

    Parameters
    ----------
    faults : tuple of Fault
        What is wrong with it.
    notes : tuple of str
        How it was read, and what it left open.
    audit : Audit or None
        Every touch, where nothing is wrong.
    """

    faults: tuple[Fault, ...] = ()
    notes: tuple[str, ...] = ()
    audit: Audit | None = None


def read(data: bytes, folder: Path, shapes_in: Sequence[Path]) -> Read:
    r"""Read and audit a list.

    Parameters
    ----------
    data : bytes
        As it is kept.
    folder : Path
        Where drawings of feet are.
    shapes_in : sequence of Path
        The visitor's own shapes.

    Examples
    --------
    >>> found = read(b"name,count,weight,foot\nMug,12,450g,8cm\n", Path(), ())
    >>> [touch.name for touch in found.audit.touches]
    ['Mug on shelf']
    >>> [fault.where for fault in read(b"name,count\nMug,x\n", Path(), ()).faults][-1]
    'firing.csv, row 2, count'
    """
    try:
        listed = parse_list(data, FILE, shapes_in, folder=folder)
        seen = audit(listed)
    except BadInput as error:
        return Read(faults=error.faults)
    return Read(notes=(*listed.notes, *seen.notes), audit=seen)


def command(typed: Typed, file: Path, folders: Sequence[Path]) -> list[str]:
    """The command that makes the folder, in the folder that it runs in.

    Parameters
    ----------
    typed : dict
        What stands in the fields.
    file : Path
        The list.
    folders : sequence of Path
        The visitor's own shapes.

    Examples
    --------
    >>> command({"at_most": "4", "moulds": "", "mix": "dense"}, Path("firing.csv"), ())
    ['firing', 'firing.csv', '--out=firing', '--at-most=4', '--mix=dense', '--without-moulds']
    """
    found = ["firing", str(file), f"--out={FOLDER}"]
    given = {name: text for name, text in typed.items() if name not in ("moulds", "shapes_in")}
    found += arguments(GROUPS, given)
    if typed.get("moulds") != TICKED:
        found.append(_WITHOUT)
    return found + [f"--shapes-in={folder}" for folder in folders]


def number_faults(typed: Typed) -> dict[str, str]:
    """What is wrong with the fields that take a bare number, which the command line refuses.

    Parameters
    ----------
    typed : dict
        What stands in the fields.

    Examples
    --------
    >>> number_faults({"at_most": "few", "rate": "90"})
    {'at_most': "'few' was given; give a whole number, 1 or more"}
    """
    wrong = {}
    if (text := typed.get("at_most", "").strip()) and not (text.isdecimal() and len(text) < 7):
        wrong["at_most"] = f"{text[:40]!r} was given; give a whole number, 1 or more"
    for name, right in (("rate", "give a number, such as 90"), ("seconds", "give 1 to 3600")):
        text = typed.get(name, "").strip()
        try:
            float(text or "1")
        except ValueError:
            wrong[name] = f"{text[:40]!r} was given; {right}"
    return wrong
