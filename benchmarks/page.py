"""How fast the page is: its first view after the command, and its answer to a keystroke.

The first view is counted from the start of the command to the last byte of the first page.  A
keystroke is counted at the server's side: from what was typed to the words and pictures that go to
the browser.  Exits with 1 where a target is missed; wants a quiet machine.
"""

from __future__ import annotations

import http.client
import os
import statistics
import subprocess
import sys
import tempfile
import time
from urllib.parse import urlsplit

from wadforms.page import pots, sized
from wadforms.page.measures import METRIC, shown
from wadforms.page.verdicts import numbers_html, verdict_html

FIRST_VIEW = 2.0  # seconds
KEYSTROKE = 0.1  # seconds, the median
STARTS = 5
COMMAND = "import sys; sys.argv[0] = 'wadforms'; from wadforms.cli import main; sys.exit(main())"

POTS = (
    {"weight": "35 kg", "foot": "240 mm", "height": "600 mm", "wad": "disk-31", "how_many": "9"},
    {"weight": "380 g", "foot": "50 mm", "foot_width": "5 mm", "height": "90 mm", "wad": "disk-10"},
    {"weight": "2,4 kg", "foot": "360 mm", "foot_width": "12 mm", "height": "60 mm",
     "wad": "leaf-55", "how_many": "16"},
    {"weight": "1.6 kg", "foot_kind": "side", "belly": "130 mm", "share": "70 %",
     "wad": "rail-63", "rail_angle": "40", "body": "wet"},
)  # fmt: skip


def first_view() -> float:
    """Seconds from the command to the first page."""
    with tempfile.TemporaryDirectory() as kept:
        started = time.perf_counter()
        process = subprocess.Popen(
            [sys.executable, "-c", COMMAND, "page", "--no-browser"],
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "WADFORMS_WORK": kept},
        )
        try:
            assert process.stdout is not None  # noqa: S101 - it was asked for
            where = urlsplit(process.stdout.readline().split()[4])
            link = http.client.HTTPConnection(where.hostname or "", where.port or 0)
            link.request("GET", "/")
            answer = link.getresponse()
            answer.read()
            taken = time.perf_counter() - started
            if answer.status != 200:
                raise SystemExit(f"the page answered {answer.status}")
            return taken
        finally:
            process.terminate()
            process.wait()


def answered(typed: dict[str, str]) -> float:
    """Seconds for one answer, with its words and pictures."""
    started = time.perf_counter()
    found = pots.answered(typed)[0].found
    if found is not None:
        for html in (verdict_html(found.answer, _shown), numbers_html(found, _shown)):
            html.encode()
    return time.perf_counter() - started


def _shown(text: str) -> str:
    return shown(text, METRIC)


def keystrokes(pot: dict[str, str]) -> list[float]:
    """Seconds for each keystroke of a pot that is typed field by field."""
    typed: dict[str, str] = {"wad": pot["wad"]}
    taken = []
    for name, text in pot.items():
        for end in range(1, len(text) + 1):
            typed[name] = text[:end]
            taken.append(answered(dict(typed)))
    # What is typed last, on a pot that is whole already: every keystroke is answered in full.
    for end in range(1, 7):
        taken.append(answered(pot | {"lid": "120.25 g"[:end] + " g"}))
    return taken


def main() -> int:
    """Measure and print; 1 where a target is missed."""
    answered(POTS[0])  # loads what the statics need
    typed = [seconds for pot in POTS for seconds in keystrokes(pot)]
    full = [answered(pot | {"lid": f"{k} g"}) for pot in POTS for k in range(100, 130)]
    shapes = []
    for height in range(8, 30):
        started = time.perf_counter()
        sized.shown("leaf-55", {"height": f"{height} mm"})
        shapes.append(time.perf_counter() - started)
    views = [first_view() for _ in range(STARTS)]
    rows = (
        ("first view after the command", statistics.median(views), FIRST_VIEW),
        ("keystroke, typed from nothing", statistics.median(typed), KEYSTROKE),
        ("keystroke, on a whole pot", statistics.median(full), KEYSTROKE),
        ("slider of a shape, with its triangles", statistics.median(shapes), KEYSTROKE),
    )
    for name, found, target in rows:
        print(f"{name:40} {found * 1000:8.0f} ms   at most {target * 1000:.0f} ms")
    print(f"{'slowest keystroke on a whole pot':40} {max(full) * 1000:8.0f} ms")
    return int(any(found > target for _, found, target in rows))


if __name__ == "__main__":
    sys.exit(main())
