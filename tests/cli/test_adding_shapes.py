"""`shapes --add`: an outline becomes a shape of the user's own, which every command knows."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from wadforms.catalogue import find, shapes
from wadforms.catalogue.outlines import read_outline
from wadforms.cli import call
from wadforms.errors import BadInput, NotMakeable, WadformsError, WouldOverwrite
from wadforms.templates.kept_outline import kept_outline
from wadforms.templates.svg import svg

FISH = "M2 12 C6 4 14 4 17 12 C14 20 6 20 2 12 Z"
BONE = "M0 0 H20 V8 H32 V0 H52 V20 H32 V11 H20 V20 H0 Z"
CUSTOM = [name for name, shape in shapes().items() if shape.family == "custom"]


def draw(folder: Path, name: str, d: str, size: int = 24) -> Path:
    file = folder / name
    head = f'width="{size}mm" height="{size}mm" viewBox="0 0 {size} {size}"'
    text = f'<svg xmlns="http://www.w3.org/2000/svg" {head}><path d="{d}"/></svg>'
    file.write_text(text, encoding="utf-8")
    return file


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The user's own folder of shapes, which is not there yet."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("APPDATA", str(tmp_path / "config"))
    monkeypatch.delenv("WADFORMS_SHAPES", raising=False)
    monkeypatch.chdir(tmp_path)
    return tmp_path / "config" / "wadforms" / "shapes"


def files(folder: Path) -> list[str]:
    return sorted(str(p.relative_to(folder)) for p in folder.rglob("*") if p.is_file())


def test_what_was_added_is_known_by_name(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    draw(own.parents[2], "My Fish.svg", FISH)
    given = ["--with", "width=60mm", "--with", "height=9mm", "--with", "draft=4"]
    assert call(["shapes", "--add", "My Fish.svg", *given]) == 0
    assert files(own) == ["my-fish.toml", str(Path("outlines", "my-fish.svg"))]
    said = capsys.readouterr().out
    assert said.startswith("my-fish: own outline, 60 × 48 mm\nWritten: ")
    assert call(["shapes", "my-fish", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["size_mm"] == pytest.approx([60, 48, 9], abs=0.02)
    assert (told["parameters"]["height"], told["parameters"]["draft"]) == (9, 4)
    assert told["source"] == "My Fish.svg"
    for command in (["template", "my-fish", "--dry-run"], ["mould", "my-fish", "--dry-run"]):
        assert call(command) == 0
    assert "my-fish" in shapes()
    piece = find("my-fish").piece({"width": "30mm"})
    assert piece.outline.size[0] == pytest.approx(30)


def test_as_json_and_as_a_dry_run(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    draw(own.parents[2], "fish.svg", FISH)
    arguments = ["shapes", "--add", "fish.svg", "--as", "carp-60", "--with", "width=60", "--json"]
    assert call([*arguments, "--dry-run"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert not own.exists()
    assert call(arguments) == 0
    again = json.loads(capsys.readouterr().out)
    assert [Path(f).name for f in again.pop("files")] == ["carp-60.toml", "carp-60.svg"]
    assert told.pop("files") == []
    assert told == again
    assert told["name"] == "carp-60"
    assert told["piece_volume_mm3"] == pytest.approx(find("carp-60").piece().volume, rel=1e-5)


@pytest.mark.parametrize("name", CUSTOM)
def test_our_own_outlines_come_back_from_a_round_trip(name: str, own: Path) -> None:
    """Written as a drawing of ours and added, each is the same piece; its arcs are arcs."""
    outline = find(name).sized().piece().outline
    file = own.parents[2] / "copy.svg"
    file.write_bytes(svg(kept_outline(outline, name)))
    assert call(["shapes", "--add", str(file), "--as", "copy"]) == 0
    back = find("copy").sized().piece().outline
    # Written to 0.1 µm; arcs are written in parts of 120° at most.
    assert back.area == pytest.approx(outline.area, rel=1e-5)
    assert back.size == pytest.approx(outline.size, abs=1e-3)
    arcs = [sum(bool(b) for c in o.contours for b in c.bulges) for o in (outline, back)]
    assert bool(arcs[0]) == bool(arcs[1])
    assert find("copy").piece().volume == pytest.approx(
        find(name).piece({"height": "8mm"}).volume, rel=1e-4
    )


def test_tables_and_dxf_are_kept_as_drawings(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from ezdxf.filemanagement import new

    here = own.parents[2]
    (here / "plate.csv").write_text("x (cm);y (cm)\n0;0\n4,5;0\n4,5;3\n0;3\n", encoding="utf-8")
    assert call(["shapes", "--add", "plate.csv"]) == 0
    assert find("plate").piece().outline.size == pytest.approx((45, 30))
    document = new("R12")
    document.modelspace().add_circle((0, 0), 20)
    document.saveas(here / "coin.dxf")
    capsys.readouterr()
    assert call(["shapes", "--add", "coin.dxf"]) == 0
    assert "coin.dxf: The drawing names no unit: taken as mm." in capsys.readouterr().err
    assert find("coin").note == "The drawing names no unit: taken as mm."
    assert any(find("coin").piece().outline.outer.bulges)


def test_what_is_there_is_replaced_only_when_asked(own: Path) -> None:
    file = draw(own.parents[2], "fish.svg", FISH)
    add = ["shapes", "--add", "fish.svg", "--with"]
    assert call([*add, "width=60mm"]) == 0
    before = {name: (own / name).read_bytes() for name in files(own)}
    with pytest.raises(WouldOverwrite):
        call([*add, "width=40mm"])
    assert {name: (own / name).read_bytes() for name in files(own)} == before
    assert call([*add, "width=40mm", "--force"]) == 0
    assert find("fish").piece().outline.size[0] == pytest.approx(40)
    (own / "fish.toml").unlink()  # the drawing alone is in the way too
    with pytest.raises(WouldOverwrite):
        call([*add, "width=40mm"])
    assert files(own) == [str(Path("outlines", "fish.svg"))]
    assert read_outline(file).area > 0


def test_both_files_or_none(own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second one fails: the first is taken back, and so are the folders made for it."""
    from wadforms import files as module

    draw(own.parents[2], "fish.svg", FISH)
    whole = module.write_whole

    def failing(path: Path, data: bytes, **given: Any) -> None:
        if path.suffix == ".toml":
            raise WouldOverwrite(path)
        whole(path, data, **given)

    monkeypatch.setattr(module, "write_whole", failing)
    with pytest.raises(WouldOverwrite):
        call(["shapes", "--add", "fish.svg", "--with", "width=60mm"])
    assert not own.exists()


def test_a_folder_made_for_what_fails_is_taken_back(
    own: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here = own.parents[2]
    draw(here, "fish.svg", FISH)
    before = files(here)

    def full_disk(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full_disk)
    add = ["shapes", "--add", "fish.svg", "--with", "width=60mm", "--into"]
    with pytest.raises(BadInput, match="No space left"):
        call([*add, "mine/deep"])
    assert not Path("mine").exists()
    for into in ("fish.svg", "fish.svg/in", "a" * 300):
        with pytest.raises(BadInput):
            call([*add, into])
    assert files(here) == before


def test_holes_are_counted(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    hole = " M{} 20 a4 4 0 1 0 8 0 a4 4 0 1 0 -8 0 Z"
    plate = "M5 0 H55 A5 5 0 0 1 60 5 V35 A5 5 0 0 1 55 40 H5 A5 5 0 0 1 0 35 V5 A5 5 0 0 1 5 0 Z"
    add = ["shapes", "--as", "plate", "--force", "--with", "draft=0", "--add"]
    for count, said in ((0, "own outline, 60 × 40 mm\n"), (1, ", 1 hole\n"), (2, ", 2 holes\n")):
        d = plate + "".join(hole.format(12 + 24 * k) for k in range(count))
        draw(own.parents[2], "plate.svg", d, size=60)
        assert call([*add, "plate.svg"]) == 0
        assert said in capsys.readouterr().out
        assert call(["shapes", "plate"]) == 0
        assert f"high{said if count else chr(10)}" in capsys.readouterr().out


def test_into_a_folder_that_is_named(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    draw(own.parents[2], "fish.svg", FISH)
    add = ["shapes", "--add", "fish.svg", "--with", "width=60mm", "--into", "mine"]
    assert call([*add, "--dry-run"]) == 0
    assert not Path("mine").exists()
    capsys.readouterr()
    assert call(add) == 0
    assert "It is found with --shapes-in mine" in capsys.readouterr().out
    assert call(["shapes", "fish", "--shapes-in", "mine"]) == 0
    assert not own.exists()


REFUSED = {
    "a name of ours": (["fish.svg", "--as", "leaf-55"], "leaf-55.toml has this one"),
    "the name of a family": (["fish.svg", "--as", "disk"], "a family has this one"),
    "no name": (["fish.svg", "--as", "A fish"], "small letters, digits and single hyphens"),
    "a name of none": (["+.svg"], "give --as a name of small letters"),
    "a path as a name": (["fish.svg", "--as", "../fish"], "small letters, digits"),
    "a parameter of none": (["fish.svg", "--with", "girth=9"], "parameter of custom: 'girth'"),
    "width and depth": (["fish.svg", "--with", "width=9", "--with", "depth=9"], "give one of them"),
    "too large": (["fish.svg", "--with", "depth=300mm"], "that keeps both within 300 mm"),
    "another outline": (["fish.svg", "--with", "outline=b.svg"], "--with outline: two values"),
    "a shape beside it": (["fish.svg", "disk-20"], "the name of what is added goes after --as"),
    "a picture beside it": (["fish.svg", "--picture", "a.svg"], "add the shape first"),
    "not there": (["nothing.svg"], "nothing.svg: a file that is not there"),
    "a neck": (["bone.svg"], "clay only 3.00 mm wide at"),
    "where necks are": (["bone.svg"], "Places are counted from the middle of the outline's area"),
    "sharp hollows": (["bone.svg", "--with", "neck=3"], "a sharp hollow corner at"),
    "open": (["open.svg"], "close it"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_added_is_said_and_nothing_written(case: str, own: Path) -> None:
    here = own.parents[2]
    for name, d in {"fish": FISH, "+": FISH, "bone": BONE, "open": "M0 0 H9 V9"}.items():
        draw(here, f"{name}.svg", d)
    before = files(here)
    arguments, right = REFUSED[case]
    with pytest.raises(WadformsError) as caught:
        call(["shapes", "--add", *arguments])
    assert right in str(caught.value)
    assert files(here) == before


def test_limits_can_be_lowered_and_stay_so(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    draw(own.parents[2], "bone.svg", BONE)
    lower = ["--with", "neck=3", "--with", "bend=0", "--with", "draft=2"]
    assert call(["shapes", "--add", "bone.svg", *lower]) == 0
    assert "Weak" not in capsys.readouterr().out
    assert call(["shapes", "bone"]) == 0
    assert "Weak" not in capsys.readouterr().out
    assert call(["shapes", "bone", "--with", "neck=5mm"]) == 0
    out = capsys.readouterr().out
    assert "Weak: clay only 3.00 mm wide at" in out
    assert out.count("counted from the middle of the outline's area, to the right and up") == 1
    assert call(["shapes", "bone", "--with", "neck=5mm", "--json"]) == 0
    (place,) = json.loads(capsys.readouterr().out)["weak_places"]
    assert (place["kind"], place["measure_mm"]) == ("neck", 3)


OAK = (
    "M2 20 C2 8 14 8 18 14 C20 17 24 17 26 14 C30 6 44 6 46 14 C47 18 50 18 53 15 "
    "C58 10 66 14 66 20 C66 26 58 30 53 25 C50 22 47 22 46 26 C44 34 30 34 26 26 "
    "C24 23 20 23 18 26 C14 32 2 32 2 20 Z"
)


def test_what_allows_all_weak_places_is_told_at_once(own: Path) -> None:
    """And a tenth more does not."""
    draw(own.parents[2], "oak.svg", OAK, 70)
    draw(own.parents[2], "bone.svg", BONE)
    for name, count in (("oak", 1), ("bone", 2)):
        add = ["shapes", "--add", f"{name}.svg", "--with", "draft=1"]
        with pytest.raises(BadInput) as caught:
            call(add)
        assert str(caught.value).count("Or allow all of them with") == 1
        found = re.findall(r"--with (\w+)=(\d+(?:\.\d+)?)", str(caught.value))
        assert len(found) == count
        for more in found:
            given = [f"--with={n}={float(v) + (0.1 if (n, v) == more else 0)}" for n, v in found]
            with pytest.raises(BadInput, match=r"clay only|hollow"):
                call([*add, *given])
        assert call([*add, *(f"--with={n}={v}" for n, v in found)]) == 0


def test_no_room_for_the_walls_is_told_as_ever(own: Path) -> None:
    notched = "M0 0 H40 V30 H21 V12 H20 V30 H0 Z"
    draw(own.parents[2], "notch.svg", notched, 40)
    free = ["--with", "neck=0", "--with", "bend=0"]
    with pytest.raises(NotMakeable, match=r"only 1\.00 mm wide"):
        call(["shapes", "--add", "notch.svg", *free])
    assert call(["shapes", "--add", "notch.svg", *free, "--ease"]) == 0
    assert find("notch").values["ease"] == "yes"
    assert find("notch").piece().volume > 0


def test_what_belongs_to_adding_is_refused_without_it(own: Path) -> None:
    for option in (["--as", "fish"], ["--into", "."]):
        with pytest.raises(BadInput, match="use it with --add"):
            call(["shapes", *option])
