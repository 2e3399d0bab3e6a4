"""A class's server as it runs, and phones that join it: for tests of the bench's page in a real browser."""

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

from bench_devices import Device

CHROMIUM = Path("/usr/bin/chromium")
SCREENS = os.environ.get("LASTBOLT_SCREENS", "")
"""A folder to keep pictures of the screens in."""
GOAL = "separate the gearcase"
PHONE = {"width": 390, "height": 844}
FIRST = ("I have read this", "Done, and looked at it", "It is so: I looked")

OF_BASE = """([store, key]) => new Promise((done) => {
  const asked = indexedDB.open('lastbolt-bench');
  asked.onsuccess = () => {
    const from = asked.result.transaction(store).objectStore(store);
    const found = key ? from.get(key) : from.getAll();
    found.onsuccess = () => { asked.result.close(); done(found.result); };
  };
})"""
"""What the page's own database holds."""


class Shop(NamedTuple):
    """The program as it runs, with the codes it gave."""

    address: str
    codes: dict[str, str]

    def code(self, bench: int = 1, role: str = "") -> str:
        """The code of a bench, alone or with that of a role."""
        own = self.codes[f"bench {bench}"]
        return f"{own}+{self.codes[role]}" if role else own

    def ask(self, path: str, body: bytes | None = None, token: str = "") -> bytes:
        """What the server answers."""
        request = urllib.request.Request(f"{self.address}{path}", body)
        if token:
            request.add_header("Authorization", f"Bearer {token}")
        with urllib.request.urlopen(request, timeout=30) as answer:
            return bytes(answer.read())


@contextlib.contextmanager
def serving(demo: Path, store: Path, benches: int) -> Iterator[Shop]:
    """`lastbolt serve` on the demo, ended as a person ends it."""
    words = [
        *(sys.executable, "-m", "lastbolt", "serve", GOAL, "--model", str(demo / "q222.model.json")),
        *("--walk", str(demo / "walk.json"), "--engine", str(demo / "engine_3.json")),
        *(
            "--sources",
            str(demo / "sources"),
            "--store",
            str(store),
            "--benches",
            str(benches),
            "--host",
            "127.0.0.1",
            "--port",
            "0",
            "--json",
        ),
    ]
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True) as process:
        try:
            assert process.stdout is not None
            said = ""
            while not said.endswith("\n}\n"):
                line = process.stdout.readline()
                assert line, "it ended before it said its address"
                said += line
            told = json.loads(said)
            yield Shop(told["address"], told["codes"])
            process.send_signal(signal.SIGINT)
            assert process.wait(60) == 0
        finally:
            process.kill()


class Phone:
    """A browser of its own at phone size; a word in its console fails the test when it is closed."""

    def __init__(self, browser: Any, shop: Shop, locale: str = "en-GB", **more: Any) -> None:
        self.shop = shop
        self.context = browser.new_context(viewport=PHONE, locale=locale, **more)
        self.context.set_default_timeout(15_000)
        self.faults: list[str] = []
        self.page = self.new_page()

    def new_page(self) -> Any:
        """Another page of this phone's browser."""
        page = self.context.new_page()
        page.on("console", lambda said: self.faults.append(said.text))
        page.on("pageerror", lambda error: self.faults.append(str(error)))
        return page

    def join(self, code: str, name: str, role: str = "now") -> "Phone":
        """Open the address of the QR code and type a name."""
        self.page.goto(f"{self.shop.address}?code={code}".replace("+", "%2B"))
        self.page.fill("#name", name)
        self.page.click("form button")
        self.page.wait_for_selector("#ways button")
        self.sent()
        return self

    def sent(self) -> None:
        """Wait until the server has all that was pressed."""
        self.page.wait_for_timeout(80)
        self.until(lambda: self.held in ("all sent", "todo enviado"))

    def until(self, true: Callable[[], bool], most_s: float = 15.0) -> None:
        """Wait until it is true; the page's own rules let no script be made of words in it."""
        end = time.monotonic() + most_s
        while not true():
            assert time.monotonic() < end, f"it never came: {self.words}"
            self.page.wait_for_timeout(30)

    def button(self, name: str) -> Any:
        """The buttons of just these words."""
        return self.page.locator(f"button:text-is({json.dumps(name, ensure_ascii=False)})")

    def press(self, *names: str) -> "Phone":
        """Press buttons by their whole words."""
        for name in names:
            self.button(name).first.click()
        return self

    def has(self, name: str) -> bool:
        """Whether there is such a button."""
        return bool(self.button(name).count())

    def way(self, number: int) -> "Phone":
        """One of the ways at the foot: now, joint, trays, more, it won't move."""
        self.page.locator("#ways button").nth(number).click()
        return self

    @property
    def words(self) -> str:
        """What the screen says."""
        return str(self.page.inner_text("main"))

    @property
    def title(self) -> str:
        """Its large words."""
        return str(self.page.inner_text("main h1"))

    @property
    def held(self) -> str:
        """What it says of what is only here."""
        return str(self.page.inner_text("#held"))

    def told(self, words: str) -> "Phone":
        """Wait until the screen says so."""
        self.page.locator("main", has_text=words).wait_for()
        return self

    def lines(self) -> list[dict[str, Any]]:
        """Every event that this phone's own database holds, with whether it was sent."""
        return [
            {"sent": one["sent"], **json.loads(one["line"])} for one in self.page.evaluate(OF_BASE, ["lines"])
        ]

    def me(self) -> dict[str, str]:
        """As what it joined, with its token."""
        return dict(self.page.evaluate(OF_BASE, ["kept", "me"]))

    def pictures(self) -> list[Any]:
        """The keys of the pictures that it keeps."""
        return list(self.page.evaluate(OF_BASE.replace("getAll()", "getAllKeys()"), ["pictures"]))

    def kept(self, name: str) -> None:
        """A picture of the screen, where somebody wants them."""
        if SCREENS:
            self.page.screenshot(path=str(Path(SCREENS) / f"bench-{name}.png"), full_page=True)

    def close(self) -> None:
        """Close it; nothing may stand in its console."""
        self.context.close()
        assert self.faults == [], self.faults


class Program(NamedTuple):
    """A device that joined without a browser: what a test needs to have been done is written by it."""

    shop: Shop
    device: Device
    token: str
    job: str

    @classmethod
    def joined(cls, shop: Shop, code: str, name: str) -> "Program":
        """Join as a browser does."""
        wish = {"code": code, "device": f"program-{name}", "name": name}
        told = json.loads(shop.ask("api/join", json.dumps(wish).encode()))
        made = cls(shop, Device(told["device"], told["person"], told["job"]), told["token"], told["job"])
        made.fetch()
        return made

    def fetch(self) -> None:
        """Get what others wrote."""
        for line in self.shop.ask(f"api/jobs/{self.job}/events", token=self.token).splitlines():
            self.device.record.receive(line)

    def send(self) -> None:
        """Send all that it wrote."""
        body = b"".join(line + b"\n" for line in self.device.lines)
        told = json.loads(self.shop.ask(f"api/jobs/{self.job}/events", body, self.token))
        assert {one["status"] for one in told["receipts"]} <= {"kept", "known"}, told
        self.device.lines.clear()

    def plan(self) -> Any:
        """The plan, the walks and the tally as they stand."""
        return json.loads(self.shop.ask(f"api/jobs/{self.job}/plan", token=self.token))

    def state(self) -> Any:
        """What the record comes to."""
        return json.loads(self.shop.ask(f"api/jobs/{self.job}/state", token=self.token))
