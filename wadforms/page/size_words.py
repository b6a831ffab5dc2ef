"""Sizes that are changed, in plain words for a field, and as options take them."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from wadforms.page.told import SEVERAL

HINT: Final = "height 12 mm; draft 3"

_DRAWING: Final = "drawing"
_OUTLINE: Final = "outline"


def as_words(changes: str, drawings: Path) -> str:
    """Changes as they stand in a field: a drawing by its name, without its folder.

    Parameters
    ----------
    changes : str
        As `told.filled` takes them.
    drawings : Path
        Where the visitor's drawings are.

    Examples
    --------
    >>> as_words("height=12 mm | outline=mine/drawings/star.svg", Path("mine/drawings"))
    'height 12 mm; drawing star.svg'
    """
    words = []
    for part in filter(None, (part.strip() for part in changes.split(SEVERAL.strip()))):
        name, _, value = (text.strip() for text in part.partition("="))
        file = Path(value)
        if name == _OUTLINE and file.parent == drawings:
            name, value = _DRAWING, file.name
        words.append(f"{name} {value}".strip())
    return "; ".join(words)


def as_changes(words: str, drawings: Path) -> str:
    """What stands in a field as changes; ``name=value`` is taken as well.

    Parameters
    ----------
    words : str
        As they are typed.
    drawings : Path
        As for `as_words`.

    Examples
    --------
    >>> as_changes("height 1 1/2 in; drawing star.svg", Path("mine/drawings"))
    'height=1 1/2 in | outline=mine/drawings/star.svg'
    >>> as_changes("height=12mm | draft=3", Path("mine/drawings"))
    'height=12mm | draft=3'
    """
    changes = []
    parts = words.replace(SEVERAL.strip(), ";").split(";")
    for part in filter(None, (part.strip() for part in parts)):
        sign = "=" if "=" in part else " "
        name, _, value = (text.strip() for text in part.partition(sign))
        if name == _DRAWING:
            name, value = _OUTLINE, str(drawings / value)
        changes.append(f"{name}={value}" if value else name)
    return SEVERAL.join(changes)
