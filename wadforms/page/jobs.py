"""Slow work: a command in a process of its own, which can be watched, cancelled and lost."""

from __future__ import annotations

import asyncio
import contextlib
import json
import os
import secrets
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, Final

from wadforms.cli.progress import LINES
from wadforms.errors import Fault
from wadforms.page.told import faults_from

MOST_SECONDS: Final = 900.0
"""As long may a job take."""

_AT_ONCE: Final = 2  # jobs of all visitors
_LONGEST_LINE: Final = 1_000_000  # that a command may say [bytes]
_MOST_FAULTS: Final = 20  # that are told of one refusal
_GRACE: Final = 3.0  # seconds to end in peace
_COMMAND: Final = "import sys; sys.argv[0] = 'wadforms'; from wadforms.cli import main; main()"
_BROKEN: Final = "Traceback (most recent call last):"
_PREFIX: Final = "wadforms-page-"

WAITING: Final = "waiting"
RUNNING: Final = "running"
DONE: Final = "done"
REFUSED: Final = "refused"
CANCELLED: Final = "cancelled"
LOST: Final = "lost"


class Job:
    """One command with the folder that it writes into.

    Parameters
    ----------
    arguments : sequence of str
        Of the command line.
    folder : Path
        Empty; goes when the job is dropped.
    """

    def __init__(self, arguments: Sequence[str], folder: Path) -> None:
        self.id = secrets.token_urlsafe(12)
        self.arguments = list(arguments)
        self.folder = folder
        self.state = WAITING
        self.progress: tuple[int, int] | None = None
        self.answer: dict[str, Any] = {}
        self.faults: list[Fault] = []
        self.seconds = 0.0
        self._process: asyncio.subprocess.Process | None = None

    @property
    def ended(self) -> bool:
        """Whether nothing more will happen."""
        return self.state not in (WAITING, RUNNING)

    @property
    def files(self) -> list[Path]:
        """What was made, by name."""
        return sorted(p for p in self.folder.rglob("*") if p.is_file()) if self.ended else []

    async def run(self, room: asyncio.Semaphore, changed: Callable[[], None]) -> None:
        """Run the command to its end, however that comes.

        Parameters
        ----------
        room : Semaphore
            Lets only so many jobs run at once.
        changed : callable
            Told whenever there is something new.
        """
        async with room:
            if self.ended:
                return
            self.state = RUNNING
            started = time.monotonic()
            changed()
            try:
                code, out, lines = await self._ran(changed)
            except (OSError, ValueError) as error:  # it cannot be started, or not be read
                code, out, lines = -1, b"", [str(error) or type(error).__name__]
            self.seconds = time.monotonic() - started
        self._settle(code, out, lines)
        if self.state != DONE:
            self._empty()
        changed()

    def cancel(self) -> None:
        """End the work; what it wrote goes."""
        if self.ended:
            return
        waiting = self.state == WAITING
        self.state = CANCELLED
        if not waiting:
            self._signal(signal.SIGTERM)

    async def _ran(self, changed: Callable[[], None]) -> tuple[int, bytes, list[str]]:
        process = self._process = await asyncio.create_subprocess_exec(
            *(sys.executable, "-P", "-c", _COMMAND, *self.arguments, "--json"),
            cwd=self.folder,
            stdout=asyncio.subprocess.PIPE,
            stderr=asyncio.subprocess.PIPE,
            env={**os.environ, LINES: "1", "PYTHONIOENCODING": "utf-8"},
            start_new_session=sys.platform != "win32",
            limit=_LONGEST_LINE,
        )
        lines: list[str] = []
        assert process.stdout is not None and process.stderr is not None  # noqa: S101, PT018
        reading = asyncio.gather(
            process.stdout.read(), self._listen(process.stderr, lines, changed)
        )
        try:
            async with asyncio.timeout(MOST_SECONDS):
                out, _ = await reading
                await process.wait()
        except TimeoutError:
            self._signal(signal.SIGKILL if sys.platform != "win32" else signal.SIGTERM)
            await process.wait()
            return -1, b"", [f"It took more than {MOST_SECONDS / 60:.0f} minutes and was ended."]
        except (OSError, ValueError):
            reading.cancel()
            self._signal(signal.SIGKILL if sys.platform != "win32" else signal.SIGTERM)
            await process.wait()
            raise
        return process.returncode or 0, out, lines

    async def _listen(
        self, stream: asyncio.StreamReader, lines: list[str], changed: Callable[[], None]
    ) -> None:
        while line := (await stream.readline()).decode("utf-8", errors="replace"):
            text = line.rstrip()
            if text.startswith(f"{LINES} "):
                done, _, total = text.partition(" ")[2].partition("/")
                self.progress = int(done), int(total)
                changed()
            else:
                lines.append(text)
                del lines[:-200]

    def _settle(self, code: int, out: bytes, lines: list[str]) -> None:
        if self.state == CANCELLED:
            return
        if code in (0, 3):
            try:
                self.answer = json.loads(out)
                self.state = DONE
                return
            except ValueError:
                code = -1
        if code in (1, 2) and _BROKEN not in lines:
            self.state = REFUSED
            told = faults_from(lines)
            self.faults = told[-_MOST_FAULTS:]
            if len(told) > _MOST_FAULTS:
                more = f"More was refused: these are the last {_MOST_FAULTS}. Mend them first."
                self.faults.append(Fault("", more, ""))
            return
        self.state = LOST
        why = (
            "The work was ended from outside, or broke off. Nothing of it was kept. Start it again."
        )
        self.faults = [Fault("", why, ""), *faults_from(lines[-1:])]

    def _signal(self, number: int) -> None:
        process = self._process
        if process is None or process.returncode is not None:
            return
        with contextlib.suppress(ProcessLookupError):
            if sys.platform == "win32":
                process.terminate()
            else:
                os.killpg(process.pid, number)
                if number == signal.SIGTERM:
                    loop = asyncio.get_running_loop()
                    loop.call_later(_GRACE, self._signal, signal.SIGKILL)

    def _empty(self) -> None:
        if not self.folder.is_dir():  # the job was dropped meanwhile
            return
        for path in self.folder.iterdir():
            if path.is_dir():
                shutil.rmtree(path, ignore_errors=True)
            else:
                path.unlink(missing_ok=True)


class Jobs:
    """The jobs of all visitors: of each, one at a time in a place; the last one is kept.

    Parameters
    ----------
    root : Path
        A folder that is ours and goes when the page ends.
    """

    def __init__(self, root: Path) -> None:
        self.root = root
        self.room = asyncio.Semaphore(_AT_ONCE)
        self._jobs: dict[tuple[str, str], Job] = {}
        self._tasks: set[asyncio.Task[None]] = set()

    def start(
        self, visitor: str, place: str, arguments: Sequence[str], changed: Callable[[], None]
    ) -> Job:
        """Start a job in place of the visitor's last one there.

        Parameters
        ----------
        visitor, place : str
            Whose it is, and where on the page.
        arguments : sequence of str
            Of the command line.
        changed : callable
            Told whenever there is something new.
        """
        self.drop(visitor, place)
        job = Job(arguments, Path(tempfile.mkdtemp(dir=self.root)))
        self._jobs[visitor, place] = job
        task = asyncio.create_task(job.run(self.room, changed))
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)
        return job

    def of(self, visitor: str, place: str) -> Job | None:
        """The visitor's last job at a place."""
        return self._jobs.get((visitor, place))

    def by_id(self, visitor: str, name: str) -> Job | None:
        """A job of this visitor by its id; nobody gets another's."""
        own = (job for (whose, _), job in self._jobs.items() if whose == visitor)
        return next((job for job in own if secrets.compare_digest(job.id, name)), None)

    def drop(self, visitor: str, place: str) -> None:
        """End a job and let its files go."""
        job = self._jobs.pop((visitor, place), None)
        if job is not None:
            job.cancel()
            shutil.rmtree(job.folder, ignore_errors=True)

    def drop_all(self, visitor: str) -> None:
        """End all jobs of a visitor."""
        for whose, place in list(self._jobs):
            if whose == visitor:
                self.drop(whose, place)

    def end(self) -> None:
        """End everything."""
        for whose, place in list(self._jobs):
            self.drop(whose, place)


def make_root() -> Path:
    """A folder for what is made while the page runs; those of pages that died are cleared.

    Returns
    -------
    Path
        A new folder, named after this process.
    """
    base = Path(tempfile.gettempdir())
    for old in base.glob(f"{_PREFIX}*"):
        owner = old.name.removeprefix(_PREFIX).partition("-")[0]
        if owner.isdecimal() and not _runs(int(owner)):
            shutil.rmtree(old, ignore_errors=True)
    return Path(tempfile.mkdtemp(prefix=f"{_PREFIX}{os.getpid()}-"))


def _runs(process: int) -> bool:
    """Whether a process is there; where that cannot be told, it is."""
    if sys.platform == "win32":
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True
