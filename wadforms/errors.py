"""The errors of wadforms, as one tree.

::

    WadformsError
    ├── BadInput (ValueError)           what was given cannot be used
    │   └── UnknownName (LookupError)   a name that nothing here answers to
    ├── NotMakeable (ValueError)        this shape cannot be made that way
    ├── WouldOverwrite (FileExistsError)
    ├── KernelMissing (ImportError)     the solid-modelling kernel cannot be loaded
    └── ProofFailed (RuntimeError)      a file that we wrote did not read back as meant

Every message tells where the fault is, what was given and what would be right.  The command
line turns a `WadformsError` into its message on stderr; any other exception is a defect of ours.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple


class WadformsError(Exception):
    """Root of all errors that wadforms raises on purpose."""


class Fault(NamedTuple):
    """One thing that is wrong with what was given.

    Parameters
    ----------
    where : str
        File, row, column or parameter, as the user knows it.
    given : str
        What was found there.
    right : str
        What would be right, as a clause: ``"give a length of 4 to 150 mm"``.

    Examples
    --------
    >>> print(Fault("diameter", "2 mm", "give 4 mm to 150 mm"))
    diameter: 2 mm was given; give 4 mm to 150 mm
    """

    where: str
    given: str
    right: str

    def __str__(self) -> str:
        """The fault as one line."""
        return f"{self.where}: {self.given} was given; {self.right}"


def quoted(value: object, most: int = 60) -> str:
    """What was given, text in quotes; of a long one the beginning, so that a message stays short.

    Examples
    --------
    >>> quoted("heavy"), quoted("9" * 400, most=5), quoted(2.5)
    ("'heavy'", "'99999…'", '2.5')
    """
    if isinstance(value, str):
        return repr(value if len(value) <= most else value[:most] + "…")
    try:
        text = repr(value)
    except ValueError:  # Python writes out no whole number of thousands of digits
        return "a number of far too many digits"
    return text if len(text) <= most else text[:most] + "…"


class BadInput(WadformsError, ValueError):
    """What was given cannot be used; carries every fault that was found.

    Examples
    --------
    >>> raise BadInput(Fault("weight", "'heavy'", "give a mass such as '2.4 kg'"))
    Traceback (most recent call last):
    ...
    wadforms.errors.BadInput: weight: 'heavy' was given; give a mass such as '2.4 kg'
    """

    def __init__(self, *faults: Fault) -> None:
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))


class UnknownName(BadInput, LookupError):
    """A name that nothing answers to, with the nearest names that exist.

    Examples
    --------
    >>> print(UnknownName("shape", "disk-21", ["disk-20", "rail-80"]))
    shape: 'disk-21' was given; did you mean 'disk-20'?
    """

    def __init__(self, where: str, given: str, known: Iterable[str]) -> None:
        import difflib  # slow to load, and needed for a mistake only

        known = sorted(known)
        near = difflib.get_close_matches(given.lower(), known, n=3, cutoff=0.5)
        right = (
            "did you mean " + " or ".join(repr(name) for name in near) + "?"
            if near
            else "one of " + ", ".join(known)
        )
        super().__init__(Fault(where, quoted(given), right))


class NotMakeable(WadformsError, ValueError):
    """This shape cannot be made that way; the message says why and what can make it."""


class WouldOverwrite(WadformsError, FileExistsError):
    """A file is already there and nobody asked for it to be replaced.

    Examples
    --------
    >>> print(WouldOverwrite(Path("tray.stl")))
    tray.stl: is already there; give another name or add --force to replace it
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(
            f"{path}: is already there; give another name or add --force to replace it"
        )

    def __str__(self) -> str:
        """The message (`OSError` would print its arguments as a tuple)."""
        return str(self.args[0])


class KernelMissing(WadformsError, ImportError):
    """The solid-modelling kernel cannot be loaded; the message says what to install."""


class ProofFailed(WadformsError, RuntimeError):
    """A file did not read back as what was meant, so it was not kept."""
