"""The families of shapes, one module each.

A module that defines a concrete `Family` is listed by that alone; nothing else has to know it.
"""

from __future__ import annotations

import importlib
import re
from functools import cache
from inspect import isabstract

from wadforms.errors import UnknownName
from wadforms.families.base import Family


@cache
def families() -> dict[str, type[Family]]:
    """Every family by its name, in alphabetical order."""
    import pkgutil

    found: dict[str, type[Family]] = {}
    for module in pkgutil.iter_modules(__path__):
        found.update(_defined(module.name))
    return dict(sorted(found.items()))


@cache
def known_family(name: str) -> type[Family] | None:
    """The family of that name, if there is one; imports no other.

    A family's module has its name, with underscores for hyphens.

    Examples
    --------
    >>> known_family("cone-seat").name
    'cone-seat'
    >>> known_family("disc") is None
    True
    """
    if not re.fullmatch(r"[a-z]+(-[a-z]+)*", name):
        return None
    module = name.replace("-", "_")
    try:
        return _defined(module).get(name)
    except ModuleNotFoundError as error:
        if error.name != f"{__name__}.{module}":
            raise
        return None


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
    found = known_family(name)
    if found is None:
        raise UnknownName("family", name, families())
    return found


def _defined(module: str) -> dict[str, type[Family]]:
    """The concrete families that a module of this package defines."""
    things = vars(importlib.import_module(f"{__name__}.{module}")).values()
    return {
        thing.name: thing
        for thing in things
        if isinstance(thing, type) and issubclass(thing, Family) and not isabstract(thing)
    }
