"""Reads the foot of a row of a firing list."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path, PureWindowsPath

from wadforms.errors import BadInput, Fault
from wadforms.firing.list_columns import FOOT, FOOT_KINDS, FOOT_NEEDS
from wadforms.firing.tables import Line
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.setting.feet import FlatFoot, Foot, OutlineFoot, RingFoot, RoundFoot, SideFoot

_COLUMN_OF = {"foot diameter": "foot", "foot width": "foot width", "foot outline": "foot outline"}


@dataclass(slots=True)
class Drawings:
    """The drawings beside a list, each read once.

    Parameters
    ----------
    folder : Path or None
        Where the list is; None where it is no file, and nothing is beside it.
    notes : list of str
        What had to be assumed in reading them.
    """

    folder: Path | None
    notes: list[str] = field(default_factory=list)
    _read: dict[str, Outline | BadInput] = field(default_factory=dict)

    def outline(self, name: str) -> Outline:
        """The outline of a drawing.

        Raises
        ------
        BadInput
            It lies elsewhere, or cannot be used.
        """
        if name not in self._read:
            try:
                self._read[name] = self._outline(name)
            except BadInput as error:
                self._read[name] = error
        found = self._read[name]
        if isinstance(found, BadInput):
            raise found
        return found

    def _outline(self, name: str) -> Outline:
        from wadforms.catalogue.outlines import read_drawn

        drawn = read_drawn(self._beside(name))
        self.notes += [f"{name}: {note}" for note in drawn.notes]
        return drawn.outline

    def _beside(self, name: str) -> Path:
        """The file of that name, which a list from elsewhere may not choose freely."""
        right = "give the name of a drawing in the list's own folder"
        refused = BadInput(Fault("", repr(name), right))
        # A list may have been filled in on any system: a drive, a root and '..' are told alike.
        path = PureWindowsPath(name)
        if self.folder is None or path.drive or path.root or ".." in path.parts:
            raise refused
        try:
            home = self.folder.resolve()
            file = home.joinpath(*path.parts).resolve()
        except (OSError, ValueError, RuntimeError):  # links in a circle, a null character
            raise refused from None
        if home not in file.parents:
            raise refused
        return file


def read_foot(line: Line, drawings: Drawings) -> Foot | None:
    """The foot of a row; None where something is wrong with it, which the row then tells.

    Parameters
    ----------
    line : Line
        The row.
    drawings : Drawings
        What is beside the list.
    """
    kind = line.one_of("foot kind", FOOT_KINDS)
    across, width = line.quantity("foot"), line.quantity("foot width")
    drawing = line.text("foot outline")
    if kind is None:
        if line.filled("foot kind"):
            return None
        ringed = line.filled("foot width")
        kind = "outline" if line.filled("foot outline") else "ring" if ringed else "flat"
    for column in FOOT[1:]:
        if line.filled(column) and column not in FOOT_NEEDS[kind]:
            named = f"{'an' if kind == 'outline' else 'a'} {kind} foot"
            line.fault(column, f"leave it empty: {named} has no use for it")
    for column in FOOT_NEEDS[kind]:
        line.need(column)
    try:
        return _foot(kind, across, width, drawing, drawings)
    except BadInput as error:
        _tell(line, error)
        return None


def _foot(
    kind: str, across: float | None, width: float | None, drawing: str | None, drawings: Drawings
) -> Foot | None:
    if kind == "outline":
        return None if drawing is None else OutlineFoot(drawings.outline(drawing))
    if across is None:
        return None
    if kind == "ring":
        return None if width is None else RingFoot(across, width)
    if kind == "square":
        half = across / 2
        corners = [(-half, -half), (half, -half), (half, half), (-half, half)]
        return OutlineFoot(Outline(Contour.polygon(corners)))
    if kind == "flat":
        return FlatFoot(across)
    return RoundFoot(across) if kind == "round" else SideFoot(across)


def _tell(line: Line, error: BadInput) -> None:
    """Tell a fault of a foot at the cell that it comes from."""
    for fault in error.faults:
        column = _COLUMN_OF.get(fault.where)
        if column is not None:
            line.fault(column, fault.right)
        else:  # in the drawing
            place = f", {fault.where}" if fault.where else ""
            line.faults.append(
                Fault(f"{line.where}, foot outline{place}", fault.given, fault.right)
            )
