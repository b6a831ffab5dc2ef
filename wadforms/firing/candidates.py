"""The shapes that are tried where the user names none."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from wadforms.catalogue import Shape, find, shapes
from wadforms.errors import BadInput, Fault
from wadforms.setting.sizing import Candidate

CONES: Final = "cones"
"""The use of a shape that holds pyrometric cones."""

LIDS: Final = "lids"
"""The use of a shape for lids; one that is good for nothing else is tried for nothing else."""


def candidates(
    names: Sequence[str] = (), folders: Sequence[Path] = (), *, lid: bool = False
) -> list[Candidate]:
    """The shapes named, else those of the library that may be chosen unasked.

    Parameters
    ----------
    names : sequence of str
        Shapes or families; none for the library.
    folders : sequence of Path
        Folders of the user's own shapes.
    lid : bool
        Whether they go under a lid.

    Raises
    ------
    BadInput
        A shape is unknown or its file cannot be used.

    Examples
    --------
    >>> [c.name for c in candidates(["disk-20", "leaf-55"])]
    ['disk-20', 'leaf-55']
    >>> {"disk-5", "leaf-55"} & {c.name for c in candidates()}
    set()
    """
    if names:
        chosen = [find(name, folders) for name in names]
    else:
        chosen = [s for s in shapes(folders).values() if _unasked(s, lid=lid)]
    return [candidate(shape) for shape in chosen]


def candidate(shape: Shape) -> Candidate:
    """A shape as it may be chosen, with the bodies that it can have at its size.

    Raises
    ------
    BadInput, NotMakeable
        As `Shape.sized` and `Shape.piece`.

    Examples
    --------
    >>> candidate(find("pointed-tripod-63")).bodies
    ('solid',)
    """
    size = shape.sized()
    return Candidate(shape.name, size.piece(), shape.bodies_of(size))


def cone_seat(folders: Sequence[Path] = ()) -> Candidate:
    """The first shape of the library that holds pyrometric cones.

    Parameters
    ----------
    folders : sequence of Path
        Folders of the user's own shapes.

    Raises
    ------
    BadInput
        There is none, or its file cannot be used.

    Examples
    --------
    >>> cone_seat().bodies
    ('dry', 'solid')
    """
    for shape in shapes(folders).values():
        if CONES in shape.uses:
            return candidate(shape)
    right = f"add a shape whose uses name {CONES!r}"
    raise BadInput(Fault("shape", "none that holds cones", right))


def _unasked(shape: Shape, *, lid: bool) -> bool:
    return not shape.only_when_named and (lid or shape.uses != (LIDS,))
