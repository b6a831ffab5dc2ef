"""The families of shapes, one module each.

A module that defines a concrete `Family` is listed by that alone; nothing else has to know it.
"""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache
from inspect import isabstract

from wadforms.errors import UnknownName
from wadforms.families.base import Family


@cache
def families() -> dict[str, type[Family]]:
    """Every family by its name, in alphabetical order."""
    found: dict[str, type[Family]] = {}
    for module in pkgutil.iter_modules(__path__):
        names = vars(importlib.import_module(f"{__name__}.{module.name}")).values()
        for thing in names:
            if isinstance(thing, type) and issubclass(thing, Family) and not isabstract(thing):
                found[thing.name] = thing
    return dict(sorted(found.items()))


def family(name: str) -> type[Family]:
    """The family of that name.

    Raises
    ------
    UnknownName
        There is none; the message offers the nearest.

    Examples
    --------
    >>> family("disk").summary[:14]
    'round and flat'
    """
    try:
        return families()[name]
    except KeyError:
        raise UnknownName("family", name, families()) from None
