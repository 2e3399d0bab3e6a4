"""The real program in a real browser: the demo's open point mended, a step drawn, one struck, words found."""

import contextlib
import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from lastbolt.cli.main import main

CHROMIUM = Path("/usr/bin/chromium")
SCREENS = os.environ.get("LASTBOLT_SCREENS", "")
"""A folder to keep pictures of the screens in."""
GOAL = "separate the gearcase"


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    api = pytest.importorskip("playwright.sync_api", reason="NOT TRIED IN A BROWSER: playwright is missing")
    if not CHROMIUM.exists():
        pytest.skip(f"NOT TRIED IN A BROWSER: there is no {CHROMIUM}")
    with api.sync_playwright() as started:
        opened = started.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox"])
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("demo")
    assert main(["demo", "--out", str(out)]) == 0
    return out


class Served(NamedTuple):
    """The program as it runs."""

    address: str
    model: Path
    process: "subprocess.Popen[str]"


@contextlib.contextmanager
def running(model: Path, *more: str) -> Iterator[Served]:
    """`lastbolt correct` on a model, ended as a person ends it."""
    words = [sys.executable, "-m", "lastbolt", "correct", str(model), "--json", *more]
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True) as process:
        try:
            assert process.stdout is not None
            said = ""
            while not said.rstrip().endswith("}"):
                line = process.stdout.readline()
                assert line, "it ended before it said its address"
                said += line
            yield Served(json.loads(said)["address"], model, process)
            process.send_signal(signal.SIGINT)
            assert process.wait(60) == 0
        finally:
            process.kill()


@pytest.fixture
def served(demo: Path, tmp_path: Path) -> Iterator[Served]:
    """The program on a copy of the demo's model."""
    model = tmp_path / "q222.model.json"
    model.write_bytes((demo / "q222.model.json").read_bytes())
    files = ("--sources", str(demo / "sources"), "--engine", str(demo / "engine_3.json"))
    with running(model, "--goal", GOAL, "--by", "Ann", *files) as found:
        yield found


def opened(browser: Any, served: Served, width: int = 1280, height: int = 800) -> Any:
    """The page, loaded; a word in its console fails the test."""
    page = browser.new_page(viewport={"width": width, "height": height})
    faults: list[str] = []
    page.set_default_timeout(60_000)
    page.on("console", lambda said: faults.append(said.text))
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.faults = faults
    page.goto(served.address)
    page.wait_for_selector("li.fact.here")
    settled(page)
    return page


def settled(page: Any) -> None:
    """Wait until everything asked for has come, and what was said is saved."""
    page.wait_for_timeout(100)
    page.wait_for_load_state("networkidle")
    page.wait_for_selector('main:not([aria-busy="true"])')
    page.wait_for_selector(".leaf:not(.coming), .typed", state="attached")
    page.wait_for_load_state("networkidle")
    page.wait_for_timeout(100)


def kept(page: Any, name: str) -> None:
    if SCREENS:
        page.screenshot(path=str(Path(SCREENS) / f"{name}.png"))


def sentence(page: Any) -> str:
    return str(page.text_content("#sentence"))


def press(page: Any, *names: str) -> None:
    for name in names:
        page.keyboard.press(name)
    settled(page)


def test_the_whole_job_by_keyboard_and_pointer(
    browser: Any, served: Served, capsys: pytest.CaptureFixture[str]
) -> None:
    page = opened(browser, served)
    assert sentence(page) == "Separate the gearcase: 1 point open."
    first = page.locator("li.fact").first
    assert "5.7" in first.text_content()
    assert page.input_value("#number") == "12"
    assert page.locator('.frame[aria-current="true"]').count() == 1, "its place is framed on the page"
    kept(page, "1280-goal-first")

    page.locator('.frame[aria-label*="Unscrew the delivery union"]').click()
    settled(page)
    assert "Unscrew the delivery union" in page.text_content("li.fact.here"), "and the reverse"

    press(page, "1")
    press(page, "e")
    page.keyboard.type("2.4")
    kept(page, "1280-correct")
    press(page, "Enter")
    assert sentence(page) == "Separate the gearcase: the plan is complete."

    strike_and_draw(page)
    search(page)
    press(page, "Escape")
    press(page, "?")
    assert page.locator("dialog[open]").count() == 1
    page.keyboard.press("Escape")
    assert page.faults == []
    page.close()
    capsys.readouterr()
    main(["plan", GOAL, "--model", str(served.model)])
    said = " ".join(capsys.readouterr().out.split())
    assert "leads to 2.4" in said
    checklist = said.partition("Checklist")[2]
    assert "Put a tray under the joint." in checklist
    assert "Screw the two guide studs" not in checklist


def strike_and_draw(page: Any) -> None:
    """On the goal's own page one step is none, and one is missing."""
    page.fill("#number", "17")
    press(page, "Tab")
    page.locator('.frame[aria-label*="Screw the two guide studs"]').click()
    settled(page)
    press(page, "n")
    assert "is no step" in page.text_content("li.fact.here")
    assert page.locator(".frame.right").count() == 1

    press(page, "a")
    line = page.locator('.frame[aria-label*="Remove the case screws"]').bounding_box()
    page.mouse.move(line["x"] - 4, line["y"] - 3)
    page.mouse.down()
    page.mouse.move(line["x"] + line["width"] + 30, line["y"] + line["height"] + 3, steps=4)
    page.mouse.up()
    settled(page)
    assert page.input_value("form.adding textarea") == "Remove the case screws."
    kept(page, "1280-add-a-step")
    page.fill("form.adding textarea", "Put a tray under the joint.")
    page.locator("form.adding button[type=submit]").click()
    settled(page)
    assert page.locator("form.adding").count() == 0


def search(page: Any) -> None:
    """Words are found, and shown on their pages."""
    press(page, "/")
    page.keyboard.type("M8x45")
    press(page, "Enter")
    assert page.locator("button.hit").count() == 3
    assert page.locator(".frame.match").count() == 3, "the hit is shown on its page"
    kept(page, "1280-search")
    press(page, "ArrowDown")
    assert page.input_value("#source") == "parts-list"


def test_a_step_is_added_and_taken_back_by_keys_alone(browser: Any, served: Served) -> None:
    page = opened(browser, served)
    press(page, "a", "ArrowDown", "ArrowDown", "Shift+ArrowDown", "Enter")
    page.fill("form.adding textarea", "Look under the pump.")
    page.locator("form.adding textarea").press("Tab")
    page.keyboard.type("9")
    press(page, "Enter")
    assert page.locator("form.adding").count() == 0
    assert not page.locator("#undo").is_disabled()
    page.locator("body").press("Escape")
    press(page, "3")
    assert "Look under the pump." in page.text_content("li.fact.here")
    press(page, "z")
    assert page.locator("#undo").is_disabled()
    assert page.faults == []
    page.close()


def test_what_another_tab_saved_is_told_and_nothing_typed_is_lost(browser: Any, served: Served) -> None:
    one, two = opened(browser, served), opened(browser, served)
    press(one, "e")
    one.keyboard.type("2.4")
    press(two, "ArrowDown")
    press(two, "c")
    press(one, "Enter")
    assert "Somebody else has saved" in one.text_content(".wrong")
    assert one.input_value(".edit input.target") == "2.4"
    press(one, "Enter")
    assert sentence(one) == "Separate the gearcase: the plan is complete."
    assert one.faults[1:] == [], "but for the browser's own line about the answer 409"
    one.close()
    two.close()


def test_on_a_phone_nothing_runs_over_the_edge(browser: Any, served: Served) -> None:
    page = opened(browser, served, 390, 844)
    wide = "document.documentElement.scrollWidth <= window.innerWidth"
    assert page.evaluate(wide)
    assert page.locator('.frame[aria-current="true"]').is_visible()
    kept(page, "390-goal-first")
    press(page, "e")
    assert page.evaluate(wide)
    kept(page, "390-correct")
    small = page.evaluate(
        "[...document.querySelectorAll('button:not(.frame), input:not([type=checkbox]), select')]"
        ".filter((one) => one.offsetHeight && one.offsetHeight < 34).map((one) => one.outerHTML)"
    )
    assert small == []
    page.close()


def test_script_in_words_stays_words(browser: Any, tmp_path: Path, demo: Path) -> None:
    model = tmp_path / "q222.model.json"
    text = (demo / "q222.model.json").read_text(encoding="utf-8")
    script = "<img src=x onerror=window.hit=1>"
    model.write_text(
        text.replace("Unscrew the delivery union by hand.", f"Unscrew {script} by hand."), "utf-8"
    )
    with running(model, "--sources", str(demo / "sources")) as found:
        page = opened(browser, found)
        page.fill("#number", "12")
        press(page, "Tab")
        page.locator("#views button[data-view=page]").click()
        settled(page)
        assert script in page.text_content("#list")
        assert page.evaluate("window.hit") is None
        page.close()
