"""The named shapes: each is sound, and each of a file's faults is told."""

from __future__ import annotations

import math
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

import wadforms
from wadforms import catalogue
from wadforms.catalogue import find, own_folder, shapes
from wadforms.errors import BadInput, UnknownName
from wadforms.families import families
from wadforms.families.disk import Disk
from wadforms.geometry.construct import centroid

ISO_3 = (10, 12.5, 16, 20, 25, 31.5, 40, 50, 63)
"""Preferred numbers, series R10 (from memory)."""


@pytest.fixture(autouse=True)
def no_folder_of_the_user(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv(catalogue.VARIABLE, raising=False)
    for name in ("XDG_CONFIG_HOME", "APPDATA"):
        monkeypatch.setenv(name, str(tmp_path / "config"))


def write(folder: Path, name: str, text: str) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / f"{name}.toml"
    file.write_text(text, encoding="utf-8")
    return file


GOOD = 'family = "disk"\nsummary = "an invented disk"\n[parameters]\ndiameter = "3 cm"\n'


@pytest.mark.parametrize("name", shapes())
def test_every_shape_is_sound(name: str) -> None:
    shape = shapes()[name]
    piece = shape.piece()
    assert piece.volume > 0
    assert piece.outline.polygon().is_valid
    assert centroid(piece.outline) == pytest.approx((0, 0), abs=1e-6)
    assert set(shape.bodies) <= set(shape.sized().allowed_bodies)
    assert shape.summary
    assert shape.uses
    assert shape.source
    assert (piece.top_area > 0) == (shape.family != "cone-seat")


@pytest.mark.parametrize("name", [n for n, s in shapes().items() if s.family != "custom"])
def test_every_family_has_a_shape_and_its_height_suits_its_width(name: str) -> None:
    piece = find(name).piece()
    assert 3 <= piece.height <= 24
    assert piece.height < max(piece.outline.size)


def test_there_are_enough_of_all_kinds() -> None:
    found = shapes()
    assert len(found) >= 26
    assert {s.family for s in found.values()} == set(families())
    assert sum(s.family == "custom" for s in found.values()) >= 5


def test_disks_come_in_preferred_numbers() -> None:
    """ISO 3, series R10: rounded tenth roots of ten, within 1.3 % of them."""
    disks = [s.sized() for s in shapes().values() if s.family == "disk"]
    sizes = {disk.diameter for disk in disks if isinstance(disk, Disk)}
    assert {s for s in sizes if s >= 10} == set(ISO_3)
    for size in sizes:
        exact = 10 ** (round(10 * math.log10(size)) / 10)
        assert size == pytest.approx(exact, rel=0.013)


def test_the_leaf_is_two_arcs() -> None:
    """Two segments of a circle of radius (27.5² + 14²)/28: area r² (φ − sin φ), about 1,078."""
    outline = find("leaf-55").piece().outline
    radius = (27.5**2 + 14**2) / 28
    phi = 2 * math.asin(27.5 / radius)
    assert outline.size == pytest.approx((55, 28), abs=1e-6)
    assert len(outline.outer.segments) == 2
    assert outline.area == pytest.approx(radius**2 * (phi - math.sin(phi)), rel=1e-6)
    assert round(outline.area) == 1078


@pytest.mark.parametrize("name", [n for n, s in shapes().items() if s.family == "custom"])
def test_drawings_can_be_pressed(name: str) -> None:
    """No neck below 4 mm and no hollow bend below 4 mm, by opening and closing with disks."""
    region = find(name).piece().outline.polygon()
    closed = region.buffer(3.9, quad_segs=64).buffer(-3.9, quad_segs=64)
    assert closed.area - region.area < 0.5
    opened = region.buffer(-2, quad_segs=64)
    assert opened.geom_type == "Polygon"
    for draft in (5, 7):
        assert find(name).piece({"draft": draft, "rounding": 1}).volume > 0


def test_a_shape_may_be_changed_in_any_unit() -> None:
    piece = find("disk-20").piece({"diameter": "1 in", "height": 9})
    assert piece.outline.size == pytest.approx((25.4, 25.4))
    assert piece.height == 9
    with pytest.raises(BadInput, match=r"^diameter: 2 mm was given; give 4 mm to 150 mm$"):
        find("disk-20").sized({"diameter": 2})
    with pytest.raises(BadInput, match="did you mean 'height'"):
        find("disk-20").sized({"hight": 9})


def test_a_family_by_itself_has_its_defaults() -> None:
    assert find("tripod").piece() == families()["tripod"]().piece()
    with pytest.raises(BadInput, match="outline: none was given; give an outline file"):
        find("custom").piece()
    leaf = str(own_folder().joinpath("outlines", "leaf.svg"))
    assert find("custom").piece({"outline": leaf}).outline == find("leaf-55").piece().outline


def test_a_name_nobody_has() -> None:
    with pytest.raises(UnknownName, match="did you mean 'gingko-50'"):
        find("ginkgo-50")
    for name in ("", "../README", "DISK-20", "disk-20.toml", "a/b", "\0"):
        with pytest.raises(UnknownName):
            find(name)


def test_names_are_sorted_as_people_count() -> None:
    names = list(shapes())
    assert names.index("disk-5") < names.index("disk-10") < names.index("disk-63")


@pytest.mark.parametrize("way", ["named", "variable", "config"])
def test_the_users_own_folder(way: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / ("config/wadforms/shapes" if way == "config" else "mine")
    if sys.platform == "win32" and way == "config":
        pytest.skip("the folder's name is told by another variable there")
    write(folder, "moon", GOOD)
    if way == "variable":
        other = tmp_path / "other"
        write(other, "sun", GOOD)
        monkeypatch.setenv(catalogue.VARIABLE, os.pathsep.join([str(folder), str(other)]))
        assert "sun" in shapes()
    named = [folder] if way == "named" else []
    assert shapes(named)["moon"].piece().outline.size == pytest.approx((30, 30))
    assert find("moon", named) == shapes(named)["moon"]
    assert set(shapes(named)) > {"disk-20", "moon"}


def test_a_folder_named_twice_is_read_once(tmp_path: Path) -> None:
    write(tmp_path, "moon", GOOD)
    assert "moon" in shapes([tmp_path, tmp_path])


def test_a_folder_that_is_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(BadInput, match="give a folder that is there"):
        shapes([tmp_path / "nowhere"])
    monkeypatch.setenv(catalogue.VARIABLE, str(tmp_path / "nowhere"))
    with pytest.raises(BadInput, match=f"^{catalogue.VARIABLE}: "):
        find("disk-20")


def test_two_shapes_of_one_name_are_refused(tmp_path: Path) -> None:
    file = write(tmp_path, "disk-20", GOOD)
    for act in (lambda: shapes([tmp_path]), lambda: find("disk-20", [tmp_path])):
        with pytest.raises(BadInput, match="give it another name: ") as caught:
            act()
        assert caught.value.faults[0].where == str(file)
    assert find("disk-25", [tmp_path]).name == "disk-25"


def test_one_files_fault_does_not_stand_in_anothers_way(tmp_path: Path) -> None:
    write(tmp_path, "bad", "family = ")
    write(tmp_path, "moon", GOOD)
    assert find("moon", [tmp_path]).family == "disk"
    with pytest.raises(BadInput):
        shapes([tmp_path])


FAULTS = {
    "not TOML": ('family = "disk', "", "mend it ("),
    "no family": ('summary = "s"\n', "", "add family = ..."),
    "no summary": ('family = "disk"\n', "", "add summary = ..."),
    "empty summary": ('family = "disk"\nsummary = " "\n', ": summary", "give text in quotes"),
    "unknown family": ('family = "disc"\nsummary = "s"\n', ": family", "did you mean 'disk'?"),
    "family by number": ('family = 3\nsummary = "s"\n', ": family", "give text in quotes"),
    "unknown key": (GOOD.replace("[par", "xyz = 1\n[par"), ": key", "one of bodies"),
    "misspelt key": (GOOD.replace("[par", "body = []\n[par"), ": key", "did you mean 'bodies'?"),
    "unknown body": (GOOD.replace("[par", 'bodies = ["wett"]\n[par'), ": bodies", "mean 'wet'?"),
    "bodies as text": (GOOD.replace("[par", 'bodies = "wet"\n[par'), ": bodies", "give a list"),
    "no bodies": (GOOD.replace("[par", "bodies = []\n[par"), ": bodies", "give a list"),
    "uses of numbers": (GOOD.replace("[par", "uses = [1]\n[par"), ": uses", "give a list"),
    "parameters as text": (
        'family = "disk"\nsummary = "s"\nparameters = "20"\n',
        ": parameters",
        "make a table [parameters]",
    ),
    "unknown parameter": (GOOD + "hight = 8\n", ": parameter of disk", "did you mean 'height'?"),
    "out of bounds": (GOOD + "height = 300\n", ": height", "give 3 mm to 60 mm"),
    "not a number": (GOOD + "height = nan\n", ": height", "give 3 mm to 60 mm"),
    "a mass for a length": (GOOD + 'height = "8 g"\n', ": height", "give a length such as"),
    "a list for a length": (GOOD + "height = [8]\n", ": height", "give a length such as"),
    "yes for a length": (GOOD + "height = true\n", ": height", "give a length such as"),
    "together": (GOOD + "height = 4\nrounding = 4\n", ": rounding", "give at most 3.8 mm"),
    "half an arm": (
        'family = "stand"\nsummary = "s"\n[parameters]\narms = 4.5\n',
        ": arms",
        "give a whole number, 3 to 12",
    ),
    "pointed but wet": (
        'family = "stand"\nsummary = "s"\nbodies = ["wet"]\n[parameters]\ntop = "pointed"\n',
        ": bodies",
        "this stand can be set solid",
    ),
    "no outline": ('family = "custom"\nsummary = "s"\n', ": outline", "give an outline file"),
    "outline that is not there": (
        'family = "custom"\nsummary = "s"\n[parameters]\noutline = "leaf.svg"\n',
        ": outline",
        "there is no such file in ",
    ),
    "outline from elsewhere": (
        'family = "custom"\nsummary = "s"\n[parameters]\noutline = "../leaf.svg"\n',
        ": outline",
        "give a file in the shape's own folder",
    ),
    "outline from the root": (
        'family = "custom"\nsummary = "s"\n[parameters]\noutline = "/etc/hostname"\n',
        ": outline",
        "give a file in the shape's own folder",
    ),
    "outline by number": (
        'family = "custom"\nsummary = "s"\n[parameters]\noutline = 7\n',
        ": outline",
        "give an outline file",
    ),
    "nested too deep": ("a = " + "[" * 5000 + "]" * 5000, "", "mend it ("),
    "too large": ("# " + "x" * 200_000, "", "a shape takes less than 100 kB"),
}


@pytest.mark.parametrize("case", FAULTS)
def test_a_fault_is_told_with_its_file_and_key(case: str, tmp_path: Path) -> None:
    text, key, right = FAULTS[case]
    file = write(tmp_path, "mine", text)
    with pytest.raises(BadInput) as caught:
        find("mine", [tmp_path])
    told = [f for f in caught.value.faults if f.where == f"{file}{key}" and right in f.right]
    assert told, str(caught.value)


@pytest.mark.parametrize(
    ("name", "right"), [("My Disk", "small letters"), ("a--b", "hyphens"), ("ring", "a family")]
)
def test_a_name_that_cannot_be_used(name: str, right: str, tmp_path: Path) -> None:
    write(tmp_path, name, GOOD)
    with pytest.raises(BadInput, match=right):
        shapes([tmp_path])


def test_all_faults_of_all_files_come_at_once(tmp_path: Path) -> None:
    write(tmp_path, "one", 'family = "disk"\nsummary = "s"\n[parameters]\nheight = 1\ndraft = 50\n')
    write(tmp_path, "two", 'family = "disk"\ncolour = "red"\n')
    (tmp_path / "three.toml").write_bytes(b"\xff\xfe")
    with pytest.raises(BadInput) as caught:
        shapes([tmp_path])
    places = [f.where.removeprefix(str(tmp_path))[1:] for f in caught.value.faults]
    told = [(file, key) for file, _, key in (place.partition(": ") for place in places)]
    assert told == [
        ("one.toml", "height"),
        ("one.toml", "draft"),
        ("three.toml", ""),
        ("two.toml", "key"),
        ("two.toml", ""),
    ]


def test_listing_reads_no_drawing_and_loads_nothing_heavy() -> None:
    code = (
        "import sys; from wadforms.catalogue import shapes; print(len(shapes()));"
        "print({'shapely', 'numpy', 'fontTools', 'defusedxml', 'cadquery'} & set(sys.modules))"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.splitlines() == [str(len(shapes())), "set()"]


def test_shapes_are_found_in_a_zip(tmp_path: Path) -> None:
    """Laid out as in a wheel: the shapes beside the modules of the package."""
    package = Path(wadforms.__file__).parent
    archive = tmp_path / "wadforms.zip"
    with zipfile.ZipFile(archive, "w") as target:
        for file in package.rglob("*.*"):
            if file.suffix in (".py", ".toml") and "_shapes" not in file.parts:
                target.write(file, Path("wadforms", file.relative_to(package)))
        own = Path(str(own_folder()))
        for file in own.rglob("*.*"):
            target.write(file, Path("wadforms", "_shapes", file.relative_to(own)))
    code = (
        "import wadforms; from wadforms.catalogue import find, shapes; print(wadforms.__file__);"
        "print(len(shapes()), round(find('leaf-55').piece().top_area))"
    )
    first = f"import sys; sys.path[:0] = {[str(archive), *_packages()]!r}; "
    out = subprocess.run(
        [sys.executable, "-S", "-c", first + code],
        capture_output=True,
        text=True,
        check=True,
        cwd=tmp_path,
    )
    where, found = out.stdout.splitlines()
    assert where.startswith(str(archive))
    assert found == f"{len(shapes())} 1078"


def _packages() -> list[str]:
    """Where the libraries lie."""
    return [p for p in sys.path if p.endswith("site-packages")]
