"""The only door to CadQuery and the kernel under it.

Importing CadQuery takes seconds and needs a system library that bare servers lack, so it is
imported here alone, when something solid is first asked for.
"""

from __future__ import annotations

import importlib
import re
from functools import cache
from typing import Any

from wadforms.errors import KernelMissing

_REST_STILL_WORKS = "everything but moulds works without it"


@cache
def cadquery() -> Any:
    """The `cadquery` package.

    Raises
    ------
    KernelMissing
        It cannot be imported; the message says what to install.
    """
    return _imported("cadquery")


@cache
def ocp(module: str) -> Any:
    """A module of OCP, the kernel's own binding, for what CadQuery does not wrap.

    Raises
    ------
    KernelMissing
        It cannot be imported; the message says what to install.
    """
    return _imported(f"OCP.{module}")


def _imported(name: str) -> Any:
    try:
        return importlib.import_module(name)
    except ImportError as error:
        raise KernelMissing(_advice(error)) from error


def _advice(error: ImportError) -> str:
    """One sentence that says what to install."""
    library = re.search(r"\blib[\w.+-]*\.so[.\d]*", str(error))
    if library is None:
        return (
            f"the modelling kernel cannot be loaded ({error}): "
            f"install it with 'pip install cadquery'; {_REST_STILL_WORKS}"
        )
    if library[0].startswith("libGL.so"):
        return (
            "the modelling kernel needs the system library libGL.so.1: install libgl1 "
            "(Debian, Ubuntu), mesa-libGL (Fedora) or whichever package of your system has "
            f"libGL.so.1; {_REST_STILL_WORKS}"
        )
    return (
        f"the modelling kernel needs the system library {library[0]}: install the package "
        f"of your system that has it; {_REST_STILL_WORKS}"
    )
