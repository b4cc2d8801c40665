"""The page in a real browser: dragged, typed, saved, loaded anew, by mouse, by touch and by keyboard."""

import re
import shutil
import threading

import pytest

import wheelrate as wr
from wheelrate._explore.server import Server, module, resource

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on the PATH")
playwright = pytest.importorskip("playwright.sync_api", reason="no Playwright")

DESKTOP = {"viewport": {"width": 1280, "height": 900}}
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}
# A thumb needs so many pixels of the page.
THUMB = 44
PATIENCE_MS = 60_000
# What a hand feels as at once is 50 ms, which benches/python/page.py measures. Here, on a machine that may be busy with
# anything, a hundred answers' worth of delay would still fail.
FAR_TOO_SLOW_MS = 2_000


@pytest.fixture(scope="module")
def chromium():
    with playwright.sync_playwright() as running:
        browser = running.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "patrol.toml"
    path.write_text(wr.demo_file(), encoding="utf-8")
    return path


@pytest.fixture
def server(file):
    with Server(file) as served:
        thread = threading.Thread(target=served.serve_forever, daemon=True)
        thread.start()
        yield served
        served.shutdown()
        thread.join()


@pytest.fixture
def open_page(chromium, server):
    """Open the page in a window of its own; nothing may go wrong in it, nothing may be asked of elsewhere."""
    contexts, wrong = [], []

    def opened(context=None, **options):
        if context is None:
            context = chromium.new_context(**(options or DESKTOP))
            context.set_default_timeout(PATIENCE_MS)
            contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda said: wrong.append(said.text) if said.type in ("error", "warning") else None)
        page.on("request", lambda asked: None if asked.url.startswith(server.address) else wrong.append(asked.url))
        page.goto(server.address)
        page.locator("main:not([data-asked]) table").wait_for()
        return page

    yield opened
    for context in contexts:
        context.close()
    assert not wrong


def answered(page):
    page.locator("main:not([data-asked])").wait_for()


def middle(page, name):
    box = page.locator(f'[data-point="{name}"] .dot').bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drag(page, name, right, down, steps=8):
    x, y = middle(page, name)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right, y + down, steps=steps)
    page.mouse.up()
    answered(page)


def cells(page, name, group="rear"):
    body = page.locator("tbody", has=page.locator("tr.group th", has_text=re.compile(f"^{group}$", re.IGNORECASE)))
    row = body.locator("tr", has=page.locator("th", has_text=re.compile(f"^{re.escape(name)}$")))
    return [row.locator(f"td.{column}").inner_text() for column in ("before", "after", "change")]


def coordinates(page, name):
    return [float(page.get_by_label(f"{name}, {way}, mm").input_value()) for way in ("forward", "up")]


def save(page, *, mended):
    page.get_by_role("button", name="Save…").click()
    if mended:
        page.get_by_label("was written down wrong").check()
    page.locator("pre .added").first.wait_for()
    page.get_by_role("button", name="Write").click()
    page.locator("main[data-saved] .done").wait_for()


def test_dragging_a_pivot_moves_every_answer(open_page):
    page = open_page()
    drag(page, "link_frame", 0, -12)
    x, z = coordinates(page, "link frame")
    assert x == pytest.approx(-66, abs=1.5)
    assert z > -98 + 5
    bike = wr.demo().what_if({"rear.linkage.points.link_frame": [f"{x} mm", f"{z} mm"]})
    sag = bike.fit_end("rear").loads[1].sag.show("mm")
    assert cells(page, "sag, bike + rider")[1] == sag
    for name in ("motion ratio, rider on", "wheel rate, rider on", "sag, bike"):
        before, after, change = cells(page, name)
        assert before != after
        assert change
    for name in ("trail, rider on", "anti-squat, rider on"):
        assert cells(page, name, "whole bike")[2]
    headline = page.locator(".headline").first.inner_text()
    assert headline.replace("\N{NO-BREAK SPACE}", " ") == bike.advise_end("rear").headline()


def test_answers_while_the_pointer_still_moves(open_page):
    page = open_page()
    x, y = middle(page, "link_frame")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - 3)
    first = page.locator("tr.changed td.after").first
    first.wait_for()
    page.mouse.move(x, y - 9, steps=3)
    page.locator("main[data-answered-in]").wait_for()
    assert float(page.locator("main").get_attribute("data-answered-in")) < FAR_TOO_SLOW_MS
    page.mouse.up()
    answered(page)


def test_the_drawing_stays_under_the_pointer(open_page):
    page = open_page(**PHONE)
    drawing = page.locator(".wr-drawing")
    before = drawing.evaluate("drawn => drawn.getBoundingClientRect().top + scrollY")
    drag(page, "link_frame", -30, -60)
    assert drawing.evaluate("drawn => drawn.getBoundingClientRect().top + scrollY") == pytest.approx(before, abs=0.5)


def test_undo_and_redo_by_keyboard_and_button(open_page):
    page = open_page()
    drag(page, "rocker_pivot", 5, 0)
    drag(page, "link_frame", 0, -8)
    moved = coordinates(page, "link frame")
    page.keyboard.press("Control+z")
    answered(page)
    assert coordinates(page, "link frame") == [-66, -98]
    assert coordinates(page, "rocker pivot") != [-253, -72]
    page.keyboard.press("Control+Shift+z")
    answered(page)
    assert coordinates(page, "link frame") == moved
    for _ in range(2):
        page.get_by_role("button", name="Undo").click()
    answered(page)
    assert page.get_by_role("button", name="Undo").is_disabled()
    assert page.get_by_role("button", name="Save…").is_disabled()
    assert not page.locator("tr.changed").count()


def test_a_pivot_moves_by_arrow_keys(open_page):
    page = open_page()
    handle = page.locator('[data-point="link_frame"]')
    handle.focus()
    for key in ("ArrowUp", "ArrowUp", "ArrowLeft", "Shift+ArrowUp", "Alt+ArrowRight"):
        page.keyboard.press(key)
    answered(page)
    assert coordinates(page, "link frame") == [-66.9, -86]
    assert "−86" in handle.get_attribute("aria-label").replace("-", "−")


def test_every_control_is_reached_by_tab(open_page):
    page = open_page()
    wanted = page.locator("main :is(button, input, [tabindex='0']):not(:disabled):visible").count()
    reached = set()
    page.locator("main").evaluate("() => document.activeElement.blur()")
    for _ in range(wanted + 5):
        page.keyboard.press("Tab")
        reached.add(page.evaluate("() => [...document.querySelectorAll('*')].indexOf(document.activeElement)"))
    assert len(reached) >= wanted


def test_a_slider_goes_by_the_marks_of_its_collar(open_page):
    page = open_page()
    slider = page.get_by_label("Rear preload")
    slider.focus()
    for _ in range(6):
        page.keyboard.press("ArrowRight")
    answered(page)
    assert slider.get_attribute("aria-valuetext") == "16.25 mm, +1½ turns"
    sag = wr.demo().what_if({"rear.shock.spring.preload": "16.25 mm"}).fit_end("rear").loads[1].sag
    assert cells(page, "sag, bike + rider")[1] == sag.show("mm")


def test_a_fault_is_shown_beside_its_field_and_goes_again(open_page):
    page = open_page()
    field = page.get_by_label("link frame, forward, mm")
    field.fill("-66 furlongs")
    field.press("Tab")
    page.locator("[aria-invalid]").wait_for()
    assert field.get_attribute("aria-invalid") == "true"
    described = field.get_attribute("aria-describedby").split()
    fault = page.locator(f"#{described[-1]}")
    assert "furlongs" in fault.inner_text()
    field.fill("-67")
    field.press("Tab")
    answered(page)
    assert field.get_attribute("aria-invalid") is None
    assert fault.inner_text() == ""
    assert coordinates(page, "link frame") == [-67, -98]


def test_readings_are_typed_saved_and_there_again(open_page, file):
    page = open_page()
    rear = page.locator("fieldset", has=page.locator("legend", has_text="Rear: distance"))
    rear.get_by_label("bike + rider, pushed down").fill("531")
    rear.get_by_label("bike + rider, lifted").fill("54x")
    rear.get_by_label("bike, lifted").focus()
    answered(page)
    assert "54x" in rear.locator(".fault:not(:empty)").inner_text()
    rear.get_by_label("bike + rider, lifted").fill("544 mm")
    rear.get_by_label("bike, lifted").focus()
    answered(page)
    assert not rear.locator(".fault:not(:empty)").count()
    page.get_by_role("button", name="Save…").click()
    page.locator("pre .added").first.wait_for()
    assert not page.get_by_text("What was changed").is_visible()
    page.get_by_role("button", name="Write").click()
    page.locator("main[data-saved]").wait_for()
    read = wr.Bike.load(file).readings[-2:]
    assert [(one.load, one.settled, one.distance.m_as("mm")) for one in read] == [
        ("bike + rider", "low", 531),
        ("bike + rider", "high", 544),
    ]
    page.reload()
    page.locator("main table").wait_for()
    assert cells(page, "sag, bike + rider")[0] == wr.Bike.load(file).fit_end("rear").loads[1].sag.show("mm")


def test_an_evening_that_has_begun_keeps_what_was_said_before(open_page):
    page = open_page()
    said = page.locator(".headline").first.inner_text()
    sag = cells(page, "sag, bike + rider")
    rear = page.locator("fieldset", has=page.locator("legend", has_text="Rear: distance"))
    dates = page.locator("fieldset", has=page.locator("legend", has_text="When"))
    dates.get_by_label("Day of the readings in the file").fill("2026-06-14")
    dates.get_by_label("Day of these readings").fill("2026-06-20")
    rear.get_by_label("bike + rider, pushed down").fill("54")
    rear.get_by_label("bike, lifted").focus()
    answered(page)
    assert "larger than the whole travel" in rear.locator(".reading .fault:not(:empty)").inner_text()
    assert "No answer from these yet" in rear.locator("> .fault").inner_text()
    assert page.locator(".headline").first.inner_text() == said
    assert "before these readings" in page.locator('.card.past[data-end="rear"] .verdict').inner_text()
    assert cells(page, "sag, bike + rider") == [sag[0], "–", ""]
    assert page.locator("tr.past").count()
    page.get_by_role("button", name="Start over").click()
    answered(page)
    assert cells(page, "sag, bike + rider") == sag
    assert not page.locator(".past:visible:not(:empty)").count()
    assert not rear.locator(".fault:not(:empty)").count()


def test_the_place_of_a_point_stands_clear_of_the_drawing(open_page):
    page = open_page()
    for name in ("link_frame", "axle"):
        page.locator(f'[data-point="{name}"]').focus()
        place = page.locator(".place").bounding_box()
        for handle in page.locator(".handle .dot").all():
            box = handle.bounding_box()
            apart = [
                place[at] + place[size] < box[at] or box[at] + box[size] < place[at]
                for at, size in (("x", "width"), ("y", "height"))
            ]
            assert any(apart)


def test_saved_as_mended_and_loaded_anew(open_page, file):
    page = open_page()
    drag(page, "link_frame", 4, -10)
    moved = coordinates(page, "link frame")
    save(page, mended=True)
    kept = file.read_text(encoding="utf-8")
    assert kept.count("\n") == wr.demo_file().count("\n")
    assert "# Bolt centres measured on the stand" in kept
    page.reload()
    page.locator("main table").wait_for()
    assert coordinates(page, "link frame") == moved
    place = wr.Bike.load(file).rear.linkage.mechanism.points["link_frame"].m_as("mm")
    assert list(place) == pytest.approx(moved, abs=1e-9)


def test_saved_as_done_asks_for_the_day_of_the_readings(open_page, file):
    page = open_page()
    page.get_by_label("Rear spring").focus()
    page.keyboard.press("ArrowRight")
    answered(page)
    page.get_by_role("button", name="Save…").click()
    dated = page.locator(".saving").get_by_label("Day of the readings in the file")
    page.locator(".saving .main:disabled").wait_for()
    assert page.locator(".saving [aria-invalid]").count() == 0  # nothing is wrong before anything is typed
    dated.fill("some day in May")
    dated.press("Tab")
    page.locator(".saving [aria-invalid]").wait_for()
    assert page.get_by_role("button", name="Write").is_disabled()
    dated.fill("2026-05-31")
    dated.press("Tab")
    page.locator("pre .added").first.wait_for()
    page.locator(".saving").get_by_label("A note for the log").fill("one up")
    page.get_by_role("button", name="Write").click()
    page.locator("main[data-saved]").wait_for()
    bike = wr.Bike.load(file)
    assert bike.changes[0].note == "one up"
    assert bike.rear.shock.spring.spring.rate.m_as("N/mm") == 54


def test_two_tabs_do_not_write_over_each_other(open_page, file):
    one = open_page()
    other = open_page(one.context)
    drag(one, "link_frame", 0, -6)
    drag(other, "rocker_pivot", 4, 0)
    moved = coordinates(other, "rocker pivot")
    save(one, mended=True)
    written = file.read_text(encoding="utf-8")
    other.get_by_role("button", name="Save…").click()
    other.get_by_label("was written down wrong").check()
    other.locator("pre .added").first.wait_for()
    other.get_by_role("button", name="Write").click()
    again = other.get_by_role("button", name="Read the file again")
    again.wait_for()
    assert file.read_text(encoding="utf-8") == written
    again.click()
    other.locator(".general button").wait_for(state="detached")
    answered(other)
    assert coordinates(other, "rocker pivot") == moved
    assert coordinates(other, "link frame") == coordinates(one, "link frame")
    save(other, mended=True)
    points = wr.Bike.load(file).rear.linkage.mechanism.points
    assert list(points["rocker_pivot"].m_as("mm")) == pytest.approx(moved, abs=1e-9)


def test_a_phone_shows_all_of_it_and_takes_a_thumb(open_page):
    page = open_page(**PHONE)
    assert page.evaluate("() => document.documentElement.scrollWidth") == 390
    sizes = page.locator(".reach").evaluate_all("all => all.map(one => one.getBoundingClientRect().width)")
    assert min(sizes) >= THUMB - 0.5
    controls = page.locator("main :is(button, input):visible")
    heights = controls.evaluate_all(
        "all => all.filter(one => one.type !== 'radio').map(one => one.getBoundingClientRect().height)"
    )
    assert min(heights) >= THUMB - 0.5
    page.locator(".wr-drawing").scroll_into_view_if_needed()
    x, y = middle(page, "link_frame")
    wire = page.context.new_cdp_session(page)

    def touch(kind, *points):
        wire.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": px, "y": py} for px, py in points]})

    # Beside the dot, as a thumb comes down: the handle must not jump there.
    touch("touchStart", (x + 12, y + 8))
    for step in range(1, 9):
        touch("touchMove", (x + 12, y + 8 - step))
    touch("touchEnd")
    answered(page)
    _, z = coordinates(page, "link frame")
    scale = page.locator(".wr-drawing").evaluate("drawn => drawn.getScreenCTM().a")
    assert z == pytest.approx(-98 + 8 / scale, abs=1.5)
    assert page.evaluate("() => document.documentElement.scrollWidth") == 390


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desktop", "phone"])
def test_contrast_labels_and_roles_pass(open_page, size, scheme):
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="no axe-core").Axe()
    page = open_page(**size, color_scheme=scheme)
    drag(page, "link_frame", 0, -5)
    field = page.get_by_label("link frame, up, mm")
    field.fill("x")
    field.press("Tab")
    page.locator("[aria-invalid]").wait_for()
    page.get_by_role("button", name="Save…").click()
    page.locator(".saving").wait_for()
    page.wait_for_timeout(300)
    found = axe.run(page)
    assert not found.response["violations"], found.generate_report()
    assert len(found.response["passes"]) > 20


def test_names_of_a_file_are_text(open_page, file):
    nasty = "<img src=x onerror=alert(1)>"
    text = (
        file.read_text(encoding="utf-8").replace('"Ridge patrol 300"', f'"{nasty}"').replace("link_frame", '"<b>&amp;"')
    )
    file.write_text(text.replace('""<b>&amp;""', '"<b>&amp;"'), encoding="utf-8")
    wr.Bike.load(file)
    page = open_page()
    assert nasty in page.locator("h1").inner_text()
    assert not page.locator("main img, main b").count()
    assert page.locator(".handle").evaluate_all("all => all.map(one => one.dataset.point)").count("<b>&amp;") == 1


HOST = """<!DOCTYPE html><meta charset="utf-8"><title>notebook</title><style>CSS</style><div id="cell"></div>
<script type="module">
import widget from "./explore.js";
const listeners = [];
const model = {
  on: (name, hear) => listeners.push(hear),
  off: (name, hear) => listeners.splice(listeners.indexOf(hear), 1),
  send: async (message) => {
    const answer = await window.kernel(message);
    listeners.forEach((hear) => hear(answer));
  },
};
const root = document.querySelector("#cell").attachShadow({ mode: "open" });
const style = document.createElement("style");
style.textContent = document.querySelector("style").textContent;
const el = document.createElement("div");
root.append(style, el);
window.leave = widget.render({ model, el });
</script>"""


def test_the_same_module_lives_in_a_notebook_with_a_shadow_root(chromium):
    """A widget's own messages, over a model that stands for the notebook's, in a shadow root as marimo has it."""
    explorer = wr.explore(wr.demo())
    context = chromium.new_context(**DESKTOP)
    context.set_default_timeout(PATIENCE_MS)
    page = context.new_page()
    wrong = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    sent = []
    explorer.send = sent.append

    def kernel(message):
        explorer._hear(explorer, message, [])
        return sent.pop()

    page.expose_function("kernel", kernel)
    page.route("**/explore.js", lambda route: route.fulfill(body=module(), content_type="text/javascript"))
    page.route(
        "http://notebook.test/",
        lambda route: route.fulfill(body=HOST.replace("CSS", resource("explore.css")), content_type="text/html"),
    )
    page.goto("http://notebook.test/")
    page.locator(".wr table").wait_for()
    drag_in = middle(page, "link_frame")
    page.mouse.move(*drag_in)
    page.mouse.down()
    page.mouse.move(drag_in[0], drag_in[1] - 10, steps=4)
    page.mouse.up()
    page.locator(".wr:not([data-asked]) tr.changed").first.wait_for()
    place = explorer.bike.rear.linkage.mechanism.points["link_frame"].m_as("mm")
    assert place[1] > -95
    page.evaluate("() => window.leave()")
    assert not wrong
    context.close()
