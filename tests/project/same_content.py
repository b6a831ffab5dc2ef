"""Compares two folders by what their files say, not byte by byte.

    python tests/project/same_content.py EXPECTED FOUND

A mesh is the same if its facets are, in any order; a drawing if its elements are; JSON if its
values are; text if its words are.  Numbers may differ as far as another processor or another
release of a library lets them: 0.005 in a drawing or a mesh (mm), a millionth elsewhere.
A picture is the same if it has the size and, seen from afar, the greys, since each graphics driver
draws its lines a little otherwise.  A PDF is the same if its pages have the size, the words, and
the lines drawn alike; when and by what it was written, and how its fonts are cut down, is left
out.  Files of other kinds must be equal.  A script named
``remake`` and Markdown in the expected folder are not made, so they are not compared.
"""

from __future__ import annotations

import json
import math
import re
import struct
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final

NEAR: Final = 0.005
"""What lengths [mm] in drawings and meshes may differ by."""

RELATIVE: Final = 1e-6
"""What other numbers may differ by, as a part of themselves."""

AFAR: Final = 12
"""Pixels of a picture that are averaged to one before two are compared."""

GREYS: Final = 24
"""What the averages may differ by, of 255."""

POINTS: Final = 72 / 25.4
"""PDF's unit in a millimetre (ISO 32000-1, 8.3.2.3)."""

WORDS: Final = {b"Tj", b"TJ", b"'", b'"', b"Tf"}
"""What shows words in a PDF, by the letters' places in a font that was cut down to them."""

NOT_MADE: Final = {"remake", "README.md"}

NUMBER: Final = re.compile(r"(?<![\w.])[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?(?![\w])")


def differences(expected: Path, found: Path) -> Iterator[str]:
    """What two folders say differently, a line each."""
    sides = [
        {p.relative_to(side).as_posix() for p in side.rglob("*") if p.is_file()} - NOT_MADE
        for side in (expected, found)
    ]
    yield from (f"{name}: was not made" for name in sorted(sides[0] - sides[1]))
    yield from (f"{name}: is not expected" for name in sorted(sides[1] - sides[0]))
    for name in sorted(sides[0] & sides[1]):
        compare = KINDS.get(Path(name).suffix.lower(), _bytes)
        yield from (f"{name}: {what}" for what in compare(expected / name, found / name))


def _bytes(expected: Path, found: Path) -> Iterator[str]:
    if expected.read_bytes() != found.read_bytes():
        yield "differs"


def _text(expected: Path, found: Path) -> Iterator[str]:
    lines = [side.read_text(encoding="utf-8").splitlines() for side in (expected, found)]
    if len(lines[0]) != len(lines[1]):
        yield f"has {len(lines[1])} lines, not {len(lines[0])}"
    for number, (a, b) in enumerate(zip(*lines, strict=False), 1):
        if not alike(a, b):
            yield f"line {number} reads {b!r}, not {a!r}"
            return


def _json(expected: Path, found: Path) -> Iterator[str]:
    a, b = (json.loads(side.read_text(encoding="utf-8")) for side in (expected, found))
    yield from _value(a, b, "")


def _value(a: Any, b: Any, where: str) -> Iterator[str]:
    if isinstance(a, dict) and isinstance(b, dict):
        if a.keys() != b.keys():
            yield f"{where or 'the whole'} has other keys: {sorted(a.keys() ^ b.keys())}"
        for key in a.keys() & b.keys():
            yield from _value(a[key], b[key], f"{where}.{key}".lstrip("."))
    elif isinstance(a, list) and isinstance(b, list) and len(a) == len(b):
        for number, (one, other) in enumerate(zip(a, b, strict=True)):
            yield from _value(one, other, f"{where}[{number}]")
    elif type(a) is type(b) and isinstance(a, float):
        if not math.isclose(a, b, rel_tol=RELATIVE, abs_tol=RELATIVE):
            yield f"{where} is {b}, not {a}"
    elif isinstance(a, str) and isinstance(b, str):
        if not alike(a, b):
            yield f"{where} is {b!r}, not {a!r}"
    elif type(a) is not type(b) or a != b:
        yield f"{where} is {b!r}, not {a!r}"


def _svg(expected: Path, found: Path) -> Iterator[str]:
    from defusedxml.ElementTree import parse

    sides = [list(parse(side).iter()) for side in (expected, found)]
    if len(sides[0]) != len(sides[1]):
        yield f"has {len(sides[1])} elements, not {len(sides[0])}"
    for number, (a, b) in enumerate(zip(*sides, strict=False), 1):
        words = [
            f"{e.tag} {sorted(e.attrib.items())} {(e.text or '').strip()} {len(e)}" for e in (a, b)
        ]
        if not alike(*words, near=NEAR):
            yield f"element {number} is {words[1]!r}, not {words[0]!r}"
            return


def alike(a: str, b: str, *, near: float = 0.0) -> bool:
    """Whether two texts have the same words, and numbers that differ by no more than they may.

    >>> alike("M 1.0001 2", "M 1 2.0", near=0.005), alike("1.2 mm", "1.2 cm"), alike("2", "3")
    (True, False, False)
    """
    if a == b:
        return True
    if NUMBER.sub("#", a) != NUMBER.sub("#", b):
        return False
    return all(
        math.isclose(float(x), float(y), rel_tol=RELATIVE, abs_tol=near)
        for x, y in zip(NUMBER.findall(a), NUMBER.findall(b), strict=True)
    )


def _stl(expected: Path, found: Path) -> Iterator[str]:
    import numpy as np
    from scipy.spatial import cKDTree

    a, b = _facets(expected), _facets(found)
    if len(a) != len(b):
        yield f"has {len(b)} facets, not {len(a)}"
        return
    # A facet is known by its middle and its area vector, whichever corner it starts from.
    keys: list[Any] = []
    volumes: list[float] = []
    for facets in (a, b):
        middles = facets.mean(axis=1)
        areas = np.cross(facets[:, 1] - facets[:, 0], facets[:, 2] - facets[:, 0]) / 2
        lengths = np.sqrt(np.linalg.norm(areas, axis=1, keepdims=True))
        directed = np.divide(areas, lengths, out=np.zeros_like(areas), where=lengths > 0)
        keys.append(np.hstack([middles, directed]))
        volumes.append(float(np.einsum("ij,ij->", middles, areas)) / 3)
    for one, other, word in ((*keys, "is gone"), (*keys[::-1], "is new")):
        strays: Any = cKDTree(other).query(one)[0]
        if strays.size and strays.max() > NEAR:
            place = one[strays.argmax(), :3].round(2).tolist()
            yield f"the facet about {place} mm {word}"
    if not math.isclose(*volumes, rel_tol=1e-4):
        yield f"encloses {volumes[1]:.1f} mm³, not {volumes[0]:.1f}"


def _facets(path: Path) -> Any:
    """Corners of the facets of a binary STL file, read without the library that wrote it."""
    import numpy as np

    data = path.read_bytes()
    (count,) = struct.unpack_from("<I", data, 80)
    if len(data) != 84 + 50 * count:
        raise ValueError(f"{path}: not a whole binary STL file")
    facet = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("rest", "<u2")])
    return np.frombuffer(data, facet, count, 84)["corners"].astype(float)


def _png(expected: Path, found: Path) -> Iterator[str]:
    import numpy as np
    from PIL import Image

    sides = [Image.open(side).convert("L") for side in (expected, found)]
    if sides[0].size != sides[1].size:
        yield f"is {sides[1].size} pixels large, not {sides[0].size}"
        return
    small = [np.asarray(side.reduce(AFAR), dtype=float) for side in sides]
    if (off := float(abs(small[0] - small[1]).max())) > GREYS:
        yield f"differs by {off:.0f} greys somewhere"


def _pdf(expected: Path, found: Path) -> Iterator[str]:
    from pypdf import PdfReader

    sides = [PdfReader(side).pages for side in (expected, found)]
    if len(sides[0]) != len(sides[1]):
        yield f"has {len(sides[1])} pages, not {len(sides[0])}"
    for number, (a, b) in enumerate(zip(*sides, strict=False), 1):
        boxes = [" ".join(f"{float(v):.3f}" for v in page.mediabox) for page in (a, b)]
        if not alike(*boxes, near=NEAR * POINTS):
            yield f"page {number} is {boxes[1]} points large, not {boxes[0]}"
        texts = [page.extract_text().strip() for page in (a, b)]
        if not alike(*texts):
            yield f"page {number} reads {texts[1]!r}, not {texts[0]!r}"
        drawn = [list(_operations(page)) for page in (a, b)]
        if len(drawn[0]) != len(drawn[1]):
            yield f"page {number} has {len(drawn[1])} steps of drawing, not {len(drawn[0])}"
        for one, other in zip(*drawn, strict=False):
            if not alike(one, other, near=NEAR * POINTS):
                yield f"page {number} draws {other!r}, not {one!r}"
                break


def _operations(page: Any) -> Iterator[str]:
    """What is drawn on a page, step by step; of words only that some stand there."""
    from pypdf.generic import ContentStream

    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        shown = [] if operator in WORDS else _plain(operands)
        yield " ".join([*shown, operator.decode()])


def _plain(operands: Any) -> list[str]:
    """Operands as plain words, lists taken apart."""
    if isinstance(operands, list):
        return ["[", *(word for item in operands for word in _plain(item)), "]"]
    return [str(operands)]


KINDS: Final[dict[str, Callable[[Path, Path], Iterator[str]]]] = {
    ".json": _json,
    ".stl": _stl,
    ".svg": _svg,
    ".pdf": _pdf,
    ".png": _png,
    ".jpg": _png,
    ".txt": _text,
    ".md": _text,
    ".csv": _text,
    ".toml": _text,
}


def main(arguments: list[str]) -> int:
    """Print the differences of two folders; 0 where there are none."""
    expected, found = map(Path, arguments)
    lines = list(differences(expected, found))
    print(*lines, sep="\n", end="\n" if lines else "")
    count = sum(1 for path in found.rglob("*") if path.is_file())
    print(f"{count} files made, {len(lines)} differences")
    return 1 if lines or not count else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
