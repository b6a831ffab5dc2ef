"""Who may come in, what may be handed in, and that the page cleans up after itself."""

from __future__ import annotations

import asyncio
import http.client
import json
import os
import re
import tempfile
import time
from collections.abc import AsyncIterator, Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from page_driver import Served, served

from wadforms.errors import BadInput
from wadforms.page.gate import Gate
from wadforms.page.jobs import make_root
from wadforms.page.uploads import MOST, take

BOMB = (
    '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;">]>'
    '<svg xmlns="http://www.w3.org/2000/svg"><text>&b;</text></svg>'
)


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("shared"), "--share") as found:
        yield found


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("alone")) as found:
        yield found


def asked(
    site: Served,
    path: str,
    headers: dict[str, str] | None = None,
    *,
    method: str = "GET",
    body: bytes | None = None,
) -> tuple[int, dict[str, str], bytes]:
    """What comes back: status, headers and body."""
    where = urlsplit(site.address)
    link = http.client.HTTPConnection(where.hostname or "", where.port or 0, timeout=30)
    try:
        link.request(method, path, body=body, headers=headers or {})
        answer = link.getresponse()
        found = {name.lower(): text for name, text in answer.getheaders()}
        cookies = [t.split(";")[0] for n, t in answer.getheaders() if n.lower() == "set-cookie"]
        return answer.status, found | {"set-cookie": "; ".join(cookies)}, answer.read()
    finally:
        link.close()


def key_of(site: Served) -> str:
    return site.said[-1].removeprefix("Key: ")


UPGRADE = {
    **{"Connection": "Upgrade", "Upgrade": "websocket", "Sec-WebSocket-Version": "13"},
    "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==",  # the example of RFC 6455
}


@pytest.mark.parametrize(
    "path", ["/", "/make", "/_nicegui/static/nicegui.js", "/picture/disk-20.svg", "/docs"]
)
def test_without_the_key_nothing_is_served(shared: Served, path: str) -> None:
    status, headers, body = asked(shared, path)
    assert status == 401
    assert b"The key, please" in body
    assert not headers["set-cookie"]
    assert key_of(shared).encode() not in body


def test_without_the_key_no_socket_is_opened(shared: Served) -> None:
    for path in ("/_nicegui_ws/socket.io/?EIO=4&transport=websocket", "/anything"):
        assert asked(shared, path, UPGRADE)[0] in {401, 403}
    status, _, _ = asked(shared, "/take?name=a.svg", method="POST", body=b"<svg/>")
    assert status == 401


def test_with_the_key_everything_is_and_the_key_leaves_the_address(shared: Served) -> None:
    status, headers, _ = asked(shared, f"/?key={key_of(shared)}")
    assert status == 303
    assert headers["location"] == "/"
    status, _, body = asked(shared, "/", {"Cookie": headers["set-cookie"]})
    assert status == 200
    assert b"One pot" in body
    assert len(key_of(shared)) >= 16


def test_keys_cannot_be_tried_fast(tmp_path: Path) -> None:
    with served(tmp_path, "--share") as site:
        tried = [asked(site, f"/?key=wrong-{k}")[0] for k in range(12)]
        assert tried[:10] == [401] * 10
        assert tried[10:] == [429] * 2
        # Even the right one waits then; but who is in already stays in.
        assert asked(site, f"/?key={key_of(site)}")[0] == 429
        assert asked(site, "/", {"Cookie": f"wadforms_key={key_of(site)}"})[0] == 200


@pytest.mark.parametrize(
    "headers",
    [{"Host": "evil.example"}, {"Host": "evil.example:8712"}, {"Origin": "http://evil.example"}],
    ids=str,
)
def test_other_sites_cannot_speak_to_it(site: Served, headers: dict[str, str]) -> None:
    assert asked(site, "/", headers)[0] == 403
    assert asked(site, "/take?name=a.svg", headers, method="POST", body=b"<svg/>")[0] == 403


def test_it_listens_on_this_machine_alone(site: Served) -> None:
    port = urlsplit(site.address).port or 0
    listening = Path("/proc/net/tcp").read_text().splitlines()[1:]
    here = [line.split()[1] for line in listening if line.split()[3] == "0A"]
    assert [one for one in here if one.endswith(f":{port:04X}")] == [f"0100007F:{port:04X}"]


def test_a_page_may_load_nothing_from_elsewhere(site: Served) -> None:
    status, headers, body = asked(site, "/")
    assert status == 200
    assert "default-src 'self'" in headers["content-security-policy"]
    text = body.decode()
    named = re.findall(r"""(?:src|href|url)=?\(?["']([^"']+)["']""", text)
    named += json.loads(re.findall(r'"imports": (\{.*?\})\}', text)[0]).values()
    assert len(named) > 10
    assert [one for one in named if "//" in one and "w3.org" not in one] == []


@pytest.mark.parametrize(
    ("name", "body", "words"),
    [
        ("big.png", b"0" * 20_000_001, "ore than 20 MB was given"),
        ("program.exe", b"MZ", "give one that ends with"),
        ("noending", b"x", "give one that ends with"),
    ],
)
def test_hostile_files_are_refused_and_leave_nothing(
    site: Served, name: str, body: bytes, words: str
) -> None:
    before = _files(site)
    status, _, answer = asked(site, f"/take?name={name}", method="POST", body=body)
    assert status == 422
    assert words in json.loads(answer)["words"]
    assert _files(site) == before


def test_a_file_cannot_leave_its_folder(site: Served) -> None:
    path = "/take?name=..%2F..%2F..%2Fout.svg"
    status, _, answer = asked(site, path, method="POST", body=BOMB.encode())
    assert status == 200
    assert json.loads(answer)["name"] == "out.svg"
    (place,) = [file for file in _files(site) if file.name == "out.svg"]
    assert place.parent.name == "drawings"
    assert site.kept in place.parents


def test_only_so_many_files_are_kept(site: Served) -> None:
    cookie = asked(site, "/")[1]["set-cookie"]
    statuses = [
        asked(site, f"/take?name=a{k}.svg", {"Cookie": cookie}, method="POST", body=b"<svg/>")[0]
        for k in range(52)
    ]
    assert statuses == [200] * 50 + [422] * 2


def test_files_that_arrive_together_are_counted_too(tmp_path: Path) -> None:
    async def slow() -> AsyncIterator[bytes]:
        await asyncio.sleep(0.01)
        yield b"<svg/>"

    async def together() -> list[object]:
        names = [f"a{k}.svg" for k in range(MOST + 5)]
        return await asyncio.gather(
            *(take(slow(), name, 6, tmp_path) for name in names), return_exceptions=True
        )

    ended = asyncio.run(together())
    assert sum(isinstance(one, BadInput) for one in ended) == 5
    assert len(list(tmp_path.iterdir())) == MOST


@pytest.mark.parametrize(("left", "told"), [(True, []), (False, ["No response returned."])])
def test_a_tab_that_leaves_amid_loading_is_no_defect(left: bool, told: list[str]) -> None:
    async def app(*_: object) -> None:
        raise RuntimeError("No response returned.")

    async def receive() -> dict[str, str]:
        if not left:
            await asyncio.sleep(10)
        return {"type": "http.disconnect"}

    async def send(_: object) -> None: ...

    scope = {
        **{"type": "http", "path": "/", "query_string": b""},
        "headers": [(b"host", b"127.0.0.1:1")],
    }
    said = []
    try:
        asyncio.run(Gate(app)(scope, receive, send))
    except RuntimeError as error:
        said.append(str(error))
    assert said == told


@pytest.mark.parametrize("path", ["/made/none/x.stl", "/made/none.zip", "/view/none.stl",
                                  "/picture/none.svg", "/picture/..%2f..%2fetc.svg"])  # fmt: skip
def test_what_is_not_there_is_not_found(site: Served, path: str) -> None:
    assert asked(site, path)[0] == 404


def test_it_says_where_it_is_and_clears_up_when_it_is_ended(tmp_path: Path) -> None:
    started = time.monotonic()
    with served(tmp_path) as site:
        assert time.monotonic() - started < 20.0
        assert asked(site, "/")[0] == 200
        assert list(site.made.glob("wadforms-page-*"))
        process = site.process
    assert process.returncode is not None
    assert list(site.made.iterdir()) == []


def test_what_a_killed_page_left_is_cleared_by_the_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    gone, here = (tmp_path / f"wadforms-page-{n}-abc" for n in (_free_process(), os.getpid()))
    for folder in (gone, here):
        folder.mkdir()
        (folder / "half.stl").touch()
    mine = make_root()
    assert {path.name for path in tmp_path.iterdir()} == {mine.name, here.name}


def _free_process() -> int:
    number = 4_000_000
    while Path(f"/proc/{number}").exists():
        number += 1
    return number


def _files(site: Served) -> list[Path]:
    return sorted(path for path in site.kept.rglob("*") if path.is_file())
