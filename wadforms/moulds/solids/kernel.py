"""The only door to CadQuery and the kernel under it.

Importing CadQuery takes seconds and needs a system library that bare servers lack, so it is
imported here alone, when something solid is first asked for.
"""

from __future__ import annotations

import importlib
import re
from functools import cache
from typing import Any, Final

from wadforms.errors import KernelMissing

_REST_STILL_WORKS = "everything but moulds works without it"

_PACKAGES: Final = {
    "libGL.so.1": "libgl1 (Debian, Ubuntu), mesa-libGL (Fedora)",
    "libEGL.so.1": "libegl1 (Debian, Ubuntu), mesa-libEGL (Fedora)",
}
"""Packages that have the libraries which bare servers lack."""


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


@cache
def vtk(module: str) -> Any:
    """A module of VTK, which CadQuery brings, for pictures.

    Raises
    ------
    KernelMissing
        It cannot be imported; the message says what to install.
    """
    return _imported(f"vtkmodules.{module}")


def _imported(name: str) -> Any:
    try:
        return importlib.import_module(name)
    except ImportError as error:
        raise KernelMissing(advice(error)) from error


def advice(error: ImportError | OSError) -> str:
    """One sentence that says what to install, from what the loader said.

    Examples
    --------
    >>> advice(OSError("libEGL.so.1: cannot open shared object file")).partition(":")[0]
    'the modelling kernel needs the system library libEGL.so.1'
    """
    library = re.search(r"\blib[\w.+-]*\.so[.\d]*", str(error))
    if library is None:
        return (
            f"the modelling kernel cannot be loaded ({error}): "
            f"install it with 'pip install cadquery'; {_REST_STILL_WORKS}"
        )
    if packages := _PACKAGES.get(library[0]):
        return (
            f"the modelling kernel needs the system library {library[0]}: install {packages} "
            f"or whichever package of your system has {library[0]}; {_REST_STILL_WORKS}"
        )
    return (
        f"the modelling kernel needs the system library {library[0]}: install the package "
        f"of your system that has it; {_REST_STILL_WORKS}"
    )
