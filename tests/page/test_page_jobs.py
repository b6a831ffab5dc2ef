"""What becomes of slow work that breaks off, or that nobody waits for any more."""

from __future__ import annotations

import asyncio
from pathlib import Path
from types import SimpleNamespace

import pytest

from wadforms.page import jobs
from wadforms.page.jobs import CANCELLED, LOST, REFUSED, Job, Jobs
from wadforms.page.one_pot import OnePot
from wadforms.page.pots import outcome
from wadforms.page.visit import Site, Visit

HEAVY = ["contact", "--weight=heavy", "--foot=5cm", "--wad=disk-20"]


def ran(root: Path, arguments: list[str]) -> Job:
    """A job that has come to its end."""

    async def run() -> Job:
        all_jobs = Jobs(root)
        job = all_jobs.start("me", "here", arguments, lambda: None)
        while not job.ended:
            await asyncio.sleep(0.01)
        return job

    return asyncio.run(run())


def test_what_is_refused_is_told_as_the_command_line_tells_it(tmp_path: Path) -> None:
    job = ran(tmp_path, HEAVY)
    assert job.state == REFUSED
    assert [fault.where for fault in job.faults] == ["--weight"]


def test_a_defect_of_ours_is_told_in_words_and_keeps_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken = "open('half', 'w').close(); {}['a defect']"
    monkeypatch.setattr(jobs, "_COMMAND", broken)
    job = ran(tmp_path, HEAVY)
    assert job.state == LOST
    told = [fault.given for fault in job.faults]
    assert "broke off" in told[0]
    assert told[1:] == ["KeyError: 'a defect'"]
    assert job.files == []


def test_what_cannot_be_started_comes_to_its_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(jobs.sys, "executable", str(tmp_path / "nothing"))  # type: ignore[attr-defined]
    job = ran(tmp_path, HEAVY)
    assert job.state == LOST
    assert "No such file" in job.faults[1].given


def test_a_line_that_does_not_end_ends_the_work(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    endless = (
        "import sys, time; sys.stderr.write('x' * 3_000_000); sys.stderr.flush(); time.sleep(60)"
    )
    monkeypatch.setattr(jobs, "_COMMAND", endless)
    assert ran(tmp_path, HEAVY).state == LOST


def test_it_is_said_where_more_was_refused_than_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    many = "import sys; sys.stderr.write(''.join(f'wadforms: --a: {k} was given; no\\n' "
    monkeypatch.setattr(jobs, "_COMMAND", many + "for k in range(30))); sys.exit(2)")
    job = ran(tmp_path, HEAVY)
    assert job.state == REFUSED
    assert [fault.given for fault in job.faults[:-1]] == [str(k) for k in range(10, 30)]
    assert "More was refused" in job.faults[-1].given


def test_work_that_is_dropped_ends_quietly(tmp_path: Path) -> None:
    wrong: list[object] = []

    async def run() -> Job:
        asyncio.get_running_loop().set_exception_handler(lambda _, said: wrong.append(said))
        all_jobs = Jobs(tmp_path)
        job = all_jobs.start(
            "me", "here", ["mould", "gingko-50", "--fill-bed=220x220"], lambda: None
        )
        while job._process is None:
            await asyncio.sleep(0.01)
        tasks = list(all_jobs._tasks)
        all_jobs.drop_all("me")
        await asyncio.wait(tasks, timeout=20.0)
        wrong.extend(error for task in tasks if (error := task.exception()))
        return job

    assert asyncio.run(run()).state == CANCELLED
    assert wrong == []
    assert list(tmp_path.iterdir()) == []


def test_no_file_of_another_is_read_by_typing_and_pressing_at_once(tmp_path: Path) -> None:
    bowl = {"weight": "450g", "foot": "80mm", "wad": "disk-16"}
    pot = OnePot(Visit(Site(tmp_path / "made", tmp_path / "kept"), "somebody", {}))
    started: list[list[str]] = []
    pot.box = SimpleNamespace(start=started.append)  # type: ignore[assignment]
    pot.outcome = outcome(bowl)  # the answer is still that of what was typed before
    pot.typed = bowl | {"mix": str(tmp_path / "kept" / "another" / "mixes" / "own.toml")}
    pot._make()
    assert started == []
    pot.typed = dict(bowl)
    pot._make()
    assert [arguments[0] for arguments in started] == ["contact"]
