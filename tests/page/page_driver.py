"""Starts the page and a browser for the tests of the page."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

COMMAND = "import sys; sys.argv[0] = 'wadforms'; from wadforms.cli import main; sys.exit(main())"
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
FLAGS = [
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync"),
    *("--disable-background-networking", "--disable-component-update"),
    *("--use-angle=swiftshader", "--enable-unsafe-swiftshader"),  # three dimensions without a card
]

SOON = 20_000  # time that an answer may take on a machine that is busy with other tests [ms]


class Served(NamedTuple):
    """A page that is served: its address, what it said, and where it keeps and makes things."""

    address: str
    said: list[str]
    kept: Path
    made: Path
    process: subprocess.Popen[str]

    def folder(self) -> Path:
        """The folder of the only visitor who keeps something."""
        (folder,) = self.kept.iterdir()
        return folder

    def temporary(self) -> list[Path]:
        """What lies in the folder for what is made."""
        return [path for root in self.made.glob("wadforms-page-*") for path in root.rglob("*")]


@contextmanager
def served(place: Path, *arguments: str) -> Iterator[Served]:
    """Serve a page that keeps its work in a folder of the test."""
    kept, made = place / "kept", place / "made"
    kept.mkdir()
    made.mkdir()
    own = {"WADFORMS_WORK": str(kept), "TMPDIR": str(made), "XDG_CONFIG_HOME": str(place)}
    # The library that serves behaves otherwise where it sees that a test has started it.
    clean = {name: text for name, text in os.environ.items() if not name.startswith("PYTEST")}
    process = subprocess.Popen(
        [sys.executable, "-c", COMMAND, "page", "--no-browser", *arguments],
        env=clean | own,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    assert process.stdout is not None
    said = []
    try:
        last = "Key:" if "--share" in arguments else "The page is at"
        for line in process.stdout:
            said.append(line.strip())
            if line.startswith(last):
                break
        assert said[-1].startswith(last), "\n".join(said)
        address = next(line for line in said if line.startswith("The page is at")).split()[4]
        yield Served(address.rstrip("/"), said, kept, made, process)
    finally:
        process.send_signal(signal.SIGTERM)
        try:
            process.wait(10)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        process.stdout.close()


@contextmanager
def browser() -> Iterator[Browser]:
    """A browser without a window; the test is skipped where there is none."""
    found = next(filter(None, map(shutil.which, BROWSERS)), None)
    if found is None:
        pytest.skip("needs a browser (Debian: chromium)")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        started = driver.chromium.launch(executable_path=found, args=FLAGS)
        try:
            yield started
        finally:
            started.close()


def axe() -> str:
    """The script of axe-core, an accessibility checker (npm: axe-core), where it is at hand."""
    root = Path(__file__).resolve().parents[2]
    places = [os.environ.get("WADFORMS_AXE"), root / "node_modules" / "axe-core" / "axe.min.js"]
    for place in places:
        if place and Path(place).is_file():
            return Path(place).read_text(encoding="utf-8")
    pytest.skip("needs axe-core: npm install --no-save axe-core, or WADFORMS_AXE=.../axe.min.js")


def told(*arguments: str) -> dict[str, Any]:
    """What the command line answers as JSON."""
    done = subprocess.run(
        [sys.executable, "-c", COMMAND, *arguments, "--json"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode in {0, 3}, done.stderr
    answer: dict[str, Any] = json.loads(done.stdout)
    return answer


def fill(page: Page, **typed: str) -> None:
    for name, text in typed.items():
        page.fill(f"#f-{name}", text)


def kept(page: Page) -> str:
    """The file of what is typed, as the page names it."""
    words = page.locator("text=The same at a terminal").inner_text()
    return words.rpartition("@")[2].strip()


def press(page: Page, words: str) -> None:
    page.get_by_role("button", name=words, exact=True).click()


def answered(page: Page, words: str) -> None:
    page.wait_for_function("w => document.querySelector('main').innerText.includes(w)", arg=words)
