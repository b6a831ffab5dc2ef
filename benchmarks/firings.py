"""How fast a whole firing is chosen: how it grows with its rows, and beside bare geometry.

    python benchmarks/firings.py [--rows 1000] [--runs 1]

Three things, all in this process, in processor time, so that other work on the machine counts
little:

- four times as many distinct rows, over the time for the rows themselves: at most 4.6;
- the most memory that the process came to hold, at four times the rows: at most 500 MiB;
- the rows over the bare shapely work in them: at most 10.  That work is the intersection of each
  bearing top with the foot, at each radius that is tried and at each size: as set, and at top
  heat for each body that may be chosen.  Tops are placed and feet are prepared before the clock
  runs, and all intersections of a row are one call.

The rows are invented: feet that are flat, rings and galleries, bowls and plates, one in seven at
the firebox and one in seven where wood is thrown; no two are alike.  Exits with 1 where a target
is missed.
"""

from __future__ import annotations

import argparse
import random
import resource
import sys
import time
from collections.abc import Sequence
from typing import Any, Final

from wadforms.firing.candidates import candidates
from wadforms.firing.choosing import choose
from wadforms.firing.rows import Ware
from wadforms.firing.touches import FOOT, LID, Audit, Touch
from wadforms.setting.feet import FlatFoot, Foot, GalleryFoot, PlaneFoot, RingFoot
from wadforms.setting.layouts import layouts
from wadforms.setting.limits import PLACES, SHEAR
from wadforms.setting.mixes import USUAL, mix
from wadforms.setting.pot import Pot
from wadforms.setting.sizing import bodies_for
from wadforms.setting.tries import Candidate

MIXES: Final = {body: mix(name) for body, name in USUAL.items()}
GROWTH: Final = 4.6
MEMORY: Final = 500.0
TIMES_BARE: Final = 10.0
PLACED: Final = ("sheltered",) * 5 + ("firebox", "stoking")


def invented(rows: int) -> Audit:
    """So many distinct touches, the same in every run; fewer are the first of more."""
    chance = random.Random(1)  # noqa: S311  (no secret)
    touches = []
    for number in range(rows):
        across = round(chance.uniform(50.0, 260.0), 2)
        height = round(across * chance.uniform(0.6, 1.5), 1)
        mass = round(450.0 * (across / 80.0) ** 2.2 * chance.uniform(0.6, 1.4), 1)
        kind = chance.choice(("flat", "ring", "gallery", "plate"))
        foot: Foot = FlatFoot(across)
        if kind == "ring":
            foot = RingFoot(across, round(chance.uniform(5.0, 10.0), 2))
        elif kind == "gallery":
            foot = GalleryFoot(across, round(chance.uniform(6.0, 10.0), 2))
            mass, height = mass / 4, height / 4
        elif kind == "plate":
            foot = RingFoot(across, round(chance.uniform(6.0, 12.0), 2))
            mass, height = mass / 2, round(across / 8, 1)
        place = PLACES[chance.choice(PLACED)]
        name, count = f"ware {number}", chance.randint(1, 20)
        row = Ware(row=number + 2, name=name, count=count, place=place, mass=mass, foot=foot)
        touches.append(
            Touch(
                row=row,
                kind=LID if kind == "gallery" else FOOT,
                upper=name,
                lower="gallery" if kind == "gallery" else "shelf",
                count=count,
                pot=Pot(mass=mass, foot=foot, height=height),
            )
        )
    return Audit(touches=tuple(touches))


def chosen_in(audit: Audit, feet: Sequence[Candidate], lids: Sequence[Candidate]) -> float:
    """How long choosing takes [s]."""
    start = time.process_time()
    choose(audit, feet, lids, mixes=MIXES, shear=SHEAR["firm"])
    return time.process_time() - start


def bare_in(audit: Audit, feet: Sequence[Candidate], lids: Sequence[Candidate]) -> float:
    """How long the intersections alone take [s]."""
    taken = 0.0
    for touch in audit.touches:
        pot = touch.pot
        if pot is None or not isinstance(pot.foot, PlaneFoot):
            sys.exit(f"{touch.name}: no plane foot")
        zone = pot.foot.zone
        placed = tops(pot, touch, lids if touch.kind == LID else feet)
        start = time.process_time()
        intersect(placed, zone)
        taken += time.process_time() - start
    return taken


def tops(pot: Pot, touch: Touch, tried: Sequence[Candidate]) -> Any:
    """One top of each piece on each radius, at each size that it has."""
    import numpy as np
    import shapely

    bodies = bodies_for(touch.row.place, None)
    placed = []
    for one in tried:
        usable = [body for body in bodies if body in one.bodies]
        if not usable or not one.piece.faces:
            continue
        sizes = {1.0, *(MIXES[body].fired_factor(body) for body in usable)}
        for radius in {spot.radius for layout in layouts(pot, one.piece) for spot in layout.spots}:
            for face in one.piece.faces:
                placed += [
                    shapely.transform(
                        face.polygon(), lambda p, f=size, r=radius: p * f + np.array([0.0, r])
                    )
                    for size in sizes
                ]
    return np.array(placed)


def intersect(placed: Any, zone: Any) -> None:
    """The bare work of one row."""
    import shapely

    shapely.intersection(placed, zone)


def main() -> int:
    """Measure and print; 1 where a target is missed."""
    parser = argparse.ArgumentParser(description="How fast a whole firing is chosen.")
    parser.add_argument("--rows", type=int, default=1000)
    parser.add_argument("--runs", type=int, default=1, help="the best of so many counts")
    given = parser.parse_args()
    feet, lids = candidates(), candidates(lid=True)
    chosen_in(invented(20), feet, lids)  # what is loaded and measured once does not count
    few, many = invented(given.rows), invented(4 * given.rows)
    ours = min(chosen_in(few, feet, lids) for _ in range(given.runs))
    bare = min(bare_in(few, feet, lids) for _ in range(given.runs))
    longer = min(chosen_in(many, feet, lids) for _ in range(given.runs))
    # Linux tells it in KiB.
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    met = [longer / ours <= GROWTH, memory <= MEMORY, ours / bare <= TIMES_BARE]
    words = ["met" if one else "MISSED" for one in met]
    print(f"{given.rows} rows: {ours:.2f} s, {given.rows / ours:.0f} rows a second")
    print(f"4 times as many: {longer / ours:.2f} times as long (at most {GROWTH}) {words[0]}")
    print(f"memory: {memory:.0f} MiB (at most {MEMORY:.0f}) {words[1]}")
    print(
        f"bare intersections of {given.rows} rows: {bare:.2f} s, ours {ours / bare:.1f} times as "
        f"long (at most {TIMES_BARE:.0f}) {words[2]}"
    )
    return 0 if all(met) else 1


if __name__ == "__main__":
    sys.exit(main())
