"""A page that is served, a browser, and a tab of a visitor who was never here."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from page_driver import SOON, Served, browser, served

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("page")) as found:
        yield found


@pytest.fixture(scope="module")
def chrome() -> Iterator[Browser]:
    with browser() as found:
        yield found


@pytest.fixture
def page(chrome: Browser, site: Served) -> Iterator[Page]:
    """A tab of a visitor who was never here."""
    context = chrome.new_context(viewport={"width": 1280, "height": 900}, base_url=site.address)
    context.set_default_timeout(SOON)
    tab = context.new_page()
    broken: list[str] = []
    outside: list[str] = []
    tab.on("pageerror", lambda error: broken.append(str(error)))
    tab.on("request", lambda r: outside.append(r.url) if not _ours(r.url, site) else None)
    yield tab
    context.close()
    assert not broken
    assert not outside, "nothing is fetched from elsewhere"


def _ours(url: str, site: Served) -> bool:
    return url.startswith((site.address, site.address.replace("http", "ws"), "data:", "blob:"))
