"""All shapes of a library on one sheet, at one scale, grouped by family."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from wadforms.errors import BadInput, Fault
from wadforms.families.base import Piece
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.templates import look
from wadforms.templates.drawing import Circle, Drawing, Item, Lines, Region, Style, Text
from wadforms.templates.pieces import plan
from wadforms.templates.scale import chosen_scale, scale_bar, scale_words
from wadforms.templates.words import measure, plan_size, shortened

_WIDTH: Final = 297.0  # of the sheet: A4 across, or A3 upright [mm]
_MARGIN: Final = 14.0
_INNER: Final = _WIDTH - 2 * _MARGIN
_GAP: Final = 6.0  # between two pieces
_BLOCK_GAP: Final = 12.0  # between two families
_HEADING: Final = 12.0  # height of a family's heading with the space under it
_LABEL: Final = 12.0  # height of a piece's two lines of text with the space around them
_LARGEST: Final = 0.36  # share of the width that the largest piece may take
_ROW_GAP: Final = 5.0
_HEAD: Final = 20.0
_KEY: Final = 14.0
_TALLEST: Final = 420.0  # A3 upright, ISO 216
_LEAST_SCALE: Final = 0.2  # below it small pieces are mere dots; rather a longer sheet


@dataclass(frozen=True, slots=True)
class Specimen:
    """One shape of a library: its name, its family's name, and the piece at set size."""

    name: str
    family: str
    piece: Piece

    @property
    def words(self) -> tuple[str, str]:
        """Name and size, as they stand under the piece."""
        return self.name, f"{plan_size(self.piece.outline)} × {measure(self.piece.height)}"


@dataclass(frozen=True, slots=True)
class _Cell:
    """A specimen with the room it takes on the sheet [mm]."""

    specimen: Specimen
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class _Block:
    """A family: its cells in lines that are no wider than the sheet."""

    family: str
    lines: tuple[tuple[_Cell, ...], ...]

    @property
    def width(self) -> float:
        return max(_extent([c.width for c in line], _GAP) for line in self.lines)

    @property
    def height(self) -> float:
        return _HEADING + sum(max(c.height for c in line) + _LABEL for line in self.lines)


def library_picture(specimens: Sequence[Specimen], *, title: str = "Wad shapes") -> Drawing:
    """A sheet that shows every shape in plan at one common scale.

    Families stand in alphabetical order as far as that leaves no gaps, each from its smallest
    piece to its largest.

    Parameters
    ----------
    specimens : sequence of Specimen
        What to show.
    title : str
        Heading of the sheet.

    Raises
    ------
    BadInput
        There is nothing to show.

    Examples
    --------
    >>> from wadforms.families import family
    >>> disks = [Specimen(f"disk-{d}", "disk", family("disk")(diameter=d).piece())
    ...          for d in (10, 20, 40)]
    >>> library_picture(disks).width
    297.0
    """
    if not specimens:
        raise BadInput(Fault("shapes", "an empty library", "give one shape or more to draw"))
    ordered = sorted(specimens, key=lambda s: (s.family, s.piece.outline.area, s.name))
    scale, rows = _laid_out(ordered)
    height = _sheet_height(rows)
    top = height - _MARGIN
    items: list[Item] = [
        Text((_MARGIN, top - 5.0), shortened(title, look.TITLE, 180.0), look.TITLE),
        Text(
            (_MARGIN, top - 11.5),
            f"{len(specimens)} shapes from above, {scale_words(scale)}; sizes are set sizes in mm, "
            "with the height last",
            look.NOTE,
        ),
    ]
    top -= _HEAD
    for row in rows:
        items += _drawn_row(row, top, scale)
        top -= _row_height(row)
    items += _key(scale)
    return Drawing(
        title=title,
        description=f"{len(specimens)} shapes from above, {scale_words(scale)}: "
        + ", ".join(s.name for s in ordered)
        + ".",
        width=_WIDTH,
        height=height,
        items=tuple(items),
    )


def _laid_out(ordered: list[Specimen]) -> tuple[float, list[list[_Block]]]:
    """The scale, and the families in rows: as large as an A3 sheet holds, if they can be."""
    largest = max(max(s.piece.body.base.size) for s in ordered)
    room = _LARGEST * _INNER
    while True:
        scale = chosen_scale(largest, room)
        blocks = [
            _Block(family, _wrapped([_cell(s, scale) for s in members]))
            for family, members in groupby(ordered, key=lambda s: s.family)
        ]
        rows = _rows(blocks)
        if _sheet_height(rows) <= _TALLEST or scale <= _LEAST_SCALE:
            return scale, rows
        room = 0.99 * scale * largest  # the next smaller scale


def _row_height(row: list[_Block]) -> float:
    return max(block.height for block in row) + _ROW_GAP


def _sheet_height(rows: list[list[_Block]]) -> float:
    return 2 * _MARGIN + _HEAD + sum(map(_row_height, rows)) + _KEY


def _extent(widths: Sequence[float], gap: float) -> float:
    return sum(widths) + gap * (len(widths) - 1)


def _cell(specimen: Specimen, scale: float) -> _Cell:
    width, height = (scale * size for size in specimen.piece.body.base.size)
    text = max(look.SMALL.width(word) for word in specimen.words)
    return _Cell(specimen, max(width, min(text, 60.0)), height)


def _wrapped(cells: list[_Cell]) -> tuple[tuple[_Cell, ...], ...]:
    """The cells in as few lines as hold them, and those of about the same length."""
    total = _extent([c.width for c in cells], _GAP)
    lines = _greedy(cells, _INNER)
    for share in (1.0, 1.1, 1.2, 1.3):
        even = _greedy(cells, min(_INNER, share * total / len(lines)))
        if len(even) == len(lines):
            return even
    return lines


def _greedy(cells: list[_Cell], room: float) -> tuple[tuple[_Cell, ...], ...]:
    lines: list[tuple[_Cell, ...]] = []
    for cell in cells:
        if lines and _extent([c.width for c in (*lines[-1], cell)], _GAP) <= room:
            lines[-1] = (*lines[-1], cell)
        else:
            lines.append((cell,))
    return tuple(lines)


def _rows(blocks: list[_Block]) -> list[list[_Block]]:
    """The families in rows, each in the first row that has room for it."""
    rows: list[list[_Block]] = []
    for block in blocks:
        for row in rows:
            if _extent([b.width for b in (*row, block)], _BLOCK_GAP) <= _INNER:
                row.append(block)
                break
        else:
            rows.append([block])
    return rows


def _drawn_row(row: list[_Block], top: float, scale: float) -> Iterator[Item]:
    """Yield families side by side, spread so that they end at the right margin."""
    spare = _INNER - _extent([block.width for block in row], _BLOCK_GAP)
    total = sum(block.width for block in row)
    x = _MARGIN
    for block in row:
        width = block.width + spare * block.width / total
        yield Lines((((x, top), (x + width, top)),), look.RULE)
        yield Text((x, top - 5.2), block.family, look.HEADING)
        y = top - _HEADING
        for line in block.lines:
            tallest = max(cell.height for cell in line)
            yield from _drawn_line(line, x, y, width, tallest, scale)
            y -= tallest + _LABEL
        x += width + _BLOCK_GAP


def _drawn_line(
    line: tuple[_Cell, ...], x: float, y: float, width: float, tallest: float, scale: float
) -> Iterator[Item]:
    """Yield pieces side by side on one level, each over its name and size."""
    natural = _extent([cell.width for cell in line], _GAP)
    gap = _GAP + min(10.0, (width - natural) / len(line))
    for cell in line:
        middle = x + cell.width / 2
        yield from plan(cell.specimen.piece, (middle, y - tallest + cell.height / 2), scale)
        name, size = (shortened(w, look.SMALL, cell.width + 1.0) for w in cell.specimen.words)
        yield Text((middle, y - tallest - 4.6), name, look.SMALL, "middle")
        yield Text((middle, y - tallest - 8.4), size, look.SMALL_NOTE, "middle")
        x += cell.width + gap


def _key(scale: float) -> Iterator[Item]:
    """Yield the scale bar and what the shades mean."""
    y = _MARGIN
    yield from scale_bar((_MARGIN, y), scale)
    x = _MARGIN + 92.0
    entries: tuple[tuple[str, Style | None], ...] = (
        ("bears the pot", look.BEARING),
        ("does not bear", look.PLAIN),
        ("base, wider by the draft", look.BASE),
        ("pocket or slot", look.POCKET),
        ("tip", None),
    )
    for word, style in entries:
        if style is None:
            yield Circle((x + 2.2, y + 0.8), 0.8, look.SOLID)
        else:
            box = [(x, y - 0.7), (x + 4.4, y - 0.7), (x + 4.4, y + 2.3), (x, y + 2.3)]
            yield Region(Outline(Contour.polygon(box)), style)
        yield Text((x + 6.2, y - 0.3), word, look.SMALL)
        x += 6.2 + look.SMALL.width(word) + 4.0
