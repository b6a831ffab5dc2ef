"""PDF files: pages, words and bytes, read back by pypdf."""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from rendering import inked, poppler

from wadforms.catalogue import shapes
from wadforms.errors import BadInput
from wadforms.families.disk import Disk
from wadforms.families.ring import Ring
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.templates import look
from wadforms.templates.drawing import Circle, Drawing, Item, Lettering, Region, Style, Text
from wadforms.templates.outline_pages import outline_pages
from wadforms.templates.outline_sheet import outline_sheet
from wadforms.templates.pdf import pdf

POINT = 25.4 / 72
"""1/72 in, the unit of user space (ISO 32000-1, 8.3.2.3) [mm]."""


def read(data: bytes) -> Any:
    import pypdf

    return pypdf.PdfReader(io.BytesIO(data), strict=True)


def sheet(*items: Item) -> Drawing:
    return Drawing(title="A sheet", description="For tests.", width=100, height=80, items=items)


@pytest.mark.parametrize(
    ("paper", "size"),
    [
        ("a4", (210.0, 297.0)),  # ISO 216
        ("letter", (8.5 * 25.4, 11 * 25.4)),  # ANSI/ASME Y14.1, size A
        ("either", (210.0, 11 * 25.4)),  # the narrower of both, the lower of both
    ],
)
def test_page_boxes(paper: str, size: tuple[float, float]) -> None:
    pages = outline_pages("ring", Ring(diameter=300).piece(), paper=paper).pages
    found = read(pdf(pages)).pages
    assert len(found) == len(pages)
    for page in found:
        box = page.mediabox
        assert (float(box.width) * POINT, float(box.height) * POINT) == pytest.approx(
            size, abs=0.01
        )
        assert page.cropbox == box
        assert page.rotation == 0


def test_words_are_words() -> None:
    piece = shapes()["leaf-55"].piece()
    made = outline_sheet("leaf-55", piece, shrinkage=0.06, facts=["of mix 'open'"])
    text = read(pdf([made.drawing])).pages[0].extract_text()
    for item in made.drawing.primitives():
        if isinstance(item, Text):
            assert item.text in text
    assert "×" in text
    assert "1/(1 − 6 %)" in text
    assert "mm²" in text


def test_the_file_asks_not_to_be_scaled_and_says_what_it_is() -> None:
    made = read(pdf([outline_sheet("disk-20", Disk(diameter=20).piece()).drawing]))
    # ISO 32000-1, table 150: the print dialog starts without page scaling.
    assert made.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert made.metadata.title == "disk-20: outline sheet"
    assert "100 mm square" in made.metadata.subject


def test_fonts_travel_in_the_file() -> None:
    page = read(pdf([outline_sheet("disk-20", Disk(diameter=20).piece()).drawing])).pages[0]
    fonts = page["/Resources"]["/Font"].values()
    used = [font.get_object() for font in fonts]
    assert len(used) >= 2
    assert all("/FontFile2" in font["/FontDescriptor"].get_object() for font in used)


@pytest.mark.parametrize("text", ["魚 20", "disk → ring", "a\x07b", "tab\there"])
def test_letters_that_the_font_lacks_are_refused(text: str) -> None:
    with pytest.raises(BadInput, match="which the font of the PDF lacks") as caught:
        pdf([sheet(Text((1, 1), text, look.BODY), Text((1, 9), "ø 北", look.BODY))])
    assert len(caught.value.faults) == 2


def test_nothing_makes_no_file() -> None:
    with pytest.raises(BadInput):
        pdf([])


def test_same_bytes_in_every_process() -> None:
    code = (
        "import hashlib\n"
        "from wadforms.families import family\n"
        "from wadforms.templates.outline_pages import outline_pages\n"
        "from wadforms.templates.pdf import pdf\n"
        "found = outline_pages('ring', family('ring')(diameter=300).piece())\n"
        "print(hashlib.sha256(pdf(found.pages)).hexdigest())\n"
    )
    digests = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for seed in ("0", "77")
    }
    here = pdf(outline_pages("ring", Ring(diameter=300).piece()).pages)
    assert digests == {hashlib.sha256(here).hexdigest()}


@pytest.mark.parametrize("radius", [2.0, 20.0, 300.0])
def test_curves_stray_from_their_arcs_by_less_than_a_printer_shows(radius: float) -> None:
    side = 2 * radius + 2
    round_one = Drawing(
        title="",
        description="",
        width=side,
        height=side,
        items=(Circle((side / 2, side / 2), radius, look.CUT),),
        background=None,
    )
    # The curves are read back, and points on them are measured from the centre.
    found: list[tuple[float, float]] = []
    here = (0.0, 0.0)
    operations = read(pdf([round_one])).pages[0].get_contents().operations
    for operands, operator in operations:
        numbers = [float(o) for o in operands if isinstance(o, int | float)]
        if operator == b"m":
            here = (numbers[0], numbers[1])
        if operator == b"c":
            p = [here, *zip(numbers[::2], numbers[1::2], strict=True)]
            for t in (0.1, 0.25, 0.5, 0.8, 1.0):
                u = 1 - t
                weights = (u**3, 3 * u * u * t, 3 * u * t * t, t**3)
                found.append(
                    (
                        sum(w * q[0] for w, q in zip(weights, p, strict=True)),
                        sum(w * q[1] for w, q in zip(weights, p, strict=True)),
                    )
                )
            here = p[-1]
    assert len(found) >= 40
    strays = [abs(((x - side / 2) ** 2 + (y - side / 2) ** 2) ** 0.5 - radius) for x, y in found]
    assert max(strays) < 0.005


def test_holes_stay_open_and_areas_are_as_dense_as_told(tmp_path: Path) -> None:
    ring = Outline(Contour.circle(30, (50, 40)), (Contour.circle(20, (50, 40)),))
    half = Style("half", None, 0.0, "#000000", opacity=0.5)
    (drawn,) = poppler(pdf([sheet(Region(ring, half))]), 4.0, tmp_path)
    assert drawn[160, 200] == 255  # the middle of the hole
    assert drawn[160, 200 + 100] == pytest.approx(127, abs=2)
    dark = (255.0 - drawn.astype(float)).sum() / 127.5 / 16.0
    assert dark == pytest.approx(ring.area, rel=0.01)


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
@pytest.mark.parametrize("lettering", [look.SMALL, look.TITLE])
def test_text_keeps_to_its_box(anchor: Any, lettering: Lettering, tmp_path: Path) -> None:
    item = Text((50, 40), "Ø 31.5 × 8 mm", lettering, anchor)
    (drawn,) = poppler(pdf([sheet(item)]), 10.0, tmp_path)
    left, top, right, bottom = inked(drawn, 10.0)
    x0, y0, x1, y1 = item.box
    assert x0 - 0.2 <= left
    assert right <= x1 + 0.2
    assert 80 - y1 - 0.2 <= top
    assert bottom <= 80 - y0 + 0.2
    at = {"start": left, "middle": (left + right) / 2, "end": right}[anchor]
    assert at == pytest.approx(50.0, abs=0.12 * lettering.size + 0.1)  # a letter's own edge
