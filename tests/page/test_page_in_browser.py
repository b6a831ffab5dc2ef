"""Each place of the page does its job in a real browser, with the command line's own numbers."""

from __future__ import annotations

import io
import os
import re
import signal
import subprocess
import time
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from page_driver import Served, answered, axe, fill, kept, press, told
from thorough import only_thoroughly

from wadforms import units

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytest_plugins = ["page_fixtures"]

JAR = {"weight": "35 kg", "foot": "240mm", "height": "600mm"}
PLACES = ("/", "/shapes", "/make")
BONE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="20mm" viewBox="0 0 60 20">'
    '<path d="M0 0H20V8H40V0H60V20H40V11H20V20H0Z"/></svg>'
)
"""Two squares with clay of 3 mm between them: one neck and four sharp hollow corners."""


def test_one_pot_says_what_the_command_line_says(page: Page) -> None:
    page.goto("/")
    fill(page, **JAR, wad="disk-20", radius="95mm")
    answered(page, "Each wad")
    page.wait_for_timeout(800)  # until it is kept
    answer = told(f"@{kept(page)}")
    shown = page.inner_text("main")
    assert page.inner_text(".verdict .word") == f"✕ {answer['verdict']}"
    for check in answer["checks"]:
        value = units.show(check["value"], check["unit"])
        assert re.search(rf"{check['verdict']}\s+{re.escape(check['name'])}\s+{value}", shown)
    assert units.show(answer["contact_area_mm2"], "mm2") in shown
    for text in (*answer["notes"], *(c["mend"] for c in answer["checks"] if c["mend"])):
        assert text[1:].replace("--", "") in shown.replace("--", "") or "--" in text


def test_its_own_choice_is_one_press_away(page: Page) -> None:
    page.goto("/")
    fill(page, **JAR)
    press(page, "Choose for me")
    answered(page, "● sound")
    answer = told("size", *(f"--{name}={text}" for name, text in JAR.items()))
    assert page.input_value("#f-wad") == answer["shape"]
    assert page.input_value("#f-how_many") == str(answer["count"])
    shown = page.inner_text("main")
    for reason in answer["why"]:
        assert reason[1:] in shown
    assert answer["runner_up"] in shown
    reasons = page.locator("ul").filter(has_text=answer["why"][0][1:])
    before = reasons.inner_text()
    press(page, "Choose for me")  # what was taken does not narrow what is looked at next
    page.wait_for_timeout(300)
    answered(page, answer["why"][0][1:])
    assert reasons.inner_text() == before
    fill(page, weight="80 kg")
    page.wait_for_selector(".verdict.unsafe")
    assert reasons.count() == 0  # they were those of another pot
    page.select_option("#f-body", "dry")
    press(page, "Choose for me")
    answered(page, "Only wads set dry were tried")


def test_a_fault_stands_at_its_field_in_the_words_of_the_command_line(page: Page) -> None:
    page.goto("/")
    fill(page, weight="heavy", foot="24 miles")
    page.wait_for_selector("#f-foot[aria-invalid=true]")
    for name, kind in (("weight", "g"), ("foot", "mm")):
        field = page.locator(f"#f-{name}")
        ids = field.get_attribute("aria-describedby") or ""
        words = page.inner_text(f"#{ids.split()[0]}")
        with pytest.raises(ValueError, match="was given") as fault:
            units.parse(field.input_value(), kind, "here")
        assert words == "✕ " + str(fault.value).removeprefix("here: ")
    fill(page, weight="35 kg", foot="24 cm")
    page.wait_for_selector("#f-foot:not([aria-invalid])")


def test_wads_are_moved_by_pointer_and_by_keys_and_checked_as_they_move(page: Page) -> None:
    page.goto("/")
    fill(page, weight="450g", foot="80mm", height="95mm", wad="disk-16")
    answered(page, "● sound")
    handle = page.locator(".handle").nth(1)
    before = handle.get_attribute("aria-label")
    handle.focus()
    page.keyboard.press("ArrowUp")
    page.wait_for_function(
        "b => document.querySelectorAll('.handle')[1].getAttribute('aria-label') !== b", arg=before
    )
    label = handle.get_attribute("aria-label") or ""
    y0, y1 = (float(re.findall(r"(-?[\d.]+) mm", text or "")[1]) for text in (before, label))
    assert y1 == pytest.approx(y0 + 1.0, abs=0.15)
    page.keyboard.press(".")
    page.wait_for_function(
        "b => document.querySelectorAll('.handle')[1].getAttribute('aria-label') !== b", arg=label
    )
    box = handle.locator(".hit").bounding_box()
    assert box is not None
    assert min(box["width"], box["height"]) >= 43.9  # a finger finds it
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 400, y, steps=8)  # off the foot
    page.mouse.up()
    page.wait_for_selector(".verdict.unsafe")
    page.wait_for_timeout(800)
    answer = told(f"@{kept(page)}")
    assert answer["verdict"] == "unsafe"
    handle.focus()
    page.keyboard.press("Delete")
    page.wait_for_function("document.querySelectorAll('.handle').length === 2")


def test_on_a_narrow_screen_the_verdict_stays_in_view(page: Page) -> None:
    page.set_viewport_size({"width": 360, "height": 640})
    page.goto("/")
    fill(page, **JAR, wad="disk-20")
    page.wait_for_selector(".in-view .unsafe")
    for field in ("#f-weight", "#f-wad"):
        page.locator(field).scroll_into_view_if_needed()
        box = page.locator(".in-view").bounding_box()
        assert box is not None
        assert 0 <= box["y"] < box["y"] + box["height"] <= 641
        assert page.locator(".in-view").inner_text().strip() == page.inner_text(".verdict .word")


def test_a_drawing_is_named_without_its_folder(page: Page, tmp_path: Path) -> None:
    drawing = tmp_path / "Star.svg"
    drawing.write_text(BONE.replace("V8H40V0", "").replace("V11H20V20", "V20"))
    page.goto("/shapes")
    page.set_input_files("#f-drop", drawing)
    page.wait_for_url("**drawing=star.svg")
    answered(page, "60 × 20 mm")
    assert page.input_value("#f-p-width") == ""
    page.click("text=Make it")
    page.wait_for_selector("#f-with_")
    assert page.input_value("#f-with_") == "drawing star.svg"
    fill(page, with_="height 12 mm; drawing star.svg")
    page.select_option("#f-kind", "stencil")
    press(page, "Make it")
    page.wait_for_selector(".files")
    assert page.locator(".files a").first.inner_text() == "star-stencil.svg"


def test_other_units_change_what_is_shown_and_nothing_that_is_kept(page: Page) -> None:
    page.goto("/")
    fill(page, **JAR, wad="disk-40")
    answered(page, "kPa")
    page.wait_for_timeout(800)
    before = Path(kept(page)).read_text()
    page.get_by_role("button", name="in · lb, imperial").click()
    answered(page, "psi")
    page.wait_for_timeout(800)
    assert Path(kept(page)).read_text() == before
    assert " kPa" not in page.inner_text(".verdict")
    assert page.input_value("#f-weight") == "35 kg"


def test_work_is_kept_for_its_visitor_alone(page: Page, chrome: Browser, site: Served) -> None:
    page.goto("/")
    fill(page, **JAR, wad="disk-40", name="") if page.is_visible("#f-name") else fill(page, **JAR)
    page.wait_for_timeout(1000)
    page.reload()
    page.wait_for_selector("#f-weight")
    assert page.input_value("#f-weight") == "35 kg"
    other = chrome.new_context(base_url=site.address)
    tab = other.new_page()
    tab.goto("/")
    assert tab.input_value("#f-weight") == ""
    other.close()


def test_a_shape_changes_with_its_slider_and_its_field(page: Page) -> None:
    page.goto("/shapes?shape=disk-20")
    slider = page.get_by_label("Diameter, slider")
    slider.focus()
    page.keyboard.press("ArrowRight")
    answered(page, "20.5 × 20.5 mm")
    assert page.input_value("#f-p-diameter") == "20.5 mm"
    fill(page, **{"p-height": "1/2 in"})
    volume = told("shapes", "disk-20", "--with=diameter=20.5mm", "--with=height=1/2in")
    answered(page, units.show(volume["piece_volume_mm3"], "mm3"))
    fill(page, **{"p-height": "200 mm"})
    page.wait_for_selector("#f-p-height[aria-invalid=true]")
    assert page.locator(".scene canvas").count() >= 1


@only_thoroughly
def test_a_drawing_is_marked_where_it_is_weak_mended_and_kept(page: Page, tmp_path: Path) -> None:
    drawing = tmp_path / "Bone 1.svg"
    drawing.write_text(BONE)
    page.goto("/shapes")
    page.set_input_files("#f-drop", drawing)
    page.wait_for_url("**drawing=bone-1.svg")
    page.wait_for_selector(".drawn svg")
    weak = told("shapes", "custom", f"--with=outline={drawing}")["weak_places"]
    marks = page.locator("main ol li")
    assert marks.count() == len(weak)
    assert page.locator(".drawn svg circle").count() == len(weak)
    press(page, "Keep it")
    page.wait_for_selector(".fault")
    assert "“Neck”" in page.inner_text("main")
    fill(page, **{"p-neck": "2 mm", "p-bend": "0 mm"})
    page.wait_for_function("!document.querySelector('main ol li')")
    press(page, "Keep it")
    page.wait_for_url("**shape=bone-1")
    folder = page.inner_text("footer").rpartition("kept in ")[2].strip()
    found = told("shapes", "bone-1", f"--shapes-in={folder}/shapes")
    assert found["size_mm"][:2] == pytest.approx([60.0, 20.0])


@only_thoroughly
def test_a_photo_becomes_an_outline(page: Page) -> None:
    photo = Path(__file__).parents[2] / "output_examples" / "outline-from-photo" / "leaf.jpg"
    page.goto("/shapes")
    page.set_input_files("#f-drop", photo)
    page.wait_for_selector("#f-photo-sheet")
    page.select_option("#f-photo-sheet", "a4")
    press(page, "Take the outline")
    page.click("text=Use this outline")
    page.wait_for_url("**drawing=leaf-outline.svg")
    page.wait_for_selector(".drawn svg")


def test_a_mould_is_made_looked_at_and_taken_away_proven(page: Page) -> None:
    import trimesh

    page.goto("/make?shape=disk-20")
    page.select_option("#f-kind", "frame")
    page.select_option("#f-body", "dry")
    page.click("summary")
    fill(page, **{"making-wall": "4 mm"})
    press(page, "Make it")
    page.wait_for_selector(".files", timeout=90_000)
    page.wait_for_selector(".scene canvas")
    links = page.locator(".files a").evaluate_all("all => all.map(a => a.getAttribute('href'))")
    packed = zipfile.ZipFile(io.BytesIO(page.request.get(links[-1]).body()))
    names = packed.namelist()
    assert {f"/{name}" for name in names} == {"/" + link.rpartition("/")[2] for link in links[:-1]}
    shown = page.inner_text("main")
    assert "Proven by reading back" in shown
    parts = [name for name in names if name.endswith(".stl")]
    assert len(parts) == 2  # the frame and its pusher
    for name in parts:
        data = packed.read(name)
        assert data == page.request.get(next(li for li in links if li.endswith(name))).body()
        mesh = trimesh.load_mesh(io.BytesIO(data), file_type="stl")
        assert mesh.is_watertight
        assert units.show(float(mesh.volume), "mm3") in shown
    assert page.context.request.get(links[0]).status == 200


def test_what_one_visitor_made_nobody_else_gets(page: Page, chrome: Browser, site: Served) -> None:
    page.goto("/make?shape=leaf-55")
    page.select_option("#f-kind", "stencil")
    fill(page, kerf="0,2 mm", copies="3")
    press(page, "Make it")
    page.wait_for_selector(".files")
    link = page.locator(".files a").first.get_attribute("href") or ""
    drawing = page.request.get(link).text()
    assert drawing.count("<path") == 3
    other = chrome.new_context(base_url=site.address)
    assert other.request.get(link).status == 404
    assert other.request.get(re.sub(r"/[^/]*$", ".zip", link)).status == 404
    other.close()


def test_a_mould_can_be_cancelled_and_a_killed_worker_is_told_plainly(
    page: Page, site: Served
) -> None:
    settled(site)
    page.goto("/make?shape=gingko-50")
    fill(page, **{"fill-bed": "220x220"})
    press(page, "Make it")
    press(page, "Cancel")
    answered(page, "Cancelled. Nothing was kept.")
    assert not [path for path in site.temporary() if path.is_file()]
    press(page, "Make it")
    os.kill(_worker(site), signal.SIGKILL)
    answered(page, "ended from outside")
    assert not [path for path in site.temporary() if path.is_file()]


@only_thoroughly
def test_a_closed_tab_leaves_no_mess(page: Page, site: Served) -> None:
    page.goto("/make?shape=gingko-50")
    fill(page, **{"fill-bed": "220x220"})
    press(page, "Make it")
    worker = _worker(site)
    page.close()
    settled(site)
    until = time.monotonic() + 15.0
    while time.monotonic() < until and _runs(worker):
        time.sleep(0.1)
    assert not _runs(worker)


def settled(site: Served) -> None:
    """Wait until what visitors who have gone had made is gone too."""
    until = time.monotonic() + 30.0
    while time.monotonic() < until and site.temporary():
        time.sleep(0.2)
    assert site.temporary() == []


@pytest.mark.parametrize("path", PLACES)
def test_a_place_has_no_serious_finding_of_axe(page: Page, path: str) -> None:
    page.goto(path)
    if path == "/":
        fill(page, **JAR, wad="disk-20")
        answered(page, "Each wad")
    page.wait_for_timeout(500)
    page.evaluate(axe())
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")["violations"]
    serious = [v for v in found if v["impact"] in ("serious", "critical")]
    assert not serious, [(v["id"], v["nodes"][0]["html"][:200]) for v in serious]


@pytest.mark.parametrize("path", PLACES)
@pytest.mark.parametrize(("width", "zoom"), [(320, 1), (768, 1), (1280, 1), (1280, 2)])
def test_nothing_is_wider_than_the_window(page: Page, path: str, width: int, zoom: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(path)
    if path == "/":
        fill(page, **JAR, wad="disk-20")
        answered(page, "Each wad")
    page.evaluate("z => document.documentElement.style.fontSize = 17 * z + 'px'", zoom)
    page.evaluate("document.body.style.overflowX = 'visible'")
    page.wait_for_timeout(200)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    folder = os.environ.get("WADFORMS_SCREENSHOTS")
    if folder:
        name = path.strip("/") or "one-pot"
        page.screenshot(path=Path(folder, f"{name}-{width}-{zoom}.png"), full_page=True)


def test_buttons_and_fields_are_large_enough_for_a_finger(page: Page) -> None:
    page.goto("/")
    fill(page, **JAR, wad="disk-20")
    answered(page, "Each wad")
    for one in page.locator("main button, main input, main select, header a, header button").all():
        box = one.bounding_box()
        if box is not None:
            assert box["height"] >= 43.9


def _worker(site: Served) -> int:
    """The process that makes something for the page."""
    until = time.monotonic() + 20.0
    while time.monotonic() < until:
        done = subprocess.run(
            ["pgrep", "-P", str(site.process.pid)], capture_output=True, text=True, check=False
        )
        if done.stdout.split():
            return int(done.stdout.split()[0])
        time.sleep(0.05)
    raise AssertionError("no worker was started")


def _runs(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True
