"""The kinds of mould, one module each, and which of them can make a piece.

=============  =====================================================================
kind           what it is
=============  =====================================================================
``tray``       cavities with a floor
``frame``      cavities right through, with a pusher
``cutter``     blades for a rolled slab
``die``        an extruder's plate; ``bar``, ``openings``, ``funnel``, ``underside`` and
               ``extruding`` serve it
``master``     positives in a tub; ``plaster`` tells what to weigh out
=============  =====================================================================

``plain`` and ``parallel`` serve frames and cutters.
"""

from __future__ import annotations

import importlib
from functools import cache
from typing import Final

from wadforms.errors import UnknownName
from wadforms.families.base import Piece
from wadforms.moulds.base import Kind

_MODULES: Final = ("tray", "frame", "cutter", "die", "master")
"""One module a kind, the most common first; each is loaded when it is asked for."""


@cache
def kind(name: str) -> type[Kind]:
    """The kind of a name.

    Raises
    ------
    UnknownName
        There is none; the message names the nearest.

    Examples
    --------
    >>> kind("tray").summary
    'a block with cavities, filled from above and struck off level; for any piece'
    """
    if name not in _MODULES:
        raise UnknownName("kind of mould", name, _MODULES)
    module = importlib.import_module(f"{__name__}.{name}")
    found: type[Kind] = getattr(module, name.capitalize())
    return found


def kinds() -> dict[str, type[Kind]]:
    """All kinds by name, the most common first."""
    return {name: kind(name) for name in _MODULES}


def suiting(piece: Piece) -> list[str]:
    """Names of the kinds that can make a piece.

    Examples
    --------
    >>> from wadforms.families import family
    >>> "tray" in suiting(family("pointed-tripod")().piece())
    True
    """
    return [name for name, cls in kinds().items() if cls().refusal(piece) is None]
