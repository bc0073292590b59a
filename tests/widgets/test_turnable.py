"""The model to be turned: its data, and the drawing itself in a browser that reaches nothing."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path

import pytest
from sheets import demo, least

from modelmath.drawings.figures.solid.bodies import model_of
from modelmath.drawings.figures.solid.data import scene_data
from modelmath.drawings.figures.solid.faces import body_of, faces_of
from modelmath.drawings.figures.solid.projection import TILT, TURN, View
from modelmath.widgets.common import turnable
from modelmath.widgets.common.turnable import Turnable, TurnableFigure

HERE = Path(turnable.__file__).parent
PAGE = """<!doctype html><meta charset="utf-8"><title>test</title><style>%s</style>
<body><div id="one"></div><div style="height:3000px"></div><script type="module">
const source = %s, scene = %s;
const module = await import(URL.createObjectURL(new Blob([source], {type: "text/javascript"})));
const heard = {};
const model = {held: {scene}, get(name) { return this.held[name]; }, set() {}, save_changes() {},
  on(name, act) { heard[name] = act; }, off() {}};
module.default.render({model, el: document.getElementById("one")});
window.change = (scene) => { model.held.scene = scene; heard["change:scene"](); };
window.module = module; window.scene = scene; window.ready = true;
</script>"""


def _lacking(what):
    if os.environ.get("CI") == "true":
        pytest.fail(what)
    pytest.skip(what)


@pytest.fixture(scope="module")
def browser():
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        _lacking("no browser test without Playwright: pip install playwright")
    with sync_playwright() as playwright:
        names = ("chromium", "chromium-browser", "google-chrome")
        found = next(filter(None, map(shutil.which, names)), None) or playwright.chromium.executable_path
        if not Path(found).exists():
            _lacking("no browser: install chromium, or run: playwright install chromium")
        chromium = playwright.chromium.launch(executable_path=found, args=["--no-sandbox", "--disable-gpu"])
        yield chromium
        chromium.close()


@pytest.fixture
def opened(browser):
    """A function that opens a plan's drawing; at the end nothing may have been asked for or complained of."""
    noted: list[str] = []
    contexts = []

    def open_(plan, width=800, touch=False):
        context = browser.new_context(viewport={"width": width, "height": 700}, has_touch=touch)
        contexts.append(context)
        page = context.new_page()
        page.route("**/*", lambda route: (noted.append(route.request.url), route.abort()))
        page.on("console", lambda said: noted.append(said.text))
        page.on("pageerror", lambda fault: noted.append(str(fault)))
        script, style = ((HERE / f"turnable.{end}").read_text("utf-8") for end in ("js", "css"))
        data = json.dumps(scene_data(plan)).replace("</", "<\\/")
        page.set_content(PAGE % (style, json.dumps(script).replace("</", "<\\/"), data))
        page.wait_for_function("window.ready")
        return page

    open_.noted = noted
    yield open_
    for context in contexts:
        context.close()


def drawn(page):
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    return page.locator(".mm-turnable svg").inner_html()


def said(page):
    return page.get_by_role("status").inner_text()


def test_the_widget_holds_the_scene_and_the_picture_at_rest():
    plan = demo()
    figure = TurnableFigure(plan)
    assert figure.turnable.scene == scene_data(plan)
    assert "<svg" in figure.still.value
    assert list(figure.view.children) == [figure.turnable, figure.still]
    figure.show(least())
    assert figure.turnable.scene == scene_data(least())
    figure.clear()
    assert (figure.turnable.scene, figure.still.value) == ({}, "")
    assert Turnable().scene == {}


def test_keys_turn_tilt_and_size_it_and_set_it_back(opened):
    page = opened(demo())
    first = drawn(page)
    assert said(page) == f"Turned by {TURN:.0f}°, tilted by {TILT:.0f}°, size 100 %."
    page.locator(".mm-turnable svg").focus()
    seen = {first}
    for key, words in (
        ("ArrowRight", "Turned by 42°, tilted by 24°, size 100 %."),
        ("ArrowUp", "Turned by 42°, tilted by 34°, size 100 %."),
        ("+", "Turned by 42°, tilted by 34°, size 125 %."),
        ("ArrowLeft", "Turned by 32°, tilted by 34°, size 125 %."),
        ("-", "Turned by 32°, tilted by 34°, size 100 %."),
    ):
        page.keyboard.press(key)
        seen.add(drawn(page))
        assert said(page) == words
    assert len(seen) == 6
    page.keyboard.press("0")
    assert drawn(page) == first
    outline = page.locator(".mm-turnable svg").evaluate("(it) => getComputedStyle(it).outlineStyle")
    assert outline == "solid"
    assert page.evaluate("scrollY") == 0
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "From a corner"
    assert opened.noted == []


def test_dragging_turns_it_and_the_wheel_scrolls_the_page(opened):
    page = opened(demo("railbus-ho"))
    first = drawn(page)
    box = page.locator(".mm-turnable svg").bounding_box()
    at = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.move(*at)
    page.mouse.down()
    page.mouse.move(at[0] + 60, at[1] + 20, steps=3)
    turned = drawn(page)
    page.mouse.up()
    page.mouse.move(at[0] - 80, at[1], steps=3)
    assert turned != first
    assert drawn(page) == turned
    page.mouse.wheel(0, 300)
    page.wait_for_function("scrollY > 0")
    assert drawn(page) == turned
    assert opened.noted == []


def test_buttons_show_it_along_its_axes(opened):
    page = opened(demo(), width=350, touch=True)
    for name, words in (
        ("From the side", "Turned by 0°, tilted by 0°, size 100 %."),
        ("From the front", "Turned by 90°, tilted by 0°, size 100 %."),
        ("From above", "Turned by 0°, tilted by 90°, size 100 %."),
        ("Larger", "Turned by 0°, tilted by 90°, size 125 %."),
        ("Smaller", "Turned by 0°, tilted by 90°, size 100 %."),
        ("From a corner", "Turned by 32°, tilted by 24°, size 100 %."),
    ):
        page.get_by_role("button", name=name, exact=True).tap()
        drawn(page)
        assert said(page) == words
    svg = page.locator(".mm-turnable svg")
    assert svg.evaluate("(it) => getComputedStyle(it).touchAction") == "pan-y"  # a stroke down scrolls the page
    assert svg.get_attribute("aria-label").startswith(
        "Tarn Valley switcher No. 31, to be turned. Zones from front to rear"
    )
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert opened.noted == []


def test_it_shows_what_the_picture_at_rest_does(opened):
    """Two programs, one picture: the same faces in the same order, to a thousandth of a millimetre."""
    for plan in (demo("railbus-ho"), least()):
        page = opened(plan)
        body = body_of(model_of(plan))
        for turn, tilt in ((TURN, TILT), (123.0, -31.0), (271.0, 8.0), (0.0, 90.0)):
            ours = list(faces_of(body, View(turn, tilt)))
            theirs = page.evaluate("([turn, tilt]) => module.facesOf(scene, turn, tilt)", [turn, tilt])
            assert [face["solid"] for face in theirs] == [face.solid for face in ours]
            for face, other in zip(ours, theirs, strict=True):
                assert [x for at in other["points"] for x in at] == pytest.approx(
                    [x for at in face.points for x in at], abs=1e-3
                )
                assert len(other["hatch"]) == len(face.hatch)
    assert opened.noted == []


def test_another_plan_takes_its_place_and_keeps_the_turn(opened):
    page = opened(demo())
    page.get_by_role("button", name="From above").click()
    before = drawn(page)
    page.evaluate("(scene) => window.change(scene)", scene_data(demo("railcar-n")))
    assert drawn(page) != before
    assert said(page).startswith("Turned by 0°, tilted by 90°")
    assert "small speaker" in page.locator(".mm-turnable").inner_text()
    page.evaluate("window.change({})")
    assert page.locator(".mm-turnable svg").count() == 0
    assert opened.noted == []


def test_markup_in_a_name_stays_text(opened):
    zones = [{"name": "<img src=x onerror=alert(1)>", "underside": "roof", "chassis_top": "chassis top"}]
    page = opened(least(zones=zones))
    assert page.locator("img").count() == 0
    assert "<img src=x" in page.locator(".mm-turnable").inner_text()
    assert opened.noted == []
