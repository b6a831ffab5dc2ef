"""A named shape, read from its file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.catalogue.folders import own_folder, user_folders
from wadforms.errors import BadInput, Fault, UnknownName, quoted
from wadforms.families import families, family, known_family
from wadforms.families.base import BODIES, Family, Piece
from wadforms.files import is_file, read_toml

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    from wadforms.geometry.outline import Outline

KEYS: Final = (
    "family",
    "summary",
    "bodies",
    "uses",
    "only_when_named",
    "source",
    "note",
    "parameters",
)
"""What a shape's file may hold."""

NAME: Final = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
"""What a shape may be called."""


class Shape(NamedTuple):
    """A named, sized wad: a family and the values of its parameters.

    Parameters
    ----------
    name, family, summary : str
        Its name, the name of its family, and what it is in one line.
    values : mapping
        What the file gives, as it stands there; the rest keeps the family's defaults.
    bodies : tuple of str
        How it may be set: wet, dry, solid.
    uses : tuple of str
        What it is good for, in a word or two each.
    only_when_named : bool
        Whether it is never chosen unasked: for its mark, or because it is for no pot.
    source, note : str
        Where its sizes come from, and what else is worth knowing.
    file : str
        The file it was read from; empty for a family by itself.
    folder : Traversable or None
        What the paths of its outlines start from.
    """

    name: str
    family: str
    summary: str
    values: Mapping[str, Any]
    bodies: tuple[str, ...] = BODIES
    uses: tuple[str, ...] = ()
    only_when_named: bool = False
    source: str = ""
    note: str = ""
    file: str = ""
    folder: Traversable | None = None

    def sized(self, overrides: Mapping[str, object] | None = None) -> Family:
        """The family at this size, with some values changed.

        Parameters
        ----------
        overrides : mapping, optional
            Parameter to value: text with a unit, or a number in the declared unit.  An outline
            is the path of its file.

        Raises
        ------
        BadInput
            A value cannot be used, or an outline cannot be read.

        Examples
        --------
        >>> find("disk-20").sized({"height": "1/2 in"}).piece().height
        12.7
        """
        changed = dict(overrides or {})
        values = {**self.values, **changed}
        kind, where = family(self.family), "" if changed else self.file
        paths = {
            p.name: str(values[p.name])
            for p in kind.parameters()
            if p.unit == "outline" and isinstance(values.get(p.name), str | Path)
        }
        if not paths:
            return kind.sized(values, where)

        def read(finer: float) -> dict[str, object]:
            return {n: self._outline(p, n in changed, finer) for n, p in paths.items()}

        size = kind.sized({**values, **read(1.0)}, where)
        if size.enlarged > 1.001:  # its curves are read anew, close enough for that size
            size = kind.sized({**values, **read(size.enlarged)}, where)
        return size

    def piece(self, overrides: Mapping[str, object] | None = None) -> Piece:
        """The piece of this size; see `sized`.

        Raises
        ------
        BadInput
            As `sized`.
        NotMakeable
            An outline does not allow the draft or the rounding.
        """
        return self.sized(overrides).piece()

    def bodies_of(self, size: Family) -> tuple[str, ...]:
        """How it may be set at a size: some sizes can be solid only.

        Examples
        --------
        >>> stand = find("stand")
        >>> stand.bodies_of(stand.sized({"top": "pointed"}))
        ('solid',)
        """
        return tuple(b for b in self.bodies if b in size.allowed_bodies) or size.allowed_bodies

    def _outline(self, path: str, named: bool, finer: float) -> Outline:
        from wadforms.catalogue.outlines import read_outline

        file = Path(path) if named or not self.folder else _within(self.folder, path)
        return read_outline(file, finer=finer)


def shapes(folders: Sequence[Path] = ()) -> dict[str, Shape]:
    """All shapes by name: ours and those of the user's folders; numbers in names count.

    Parameters
    ----------
    folders : sequence of Path
        Folders of the user's own, besides those that `user_folders` finds.

    Raises
    ------
    BadInput
        With every fault of every file.

    Examples
    --------
    >>> found = shapes()
    >>> len(found) >= 24, found["disk-20"].family
    (True, 'disk')
    """
    own, wrong = _own()
    found, faults = dict(own), list(wrong)
    for folder in user_folders(folders):
        read, wrong = _read_folder(folder)
        faults += wrong
        for name, shape in read.items():
            if name in found:
                faults.append(_clash(name, shape.file, found[name].file))
            found[name] = shape
    if faults:
        raise BadInput(*faults)
    return dict(sorted(found.items(), key=lambda item: _natural(item[0])))


def find(name: str, folders: Sequence[Path] = ()) -> Shape:
    """The shape of that name, or a family by itself at its default size.

    Reads no other file, so that one file's fault does not stand in another's way.

    Raises
    ------
    UnknownName
        Nothing has that name; the message offers the nearest.
    BadInput
        Its file cannot be used, or two files have that name.

    Examples
    --------
    >>> find("tripod").values
    {}
    >>> find("flowr-46")
    Traceback (most recent call last):
    ...
    wadforms.errors.UnknownName: shape: 'flowr-46' was given; did you mean 'flower-46'?
    """
    kind = known_family(name)
    if kind is not None:
        return Shape(name, name, kind.summary, {}, kind.bodies)
    everywhere = (own_folder(), *user_folders(folders))
    if NAME.fullmatch(name):
        found = _named(name, everywhere)
        if len(found) > 1:
            raise BadInput(_clash(name, str(found[1][1]), str(found[0][1])))
        if found:
            folder, file = found[0]
            return _read_shape(file, folder)
    files = (file for folder in everywhere for file in _files(folder))
    known = [file.name.removesuffix(".toml") for file in files]
    raise UnknownName("shape", name, (*known, *families()))


def named(name: str, folders: Sequence[Path] = ()) -> tuple[str, ...]:
    """The files of shapes of that name: ours, and those of the user's folders.

    Parameters
    ----------
    name : str
        Of a shape.
    folders : sequence of Path
        Folders of the user's own, besides those that `user_folders` finds.

    Examples
    --------
    >>> len(named("disk-20")), named("disk-21")
    (1, ())
    """
    everywhere = (own_folder(), *user_folders(folders))
    return tuple(str(file) for _, file in _named(name, everywhere))


def _named(name: str, folders: Sequence[Traversable]) -> list[tuple[Traversable, Traversable]]:
    """The folders that have a shape of that name, each with the shape's file."""
    places = [(f, f.joinpath(f"{name}.toml")) for f in folders]
    return [(folder, file) for folder, file in places if is_file(file)]


@cache
def _own() -> tuple[dict[str, Shape], list[Fault]]:
    """Our own shapes, which do not change while we run; the user's may, beside the page."""
    return _read_folder(own_folder())


def _read_folder(folder: Traversable) -> tuple[dict[str, Shape], list[Fault]]:
    """The shapes of a folder, and all faults of its files."""
    found: dict[str, Shape] = {}
    faults: list[Fault] = []
    for file in _files(folder):
        name = file.name.removesuffix(".toml")
        faults += _wrong_name(name, file)
        try:
            found[name] = _read_shape(file, folder)
        except BadInput as error:
            faults += error.faults
    return found, faults


def _files(folder: Traversable) -> list[Traversable]:
    """The files of shapes in a folder, by name."""
    try:
        files = [f for f in folder.iterdir() if f.name.endswith(".toml") and is_file(f)]
    except OSError:
        right = "make it a folder that you may read"
        raise BadInput(Fault(str(folder), "a folder that cannot be read", right)) from None
    return sorted(files, key=lambda file: file.name)


def _clash(name: str, file: str, other: str) -> Fault:
    return Fault(file, f"the name {name!r}", f"give it another name: {other} has this one")


def _read_shape(file: Traversable, folder: Traversable) -> Shape:
    name = file.name.removesuffix(".toml")
    data = read_toml(file, "a shape")
    faults = list(_wrong_keys(data, str(file)))
    if faults:
        raise BadInput(*faults)
    values = data.get("parameters", {})
    kind = family(data["family"])
    paths, others = _split(kind, values)
    wrong_paths = [f for key, path in paths.items() for f in _wrong_path(path, folder, file, key)]
    try:
        size = kind.sized({**others, **dict.fromkeys(paths, _any_outline())}, str(file))
    except BadInput as error:
        raise BadInput(*wrong_paths, *error.faults) from None
    allowed = size.allowed_bodies
    bodies = tuple(data.get("bodies", allowed))
    if not set(bodies) <= set(allowed):
        right = f"this {data['family']} can be set {' or '.join(allowed)}"
        wrong_paths.append(Fault(f"{file}: bodies", quoted(list(bodies)), right))
    if wrong_paths:
        raise BadInput(*wrong_paths)
    return Shape(
        name=name,
        family=data["family"],
        summary=data["summary"],
        values=values,
        bodies=bodies,
        uses=tuple(data.get("uses", ())),
        only_when_named=data.get("only_when_named", False),
        source=data.get("source", ""),
        note=data.get("note", ""),
        file=str(file),
        folder=folder,
    )


def _wrong_name(name: str, file: Traversable) -> Iterator[Fault]:
    if not NAME.fullmatch(name):
        right = "name the file in small letters, digits and single hyphens, such as disk-20.toml"
        yield Fault(str(file), f"the name {name!r}", right)
    elif known_family(name) is not None:
        yield Fault(str(file), f"the name {name!r}", "give it another name: a family has this one")


def _wrong_keys(data: Mapping[str, Any], file: str) -> Iterator[Fault]:
    for key in data:
        if key not in KEYS:
            yield from UnknownName(f"{file}: key", key, KEYS).faults
    for key in ("family", "summary"):
        if key not in data:
            yield Fault(file, f"no {key}", f"add {key} = ...")
    for key in ("family", "summary", "source", "note"):
        value = data.get(key, "text")
        if not isinstance(value, str) or not value.strip():
            yield Fault(f"{file}: {key}", quoted(value), "give text in quotes")
        elif key == "family" and key in data and known_family(value) is None:
            yield from UnknownName(f"{file}: family", value, families()).faults
    for key in ("bodies", "uses"):
        value = data.get(key, ["text"])
        if not isinstance(value, list) or not value or not all(isinstance(v, str) for v in value):
            yield Fault(f"{file}: {key}", quoted(value), "give a list such as ['dry', 'solid']")
        elif key == "bodies" and key in data:
            for body in value:
                if body not in BODIES:
                    yield from UnknownName(f"{file}: bodies", body, BODIES).faults
    if not isinstance(data.get("only_when_named", False), bool):
        yield Fault(
            f"{file}: only_when_named", quoted(data["only_when_named"]), "give true or false"
        )
    if not isinstance(data.get("parameters", {}), dict):
        yield Fault(f"{file}: parameters", quoted(data["parameters"]), "make a table [parameters]")


def _split(
    kind: type[Family], values: Mapping[str, Any]
) -> tuple[dict[str, str], dict[str, object]]:
    """The paths of outlines, and all other values."""
    outlines = {p.name for p in kind.parameters() if p.unit == "outline"}
    paths = {k: v for k, v in values.items() if k in outlines and isinstance(v, str)}
    return paths, {k: v for k, v in values.items() if k not in paths}


def _wrong_path(path: str, folder: Traversable, file: Traversable, key: str) -> Iterator[Fault]:
    parts = path.split("/")
    inside = all(part not in ("", ".", "..") for part in parts) and not re.search(r"[\\:]", path)
    if not inside:
        right = "give a file in the shape's own folder, such as 'outlines/leaf.svg'"
        yield Fault(f"{file}: {key}", quoted(path), right)
    elif not is_file(_within(folder, path)):
        yield Fault(f"{file}: {key}", quoted(path), f"there is no such file in {folder}")


def _within(folder: Traversable, path: str) -> Traversable:
    return folder.joinpath(*path.split("/"))


@cache
def _any_outline() -> Outline:
    """What stands in for an outline that need not be read to check the other values."""
    from wadforms.geometry.outline import Outline

    return Outline.circle(10.0)


def _natural(name: str) -> list[tuple[int, str]]:
    """A key by which disk-5 comes before disk-10."""
    return [(int(p), "") if p.isdecimal() else (-1, p) for p in re.split(r"(\d+)", name) if p]
