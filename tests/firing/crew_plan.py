"""An invented firing with its wads, put together by hand: each touch sized for itself."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from wadforms.catalogue import find
from wadforms.firing.batch import Batch, batch
from wadforms.firing.candidates import candidate, candidates
from wadforms.firing.make_list import Box, Make, boxes_after, make_list, mix_volumes
from wadforms.firing.plan import Chosen, Plan, Wads
from wadforms.firing.rows import FLOOR, Cones, Lid, Posts, Row, Shelf, Ware
from wadforms.firing.sheet.content import crew_sheet
from wadforms.firing.sheet.parts import CrewSheet
from wadforms.firing.touches import FOOT, LID, ON_POST, SEAT, STACKED, UNDER_POST, Touch
from wadforms.firing.wash import KilnWash, kiln_wash
from wadforms.setting.feet import FlatFoot, GalleryFoot, RingFoot, SideFoot
from wadforms.setting.limits import PLACES, SHEAR
from wadforms.setting.mixes import USUAL, mix
from wadforms.setting.pot import Pot
from wadforms.setting.sizing import size

SHELTERED = PLACES["sheltered"]
STOCK = {("disk-8", "dry"): 50}

_MUG = Pot(mass=450.0, foot=RingFoot(70.0, 6.0), height=95.0)
_PLATES = Pot(mass=4400.0, foot=RingFoot(160.0, 8.0), height=112.0)
_JAR = Pot(mass=3000.0, foot=FlatFoot(120.0), height=210.0)
_LID = Pot(mass=600.0, foot=GalleryFoot(117.0, 7.0), height=40.0)
_BIG = Pot(mass=35000.0, foot=FlatFoot(240.0), height=600.0, centre_height=300.0)
_SIDE = Pot(mass=1600.0, foot=SideFoot(95.0), height=95.0)
_CORNER = Pot(mass=14000.0, foot=FlatFoot(64.0), height=20.0)


def ware(
    row: int,
    name: str,
    count: int,
    pot: Pot,
    *,
    on: str | None,
    place: str = "sheltered",
    stack: int = 1,
) -> Ware:
    """A row of the list for a pot that weighs what `pot` weighs over the stack."""
    return Ware(
        row=row,
        name=name,
        count=count,
        place=PLACES[place],
        stands_on=on,
        mass=pot.mass / stack,
        foot=pot.foot,
        height=pot.height,
        stack=stack,
        lid=Lid(mass=_LID.mass, gallery=GalleryFoot(117.0, 7.0)) if pot is _JAR else None,
    )


def chosen(
    row: Row,
    kind: str,
    words: tuple[str, str],
    count: int,
    pot: Pot,
    *,
    shapes: Sequence[str],
    body: str,
) -> Chosen:
    """A touch with the lightest wads of some shapes."""
    found = size(
        pot,
        candidates(shapes, lid=kind == LID),
        place=row.place,
        shear=SHEAR["firm"],
        mixes={body: mix(USUAL[body])},
    )
    best = found.best
    wads = None
    if best is not None:
        setting = best.setting
        wads = Wads(best.name, body, setting.arrangement.piece, setting.mix, best.count)
    upper, lower = words
    return Chosen(
        touch=Touch(row=row, kind=kind, upper=upper, lower=lower, count=count, pot=pot),
        wads=wads,
        choice=best,
        nearest=None if best else found.refused,
        why=found.why,
    )


@cache
def plan() -> Plan:
    """Seven kinds of things, one of which nothing serves, and one that stands bare."""
    disks = ("disk-8", "disk-12")
    mug = chosen(
        ware(2, "Mug", 36, _MUG, on=None), FOOT, ("Mug", "Middle shelf"), 36, _MUG,
        shapes=("disk-8",), body="dry",
    )  # fmt: skip
    plates = ware(3, "Plate <deep> & wide", 24, _PLATES, on="Middle shelf", stack=4)
    plate = chosen(
        plates, FOOT, (plates.name, "Middle shelf"), 6, _PLATES, shapes=disks, body="wet"
    )
    between = Chosen(
        touch=Touch(
            row=plates, kind=STACKED, upper=plates.name, lower=plates.name, count=18,
            pot=_PLATES, aligned_with=1,
        ),
        wads=plate.wads,
        choice=plate.choice,
    )  # fmt: skip
    jars = ware(4, "Lidded jar", 8, _JAR, on="Bottom shelf")
    jar = chosen(jars, FOOT, (jars.name, "Bottom shelf"), 8, _JAR, shapes=disks, body="wet")
    lid = chosen(
        jars, LID, ("lid of Lidded jar", jars.name), 8, _LID, shapes=("disk-5",), body="wet"
    )
    big = chosen(
        ware(5, "Jar by the firebox", 1, _BIG, on=FLOOR, place="firebox"), FOOT,
        ("Jar by the firebox", "floor"), 1, _BIG, shapes=("disk-20",), body="solid",
    )  # fmt: skip
    side = chosen(
        ware(6, "Bottle on its side", 3, _SIDE, on=FLOOR), FOOT,
        ("Bottle on its side", "floor"), 3, _SIDE, shapes=("rail-63",), body="wet",
    )  # fmt: skip
    shelf = Shelf(
        row=7, name="Middle shelf", count=2, place=SHELTERED, mass=21500.0, length=600.0,
        width=450.0, posts_at=((40.0, 40.0), (560.0, 40.0), (300.0, 410.0)),
        load_at=(300.0, 225.0), stands_on="Short post", level=2,
    )  # fmt: skip
    corner = chosen(
        shelf, ON_POST, ("Middle shelf", "Short post"), 6, _CORNER,
        shapes=("stand-6-160",), body="wet",
    )  # fmt: skip
    posts = Posts(
        row=8, name="Short post", count=6, place=SHELTERED, mass=1500.0, height=230.0,
        foot=FlatFoot(64.0), stands_on=FLOOR,
    )  # fmt: skip
    tall = Pot(mass=16000.0, foot=FlatFoot(64.0), height=230.0)
    post = chosen(
        posts, UNDER_POST, ("Short post", "floor"), 6, tall, shapes=("disk-8",), body="wet"
    )
    seat = candidate(find("cone-seat-3")).piece
    cones = Chosen(
        touch=Touch(
            row=Cones(
                row=9, name="Cones 9, 10, 11", count=2, place=SHELTERED, stands_on="Middle shelf"
            ),
            kind=SEAT,
            upper="Cones 9, 10, 11", lower="Middle shelf", count=2, pot=None,
        ),
        wads=Wads("cone-seat-3", "wet", seat, mix("open"), 1),
    )  # fmt: skip
    bare_row = Posts(
        row=10, name="Stub", count=1, place=SHELTERED, mass=900.0, height=80.0,
        foot=FlatFoot(64.0), bare=True, stands_on=FLOOR,
    )  # fmt: skip
    bare = Chosen(
        touch=Touch(
            row=bare_row, kind=UNDER_POST, upper="Stub", lower="floor", count=1, pot=_CORNER
        ),
        wads=None,
    )
    return Plan(
        chosen=(mug, plate, between, jar, lid, big, side, corner, post, cones, bare),
        from_stock={("disk-8", "dry"): 40},
        gap=0.0,
        one_fewer="",
        one_more="",
        problems=("row 7, Middle shelf: a post is 24 mm out of line",),
    )


@cache
def makes() -> tuple[Make, ...]:
    """The make list of the plan."""
    return make_list(plan(), spare=0.1, an_hour=60.0)


@cache
def batches() -> tuple[Batch, ...]:
    """The batches of the make list."""
    mixes = {make.mix.name: make.mix for make in makes()}
    return tuple(batch(mixes[name], volume) for name, volume in mix_volumes(makes()).items())


def wash() -> KilnWash:
    """The kiln wash of the plan."""
    shelves = {r.row: r for one in plan().chosen if isinstance(r := one.touch.row, Shelf)}
    return kiln_wash(makes(), list(shelves.values()))


def boxes() -> tuple[Box, ...]:
    """The boxes once the kiln is packed."""
    return boxes_after(makes(), STOCK)


@cache
def sheet(title: str = "November firing", date: str = "28 November") -> CrewSheet:
    """The crew sheet of the plan."""
    return crew_sheet(
        plan(),
        makes(),
        batches(),
        title=title,
        date=date,
        wash=wash(),
        boxes=boxes(),
        scoop=400e3,
        notes=("Middle shelf: its load acts at its middle",),
    )
