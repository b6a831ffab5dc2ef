"""A firing's list and readings of tests, filled in and dropped in, to files that are taken away."""

from __future__ import annotations

import io
import json
import os
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

import openpyxl
import pytest
from page_driver import Served, answered, axe, fill, kept, press, told
from thorough import only_thoroughly

from wadforms import units
from wadforms.firing.list_file import parse_list
from wadforms.firing.touches import audit
from wadforms.page import lists

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytest_plugins = ["page_fixtures"]

SMALL = "name;count;weight;foot;height\nTea bowl;6;0,38 kg;50;84\nMug;4;450 g;7 cm;95\n"
QUICK = {"firing-seconds": "1", "firing-shape": "disk-10 | disk-16"}
LONG = 90_000  # time that a choice may take on a busy machine [ms]
WHOLE = "Kinds of touches that need wads"


def cell(page: Page, row: int, heading: str) -> Any:
    """The field of a cell, its row counted from 0."""
    heads = page.locator(".grid thead th").all_inner_texts()[1:]
    return page.locator(f".grid tbody tr:nth-child({row + 1}) td input").nth(heads.index(heading))


def drop(page: Page, name: str, text: str | bytes, *, at: str = "list") -> None:
    data = text.encode() if isinstance(text, str) else text
    page.set_input_files(
        f"#f-{at}", {"name": name, "mimeType": "application/octet-stream", "buffer": data}
    )


def choose_small(page: Page) -> None:
    """Have wads chosen for a small list, without moulds."""
    drop(page, "Small kiln.csv", SMALL)
    answered(page, f"{WHOLE}: 2.")
    page.uncheck("#f-moulds")
    page.click("summary:has-text('which shapes')")
    fill(page, **QUICK)
    press(page, "Choose the wads")
    page.wait_for_selector(".goes", timeout=LONG)


def test_a_list_is_filled_in_by_keys_and_its_faults_stand_at_their_cells(page: Page) -> None:
    page.goto("/firing")
    cell(page, 0, "name").focus()
    for text in ("Mug", "12", "", "heavy", "8 cm"):
        page.keyboard.type(text)
        page.keyboard.press("Tab")
    page.wait_for_selector(".grid input[aria-invalid=true]")
    wrong = cell(page, 0, "weight (kg)")
    words = page.inner_text(f"[id='{wrong.get_attribute('aria-describedby')}']")
    file = Path(page.inner_text("footer").rpartition("kept in ")[2].strip(), lists.FILE)
    page.wait_for_timeout(800)  # until it is kept
    faults = {f.where: f for f in lists.read(file.read_bytes(), file.parent, ()).faults}
    fault = faults[f"{lists.FILE}, row 2, weight"]
    assert words == f"✕ {fault.given} was given; {fault.right}"
    wrong.fill("450g")
    answered(page, f"{WHOLE}: 1.")
    assert page.locator("[aria-invalid]").count() == 0
    wrong.focus()
    page.keyboard.press("Enter")  # below the last: another row
    page.keyboard.type("1 lb")
    page.wait_for_selector(".grid tbody tr:nth-child(2) [aria-invalid]")
    page.get_by_role("button", name="Copy or delete row 2, Mug").press("Enter")
    page.get_by_role("button", name="Copy row 2, Mug").press("Enter")
    page.get_by_role("button", name="Copy or delete row 4").press("Enter")
    page.get_by_role("button", name="Delete row 4", exact=True).press("Enter")
    page.wait_for_timeout(800)
    rows = file.read_text().splitlines()
    assert [row[:19] for row in rows[1:]] == ["Mug,12,,450g,,8 cm,"] * 2
    press(page, "Put back the row")
    page.wait_for_timeout(800)
    assert file.read_text().splitlines()[3].startswith(",,,1 lb,")


def test_a_workbook_is_taken_and_the_list_before_comes_back(page: Page) -> None:
    book = openpyxl.Workbook()
    assert book.active is not None
    sheet = lists.invented()
    for row in (sheet.headings, *sheet.rows):
        book.active.append(row)
    data = io.BytesIO()
    book.save(data)
    page.goto("/firing")
    drop(page, "kiln.csv", SMALL)
    answered(page, f"{WHOLE}: 2.")
    drop(page, "Our November.xlsx", data.getvalue())
    touches = audit(parse_list(sheet.csv(), lists.FILE)).touches
    answered(page, f"{WHOLE}: {len(touches)}.")
    page.click("text=What touches what")
    shown = page.inner_text("main")
    for touch in touches:
        assert f"{touch.count} × {touch.name}" in shown
        assert touch.pot is None or units.show(touch.pot.mass, "g") in shown
    press(page, "Back to the list before")
    answered(page, f"{WHOLE}: 2.")
    page.reload()
    answered(page, f"{WHOLE}: 2.")
    page.wait_for_selector(".grid tbody input")
    assert cell(page, 0, "name").input_value() == "Tea bowl"


def test_a_firing_goes_from_a_dropped_list_to_the_folder_of_the_command(
    page: Page, tmp_path: Path
) -> None:
    page.goto("/firing")
    drop(page, "boxes.csv", "shape,body,count\ndisk-10,dry,5\n", at="boxes")
    answered(page, "In the boxes: 5 × disk-10, dry")
    choose_small(page)
    link = page.get_by_role("link", name="The folder as a zip").get_attribute("href") or ""
    packed = zipfile.ZipFile(io.BytesIO(page.request.get(link).body()))
    record = json.loads(packed.read("firing/firing.json"))
    arguments = Path(kept(page)).read_text().splitlines()
    own = [f"--out={tmp_path / 'out'}" if a.startswith("--out=") else a for a in arguments]
    answer = told(*own)
    files = [Path(file).relative_to(tmp_path / "out").as_posix() for file in answer.pop("files")]
    assert sorted(record.pop("files")) == sorted(files)
    assert sorted(packed.namelist()) == sorted(f"firing/{file}" for file in files)
    assert record == answer
    for name in files:
        if name.endswith((".csv", ".svg")):
            assert packed.read(f"firing/{name}") == (tmp_path / "out" / name).read_bytes()
    shown = page.inner_text("main")
    for make in answer["wads"]:
        row = f"{make['to_make']}\t{make['shape']}\t{make['body']}\t{make['mix']}"
        assert f"{row}\t{make['from_stock']}" in shown
        assert units.show(make["wet_mass_g"], "g") in shown
    for touch in answer["touches"]:
        assert f"{touch['times']} × {touch['name']}" in shown
        assert f"{touch['count']} × {touch['shape']}, {touch['body']}" in shown
    assert answer["one_shape_fewer"] in shown
    for note in answer["notes"]:
        assert shown.count(f"Note: {note}.") == 1
    page.click("summary:text-is('The crew sheet')")
    frame = page.frame_locator(".within iframe")
    assert "Tea bowl" in frame.locator("body").inner_text()
    pdf = page.get_by_role("link", name="Crew sheet as PDF").get_attribute("href") or ""
    assert page.request.get(pdf).body().startswith(b"%PDF")
    assert page.locator(".goes img").first.get_attribute("src")
    look(page, "firing")


@only_thoroughly
def test_two_hundred_pots_of_ten_kinds_with_moulds(page: Page) -> None:
    page.goto("/firing")
    press(page, "Start with an invented list")
    answered(page, WHOLE)
    press(page, "Choose the wads")
    page.wait_for_selector(".goes", timeout=300_000)
    link = page.get_by_role("link", name="The folder as a zip").get_attribute("href") or ""
    packed = zipfile.ZipFile(io.BytesIO(page.request.get(link).body()))
    record = json.loads(packed.read("firing/firing.json"))
    assert sorted(packed.namelist()) == sorted(f"firing/{file}" for file in record["files"])
    assert sum(name.endswith(".stl") for name in packed.namelist()) >= len(record["shapes"])


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("list.csv", b"%PDF-1.7", "save it as XLSX or CSV"),
        ("list.xlsx", b"PK\x03\x04 no workbook", "list.xlsx"),
        ("list.exe", b"MZ", "give one that ends with"),
    ],
)
def test_what_is_no_table_is_refused_and_leaves_nothing(
    page: Page, name: str, data: bytes, words: str
) -> None:
    page.goto("/firing")
    drop(page, name, data)
    answered(page, words)
    folder = Path(page.inner_text("footer").rpartition("kept in ")[2].strip())
    assert [path for path in folder.rglob("*.*") if path.name.startswith("list")] == []


@only_thoroughly
def test_readings_become_a_mix_that_all_places_know(page: Page, tmp_path: Path) -> None:
    page.goto("/mixes")
    fill(page, **{"mixes-on": "2026-11-01", "mixes-note": "cone 10"})
    for r, row in enumerate((("100", "95", "88"), ("100", "94,8", "87,7"), ("10 cm", "95.1", "9"))):
        for heading, text in zip(("plastic (mm)", "dry (mm)", "fired (mm)"), row, strict=True):
            cell(page, r, heading).fill(text)
    page.wait_for_selector(".grid tr:nth-child(3) [aria-invalid=true]")
    cell(page, 2, "fired (mm)").fill("88.2")
    answered(page, "Verdicts count on")
    folder = Path(page.inner_text("footer").rpartition("kept in ")[2].strip())
    out = tmp_path / "open-2026-11-01.toml"
    given = [f"--readings={folder / 'readings-shrinkage.csv'}", "--on=2026-11-01", f"--out={out}"]
    answer = told("measure", "shrinkage", *given, "--note=cone 10")
    shown = page.inner_text("main")
    for result in answer["results"]:
        assert units.show(result["judged_by"], "share") in shown
        assert result["rule"] in shown
        assert f"3 readings {units.show(result['mean'], 'share').removesuffix(' %')} ±" in shown
    assert answer["caution"] in shown
    press(page, "Keep it as a file")
    answered(page, "Written: open-2026-11-01.toml")
    file = folder / "mixes" / "open-2026-11-01.toml"
    assert file.read_bytes() == out.read_bytes()
    press(page, "Keep it as a file")
    answered(page, "is already there")
    press(page, "Replace it")
    answered(page, "Written: open-2026-11-01.toml")
    page.click("summary:has-text('open-2026-11-01.toml')")
    used = page.get_by_role("link", name="Use it under the pot").get_attribute("href") or ""
    assert page.inner_text("main").count("● measured\tdrying shrinkage") == 1
    with page.expect_download() as taken:
        page.click("a:has-text('Take open-2026-11-01.toml')")
    assert Path(taken.value.path()).read_bytes() == out.read_bytes()
    look(page, "mixes")
    page.goto(used)
    page.wait_for_function("f => document.querySelector('#f-mix')?.value === f", arg=str(file))
    page.goto("/firing")
    page.select_option("#f-firing-mix_soft", str(file))
    for place in ("/", "/make"):
        page.goto(place)
        page.wait_for_selector("#f-mix", state="attached")
        assert page.locator(f"#f-mix option[value='{file}']").count() == 1


def test_a_mix_file_is_taken_and_a_wrong_one_told(page: Page) -> None:
    from wadforms.setting.mixes import mix_file

    page.goto("/mixes")
    drop(page, "wrong.toml", "summary = 3", at="mix-file")
    page.wait_for_selector(".fault")
    drop(page, "Our mix.toml", mix_file("dense")[0], at="mix-file")
    answered(page, "our-mix.toml is one of your own now")
    assert page.locator("summary:has-text('our-mix.toml: your own')").count() == 1


def look(page: Page, name: str) -> None:
    """Scan what is shown for what keeps people out, at three widths, and at twice the size."""
    page.evaluate(axe()) if _axe_is_there() else None
    for width, zoom in ((320, 1), (768, 1), (1280, 1), (1280, 2)):
        page.set_viewport_size({"width": width, "height": 900})
        page.evaluate("z => document.documentElement.style.fontSize = 17 * z + 'px'", zoom)
        page.wait_for_timeout(300)
        if width == 320 and page.locator(".cards .open").count():
            page.locator(".cards .open").first.click()
        page.evaluate("document.body.style.overflowX = 'visible'")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        if folder := os.environ.get("WADFORMS_SCREENSHOTS"):
            page.screenshot(path=Path(folder, f"{name}-{width}-{zoom}.png"), full_page=True)
        if zoom == 1 and width != 768 and _axe_is_there():
            found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
            serious = [v for v in found["violations"] if v["impact"] in ("serious", "critical")]
            assert not serious, [(v["id"], v["nodes"][0]["html"][:200]) for v in serious]
            low = page.locator("main button, main input[type=text], main select").evaluate_all(
                "a => a.filter(o => o.offsetHeight && o.offsetHeight < 44).map(o => o.outerHTML)"
            )
            assert not low, low[:3]


def _axe_is_there() -> bool:
    try:
        return bool(axe())
    except pytest.skip.Exception:
        return False


def test_no_browser_can_name_a_file_that_is_not_its_own(page: Page, site: Served) -> None:
    secret = site.kept / "secret.csv"
    secret.write_text("name,count\nSecret,1\n")
    page.goto("/firing")
    drop(page, "kiln.csv", SMALL)  # which makes the folder that the name starts from
    answered(page, f"{WHOLE}: 2.")
    page.route("**/take?**", lambda route: route.fulfill(json={"name": "../../secret.csv"}))
    for place, at in (("/firing", "list"), ("/firing", "boxes"), ("/mixes", "readings")):
        page.goto(place)
        drop(page, "list.csv", SMALL, at=at)
        page.wait_for_selector("text=list.csv is here")
        page.wait_for_timeout(500)
        assert "Secret" not in page.content()
        assert not page.locator("input").evaluate_all("a => a.some(x => x.value === 'Secret')")
    assert secret.is_file()
    secret.unlink()
