"""Pictures of pieces, of the library and of settings show what was computed."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from itertools import combinations

import pytest
import reading
import shapely

from wadforms.catalogue import shapes
from wadforms.errors import BadInput
from wadforms.families import family
from wadforms.families.custom import Custom
from wadforms.geometry.construct import rounded
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.setting.arrangement import Arrangement, Spot, circle
from wadforms.setting.assessment import Assessment
from wadforms.setting.checks import check
from wadforms.setting.feet import FlatFoot, GalleryFoot, OutlineFoot, RingFoot, RoundFoot, SideFoot
from wadforms.setting.mixes import mix
from wadforms.setting.pot import Pot, Setting
from wadforms.templates import look
from wadforms.templates.drawing import Circle, Drawing, Region, Text
from wadforms.templates.library_picture import Specimen, library_picture
from wadforms.templates.piece_picture import piece_picture
from wadforms.templates.setting_picture import setting_picture, verdict_mark
from wadforms.templates.setting_view import SettingView, setting_view
from wadforms.templates.svg import svg

LEAST_TEXT = 2.5  # mm; smaller is not read beside a kiln (ISO 3098 begins at 2.5 mm too; memory)

NAMED = shapes()


def put(kind: str, spots: list[Spot], **sizes: object) -> Arrangement:
    return Arrangement(family(kind).sized(sizes).piece(), tuple(spots))


RAILS = [Spot(41.8, 0, 90), Spot(-41.8, 0, 90)]
TRAY = Outline(rounded([(-90, -60), (90, -60), (90, 60), (-90, 60)], 10))
SETTINGS = {
    "bowl": (
        Pot(mass=380, foot=RingFoot(50, 5), height=90),
        put("disk", circle(3, 22.5), diameter=10),
        "dry",
    ),
    "jar": (
        Pot(mass=35000, foot=FlatFoot(240), height=600),
        put("disk", circle(5, 95), diameter=45, height=18),
        "wet",
    ),
    "leaning": (
        Pot(mass=1500, foot=RingFoot(80, 6), height=330, centre=(18, -6)),
        put("disk", circle(3, 37), diameter=12),
        "dry",
    ),
    "platter": (
        Pot(mass=6500, foot=RingFoot(360, 8, (180,)), height=60),
        put("disk", circle(15, 176) + circle(8, 86), diameter=12),
        "wet",
    ),
    "tray": (
        Pot(mass=3000, foot=OutlineFoot(TRAY), centre_height=25),
        put("pad", [Spot(x, y) for x, y in ((60, 40), (-60, 40), (-60, -40), (60, -40))]),
        "wet",
    ),
    "lid": (
        Pot(mass=600, foot=GalleryFoot(117, 7), height=50),
        put("disk", circle(8, 54.5), diameter=5, height=4),
        "wet",
    ),
    "height unknown": (
        Pot(mass=3000, foot=FlatFoot(160)),
        put("tripod", [Spot(0, 0)]),
        "wet",
    ),
    "round": (
        Pot(mass=2500, foot=RoundFoot(180), height=220),
        put("disk", circle(3, 38), diameter=25, height=20),
        "wet",
    ),
    "side": (
        Pot(mass=1600, foot=SideFoot(130), share=0.7),
        put("rail", RAILS, length=80, width=12, height=20),
        "wet",
    ),
    "cradle": (
        Pot(mass=1600, foot=SideFoot(100), share=0.7),
        put("cradle", [Spot(0, 0)]),
        "wet",
    ),
}


def viewed(name: str) -> tuple[SettingView, Assessment]:
    pot, wads, body = SETTINGS[name]
    setting = Setting(pot=pot, arrangement=wads, body=body, mix=mix("open"))
    answer = check(setting)
    return setting_view(setting, answer, title=f"A {name}", shape="a wad"), answer


def texts(drawing: Drawing) -> list[Text]:
    return [item for item in drawing.primitives() if isinstance(item, Text)]


def well_set(drawing: Drawing) -> None:
    """Text is large enough, on the sheet, and on no other text."""
    paper = shapely.box(0, 0, drawing.width, drawing.height)
    boxes = [shapely.box(*text.box) for text in texts(drawing)]
    assert all(text.lettering.size >= LEAST_TEXT for text in texts(drawing))
    assert all(paper.contains(box) for box in boxes)
    for (a, one), (b, other) in combinations(zip(texts(drawing), boxes, strict=True), 2):
        assert not one.intersects(other), f"{a.text!r} on {b.text!r}"
    root = ET.fromstring(svg(drawing))  # noqa: S314 - our own text
    assert not [e for e in root.iter() if "transform" in e.attrib]


@pytest.mark.parametrize("name", SETTINGS)
def test_setting_is_well_set(name: str) -> None:
    well_set(setting_picture(viewed(name)[0]))


@pytest.mark.parametrize("name", ["bowl", "jar", "leaning", "lid", "platter", "tray"])
def test_patches_are_drawn_to_scale(name: str) -> None:
    view, answer = viewed(name)
    drawing = setting_picture(view)
    scale = scale_of(drawing)
    colour = look.PATCH.stroke
    drawn = [
        reading.area(path)
        for path in reading.paths(svg(drawing))
        if path.stroke == colour and path.fill == look.PATCH.fill
    ]
    *patches, _ = drawn  # the last stands in the key
    # The patches are many short lines of coordinates rounded to 1e-4 mm.
    assert sum(patches) == pytest.approx(answer.contact_area * scale**2, rel=1e-3)


def scale_of(drawing: Drawing) -> float:
    """The scale that is written under the heading of the plan."""
    words = next(text.text for text in texts(drawing) if text.text.startswith("at "))
    if words == "at true size":
        return 1.0
    paper, _, true = words.removeprefix("at ").partition(" : ")
    return float(paper) / float(true)


@pytest.mark.parametrize("name", [name for name in SETTINGS if name != "height unknown"])
def test_line_of_tipping_has_the_angle(name: str) -> None:
    view, answer = viewed(name)
    assert view.lean is not None
    assert answer.tipping_angle is not None
    # The picture finds the edge by itself; statics gave the angle.
    rise = view.lean.centre[2] - view.lean.pivot_level
    assert math.degrees(math.atan2(view.lean.reach, rise)) == pytest.approx(
        answer.tipping_angle,
        abs=1e-4,  # of edges equal but for rounding it takes any
    )


def test_weight_beyond_the_support() -> None:
    pot = Pot(mass=1500, foot=RingFoot(80, 6), height=200, centre=(0, -25))
    setting = Setting(
        pot=pot, arrangement=put("disk", circle(3, 37), diameter=12), body="dry", mix=mix("open")
    )
    answer = check(setting)
    view = setting_view(setting, answer, title="Falls", shape="disk-12")
    assert view.verdict == "unsafe"
    assert view.lean is not None
    # The edge lies r/2 from the middle; r runs to the middle of a patch, not of its wad.
    assert view.lean.reach == pytest.approx(-25 + 37 / 2, abs=0.1)
    well_set(setting_picture(view))


@pytest.mark.parametrize("name", SETTINGS)
def test_numbers_are_those_of_the_check(name: str) -> None:
    view, answer = viewed(name)
    words = [text.text for text in texts(setting_picture(view))]
    assert answer.verdict in words
    for row in view.rows:
        assert row.value in words
    for number in answer.checks:
        assert any(number.name.split()[0] in word for word in words)


def test_side_view_of_a_ball_touches_the_wads() -> None:
    view, answer = viewed("round")
    assert view.ball_radius == 90
    # A sphere of 90 mm on contacts 38 mm out hangs 90 − √(90² − 38²) below them.
    assert view.pot_bottom == pytest.approx(20 - (90 - math.sqrt(90**2 - 38**2)))
    assert answer.extra["rise_mm"] == pytest.approx(20 - view.pot_bottom)


def test_belly_too_wide_for_its_cradle_rides_on_the_lips() -> None:
    pot = Pot(mass=900, foot=SideFoot(300))
    wads = put("cradle", [Spot(0, 0)])
    setting = Setting(pot=pot, arrangement=wads, body="wet", mix=mix("open"))
    view = setting_view(setting, check(setting), title="Wide", shape="cradle")
    (trough,) = wads.piece.body.pockets
    half = getattr(trough, "half_width")  # noqa: B009 - the pocket of a cradle is a trough
    lip = view.pot_bottom + 150 - math.sqrt(150**2 - half**2)
    assert lip == pytest.approx(getattr(trough, "z"))  # noqa: B009


def test_verdicts_differ_in_form() -> None:
    forms = {
        verdict: tuple(
            (type(item).__name__, str(item)[:40]) for item in verdict_mark((0, 0), verdict)
        )
        for verdict in ("sound", "tight", "unsafe")
    }
    assert len(set(forms.values())) == 3


def test_library_shows_every_shape_once_at_one_scale() -> None:
    specimens = [Specimen(n, shape.family, shape.piece()) for n, shape in NAMED.items()]
    drawing = library_picture(specimens)
    well_set(drawing)
    words = [text.text for text in texts(drawing)]
    for specimen in specimens:
        assert words.count(specimen.name) == 1
    for name in {specimen.family for specimen in specimens}:
        assert name in words
    heading = next(text.text for text in texts(drawing) if "shapes from above" in text.text)
    scale = 1.0 / float(heading.split("1 : ")[1].split(";")[0])
    bases = [
        item.outline
        for item in drawing.primitives()
        if isinstance(item, Region) and item.style == look.BASE
    ]
    *bases, _ = bases  # the last stands in the key
    drawn = sorted(outline.area for outline in bases)
    true = sorted(specimen.piece.body.base.area for specimen in specimens)
    assert drawn == pytest.approx([area * scale**2 for area in true], rel=1e-9)
    for a, b in combinations([outline.polygon() for outline in bases], 2):
        assert a.distance(b) > 2.0
    for text in texts(drawing):
        box = shapely.box(*text.box)
        assert not any(outline.polygon().intersects(box) for outline in bases), text.text


def test_empty_library() -> None:
    with pytest.raises(BadInput, match="empty library"):
        library_picture([])


def test_weak_places_are_marked_where_they_are() -> None:
    bone = [(0, 0), (20, 0), (20, 8), (40, 8), (40, 0), (60, 0)]
    bone += [(60, 20), (40, 20), (40, 11), (20, 11), (20, 20), (0, 20)]
    own = Custom(outline=Outline(Contour.polygon(bone)), draft=0.0, rounding=0.0, bend=0.0)
    (neck,) = own.weak_places()
    drawing = piece_picture("bone", own.piece(), weak=[neck])
    well_set(drawing)
    (mark,) = [i for i in drawing.primitives() if isinstance(i, Circle) and i.style == look.ALARM]
    regions = [i.outline for i in drawing.primitives() if isinstance(i, Region)]
    x0, y0, x1, _ = max(regions, key=lambda o: o.area).bounds
    scale = (x1 - x0) / 60.0
    # 3 mm of clay between 8 and 11 mm from the edge, somewhere along 20 to 40 mm.
    assert (mark.centre[1] - y0) / scale == pytest.approx(9.5, abs=0.1)
    assert 20.0 <= (mark.centre[0] - x0) / scale <= 40.0
    words = " ".join(text.text for text in texts(drawing))
    assert "1: clay only 3.00 mm wide" in words
    assert "from the middle of the outline's area" in words


@pytest.mark.parametrize("name", NAMED)
def test_piece_picture(name: str) -> None:
    piece = NAMED[name].piece()
    drawing = piece_picture(name, piece, facts=["oval, for low bowls"])
    well_set(drawing)
    words = [text.text for text in texts(drawing)]
    assert f"{piece.height:.1f}".removesuffix(".0") in words
