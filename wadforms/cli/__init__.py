"""The command line: reads, calls, prints.

Nothing is computed here.  Each command is a module with a function `run` and `EXAMPLES` for its
help; only the command that is asked for is loaded, and it loads what it needs.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
from collections.abc import Sequence
from importlib import import_module
from io import TextIOWrapper
from typing import Annotated, Final

import typer

from wadforms.cli.argument_files import expanded
from wadforms.errors import ProofFailed, WadformsError

COMMANDS: Final = {
    "size": "Pick wads for one pot: the lightest arrangement within all limits, and why.",
    "contact": "Check one pot on given wads: contact, pressure, tipping, spacing.",
    "shapes": "List the shapes, or describe one with its parameters.",
    "outline": "Take the outline of a drawing from a photo or scan, at true size, as SVG.",
    "template": "Write a cutting template at true scale, with a square to measure the print by.",
    "slab": "Lay as many pieces as a rolled slab yields, and tell what is left over.",
    "mould": "Write moulds of five kinds for printing, enlarged for shrinkage, each file proven.",
    "firing": "Choose wads for a whole firing: what to make, from what, and where each goes.",
    "measure": "Turn your own tests into a file that replaces what is assumed, with their spread.",
    "batch": "Tell what to weigh out for a volume of wet mix, by weight and by the scoop.",
    "page": "Open a page on this computer that does the whole job, in the browser.",
    "demo": "Set an invented firing: check, size, draw, cut and mould, step by step.",
}
"""Each command, a module of this package, with what it does."""

_HELP: Final = """Wads for wood firing: which, how many and where, with templates and moulds.

\b
wadforms size --weight 35kg --foot 240mm --height 600mm
wadforms contact --weight 380g --foot 50mm --foot-width 5mm --wad disk-10
wadforms template leaf-55
wadforms mould disk-25
wadforms demo
"""


def app_for(arguments: Sequence[str]) -> typer.Typer:
    """The app for these arguments: the command that they begin with, else the list of all."""
    app = typer.Typer(
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        add_completion=False,
        no_args_is_help=True,
        help=_HELP,
    )
    app.callback()(_everywhere)
    if arguments and arguments[0] in COMMANDS:
        from wadforms.cli.grouping import with_groups

        name = arguments[0]
        module = import_module(f"wadforms.cli.{name}")
        text = f"{COMMANDS[name]}\n\n\b{module.EXAMPLES}"
        app.command(name, help=text)(with_groups(module.run))
        return app
    for name, summary in COMMANDS.items():
        app.command(name, help=summary)(_not_loaded)
    return app


def call(arguments: Sequence[str]) -> int:
    """Run one command in this process and give its exit code.

    Raises
    ------
    WadformsError
        As the command says.
    """
    return app_for(arguments)(list(arguments), standalone_mode=False) or 0


def main() -> None:
    """Run the command line; the one place where errors become messages and exit codes."""
    # Whoever ends us politely lets us clean up: what is half written goes.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(128 + signal.SIGTERM))
    gc.set_threshold(50_000)  # nothing that loading makes is garbage, and looking for it costs
    arguments = sys.argv[1:]
    if isinstance(sys.stdout, TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")  # not every terminal knows a ×
    try:
        try:
            arguments = expanded(arguments)
            app_for(arguments)(arguments)
        finally:
            if sys.stdout is not None:
                sys.stdout.flush()  # here, where a full disk is still told in plain words
    except WadformsError as error:
        print(f"wadforms: {error}", file=sys.stderr)
        sys.exit(1 if isinstance(error, ProofFailed) else 2)
    except BrokenPipeError:  # the reader of our output has gone, as `head` does
        _drop_output()
    except OSError as error:
        if error.filename is not None:  # about a file that was opened, not about our output
            raise
        _drop_output()
        print(f"wadforms: the output cannot be written ({error.strerror})", file=sys.stderr)
        sys.exit(2)


def _drop_output() -> None:
    """Let what is still to be printed go nowhere, so that the interpreter can end in peace."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _not_loaded() -> None:
    """Stand for a command that was not asked for."""


def _print_version(asked: bool) -> None:
    if asked:
        from importlib.metadata import version as installed

        print(f"wadforms {installed('wadforms')}")
        raise typer.Exit


def _everywhere(
    version: Annotated[
        bool,
        typer.Option(
            "--version", help="Print the version.", is_eager=True, callback=_print_version
        ),
    ] = False,
) -> None:
    """Hold the options that stand before a command."""
