"""A phone that dies at work: what was shown as ticked is there when its page is opened again."""

import contextlib
import os
import random
import signal
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from bench_phones import CHROMIUM, OF_BASE, Shop, serving

KILLS = 4


@contextlib.contextmanager
def running(folder: Path) -> Iterator[tuple[int, "subprocess.Popen[bytes]"]]:
    """A browser whose database stays in the folder; the port to speak to it, and its process."""
    port = folder / "DevToolsActivePort"
    port.unlink(missing_ok=True)
    words = [str(CHROMIUM), "--headless=new", "--no-sandbox", "--remote-debugging-port=0", "--no-first-run"]
    with subprocess.Popen(
        [*words, f"--user-data-dir={folder}", "about:blank"],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True,
    ) as process:  # fmt: skip
        try:
            while not port.exists() or not port.read_text().strip():
                assert process.poll() is None
                time.sleep(0.05)
            yield int(port.read_text().split()[0]), process
        finally:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(process.pid, signal.SIGKILL)


@pytest.fixture(scope="module")
def api() -> Iterator[Any]:
    found = pytest.importorskip("playwright.sync_api", reason="NOT TRIED IN A BROWSER: playwright is missing")
    if not CHROMIUM.exists():
        pytest.skip(f"NOT TRIED IN A BROWSER: there is no {CHROMIUM}")
    with found.sync_playwright() as started:
        yield started


@pytest.fixture(scope="module")
def one_bench(api: Any, demo_papers: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    with serving(demo_papers, tmp_path_factory.mktemp("store") / "class.db", 1) as served:
        yield served


def test_nothing_that_was_shown_as_ticked_dies_with_the_browser(
    api: Any, one_bench: Shop, tmp_path: Path
) -> None:
    chosen = random.Random(5)
    title, ticked, lines = "", 0, []
    for kill in range(KILLS + 1):
        with running(tmp_path) as (port, process):
            context = api.chromium.connect_over_cdp(f"http://127.0.0.1:{port}").contexts[0]
            context.set_default_timeout(20_000)
            page = context.new_page()
            page.goto(f"{one_bench.address}?code={one_bench.code()}")
            if kill == 0:
                page.fill("#name", "Ada")
                page.click("form button")
                page.locator("main h1", has_text="Pull the stop lever").wait_for()
            else:
                page.locator("main h1", has_text=title).wait_for()
            if kill == KILLS:
                page.locator("#held", has_text="all sent").wait_for()
                lines = page.evaluate(OF_BASE, ["lines"])
                break
            context.route("**/api/**", lambda route: route.abort())
            for _ in range(chosen.randrange(1, 4)):
                read = page.locator('button:text-is("I have read this")')
                if read.count():
                    read.click()
                before = page.inner_text("main h1")
                page.locator('button:text-is("Done")').click()
                page.locator("main h1", has_text=before).wait_for(state="detached")
                ticked += 1
            title = page.inner_text("main h1")
            time.sleep(chosen.random() / 50)
            os.killpg(process.pid, signal.SIGKILL)
            process.wait(20)
    assert len([one for one in lines if '"step done"' in one["line"]]) == ticked
    assert all(one["sent"] for one in lines)
