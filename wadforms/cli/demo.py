"""`wadforms demo`: the main job on an invented scenario, by the same commands that a user types."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from wadforms.cli.options import Answering, Writing

EXAMPLES = """
wadforms demo
wadforms demo --out try --force
"""


def run(
    out: Annotated[
        Path, typer.Option("--out", "-o", help="Folder for what is written; made if not there.")
    ] = Path("wadforms-demo"),
    *,
    answering: Answering,
    writing: Writing,
) -> int:
    """Set an invented firing: check, size, draw, cut and mould, step by step."""
    import contextlib
    import io

    from wadforms.cli import call
    from wadforms.cli.printing import print_json, say
    from wadforms.errors import WouldOverwrite

    steps = list(_steps(out))
    taken = [path for step in steps for path in step.files if path.exists()]
    if taken and not writing.force:
        raise WouldOverwrite(taken[0])
    if writing.dry_run:
        commands = [{"title": step.title, "command": step.line} for step in steps]
        if answering.json:
            print_json({"files": [], "steps": commands})
        else:
            say(*(f"$ {step.line}" for step in steps))
        return 0
    _make_folder(out)
    done: list[dict[str, object]] = []
    for step in steps:
        if not answering.json:
            say("", f"# {step.title}", f"$ {step.line}")
        hidden = io.StringIO()
        quiet = contextlib.redirect_stdout(hidden) if answering.json else contextlib.nullcontext()
        with quiet:
            code = call([*step.arguments, *(["--force"] if step.files and writing.force else [])])
        done.append({"title": step.title, "command": step.line, "exit": code})
    files = [str(path) for step in steps for path in step.files if path.exists()]
    if answering.json:
        print_json({"files": files, "steps": done})
    else:
        say("", f"{len(files)} files in {out}; open the SVG pictures in a browser.")
    return 0


@dataclass(frozen=True, slots=True)
class _Step:
    title: str
    arguments: list[str]
    files: list[Path]

    @property
    def line(self) -> str:
        """The command as a user would type it."""
        import shlex

        return shlex.join(["wadforms", *self.arguments])


def _steps(folder: Path) -> Iterator[_Step]:
    import tomllib
    from importlib import resources

    text = (resources.files("wadforms.cli") / "demo.toml").read_text(encoding="utf-8")
    for step in tomllib.loads(text)["step"]:
        files = [folder / name for name in step.get("files", [])]
        # Each {} in the arguments stands for the next of the step's files.
        names = iter(files)
        arguments = [str(next(names)) if word == "{}" else word for word in step["arguments"]]
        yield _Step(step["title"], arguments, files)


def _make_folder(folder: Path) -> None:
    from wadforms.errors import BadInput, Fault

    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        right = f"give a folder that can be made ({error.strerror})"
        raise BadInput(Fault("--out", str(folder), right)) from None
