"""The crew sheet: what it says, as a page of the web and on paper, read back by other programs."""

from __future__ import annotations

import io
import json
import math
import os
import re
import shutil
import subprocess
from collections import Counter
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import crew_plan
import pytest

from wadforms.errors import BadInput
from wadforms.firing.plan import Plan
from wadforms.firing.rows import Shelf
from wadforms.firing.sheet.content import crew_sheet
from wadforms.firing.sheet.html import sheet_html
from wadforms.firing.sheet.order import order_of_work
from wadforms.firing.sheet.parts import Cards, CrewSheet, Part, Plain, Points, Table
from wadforms.firing.sheet.pdf import sheet_pdf
from wadforms.firing.touches import ON_POST, UNDER_POST
from wadforms.setting.assessment import UNSAFE, worst_verdict
from wadforms.setting.checks import check
from wadforms.setting.feet import FlatFoot, SideFoot
from wadforms.setting.pot import Pot
from wadforms.templates.drawing import Circle, Region, Text
from wadforms.templates.paper import PAPERS, paper

BROWSERS = ("chromium", "chromium-browser", "google-chrome")


def part(key: str) -> Part:
    (found,) = (one for one in crew_plan.sheet().parts if one.key == key)
    return found


def placed(sheet: CrewSheet) -> dict[str, dict[str, Any]]:
    """The cards of each level by their names, levels and cards in the order of the sheet."""
    return {
        one.heading: {card.name: card for card in block.cards}
        for one in sheet.parts
        for block in one.blocks
        if isinstance(block, Cards)
    }


def cards() -> dict[str, Any]:
    return {k: v for level in placed(crew_plan.sheet()).values() for k, v in level.items()}


def texts(sheet: CrewSheet) -> list[str]:
    """Every text of the sheet, however it is written."""
    found = [sheet.title, *(said for _, said in sheet.tally)]
    for one in sheet.parts:
        found.append(one.heading)
        for block in one.blocks:
            match block:
                case Cards(cards=cards):
                    for card in cards:
                        found += [card.name, card.count]
                        for pick in card.picks:
                            found += [pick.where, pick.wads, *pick.lines, *pick.remarks]
                            found += pick.figures
                            found += [pick.verdict] if pick.verdict else []
                case Table():
                    found += [block.caption, *block.heads]
                    found += [t for r in block.rows for c in r for t in (c.text, *c.detail)]
                case Points(items=items):
                    found.append(block.caption)
                    found += [text for item in items for text in item if text]
                case Plain(text=text):
                    found.append(text)
    return found


def squeezed(text: str) -> str:
    """Text without the white space and the bullets that its layout brings in."""
    return re.sub(r"[\s•]", "", text)


# What it says


def test_cards_come_in_the_order_in_which_one_packs() -> None:
    assert {level: list(shown) for level, shown in placed(crew_plan.sheet()).items()} == {
        "On the floor": ["Stub", "Jar by the firebox", "Bottle on its side"],
        "Level 2: Middle shelf": [
            "Middle shelf: plan", "Short post", "Middle shelf", "Plate <deep> & wide",
            "Cones 9, 10, 11",
        ],
        "On Bottom shelf": ["Lidded jar"],
        "Where the list gives no place": ["Mug"],
    }  # fmt: skip


def test_every_touch_stands_on_a_card_and_no_piece_is_lost() -> None:
    shown = cards()
    assert {one.touch.row.name for one in crew_plan.plan().chosen} <= shown.keys()
    counted = 0
    for card in shown.values():
        for pick in card.picks:
            for line in pick.lines:
                if found := re.match(r"(\d+) × (\d+) = (\d+) pieces", line):
                    touches, each, total = map(int, found.groups())
                    assert touches * each == total
                    counted += total
    assert counted == sum(make.needed for make in crew_plan.makes())


def held_alike() -> Plan:
    """A shelf on three posts, one of which carries more; wads of one kind above and below all."""
    made = crew_plan.plan().chosen
    shelf, posts = made[7].touch.row, replace(made[8].touch.row, count=3)
    light, heavy = (Pot(mass=m, foot=FlatFoot(64.0), held=True) for m in (3000.0, 9000.0))
    found = []
    for row, kind, lower in ((shelf, ON_POST, "Short post"), (posts, UNDER_POST, "floor")):
        for at, count, pot in (("(40, 40) and (560, 40)", 2, light), ("(300, 410)", 1, heavy)):
            words = f"{row.name} under {shelf.name} at {at} mm", lower
            one = crew_plan.chosen(row, kind, words, count, light, shapes=["disk-20"], body="wet")
            assert one.choice is not None
            judged = check(replace(one.choice.setting, pot=pot))
            touch = replace(one.touch, keeps_level=shelf.row, pot=pot)
            found.append(replace(one, touch=touch, choice=replace(one.choice, assessment=judged)))
    return replace(crew_plan.plan(), chosen=tuple(found), problems=(), from_stock={})


def test_posts_with_the_same_wads_above_and_below_have_one_card_that_tells_the_worst() -> None:
    plan = held_alike()
    verdicts = {one.verdict for one in plan.chosen}
    assert len(verdicts) == 2
    (level,) = placed(crew_sheet(plan, (), (), title="Shelf")).values()
    assert list(level) == ["Middle shelf: plan", "Short post: top and bottom"]
    card = level["Short post: top and bottom"]
    (pick,) = card.picks
    assert card.count == "× 3"
    assert pick.where == "Short post on floor; Middle shelf on its posts"
    wads = plan.chosen[0].wads
    assert wads is not None
    assert pick.lines[-1].startswith(f"6 × {wads.number} = {6 * wads.number} pieces")
    assert pick.verdict == worst_verdict([verdict for verdict in verdicts if verdict])
    assert "post 3: " in pick.figures[0]
    assert not any(re.search(r"\d|kPa", remark) for remark in pick.remarks)


def test_the_plan_of_a_shelf_has_its_posts_where_they_stand_and_marks_the_corner() -> None:
    (pick,) = cards()["Middle shelf: plan"].picks
    shelf = crew_plan.plan().chosen[7].touch.row
    assert isinstance(shelf, Shelf)
    items = pick.picture.items
    (rim,) = (one.outline for one in items if isinstance(one, Region) and one.style.name == "rim")
    x0, y0, x1, y1 = rim.bounds
    assert (x1 - x0) / (y1 - y0) == pytest.approx(shelf.length / shelf.width)
    posts = [one.outline for one in items if isinstance(one, Region) and one.style.name == "post"]
    scale = (x1 - x0) / shelf.length
    for outline, (x, y) in zip(posts, shelf.posts_at, strict=True):
        a, b, c, d = outline.bounds
        assert ((a + c) / 2 - x0) / scale == pytest.approx(x)
        assert ((b + d) / 2 - y0) / scale == pytest.approx(y)
    (dot,) = (one for one in items if isinstance(one, Circle))
    assert dot.centre == pytest.approx((x0, y0))
    assert [one.text for one in items if isinstance(one, Text)] == ["1", "2", "3", "600", "450"]
    assert pick.lines[1:] == ("1: 40 right, 40 up", "2: 560 right, 40 up", "3: 300 right, 410 up")


def test_pairs_under_a_pot_on_its_side_are_told_by_what_a_rule_measures() -> None:
    pot = Pot(mass=1600.0, foot=SideFoot(130.0))
    row = crew_plan.ware(2, "Bottle", 1, pot, on="floor")
    one = crew_plan.chosen(row, "foot", ("Bottle", "floor"), 1, pot, shapes=["disk-50"], body="wet")
    assert one.choice is not None
    first, *others = one.choice.setting.arrangement.spots
    assert len(others) == 3
    near, far, _ = sorted(math.dist(first[:2], spot[:2]) for spot in others)
    sheet = crew_sheet(replace(held_alike(), chosen=(one,)), (), (), title="Bottle")
    (pick,) = placed(sheet)["On the floor"]["Bottle"].picks
    measures = [int(found) for found in re.findall(r"(\d+) mm", pick.lines[1])]
    assert sorted(measures) == [round(near), round(far + 1e-6)]
    drawn = [int(item.text) for item in pick.picture.items if isinstance(item, Text)]
    assert sorted(drawn) == sorted(measures)


def test_no_card_tells_a_tenth_of_a_millimetre() -> None:
    lines = [line for card in cards().values() for pick in card.picks for line in pick.lines]
    assert any(re.search(r"\d mm", line) for line in lines)
    assert not [line for line in lines if re.search(r"\.[1-46-9]\d* mm|\.5\d+ mm", line)]


def test_a_stack_is_told_once_and_asks_for_wads_in_line() -> None:
    (pick,) = cards()["Plate <deep> & wide"].picks
    (remark,) = pick.remarks
    assert "18 times" in remark
    assert "in line" in remark
    number = crew_plan.plan().chosen[1].choice
    assert number is not None
    assert pick.lines[-1].startswith(f"24 × {number.count} = ")


def test_a_lid_has_its_own_picture_on_the_card_of_its_jar() -> None:
    foot, lid = cards()["Lidded jar"].picks
    assert (foot.where, lid.where) == ("under the foot, on Bottom shelf", "under the lid")
    assert foot.picture.items != lid.picture.items
    assert lid.picture.title == f"{lid.wads}, under the lid"


def test_what_is_not_sound_says_why() -> None:
    plan = crew_plan.plan()
    (post,) = cards()["Short post"].picks
    assert post.verdict == UNSAFE
    assert post.figures == plan.chosen[8].why
    assert post.remarks[0] == "Do not set it like this: tell the leader."
    assert "It wants more wads, or wider ones." in post.remarks
    assert not any(re.search(r"\d|kPa|mm", remark) for remark in post.remarks)
    assert post.wads == "nothing serves"
    (bare,) = cards()["Stub"].picks
    assert bare.verdict == UNSAFE
    assert "nothing keeps it from sticking" in bare.remarks
    alarm = part("stop")
    assert alarm.alarm
    assert [text for block in alarm.blocks for _, text in getattr(block, "items", ())] == [
        "row 7, Middle shelf: a post is 24 mm out of line",
        "row 8, Short post on floor: nothing serves, see its card",
        "row 10, Stub on floor: stands bare, see its card",
    ]


def test_the_tally_counts_every_touch_that_can_be_judged() -> None:
    chosen = crew_plan.plan().chosen
    judged = sum(one.touch.count for one in chosen if one.verdict)
    said = [int(words.split()[0]) for _, words in crew_plan.sheet().tally]
    assert sum(said) == judged
    assert crew_plan.sheet().tally[0] == (UNSAFE, "7 touches unsafe")  # six posts and the stub


def test_heavy_things_are_named_with_their_weight_and_light_ones_are_not() -> None:
    # 35 kg jar, 21.5 kg shelf; nothing else comes near 20 kg.
    (care,) = part("care").blocks
    assert isinstance(care, Points)
    said = dict(care.items)
    assert "Jar by the firebox (35 kg), Middle shelf (21.5 kg)." in said["Lifting"]
    assert "Mug" not in said["Lifting"]
    assert {"Dust", "Grinding", "Lime", "Heat", "Stacks", "Limits"} < said.keys()


def test_solid_pieces_are_pressed_first_and_fired_before_wet_ones_are_made() -> None:
    (order,) = part("order").blocks
    assert isinstance(order, Points)
    assert order.numbered
    steps = [what for what, _ in order.items]
    wanted = ["Boxes", "Mix", "Press solid", "Press dry", "Press wet", "Wash", "Shelves", "Pots"]
    assert [step for step in steps if step in wanted] == wanted
    assert "biscuit-fire" in dict(order.items)["Press solid"]
    assert "40 × disk-8, dry" in dict(order.items)["Boxes"]
    assert "Short post on floor" in dict(order.items)["Stop"]


def test_what_is_not_wet_is_stuck_and_that_is_told_once() -> None:
    (order,) = part("order").blocks
    assert isinstance(order, Points)
    (glued,) = (text for what, text in order.items if what == "Stick dry and solid wads")
    assert "slip or white glue" in glued
    assert sum("glue" in text and "slip" in text for _, text in order.items) == 1
    wet = [make for make in crew_plan.makes() if make.body == "wet"]
    steps = order_of_work(crew_plan.plan(), wet, ())
    assert not any("glue" in text and "slip" in text for _, text in steps)


def test_a_firing_of_mugs_has_no_step_or_caution_that_mugs_do_not_need() -> None:
    mugs = replace(crew_plan.plan(), chosen=crew_plan.plan().chosen[:1], problems=(), from_stock={})
    sheet = crew_sheet(mugs, (), (), title="Mugs")
    said = {one.key: one for one in sheet.parts}
    assert said.keys() == {"place-1", "order", "care", "leader"}
    steps = [what for block in said["order"].blocks for what, _ in getattr(block, "items", ())]
    assert steps == ["Pots", "Look round"]
    words = [what for block in said["care"].blocks for what, _ in getattr(block, "items", ())]
    assert not {"Lifting", "Stacks"} & set(words)


def test_batch_and_make_list_are_the_ones_that_were_worked_out() -> None:
    (table,) = part("make").blocks
    assert isinstance(table, Table)
    assert [int(row[1].text) for row in table.rows] == [m.to_make for m in crew_plan.makes()]
    detail = table.rows[0][0].detail
    # 36 mugs × 3 wads, 40 of them in the boxes, 68 and a tenth to make: 75, a minute each.
    assert "108 needed, 40 in the boxes, 7 spare; 1 h 15 min" in detail
    weighed = part("mix").blocks
    for block, made in zip(weighed, crew_plan.batches(), strict=True):
        assert isinstance(block, Table)
        assert [row[0].text for row in block.rows] == [*(p.name for p in made.portions), "water"]
        first = float(block.rows[0][2].detail[0].split()[0])
        assert first == pytest.approx(made.portions[0].volume / 400e3, abs=0.05)


# As a page of the web


class Page(HTMLParser):
    """Gathers what the tests ask of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.headings: list[int] = []
        self.open = 0
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self.open += tag in {"style", "title", "desc"}
        if re.fullmatch("h[1-6]", tag):
            self.headings.append(int(tag[1]))

    def handle_endtag(self, tag: str) -> None:
        self.open -= tag in {"style", "title", "desc"}

    def handle_data(self, data: str) -> None:
        if not self.open:
            self.words.append(data)


def page() -> Page:
    return Page(sheet_html(crew_plan.sheet()).decode())


def test_the_page_needs_nothing_else() -> None:
    html = sheet_html(crew_plan.sheet()).decode()
    assert not re.search(r"<(script|link|img|iframe|object)\b|@import|url\(", html)
    # Names of the formats' own vocabularies are no places to load from.
    places = set(re.findall(r"https?://[^\"' <]+", html))
    assert places <= {
        "http://www.w3.org/2000/svg",
        "http://www.w3.org/1999/xlink",
        "http://www.w3.org/2001/xml-events",
    }
    links = [attrs["href"] for tag, attrs in page().tags if tag == "a"]
    ids = [attrs["id"] for _, attrs in page().tags if "id" in attrs]
    assert {link and link.removeprefix("#") for link in links} <= set(ids)
    assert max(Counter(ids).values()) == 1


def test_headings_run_in_order_and_tables_have_heads() -> None:
    found = page()
    assert found.headings[0] == 1
    assert found.headings.count(1) == 1
    assert all(b - a <= 1 for a, b in zip(found.headings, found.headings[1:], strict=False))
    scopes = [attrs.get("scope") for tag, attrs in found.tags if tag == "th"]
    assert set(scopes) == {"row", "col"}
    assert [attrs.get("lang") for tag, attrs in found.tags if tag == "html"] == ["en"]
    pictures = [attrs for tag, attrs in found.tags if tag == "svg"]
    assert pictures
    assert all(attrs.get("role") == "img" for attrs in pictures)


def test_the_page_says_all_that_the_sheet_says() -> None:
    said = squeezed(" ".join(page().words))
    missing = [text for text in texts(crew_plan.sheet()) if squeezed(text) not in said]
    assert not missing


def test_names_cannot_break_the_page() -> None:
    html = sheet_html(crew_plan.sheet(title="<script>alert('x')</script>")).decode()
    assert "<script" not in html
    assert "Plate &lt;deep&gt; &amp; wide" in html
    with pytest.raises(BadInput, match=r"leave out the control character '\\x07'"):
        sheet_html(crew_plan.sheet(title="ring\a"))


def browser() -> str:
    program = next(filter(None, map(shutil.which, BROWSERS)), None)
    if program is None:
        pytest.skip("needs a browser (Debian: chromium)")
    return program


def seen(html: str, folder: Path, width: int) -> str:
    """The page as a browser has it once its scripts have run."""
    (folder / "page.html").write_text(html, encoding="utf-8")
    done = subprocess.run(
        [
            browser(), "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
            f"--user-data-dir={folder / 'profile'}", f"--window-size={width},900",
            "--virtual-time-budget=30000", "--dump-dom", (folder / "page.html").as_uri(),
        ],
        check=True, capture_output=True, timeout=240,
    )  # fmt: skip
    return done.stdout.decode()


MEASURES = """<pre id="answer"></pre><script>
const frame = document.createElement("iframe");
frame.width = WIDTH; frame.height = 900; frame.style.border = 0;
frame.srcdoc = PAGE;
frame.onload = () => {
  const page = frame.contentDocument, small = [];
  for (const one of page.querySelectorAll("body *")) {
    const own = [...one.childNodes].some(n => n.nodeType === 3 && n.data.trim());
    if (!own || one.closest("svg")) continue;
    const size = parseFloat(frame.contentWindow.getComputedStyle(one).fontSize);
    if (size < 18) small.push([one.tagName, size]);
  }
  const root = page.documentElement;
  document.getElementById("answer").textContent = JSON.stringify(
    {wide: root.scrollWidth, inner: root.clientWidth, small});
};
document.body.append(frame);
</script>"""


def answer_in(dom: str) -> Any:
    from html import unescape

    found = re.search(r'<pre id="answer">(.*?)</pre>', dom, re.DOTALL)
    assert found is not None
    assert found[1]
    return json.loads(unescape(found[1]))


@pytest.mark.slow
@pytest.mark.parametrize("width", [320, 360, 1200])
def test_nothing_is_small_or_sticks_out_on_any_screen(width: int, tmp_path: Path) -> None:
    """320 px is the width that WCAG 2.2, 1.4.10 (reflow), asks for."""
    # A frame of the wanted width: a browser's own window may refuse to be as narrow.
    quoted = json.dumps(sheet_html(crew_plan.sheet()).decode()).replace("</", "<\\/")
    html = MEASURES.replace("PAGE", quoted).replace("WIDTH", str(width))
    found = answer_in(seen(f"<!DOCTYPE html><body>{html}", tmp_path, 1400))
    assert found["inner"] == width
    assert found["wide"] <= width
    assert found["small"] == []


def axe() -> str:
    """The script of axe-core, an accessibility checker (npm: axe-core), where it is at hand."""
    root = Path(__file__).parents[2]
    places = [os.environ.get("WADFORMS_AXE"), root / "node_modules" / "axe-core" / "axe.min.js"]
    for place in places:
        if place and Path(place).is_file():
            return Path(place).read_text(encoding="utf-8")
    pytest.skip("needs axe-core: npm install --no-save axe-core, or WADFORMS_AXE=.../axe.min.js")


RUN_AXE = """<script>
axe.run(document, {resultTypes: ["violations"]}).then(found => {
  const answer = document.createElement("pre");
  answer.id = "answer";
  answer.textContent = JSON.stringify({rules: found.passes.length, violations:
    found.violations.map(v => [v.id, v.help, v.nodes.map(n => n.html.slice(0, 120))])});
  document.body.append(answer);
});
</script></body>"""


def scanned(html: str, folder: Path) -> Any:
    script = axe().replace("</script", "<\\/script")
    page = html.replace("</body>", f"<script>{script}</script>{RUN_AXE}")
    return answer_in(seen(page, folder, 1200))


@pytest.mark.slow
def test_the_page_passes_an_accessibility_scan(tmp_path: Path) -> None:
    found = scanned(sheet_html(crew_plan.sheet()).decode(), tmp_path)
    assert found["rules"] > 15
    assert found["violations"] == []


@pytest.mark.slow
def test_the_scan_finds_a_picture_without_a_name(tmp_path: Path) -> None:
    html = sheet_html(crew_plan.sheet()).decode()
    broken = re.sub("<title>[^<]*</title>\n<desc", "<desc", html)
    broken = re.sub("<desc>[^<]*</desc>", "", broken)
    assert broken != html
    assert "svg-img-alt" in {v[0] for v in scanned(broken, tmp_path)["violations"]}


# On paper


@pytest.mark.parametrize("name", ["a4", "letter"])
def test_the_pages_have_their_paper_and_say_all_that_the_sheet_says(name: str) -> None:
    from pypdf import PdfReader

    reader = PdfReader(io.BytesIO(sheet_pdf(crew_plan.sheet(), paper(name))))
    # ISO 216 and ANSI/ASME Y14.1, in mm.
    width, height = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}[name]
    for sheet in reader.pages:
        box = sheet.mediabox
        assert float(box.width) * 25.4 / 72 == pytest.approx(width, abs=0.01)
        assert float(box.height) * 25.4 / 72 == pytest.approx(height, abs=0.01)
    said = [squeezed(page.extract_text()) for page in reader.pages]
    for number, text in enumerate(said, 1):
        # A page's foot is written before the rest of it.
        foot = squeezed(f"November firing: crew sheet, 28 November page {number} of {len(said)}")
        assert text.startswith(foot)
        said[number - 1] = text.removeprefix(foot)
    whole = "".join(said)
    assert not [text for text in texts(crew_plan.sheet()) if squeezed(text) not in whole]
    assert reader.metadata is not None
    assert reader.metadata.title == "November firing: crew sheet"
    root: Any = reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    headings = [part.heading for part in crew_plan.sheet().parts]
    entries: list[Any] = reader.outline
    assert [entry["/Title"] for entry in entries] == headings


@pytest.mark.parametrize("name", sorted(PAPERS))
def test_no_heading_stands_alone_at_the_foot_of_a_page(name: str) -> None:
    from pypdf import PdfReader

    sheet = crew_plan.sheet()
    heads = [one.heading for one in sheet.parts]
    heads += [
        block.caption for one in sheet.parts for block in one.blocks if isinstance(block, Table)
    ]
    for skipped in range(4):  # so that pages end elsewhere
        parts = sheet.parts[skipped:]
        reader = PdfReader(io.BytesIO(sheet_pdf(replace(sheet, parts=parts), paper(name))))
        said = [squeezed(page.extract_text()) for page in reader.pages]
        assert not [text for text in said for head in heads if text.endswith(squeezed(head))]
        foot = squeezed(f"November firing: crew sheet, 28 November page {len(said)} of {len(said)}")
        assert any(
            text.split(squeezed(f"of {len(said)}"), 1)[1].startswith("Fortheleader")
            for text in said
        )
        assert said[-1].startswith(foot)


@pytest.mark.parametrize("name", sorted(PAPERS))
def test_all_ink_lies_where_printers_reach(name: str, tmp_path: Path) -> None:
    from rendering_of_sheets import inked_pages

    sheet = paper(name)
    x0, y0, x1, y1 = sheet.box
    for left, top, right, bottom in inked_pages(sheet_pdf(crew_plan.sheet(), sheet), tmp_path):
        slack = 0.6  # half of a line's width, and a pixel
        assert left >= x0 - slack
        assert right <= x1 + slack
        assert top >= sheet.height - y1 - slack
        assert bottom <= sheet.height - y0 + slack


def test_the_same_sheet_is_the_same_file() -> None:
    a4 = paper("a4")
    assert sheet_pdf(crew_plan.sheet(), a4) == sheet_pdf(crew_plan.sheet(), a4)
    assert sheet_html(crew_plan.sheet()) == sheet_html(crew_plan.sheet())


def test_letters_that_the_font_lacks_are_refused() -> None:
    with pytest.raises(BadInput, match="茶"):
        sheet_pdf(crew_plan.sheet(title="茶碗"), paper("a4"))
    assert "茶碗" in sheet_html(crew_plan.sheet(title="茶碗")).decode()


def test_a_hundred_kinds_flow_over_as_many_pages_as_they_take() -> None:
    from pypdf import PdfReader

    one = crew_plan.plan().chosen[0]
    rows = [replace(one.touch.row, row=k, name=f"Mug {k:03}") for k in range(100)]
    many = tuple(replace(one, touch=replace(one.touch, row=row)) for row in rows)
    nothing: Plan = replace(crew_plan.plan(), chosen=many, problems=(), from_stock={})
    sheet = crew_sheet(nothing, (), (), title="Mugs")
    reader = PdfReader(io.BytesIO(sheet_pdf(sheet, paper("a4"))))
    said = squeezed("".join(page.extract_text() for page in reader.pages))
    assert all(said.count(squeezed(f"{row.name} × 36")) == 1 for row in rows)
    assert 8 <= len(reader.pages) <= 20


def test_a_card_that_is_taller_than_a_page_is_broken_between_its_touches() -> None:
    from pypdf import PdfReader

    row = crew_plan.plan().chosen[8].touch.row
    unlike = [one for one in crew_plan.plan().chosen if one.choice and one.touch.kind != "stacked"]
    many = tuple(
        replace(one, touch=replace(one.touch, row=row, kind="post", upper=f"Post {k}"))
        for k, one in enumerate(unlike)
    )
    assert len(many) >= 7
    plan = replace(crew_plan.plan(), chosen=many, problems=(), from_stock={})
    sheet = crew_sheet(plan, (), (), title="Posts")
    reader = PdfReader(io.BytesIO(sheet_pdf(sheet, paper("letter"))))
    said = squeezed("".join(page.extract_text() for page in reader.pages))
    assert said.count(squeezed("Short post (continued) × 6")) >= 1
    for one in many:
        assert squeezed(one.name) in said
