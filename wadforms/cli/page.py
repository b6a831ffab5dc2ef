"""`wadforms page`: the same work in a browser."""

from __future__ import annotations

from importlib import import_module
from typing import Annotated

import typer

EXAMPLES = """
wadforms page
wadforms page --port 8800 --no-browser
wadforms page --share
"""


def run(
    port: Annotated[
        int | None,
        typer.Option("--port", help="Where the page listens; a free port if not given."),
    ] = None,
    browser: Annotated[
        bool, typer.Option("--browser/--no-browser", help="Open the page in your browser.")
    ] = True,
    share: Annotated[
        bool,
        typer.Option(
            "--share",
            help="Let a phone in your network come in too, with a key that is shown here.",
        ),
    ] = False,
) -> int:
    """Open a page on this computer that does the whole job, in the browser."""
    # The page stands above the command line and calls it; so it is loaded by its name, as a
    # command is.
    import_module("wadforms.page.serve").serve(port=port, browser=browser, share=share)
    return 0
