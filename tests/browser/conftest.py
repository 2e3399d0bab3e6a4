"""One browser and one class of benches for each file of tests of the bench's page."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from bench_phones import CHROMIUM, Phone, Shop, serving

from lastbolt.cli.main import main

BENCHES = 8


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    """The system's browser."""
    api = pytest.importorskip("playwright.sync_api", reason="NOT TRIED IN A BROWSER: playwright is missing")
    if not CHROMIUM.exists():
        pytest.skip(f"NOT TRIED IN A BROWSER: there is no {CHROMIUM}")
    with api.sync_playwright() as started:
        opened = started.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox"])
        yield opened
        opened.close()


@pytest.fixture(scope="session")
def demo_papers(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's papers."""
    out = tmp_path_factory.mktemp("demo")
    assert main(["demo", "--out", str(out)]) == 0
    return out


@pytest.fixture(scope="module")
def shop(demo_papers: Path, tmp_path_factory: pytest.TempPathFactory, chromium: Any) -> Iterator[Shop]:
    """A class at work: each test takes a bench of its own."""
    with serving(demo_papers, tmp_path_factory.mktemp("store") / "class.db", BENCHES) as served:
        yield served


@pytest.fixture
def phone(chromium: Any, shop: Shop) -> Iterator[Callable[..., Phone]]:
    """Gives phones, and closes them."""
    given: list[Phone] = []

    def make(**more: Any) -> Phone:
        given.append(Phone(chromium, shop, **more))
        return given[-1]

    yield make
    for one in given:
        one.close()
