"""What of a piece is in the way of tools that are open on both sides."""

from __future__ import annotations

from wadforms.families.base import Piece
from wadforms.geometry.body import Bowl, Trough


def obstacle(piece: Piece) -> str | None:
    """What a tool without a floor cannot shape, in words that follow "it"; None where nothing.

    Examples
    --------
    >>> from wadforms.families import family
    >>> obstacle(family("stone-seat")().piece())
    'has 3 hollows in its top, which only a mould with a floor shapes'
    >>> obstacle(family("disk")().piece()) is None
    True
    """
    body = piece.body
    if any(isinstance(pocket, Trough) for pocket in body.pockets):
        found = "has a round channel across its top"
    elif body.pockets:
        bowls = any(isinstance(pocket, Bowl) for pocket in body.pockets)
        found = f"has {_many(len(body.pockets), 'hollow' if bowls else 'pocket')} in its top"
    elif len(body.lofts) > 1:
        what = "point" if piece.tips else "block"
        found = f"has {_many(len(body.lofts) - 1, what)} on its top"
    else:
        return None
    return f"{found}, which only a mould with a floor shapes"


def _many(count: int, what: str) -> str:
    return f"{count} {what}s" if count > 1 else f"a {what}"
