"""Clays of pots: how much they sag in firing, as a file that tells it.

A clay has no place in the mixes, which are what wads are made of.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final, NamedTuple

from wadforms.errors import BadInput
from wadforms.files import read_toml, shortened
from wadforms.setting.limits import Limit
from wadforms.setting.measuring import INDEX
from wadforms.setting.readings import shown
from wadforms.setting.table_reader import TableReader

INDEX_KEY: Final = "pyroplastic_index"


class Clay(NamedTuple):
    """What a pot is made of.

    Parameters
    ----------
    name : str
        That of its file.
    sags : Limit
        The most that its pyroplastic index is reckoned to be [1/mm].
    """

    name: str
    sags: Limit

    @property
    def words(self) -> str:
        """Where the index comes from, for people."""
        shown_index = shown(self.sags.value, "/mm")
        return f"by the clay {self.name!r} of index {shown_index}: {self.sags.source}"


def clay(path: Path) -> Clay:
    """A clay from its file.

    Raises
    ------
    BadInput
        The file cannot be read, or tells no index; every fault is told.

    Examples
    --------
    >>> clay(Path("white.toml"))
    Traceback (most recent call last):
    ...
    wadforms.errors.BadInput: white.toml: a file that is not there was given; give a clay that \
can be read
    """
    reader = TableReader(read_toml(path, "a clay"), shortened(path))
    index = reader.limit(INDEX_KEY, "/mm", *INDEX)
    if reader.faults:
        raise BadInput(*reader.faults)
    return Clay(path.stem, index)
