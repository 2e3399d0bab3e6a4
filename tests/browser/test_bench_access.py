"""Every screen of the bench's page for hands in gloves, eyes in bad light, keys and screen readers.

The rules are those of an accessibility engine outside the project (axe-core: WCAG 2.2 AA, and 7:1 of AAA
1.4.6); 20 mm for a gloved finger is the design's own figure.
"""

import gzip
import hashlib
import random
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from bench_phones import Phone, Program, Shop

Phones = Callable[..., Phone]
TAP_PX = 75
"""20 mm at 96 pixels an inch, less a rounding."""
MOST_LOADED = 150_000
SCREENS: dict[str, str] = {
    "now": "", "joint": "", "trays": "", "more": "", "stuck": "", "over": "", "list": "", "leave": "",
    "several": "", "direction": "", "walk": "", "differ": "", "size": "", "lay in": "", "elsewhere": "",
    "photos": "",
    "deed": "{event: 'took out'}", "keypad": "{words: 'M8 x 45', kind: {thread: 'M8', length_mm: 45}}",
    "cannot": "{line: job.planLines()[1]}", "hold": "{hold: [...job.fold().holds.values()][0], fault: 'No.'}",
    "page": "{line: job.planLines().find((one) => one.step === 'manual/step/5.1/4'), source: 'Manual'}",
    "join": "{fault: 'There is no such code.'}",
}  # fmt: skip
GO = "async () => {{ const job = await import('./job.js'); (await import('./app.js')).go('{}', {}); }}"
SMALL = """() => [...document.querySelectorAll('button, input')].filter((one) => one.checkVisibility())
  .map((one) => [one.textContent || one.id, one.getBoundingClientRect()])
  .filter(([, box]) => box.height < %d || box.width < %d).map(([what]) => what)"""


@pytest.fixture(scope="module")
def axe() -> Any:
    """The engine, in its own file."""
    found = pytest.importorskip(
        "axe_playwright_python.sync_playwright", reason="NOT TRIED: axe-playwright-python is missing"
    )
    return found.Axe()


@pytest.fixture(scope="module")
def busy(chromium: Any, shop: Shop) -> Iterator[Phone]:
    """A bench in the middle of work: with counts, things laid in, and one place of which two differ."""
    ada = Phone(chromium, shop).join(shop.code(1), "Ada")
    ben, eve = (Program.joined(shop, shop.code(1), name) for name in ("Ben", "Eve"))
    ben.device.write("laid in", thing="rag")
    ben.device.write("counted", kind={"thread": "M8", "length_mm": 45.0}, pieces=7)
    ben.device.write("took out", joint="gearcase", places=["p1", "p7"], tray="tin 2")
    eve.device.write("put in", joint="gearcase", places=["p7"])
    ben.send()
    eve.send()
    ada.told("two people say")
    yield ada
    ada.close()


def show(phone: Phone, screen: str) -> None:
    phone.page.evaluate(GO.format(screen, SCREENS[screen] or "{}"))
    if screen == "walk":
        phone.page.evaluate(GO.format("direction", "{}"))
        phone.press("Clockwise")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_engine_finds_nothing_on_any_screen(busy: Phone, axe: Any, scheme: str) -> None:
    busy.page.emulate_media(color_scheme=scheme)
    busy.page.set_viewport_size({"width": 390, "height": 6_000})  # nothing lies under the foot of the page
    rules = {"color-contrast-enhanced": {"enabled": True}, "target-size": {"enabled": True}}
    only = {"runOnly": ["color-contrast-enhanced"]} if scheme == "dark" else {"rules": rules}
    for screen in SCREENS:
        show(busy, screen)
        found = axe.run(busy.page, options=only)
        assert found.violations_count == 0, f"{screen}: {found.generate_report()}"
        busy.page.set_viewport_size({"width": 390, "height": 844})
        busy.kept(f"{scheme}-{screen.replace(' ', '-')}")
        busy.page.set_viewport_size({"width": 390, "height": 6_000})


def test_every_target_is_20_mm_and_nothing_runs_over_the_edge(busy: Phone) -> None:
    for width in (390, 320):
        busy.page.set_viewport_size({"width": width, "height": 844})
        for screen in SCREENS:
            show(busy, screen)
            assert busy.page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), screen
            least = TAP_PX if width == 390 else 60
            assert busy.page.evaluate(SMALL % (TAP_PX, least)) == [], screen
    busy.page.set_viewport_size({"width": 390, "height": 844})


def test_what_has_the_focus_is_never_under_the_foot_of_the_page(busy: Phone) -> None:
    busy.page.set_viewport_size({"width": 390, "height": 600})
    show(busy, "over")
    foot = busy.page.locator("#ways").bounding_box()["y"]
    for _ in range(3):
        busy.page.keyboard.press("Tab")
        box = busy.page.evaluate(
            "(({ top, bottom }) => [top, bottom])(document.activeElement.getBoundingClientRect())"
        )
        assert box[1] <= foot
        assert box[0] >= busy.page.locator("header").bounding_box()["height"]
    busy.page.set_viewport_size({"width": 390, "height": 844})


def test_a_step_is_ticked_by_keys_alone(phone: Phones, shop: Shop) -> None:
    ada = phone()
    ada.page.goto(f"{shop.address}?code={shop.code(2)}")
    ada.page.focus("#name")
    ada.page.keyboard.type("Ada")
    ada.page.keyboard.press("Enter")
    ada.told("Pull the stop lever")
    assert ada.page.evaluate("document.activeElement.id") == "main", "a reader begins with the step"
    for expected in ("Pull the stop lever", "Close the fuel cock"):
        ada.page.keyboard.press("Tab")
        ada.page.keyboard.press("Enter")
        ada.told(expected)
    assert ada.page.evaluate("document.activeElement !== document.body"), "the focus is not lost"


def test_the_first_load_is_small_and_comes_from_the_server_alone(phone: Phones, shop: Shop) -> None:
    ada = phone()
    loaded: dict[str, int] = {}
    ada.page.on("response", lambda one: loaded.update({one.url: len(gzip.compress(one.body()))}))
    ada.page.goto(shop.address)
    ada.page.wait_for_selector("#code")
    assert len(loaded) > 15
    assert all(url.startswith(shop.address) for url in loaded)
    assert sum(loaded.values()) <= MOST_LOADED


def test_a_page_that_came_without_its_words_waits_for_them(phone: Phones, shop: Shop) -> None:
    ada = phone()
    ada.context.route("**/words_*.json", lambda route: route.abort())
    ada.page.goto(shop.address)
    ada.page.locator("main", has_text="No network. Wait").wait_for()
    ada.context.unroute("**/words_*.json")
    ada.page.wait_for_selector("#code")
    assert all("net::ERR" in one for one in ada.faults), "the browser's own lines about the network"
    ada.faults.clear()


def test_its_sha_256_is_that_of_the_standard_library(busy: Phone) -> None:
    chosen = random.Random(7)
    signs = 'ab0 {}"\\ \n\u00e9\u00df\u20ac\u4e2d\U0001f529\x00'
    texts = ["".join(chosen.choices(signs, k=length)) for length in [*range(140), 1_000, 16_384]]
    texts += ["a" * length for length in (55, 56, 63, 64, 119, 120)]
    got = busy.page.evaluate(
        "async (texts) => { const { sha256 } = await import('./sha256.js'); return texts.map(sha256); }",
        texts,
    )
    assert got == [hashlib.sha256(one.encode()).hexdigest() for one in texts]
