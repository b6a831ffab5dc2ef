"""Who may come in: the browser here, or whoever has the key; and who is who."""

from __future__ import annotations

import asyncio
import secrets
import time
from collections import deque
from http.cookies import CookieError, SimpleCookie
from typing import Any, Final
from urllib.parse import parse_qs

VISITOR: Final = "wadforms_visitor"
KEY: Final = "wadforms_key"

_YEAR: Final = 365 * 24 * 3600  # seconds
_LONGEST: Final = 100  # characters of a token
_TRIES: Final = 10  # wrong keys in a minute, of everybody together
_MINUTE: Final = 60.0
_LOOPBACK: Final = ("127.0.0.1", "localhost", "[::1]")

_POLICY: Final = (
    "default-src 'self'; script-src 'self' 'unsafe-inline' 'unsafe-eval'; "
    "style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; font-src 'self' data:; "
    "connect-src 'self' blob: ws: wss:; worker-src 'self' blob:; frame-ancestors 'none'; "
    "form-action 'self'; base-uri 'self'; object-src 'none'"
)
"""Nothing from outside is loaded, even if a page should name it (W3C Content Security Policy 3)."""

_LEFT: Final = "No response returned."
_SOON: Final = 0.2  # seconds in which a tab that has left is known to have

_ASK: Final = """<!doctype html><html lang="en"><meta charset="utf-8">
<meta name="viewport" content="width=device-width"><title>Key for wadforms</title>
<style>body{{font:18px/1.5 sans-serif;margin:2rem auto;max-width:30rem;padding:0 1rem}}
input,button{{font:inherit;min-height:48px;padding:0 .75rem;border:2px solid #1d1c1a;width:100%;
box-sizing:border-box;margin-top:.5rem}}button{{background:#1d1c1a;color:#fff}}</style>
<main><h1>The key, please</h1><p>{words}</p><form method="get" action="/">
<label for="key">Key, as the terminal shows it</label>
<input id="key" name="key" autocomplete="off" autocapitalize="none" spellcheck="false" autofocus>
<button>Come in</button></form></main></html>"""


class Gate:
    """Stands before everything that is served: pages, files and sockets.

    Parameters
    ----------
    app : callable
        What is served (ASGI 3).
    key : str or None
        What must be known to come in; None where only this machine can reach the page.
    """

    def __init__(self, app: Any, key: str | None = None) -> None:
        self.app = app
        self.key = key
        self._wrong: deque[float] = deque(maxlen=_TRIES)

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        """Serve, or refuse before anything is served."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        headers = {k.decode("latin-1").lower(): v.decode("latin-1") for k, v in scope["headers"]}
        cookies = _cookies(headers.get("cookie", ""))
        if not self._from_here(headers):
            await _refuse(scope, receive, send, 403, "This page answers under its own name only.")
            return
        setting: list[str] = []
        if self.key is not None and not self._same(cookies.get(KEY, ""), self.key):
            given = parse_qs(scope["query_string"].decode("latin-1")).get("key", [""])[0].strip()
            words = self._judged(given)
            if words:
                status = 429 if "minute" in words else 401
                await _refuse(scope, receive, send, status, _ASK.format(words=words))
                return
            setting.append(f"{KEY}={self.key}; Path=/; HttpOnly; SameSite=Strict")
        token = cookies.get(VISITOR, "")
        if not 20 <= len(token) <= _LONGEST or not token.isascii():
            token = secrets.token_urlsafe(24)
            setting.append(f"{VISITOR}={token}; Path=/; Max-Age={_YEAR}; HttpOnly; SameSite=Strict")
        scope["wadforms.visitor"] = token
        if (
            setting
            and self.key is not None
            and scope["type"] == "http"
            and b"key=" in scope["query_string"]
        ):
            await _redirect(send, scope["path"], setting)  # the key does not stay in the address
            return
        try:
            await self.app(scope, receive, _with_headers(send, setting))
        except RuntimeError as error:
            # A tab that leaves amid loading is told as a defect by the library that serves.
            if str(error) != _LEFT or not await _has_left(receive):
                raise

    def _from_here(self, headers: dict[str, str]) -> bool:
        """Whether it is asked under our own name: no other site's page may speak to us."""
        host = headers.get("host", "")
        if self.key is None and host.rpartition(":")[0] not in _LOOPBACK and host not in _LOOPBACK:
            return False
        origin = headers.get("origin")
        return origin is None or origin.partition("://")[2] == host

    def _judged(self, given: str) -> str:
        """Why nobody comes in with this key; empty where it is right."""
        now = time.monotonic()
        if len(self._wrong) == _TRIES and now - self._wrong[0] < _MINUTE:
            return "Too many wrong keys. Wait a minute, then try again."
        if self.key is not None and self._same(given, self.key):
            return ""
        if given:
            self._wrong.append(now)
            return "That is not the key. It stands in the terminal that the page was started from."
        return "This page is shared in the studio. Its key stands in the terminal there."

    @staticmethod
    def _same(given: str, key: str) -> bool:
        return secrets.compare_digest(given.encode(), key.encode())


async def _has_left(receive: Any) -> bool:
    """Whether nobody waits for the answer any more."""
    try:
        async with asyncio.timeout(_SOON):
            while (await receive())["type"] != "http.disconnect":
                pass
    except TimeoutError:
        return False
    return True


def _cookies(text: str) -> dict[str, str]:
    try:
        return {name: morsel.value for name, morsel in SimpleCookie(text).items()}
    except CookieError:
        return {}


def _with_headers(send: Any, setting: list[str]) -> Any:
    async def sent(message: Any) -> None:
        if message["type"] == "http.response.start":
            more = [(b"set-cookie", text.encode()) for text in setting]
            more += [
                (b"content-security-policy", _POLICY.encode()),
                (b"x-content-type-options", b"nosniff"),
                (b"referrer-policy", b"no-referrer"),
            ]
            message = {**message, "headers": [*message.get("headers", []), *more]}
        await send(message)

    return sent


async def _redirect(send: Any, path: str, setting: list[str]) -> None:
    place = b"/" + path.lstrip("/").encode("latin-1", errors="ignore")
    cookies = [(b"set-cookie", text.encode()) for text in setting]
    headers = [(b"location", place), (b"cache-control", b"no-store"), *cookies]
    await send({"type": "http.response.start", "status": 303, "headers": headers})
    await send({"type": "http.response.body", "body": b""})


async def _refuse(scope: Any, receive: Any, send: Any, status: int, body: str) -> None:
    if scope["type"] == "websocket":
        await receive()
        await send({"type": "websocket.close", "code": 1008})
        return
    data = body.encode()
    headers = [
        (b"content-type", b"text/html; charset=utf-8"),
        (b"content-length", str(len(data)).encode()),
        (b"cache-control", b"no-store"),
    ]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": data})
