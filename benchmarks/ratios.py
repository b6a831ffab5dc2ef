"""How fast the commands start and the statics run, as ratios that hold on any machine.

    python benchmarks/ratios.py [--runs 7]

A command is compared with the bare import of what it cannot do without, both as whole processes
in turns (A B A B), so that whatever else the machine does meets both alike.  The medians are
compared.  Exits with 1 where a target is missed.
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

WADFORMS: Final = "import sys; sys.argv[0] = 'wadforms'; from wadforms.cli import main; main()"
TEA_BOWL: Final = ["--weight", "380g", "--foot", "50mm", "--foot-width", "5mm", "--wad", "disk-10"]


@dataclass(frozen=True, slots=True)
class Race:
    """A command, what it is measured by, and how many times as long it may take."""

    name: str
    arguments: list[str]
    bare: str
    most: float


RACES: Final = (
    Race("--help", ["--help"], "import typer", 1.7),
    Race("contact --json", ["contact", *TEA_BOWL, "--json"], "import typer, shapely", 1.6),
    Race(
        "mould disk-20",
        ["mould", "disk-20", "--out", "tray.stl", "--force"],
        "import cadquery",
        1.4,
    ),
)

CHECKS_PER_SECOND: Final = 1000.0
TIMES_THE_INTERSECTIONS: Final = 3.0


def seconds(code: str, arguments: list[str], folder: Path) -> float:
    """How long a whole process takes [s]."""
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-c", code, *arguments],
        cwd=folder,
        # As installed: modules are compiled once, not at every start.
        env={k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        check=False,
    )
    taken = time.perf_counter() - start
    if done.returncode not in {0, 3}:  # 3: done, but a verdict says unsafe
        sys.exit(f"{' '.join(arguments) or code}: {done.stderr.decode()}")
    return taken


def in_turns(first: Callable[[], float], second: Callable[[], float], runs: int) -> list[float]:
    """Medians [s] of two things done in turns, after one go each that does not count."""
    first(), second()
    times = [(first(), second()) for _ in range(runs)]
    return [statistics.median(side) for side in zip(*times, strict=True)]


def race(one: Race, runs: int, folder: Path) -> bool:
    """Print how a command compares; whether it meets its target."""
    ours, bare = in_turns(
        lambda: seconds(WADFORMS, one.arguments, folder),
        lambda: seconds(one.bare, [], folder),
        runs,
    )
    within = ours / bare <= one.most
    print(
        f"{one.name:16} {ours * 1e3:7.0f} ms  {one.bare!r:25} {bare * 1e3:7.0f} ms  "
        f"ratio {ours / bare:.2f} (at most {one.most}) {'met' if within else 'MISSED'}"
    )
    return within


def statics(runs: int, body: str) -> bool:
    """Print how a check compares with the intersections in it; whether either target is met.

    Three disks half under a ring foot, each setting of another size so that nothing is reused; the
    intersections are those of each wad as set and as fired.
    """
    import numpy as np
    import shapely

    from wadforms.families.disk import Disk
    from wadforms.setting.arrangement import Arrangement, circle
    from wadforms.setting.checks import check
    from wadforms.setting.feet import RingFoot
    from wadforms.setting.mixes import mix
    from wadforms.setting.pot import Pot, Setting

    many = 200
    clay, piece = mix("open"), Disk(diameter=10, height=8).piece()
    foot = RingFoot(50.0, 5.0)
    pot = Pot(mass=380.0, foot=foot, centre_height=45.0)
    arrangements = [
        Arrangement(piece, tuple(circle(3, 22.0 + 0.005 * number))) for number in range(many)
    ]

    def checked() -> float:
        start = time.perf_counter()
        for wads in arrangements:
            check(Setting(pot=pot, arrangement=wads, body=body, mix=clay))
        return (time.perf_counter() - start) / many

    zone = foot.zone
    placed: list[Any] = []
    for wads in arrangements:
        for factor in (1.0, clay.fired_factor(body)):
            face = piece.faces[0].scaled(factor)
            placed.append(np.array([spot.place(face).polygon() for spot in wads.spots]))

    def intersected() -> float:
        start = time.perf_counter()
        for faces in placed:
            shapely.intersection(faces, zone)
        return (time.perf_counter() - start) / many

    ours, bare = in_turns(checked, intersected, runs)
    within = 1 / ours >= CHECKS_PER_SECOND or ours / bare <= TIMES_THE_INTERSECTIONS
    print(
        f"check, 3 {body} wads: {1 / ours:6.0f} a second (at least {CHECKS_PER_SECOND:.0f}), "
        f"{ours / bare:.2f} times its intersections (or at most {TIMES_THE_INTERSECTIONS:.0f} "
        f"times) {'met' if within else 'MISSED'}"
    )
    return within


def main() -> int:
    """Run all and print; 1 where a target is missed."""
    parser = argparse.ArgumentParser(description="Speed as ratios.")
    parser.add_argument("--runs", type=int, default=7, help="turns of each, at least 7")
    runs = max(7, parser.parse_args().runs)
    with tempfile.TemporaryDirectory() as folder:
        met = [race(one, runs, Path(folder)) for one in RACES]
    met += [statics(runs, body) for body in ("wet", "dry")]
    return 0 if all(met) else 1


if __name__ == "__main__":
    sys.exit(main())
