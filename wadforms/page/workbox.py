"""Shows slow work: how far it is, how to stop it, what was wrong, and the files to take away."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from html import escape
from typing import Any
from urllib.parse import quote

from nicegui import ui

from wadforms.page.inputs import button, markup
from wadforms.page.jobs import CANCELLED, DONE, RUNNING, Job
from wadforms.page.told import for_field
from wadforms.page.visit import Visit


class WorkBox:
    """The work of one place of a visitor.

    Parameters
    ----------
    visit : Visit
        Whose it is.
    place : str
        Where, as `Jobs` knows it.
    labels : mapping
        From an option to what its field is called.
    finished : callable
        Told of a job that is done.
    """

    def __init__(
        self,
        visit: Visit,
        place: str,
        labels: Mapping[str, str],
        finished: Callable[[Job], Any] | None = None,
    ) -> None:
        self.visit, self.place, self.labels = visit, place, labels
        self.finished = finished
        self.running = markup()
        with ui.element("div").classes("row"):
            self.stop = button("Cancel", self._cancel)
        self.result = markup()
        self.client = ui.context.client
        self.stop.set_visibility(False)

    def start(self, arguments: Sequence[str]) -> None:
        """Start a command in place of the last one here."""
        self.result.set_content("")
        self.visit.say("Work has begun")
        self.visit.start(self.place, arguments, self.draw)
        self.draw()

    def draw(self) -> None:
        """Show how things stand."""
        job = self.visit.site.jobs.of(self.visitor, self.place)
        if job is None or self.client.is_deleted:
            return
        self.stop.set_visibility(not job.ended)
        if not job.ended:
            self.running.set_content(_progress(job))
            return
        self.running.set_content("")
        if job.state == DONE:
            self.result.set_content(files_html(job))
            files = "1 file" if len(job.files) == 1 else f"{len(job.files)} files, each"
            self.visit.say(f"Done: {files} proven where it is a mould")
            if self.finished is not None:
                with self.client:
                    self.finished(job)
            return
        if job.state == CANCELLED:
            self.result.set_content("<p>Cancelled. Nothing was kept.</p>")
            self.visit.say("Cancelled. Nothing was kept.")
            return
        words = [for_field(fault, self.labels) for fault in job.faults]
        named = [
            f"{self.labels[f.where]}: {w}" if f.where in self.labels else w
            for f, w in zip(job.faults, words, strict=True)
        ]
        told = "".join(f'<p class="fault">✕ {escape(self.visit.shown(w))}</p>' for w in named)
        self.result.set_content(told)
        self.visit.say(" ".join(named))

    @property
    def visitor(self) -> str:
        """The visitor's token."""
        return self.visit.visitor

    def _cancel(self) -> None:
        job = self.visit.site.jobs.of(self.visitor, self.place)
        if job is not None:
            job.cancel()
            self.draw()


def files_html(job: Job) -> str:
    """The files of a job, to be taken one by one or together."""
    rows = [
        f'<li><a class="press" href="/made/{job.id}/{quote(file.name)}" download>'
        f"{escape(file.name)}</a> {_size(file.stat().st_size)}</li>"
        for file in job.files
    ]
    if len(rows) > 1:
        rows.append(
            f'<li><a class="press" href="/made/{job.id}.zip" download>All as a zip</a></li>'
        )
    return f"<h2>Files</h2><ul class='files'>{''.join(rows)}</ul>"


def _progress(job: Job) -> str:
    if job.state != RUNNING:
        return "<p>Waiting for other work to end …</p><progress aria-label='Waiting'></progress>"
    if job.progress is None or not job.progress[1]:
        return "<p>At work …</p><progress aria-label='At work'></progress>"
    done, total = job.progress
    label = f"{done} of {total}"
    return (
        f"<p>At work: {label}</p><progress max='{total}' value='{done}' aria-label='{label}'>"
        "</progress>"
    )


def _size(count: int) -> str:
    return f"{count / 1e6:.1f} MB" if count >= 1e6 else f"{max(count / 1e3, 0.1):.1f} kB"
