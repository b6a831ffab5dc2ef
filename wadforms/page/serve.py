"""Starts the page, and serves what belongs to it."""

from __future__ import annotations

import asyncio
import contextlib
import io
import secrets
import shutil
import socket
import sys
import zipfile
from functools import lru_cache
from typing import Any, Final

from fastapi import Request
from fastapi.responses import FileResponse, JSONResponse, Response
from nicegui import app, ui

from wadforms.errors import BadInput, Fault, WadformsError
from wadforms.page.frame import frame
from wadforms.page.gate import Gate
from wadforms.page.jobs import make_root
from wadforms.page.places import PLACES
from wadforms.page.uploads import take
from wadforms.page.visit import Place, Site, Visit
from wadforms.page.work import data_folder

USUAL_PORT: Final = 8712

_LOOPBACK: Final = "127.0.0.1"
_EVERYWHERE: Final = "0.0.0.0"  # noqa: S104 - only where --share asks for it, and behind a key
_KEY_LETTERS: Final = "abcdefghjkmnpqrstuvwxyz23456789"  # none that look alike
_KEY_LENGTH: Final = 16

_MARK: Final = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><circle cx="16" cy="16" r="14" '
    'fill="none" stroke="#1d1c1a" stroke-width="2.5"/><circle cx="16" cy="7" r="4"/>'
    '<circle cx="8.2" cy="20.5" r="4"/><circle cx="23.8" cy="20.5" r="4"/></svg>'
)
"""The page's mark: a foot on three wads."""


def serve(*, port: int | None = None, browser: bool = True, share: bool = False) -> None:
    """Serve the page until it is ended.

    Parameters
    ----------
    port : int or None
        To listen at; None takes the usual one, or a free one.
    browser : bool
        Whether the browser is opened.
    share : bool
        Whether others in the network may come in, with a key.

    Raises
    ------
    BadInput
        The port is taken or none.
    """
    host = _EVERYWHERE if share else _LOOPBACK
    taken = _port(host, port)
    key = "".join(secrets.choice(_KEY_LETTERS) for _ in range(_KEY_LENGTH)) if share else None
    root = make_root()
    site = Site(root, data_folder())
    _pages(site)
    _files(site)
    app.add_middleware(Gate, key=key)
    address = f"http://{_LOOPBACK}:{taken}/"

    async def ready() -> None:
        # The library tells of its start before anybody can come in.
        announcing.append(asyncio.create_task(_listening(taken)))
        announcing[0].add_done_callback(lambda _: announce())

    def announce() -> None:
        print(f"The page is at {address} (Ctrl+C ends it)", flush=True)
        if key is not None:
            for other in _addresses():
                print(f"In your network: http://{other}:{taken}/", flush=True)
            print(f"Key: {key}", flush=True)
        if browser:
            import webbrowser

            asyncio.get_running_loop().run_in_executor(
                None, webbrowser.open, address + (f"?key={key}" if key else "")
            )

    announcing: list[asyncio.Task[None]] = []
    app.on_startup(ready)
    app.on_shutdown(site.jobs.end)
    try:
        ui.run(
            host=host,
            port=taken,
            title="wadforms",
            favicon=_MARK,
            language="en-GB",
            show=False,
            reload=False,
            tailwind=False,
            show_welcome_message=False,
            binding_refresh_interval=None,
            server_header=False,
        )
    finally:
        site.jobs.end()
        shutil.rmtree(root, ignore_errors=True)


def _port(host: str, wanted: int | None) -> int:
    if wanted is not None and not 1 <= wanted <= 65535:
        raise BadInput(Fault("--port", str(wanted), "give 1 to 65535"))
    for port in (wanted,) if wanted is not None else (USUAL_PORT, 0):
        with socket.socket() as trial:
            if sys.platform != "win32":
                trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            with contextlib.suppress(OSError):
                trial.bind((host, port))
                return int(trial.getsockname()[1])
    raise BadInput(Fault("--port", f"{wanted}, which cannot be used,", "give another one"))


async def _listening(port: int) -> None:
    """Wait until somebody can come in."""
    while True:
        try:
            _, writer = await asyncio.open_connection(_LOOPBACK, port)
        except OSError:
            await asyncio.sleep(0.01)
        else:
            writer.close()
            return


def _addresses() -> list[str]:
    """Where this machine can be found in its network; nothing is sent to learn it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address for examples (RFC 5737)
        except OSError:
            return []
        return [str(probe.getsockname()[0])]


def _pages(site: Site) -> None:
    for place in PLACES:
        _page(site, place)


def _page(site: Site, place: Place) -> None:
    @ui.page(place.path, title=f"{place.title} · wadforms")
    def page(request: Request) -> None:
        visitor = _visitor(request)
        own = request.client is not None and request.client.host == _LOOPBACK
        visit = Visit(site, visitor, dict(request.query_params), at_home=own)
        site.came(visitor)
        ui.context.client.on_delete(lambda: site.went(visitor))
        with frame(visit, PLACES, place):
            place.build(visit)


def _visitor(request: Request) -> str:
    return str(request.scope["wadforms.visitor"])


def _files(site: Site) -> None:
    """Register what is fetched beside the pages; of a visitor's, only by that visitor."""

    @app.get("/made/{job}/{name}")
    def made(request: Request, job: str, name: str) -> Response:
        found = site.jobs.by_id(_visitor(request), job)
        file = next((f for f in found.files if f.name == name), None) if found else None
        if file is None:
            return Response(status_code=404)
        return FileResponse(file, filename=name, headers={"cache-control": "no-store"})

    @app.get("/made/{job}.zip")
    def together(request: Request, job: str) -> Response:
        found = site.jobs.by_id(_visitor(request), job)
        if found is None or not found.files:
            return Response(status_code=404)
        data = io.BytesIO()
        with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as packed:
            for file in found.files:
                packed.write(file, file.relative_to(found.folder))
        named = {"content-disposition": 'attachment; filename="wadforms.zip"'}
        return Response(data.getvalue(), media_type="application/zip", headers=named)

    @app.get("/view/{name}.stl")
    def view(request: Request, name: str) -> Response:
        data = site.view(_visitor(request), name)
        if data is None:
            return Response(status_code=404)
        return Response(data, media_type="model/stl", headers={"cache-control": "no-store"})

    @app.get("/picture/{name}.svg")
    def picture(request: Request, name: str) -> Response:
        try:
            data = _thumbnail(name, tuple(site.work(_visitor(request)).shapes_in))
        except WadformsError:
            return Response(status_code=404)
        kept = {"cache-control": "private, max-age=60"}
        return Response(data, media_type="image/svg+xml", headers=kept)

    @app.post("/take")
    async def taken(request: Request, name: str) -> Response:
        size = request.headers.get("content-length", "0")
        number = int(size) if size.isdecimal() and len(size) < 16 else 0
        try:
            folder = site.work(_visitor(request)).drawings
            place = await take(request.stream(), name, number, folder)
        except BadInput as error:
            fault = error.faults[0]
            words = f"{fault.given[:1].upper()}{fault.given[1:]} was given; {fault.right}"
            return JSONResponse({"words": words}, status_code=422)
        return JSONResponse({"name": place.name})


@lru_cache(maxsize=256)
def _thumbnail(name: str, folders: Any) -> bytes:
    from wadforms.catalogue import find
    from wadforms.page.pieces import thumbnail

    return thumbnail(find(name, folders).piece())
