"""Reads files that others made, and writes ours: whole or not at all, never over another unasked.

What is read may be anything: too long, endless, a device, no text.  It is refused in plain words
before it takes memory or time.
"""

from __future__ import annotations

import contextlib
import errno
import os
import stat
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from wadforms.errors import BadInput, Fault, WadformsError, WouldOverwrite

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

LARGEST_TOML: Final = 100_000
"""Largest TOML file that is read [bytes]."""

_MOST_STOPS: Final = 200  # full stops in a line; keys of more parts take minutes to read
_DEEPEST: Final = 10  # tables within tables; ours have three
_LARGEST_WHOLE: Final = 2**63 - 1  # what TOML 1.0 asks a reader to hold
_SPECIAL: Final = "a device or a pipe"

_PLAIN: Final = {
    errno.ENOENT: "a file that is not there",
    errno.ENOTDIR: "a file that is not there",
    errno.EISDIR: "a folder",
    errno.EACCES: "a file that you may not open",
    errno.EPERM: "a file that you may not open",
    errno.ENAMETOOLONG: "a name that is too long",
    errno.ELOOP: "a link that leads back to itself",
}
"""What the system's reasons for not opening a file mean."""


def is_folder(path: Path) -> bool:
    """Whether a folder is there, for a name of any length.

    Examples
    --------
    >>> is_folder(Path("a" * 5000))
    False
    """
    try:
        return path.is_dir()
    except (OSError, ValueError):
        return False


def is_file(file: Traversable) -> bool:
    """Whether a file is there, for a name of any length.

    Examples
    --------
    >>> is_file(Path("a" * 5000))
    False
    """
    try:
        return file.is_file()
    except (OSError, ValueError):
        return False


def read_at_most(file: Traversable, limit: int, what: str) -> bytes:
    """The bytes of a regular file, of a larger one the first `limit` + 1.

    Parameters
    ----------
    file : Path or Traversable
        The file.
    limit : int
        As many bytes are of use; one more tells that there are too many.
    what : str
        What it should hold, for the message: ``"a drawing"``.

    Raises
    ------
    BadInput
        It cannot be read, or it is a device or a pipe, which may never end.

    Examples
    --------
    >>> read_at_most(Path("nothing.svg"), 100, "a drawing")
    Traceback (most recent call last):
    ...
    wadforms.errors.BadInput: nothing.svg: a file that is not there was given; give a drawing \
that can be read
    """
    try:
        mode = file.stat().st_mode if isinstance(file, Path) else stat.S_IFREG
        if stat.S_ISREG(mode):
            with file.open("rb") as stream:
                return stream.read(limit + 1)
        given = "a folder" if stat.S_ISDIR(mode) else _SPECIAL
    except OSError as error:
        given = _PLAIN.get(error.errno or 0, f"a file that cannot be read ({error.strerror})")
    except ValueError:  # a null character
        given = "a name that no file can have"
    raise BadInput(Fault(shortened(file), given, f"give {what} that can be read")) from None


def read_toml(file: Traversable, what: str) -> dict[str, Any]:
    """The tables of a TOML file; see `read_at_most` and `parse_toml`.

    Raises
    ------
    BadInput
        It cannot be read, or is no such file.
    """
    return parse_toml(read_at_most(file, LARGEST_TOML, what), shortened(file), what)


def parse_toml(data: bytes, where: str, what: str) -> dict[str, Any]:
    r"""The tables of a TOML file's bytes.

    Parameters
    ----------
    data : bytes
        UTF-8, with or without its mark at the start.
    where, what : str
        The file, and what it should hold, for messages.

    Raises
    ------
    BadInput
        It is too large, nested too deep, no TOML, or holds a whole number beyond 64 bits.

    Examples
    --------
    >>> parse_toml(b"[parameters]\ndiameter = 20", "disk-20.toml", "a shape")
    {'parameters': {'diameter': 20}}
    """
    import tomllib  # the start goes without it

    if len(data) > LARGEST_TOML:
        right = f"{what} takes less than {LARGEST_TOML // 1000} kB"
        raise BadInput(Fault(where, f"a file of more than {LARGEST_TOML} bytes", right))
    if any(line.count(b".") > _MOST_STOPS for line in data.split(b"\n")):
        right = f"give a line at most {_MOST_STOPS}"
        raise BadInput(Fault(where, "a line of very many full stops", right))
    try:
        found = tomllib.loads(data.decode("utf-8-sig"))
        why = _beyond(found)
    except UnicodeDecodeError:
        raise BadInput(Fault(where, "text that is not UTF-8", "save it as UTF-8")) from None
    except tomllib.TOMLDecodeError as error:
        why = str(error)
    except RecursionError:
        why = "nested too deep"
    except ValueError:  # of a number that Python will not read
        why = "a number has too many digits"
    if why:
        raise BadInput(Fault(where, "text that is not TOML", f"mend it ({why})"))
    return found


def _beyond(found: dict[str, Any]) -> str | None:
    """What goes beyond what any file of ours holds; no recursion, for it may be nested so."""
    waiting: list[tuple[Any, int]] = [(found, 0)]
    while waiting:
        value, depth = waiting.pop()
        if depth > _DEEPEST:
            return "nested too deep"
        if isinstance(value, int) and abs(value) > _LARGEST_WHOLE:
            return "a number has too many digits"
        if isinstance(value, dict | list):
            parts = value.values() if isinstance(value, dict) else value
            waiting += [(part, depth + 1) for part in parts]
    return None


def write_whole(
    path: Path, data: bytes, *, force: bool, prove: Callable[[Path], None] | None = None
) -> None:
    """Write `data` to `path`; whoever looks sees the old file or the whole new one.

    The bytes go to a neighbour in the same folder first, which then takes the name in one step.
    Where the name is a link, the file that it leads to is replaced, and the link stays.

    Parameters
    ----------
    path : Path
        Where to.
    data : bytes
        All of the file.
    force : bool
        Whether a file that is already there is replaced.
    prove : callable, optional
        Reads the finished neighbour before it takes the name; if it raises, nothing is kept.

    Raises
    ------
    WouldOverwrite
        A file is there, or comes there meanwhile, and `force` is not given.
    BadInput
        The folder is missing or cannot be written, or `path` is itself a folder.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     target = Path(folder, "note.txt")
    ...     write_whole(target, b"three wads", force=False)
    ...     target.read_bytes()
    b'three wads'
    """
    refuse_place(path, force=force)
    target = Path(os.path.realpath(path)) if force else path
    # The name is cut, so that what is added does not make a long one too long.
    beside = target.with_name(f".{target.name[:40]}.{os.getpid()}.part")
    try:
        # Not tempfile: that would hide the finished file from everybody but its owner.
        with beside.open("xb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        if prove is not None:
            prove(beside)
        if force:
            beside.replace(target)
        else:
            _take_free_name(beside, target)
    except WadformsError:
        raise
    except OSError as error:
        raise _unwritable(path, error) from error
    finally:
        with contextlib.suppress(OSError):
            beside.unlink(missing_ok=True)


def write_all(
    contents: Mapping[Path, bytes],
    *,
    force: bool,
    prove: Callable[[Path, bytes], None] | None = None,
) -> None:
    """Write several files, all of them or none.

    Should one fail, those that were not there before are taken back, and those that were
    replaced are as they were.

    Parameters
    ----------
    contents : mapping of Path to bytes
        What goes where.
    force : bool
        Whether files that are already there are replaced.
    prove : callable, optional
        Takes each finished file and what it should hold, before it has its name; see
        `write_whole`.

    Raises
    ------
    WouldOverwrite, BadInput
        As for `write_whole`.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     Path(folder, "b.txt").write_bytes(b"old") and None
    ...     try:
    ...         write_all({Path(folder, f"{c}.txt"): b"new" for c in "ab"}, force=False)
    ...     except WouldOverwrite:
    ...         [path.name for path in Path(folder).iterdir()]
    ['b.txt']
    """
    for path in contents:
        refuse_place(path, force=force)
    before = {path: path.read_bytes() for path in contents if path.exists()}
    written: list[Path] = []
    try:
        for path, data in contents.items():
            write_whole(path, data, force=force, prove=prove and partial(_shown, prove, data))
            written.append(path)
    except BaseException:
        for path in written:
            if path in before:
                write_whole(path, before[path], force=True)
            else:
                path.unlink(missing_ok=True)
        raise


def _shown(prove: Callable[[Path, bytes], None], data: bytes, file: Path) -> None:
    prove(file, data)


def refuse_place(path: Path, *, force: bool) -> None:
    """Refuse a place where `write_whole` would refuse to write, before any work is done for it.

    Raises
    ------
    WouldOverwrite
        A file or a link is there and `force` is not given.
    BadInput
        It is a folder, a device or a pipe, its folder is missing, or its name is too long.
    """
    try:
        if path.is_dir():
            raise BadInput(Fault(shortened(path), "a folder", "give the name of a file"))
        if not path.parent.is_dir():
            folder = shortened(path.parent)
            if os.path.lexists(path.parent):
                given, right = f"a name inside {folder}", "give one in a folder"
            else:
                given, right = f"the folder {folder}, which is not there,", "make it first"
            raise BadInput(Fault(shortened(path), given, right))
        if path.exists() and not path.is_file():
            raise BadInput(Fault(shortened(path), _SPECIAL, "give the name of a file"))
    except OSError as error:
        raise _unwritable(path, error) from None
    # A link that leads nowhere is there too.
    if os.path.lexists(path) and not force:
        raise WouldOverwrite(path)


def _take_free_name(beside: Path, target: Path) -> None:
    """Give a finished file its name, which nobody else may have taken meanwhile."""
    try:
        try:
            os.link(beside, target)
        except FileExistsError:
            raise
        except (OSError, NotImplementedError):  # a memory card, a network folder: no links there
            target.open("xb").close()
            beside.replace(target)
    except FileExistsError:
        raise WouldOverwrite(target) from None


def _unwritable(path: Path, error: OSError) -> BadInput:
    if error.errno == errno.ENAMETOOLONG:
        return BadInput(Fault(shortened(path), _PLAIN[error.errno], "give a shorter one"))
    why = error.strerror or type(error).__name__
    given = f"a place that cannot be written ({why})"
    return BadInput(Fault(shortened(path), given, "give another one"))


def shortened(file: Traversable | str) -> str:
    """A file's path for a message, of a very long one the beginning.

    Examples
    --------
    >>> shortened("wads/leaf.svg"), len(shortened("a" * 5000))
    ('wads/leaf.svg', 61)
    """
    text = str(file)
    return text if len(text) <= 200 else text[:60] + "…"
