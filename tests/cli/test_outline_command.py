"""`wadforms outline`: what it writes and says, and what strangers' files get told."""

from __future__ import annotations

import json
import struct
import time
import zlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageDraw
from svgelements import SVG
from svgelements import Path as Drawn

from wadforms.cli import call
from wadforms.errors import BadInput, WouldOverwrite

ELL = [(100, 100), (400, 100), (400, 200), (200, 200), (200, 300), (100, 300)]
"""300 × 200 pixels wide and high, with an area of 40 000."""


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    picture = Image.new("L", (500, 400), 235)
    ImageDraw.Draw(picture).polygon(ELL, fill=40)
    picture.save("ell.png")
    return tmp_path


def answer(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert call(["outline", *arguments, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_the_svg_has_the_size_that_was_given(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "ell.png", "--width", "60mm")
    assert found["files"] == ["ell-outline.svg", "ell-outline-checked.png"]
    assert found["size_mm"][0] == pytest.approx(60.0, abs=1e-6)
    # A pixel is 60 / 301 mm: Pillow fills both ends of a polygon's rows.
    assert found["area_mm2"] == pytest.approx(40_500 * (60 / 301) ** 2, rel=0.01)
    assert (found["corners"], found["points"], found["holes"]) == (6, 6, 0)
    assert found["line_width_mm"] is None
    # In the units of CSS, 96 pixels an inch, as an independent library reads the file.
    (path,) = [p for p in SVG.parse("ell-outline.svg", ppi=96).elements() if isinstance(p, Drawn)]
    x0, y0, x1, y1 = path.bbox()
    assert (x1 - x0) * 25.4 / 96 == pytest.approx(60.0, abs=0.01)
    assert (y1 - y0) * 25.4 / 96 == pytest.approx(found["size_mm"][1], abs=0.01)
    with Image.open("ell-outline-checked.png") as shown:
        assert shown.size == (500, 400)


def test_a_custom_outline_is_made_of_it(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "ell.png", "--height", "4cm", "--out", "own.svg")
    assert call(["template", "custom", "--with", "outline=own.svg", "--json"]) == 0
    sheet = json.loads(capsys.readouterr().out)
    assert sheet["area_mm2"] == pytest.approx(found["area_mm2"], rel=1e-4)


def test_two_points_tell_the_scale_too(capsys: pytest.CaptureFixture[str]) -> None:
    points = ["--from", "100,100", "--to", "400,100", "--apart", "6cm"]
    found = answer(capsys, "ell.png", *points, "--dry-run")
    assert found["pixel_mm"] == pytest.approx(0.2, abs=1e-6)
    assert found["size_mm"][0] == pytest.approx(301 * 0.2, abs=0.1)
    assert found["files"] == []
    assert list(Path().glob("*outline*")) == []


def test_it_says_what_it_found_and_assumed(capsys: pytest.CaptureFixture[str]) -> None:
    assert call(["outline", "ell.png", "--width", "60mm"]) == 0
    told = capsys.readouterr().out
    for words in (
        "60 × 40",
        "6 sharp corners",
        "filled shape around (250, 200) px",
        "Moved by smoothing",
        "Assumed: the picture was taken from straight above",
        "Look at ell-outline-checked.png",
    ):
        assert words in told


def test_holes_are_told_whether_they_are_kept_or_not(capsys: pytest.CaptureFixture[str]) -> None:
    with Image.open("ell.png") as picture:
        ImageDraw.Draw(picture).ellipse((120, 120, 180, 180), fill=235)
        picture.save("pierced.png")
    assert call(["outline", "pierced.png", "--width", "60mm", "--out", "whole.svg"]) == 0
    assert "1 hole in it not kept" in capsys.readouterr().out
    assert call(["outline", "pierced.png", "--width", "60mm", "--holes"]) == 0
    told = capsys.readouterr().out
    assert "1 hole kept" in told
    assert "not kept" not in told
    found = answer(capsys, "ell.png", "--width", "60mm", "--dry-run")
    assert (found["holes"], found["holes_left_out"]) == (0, 0)


def test_nothing_is_written_over(capsys: pytest.CaptureFixture[str]) -> None:
    Path("ell-outline-checked.png").write_bytes(b"mine")
    with pytest.raises(WouldOverwrite):
        call(["outline", "ell.png", "--width", "60mm"])
    assert not Path("ell-outline.svg").exists()
    assert Path("ell-outline-checked.png").read_bytes() == b"mine"
    assert call(["outline", "ell.png", "--width", "60mm", "--force"]) == 0
    before = Path("ell.png").read_bytes()
    assert call(["outline", "ell.png", "--width", "60mm", "--out", "ell.svg"]) == 0
    assert Path("ell.png").read_bytes() == before
    Path("ell.png").rename("ell-checked.png")
    with pytest.raises(BadInput, match="the photo itself"):
        call(["outline", "ell-checked.png", "--width", "60mm", "--out", "ell.svg", "--force"])
    assert Path("ell-checked.png").read_bytes() == before


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ([], "no known length"),
        (["--width", "60mm", "--height", "40mm"], "more than one known length"),
        (["--width", "60mm", "--sheet", "a4"], "more than one known length"),
        (["--from", "1,1", "--to", "90,90"], "a part of two points"),
        (["--from", "1;1;1", "--to", "90,90", "--apart", "3cm"], "give X,Y in pixels"),
        (["--from", "7,7", "--to", "8,8", "--apart", "3cm"], "about the same place"),
        (["--width", "0.2mm"], "give 1 mm to"),
        (["--width", "heavy"], "--width: 'heavy'"),
        (["--sheet", "a99"], "--sheet: 'a99'"),
        (["--sheet", "5x5mm"], "sides of 20 mm to 2000 mm"),
        (["--sheet", "a4"], "sheet"),
        (["--width", "60mm", "--drawn", "painted"], "--drawn: 'painted'"),
        (
            ["--width", "60mm", "--drawn", "line"],
            r"a filled shape around \(250, 200\) px.*say --drawn filled",
        ),
        (["--width", "60mm", "--near", "900,20"], "within the picture"),
        (["--width", "60mm", "--smooth", "2 kg"], "--smooth"),
        (["--width", "60mm", "--out", "ell.pdf"], "end it with .svg"),
        (["--width", "60mm", "--light"], "border"),
    ],
)
def test_what_cannot_be_meant_is_refused(arguments: list[str], message: str) -> None:
    with pytest.raises(BadInput, match=message) as told:
        call(["outline", "ell.png", *arguments])
    assert "\n" not in str(told.value)
    assert sorted(path.name for path in Path().iterdir()) == ["ell.png"]


def chunk(kind: bytes, data: bytes) -> bytes:
    """A chunk of a PNG file, ISO/IEC 15948."""
    sum_of = zlib.crc32(kind + data)
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", sum_of)


def png(width: int, height: int, *more: bytes) -> bytes:
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + b"".join(more) + chunk(b"IEND", b"")


def encoded(picture: Image.Image, kind: str, **how: Any) -> bytes:
    from io import BytesIO

    out = BytesIO()
    picture.save(out, kind, **how)
    return out.getvalue()


def plain(mode: str = "RGB", size: tuple[int, int] = (300, 200)) -> Image.Image:
    return Image.new(mode, size)


def grained() -> Image.Image:
    pixels = np.random.default_rng(1).integers(0, 255, (200, 300, 3), dtype=np.uint8)
    return Image.fromarray(pixels)


HOSTILE: dict[str, tuple[Callable[[], bytes], str]] = {
    "empty": (lambda: b"", "no PNG or JPEG"),
    "text": (lambda: b"a leaf, 55 mm long\n" * 20, "no PNG or JPEG"),
    "svg": (lambda: b'<svg xmlns="http://www.w3.org/2000/svg"/>', "no PNG or JPEG"),
    "gif": (lambda: encoded(plain("P"), "GIF"), "no PNG or JPEG"),
    "bmp": (lambda: encoded(plain(), "BMP"), "no PNG or JPEG"),
    "tiff": (lambda: encoded(plain(), "TIFF"), "no PNG or JPEG"),
    "head alone": (lambda: b"\x89PNG\r\n\x1a\n", "broken|no PNG"),
    "no pixels": (lambda: png(0, 0), "broken|no PNG|pixels"),
    "no rows": (lambda: png(300, 0), "broken|no PNG|pixels"),
    "bomb": (lambda: png(100_000, 100_000), "far more pixels"),
    "large bomb": (lambda: png(2**31 - 1, 2**31 - 1), "far more pixels|broken"),
    "many pixels": (lambda: png(8000, 8000), "8000 × 8000 pixels"),
    "long": (lambda: png(30_000, 60), "30000 × 60 pixels"),
    "small": (lambda: png(20, 20), "at least 50 × 50"),
    "no data": (lambda: png(300, 200), "broken"),
    "short data": (lambda: png(300, 200, chunk(b"IDAT", zlib.compress(b"\0" * 999))), "broken"),
    "bad data": (lambda: png(300, 200, chunk(b"IDAT", b"not packed at all")), "broken"),
    "wrong sum": (lambda: encoded(plain(), "PNG").replace(b"IDAT", b"IDAU"), "broken|no PNG"),
    "shortened png": (lambda: encoded(grained(), "PNG")[:90_000], "broken"),
    "shortened jpeg": (lambda: encoded(grained(), "JPEG")[:20_000], "broken"),
    "jpeg head alone": (lambda: b"\xff\xd8\xff\xe0", "broken|no PNG"),
    "printers' colours": (lambda: encoded(plain("CMYK"), "JPEG"), "CMYK"),
    "animated": (
        lambda: encoded(plain(), "PNG", save_all=True, append_images=[grained()]),
        "animated",
    ),
    "text bomb": (
        lambda: png(300, 200, chunk(b"zTXt", b"note\0\0" + zlib.compress(b"\0" * 80_000_000))),
        "broken",
    ),
    "white": (lambda: encoded(Image.new("L", (300, 200), 255), "PNG"), "nothing stands out"),
    "black": (lambda: encoded(plain(), "PNG"), "nothing stands out"),
    "noise": (lambda: encoded(grained(), "PNG"), "nothing stands out"),
}


@pytest.mark.parametrize("what", HOSTILE)
def test_a_hostile_picture_ends_in_one_clear_line(
    what: str, here: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    make, message = HOSTILE[what]
    Path("photo.png").write_bytes(make())
    call(["outline", "ell.png", "--width", "60mm", "--dry-run"])  # loads the libraries
    capfd.readouterr()
    start = time.perf_counter()
    with pytest.raises(BadInput, match=message) as told:
        call(["outline", "photo.png", "--width", "60mm"])
    assert time.perf_counter() - start < 2.0
    assert "\n" not in str(told.value)
    assert str(told.value).startswith("photo.png: ")
    assert capfd.readouterr() == ("", "")  # no library talks past us
    assert sorted(path.name for path in here.iterdir()) == ["ell.png", "photo.png"]


def test_a_file_that_is_too_large_or_not_there_is_refused(here: Path) -> None:
    with Path("huge.png").open("wb") as stream:
        stream.truncate(60_000_001)
    with pytest.raises(BadInput, match="at most 60 MB"):
        call(["outline", "huge.png", "--width", "60mm"])
    for name, message in (("none.png", "not there"), (".", "a folder"), ("/dev/zero", "device")):
        with pytest.raises(BadInput, match=message):
            call(["outline", name, "--width", "60mm", "--out", "new.svg"])
