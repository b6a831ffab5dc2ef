"""The command line: reads, calls, prints.

Nothing is computed here.  Each command is a module; libraries that are slow to load are loaded
by the command that needs them.
"""

from __future__ import annotations

import os
import sys
from typing import Annotated

import typer

from wadforms.cli import contact, demo, mould, shapes, size, template
from wadforms.cli.grouping import with_groups
from wadforms.errors import ProofFailed, WadformsError

UNSAFE = 3
"""Exit code where the work was done but a verdict says unsafe."""

app = typer.Typer(
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    add_completion=False,
    no_args_is_help=True,
    help="""Wads for wood firing: which, how many and where, with their templates and moulds.

    \b
    wadforms size --weight 35kg --foot 240mm --height 600mm
    wadforms contact --weight 380g --foot 50mm --foot-width 5mm --height 80mm --wad disk-10
    wadforms template leaf-55
    wadforms mould disk-25
    wadforms demo
    """,
)
for module in (size, contact, shapes, template, mould, demo):
    app.command(module.NAME)(with_groups(module.run))


@app.callback()
def _everywhere(
    version: Annotated[bool, typer.Option("--version", help="Print the version.")] = False,
) -> None:
    if version:
        from importlib.metadata import version as installed

        print(f"wadforms {installed('wadforms')}")
        raise typer.Exit


def main() -> None:
    """Run the command line; the one place where errors become messages and exit codes."""
    try:
        code = app(standalone_mode=False)
    except WadformsError as error:
        print(f"wadforms: {error}", file=sys.stderr)
        sys.exit(1 if isinstance(error, ProofFailed) else 2)
    except BrokenPipeError:  # the reader of our output has gone, as `head` does
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    sys.exit(code or 0)
