"""The demo's job at one bench on a phone, from the code on its sheet to the parted joint."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from bench_phones import FIRST, Phone, Program, Shop

from lastbolt.cli.main import main

Phones = Callable[..., Phone]
IN_BOARD = ["1", "2", "3", "5", "6", "7", "8", "10", "11", "12", "13", "14", "15", "16", "17"]
"""Where the demo's engine has a screw: by its book 4 and 9 have had none for years; at 18 is a dowel."""
TRAYS = {"M8 x 45": 7, "M8 x 50": 1, "M8 x 55": 3, "M8 x 60": 1, "M8 x 70": 2, "M8 x 90": 1}
"""What those screws are, as the demo's engine file and parts list give their lengths."""


def tick_on(phone: Phone) -> None:
    """The block of steps at once, or what is asked now."""
    if phone.has("I have read this"):
        phone.press("I have read this")
    if phone.has("Tick several …"):
        phone.press("Tick several …")
        for box in phone.page.get_by_role("checkbox").all():
            box.click()
        phone.page.locator("main button.first").click()
        phone.until(lambda: not phone.page.get_by_role("checkbox").count())
        return
    before = phone.words
    phone.press(next(name for name in FIRST if phone.has(name)))
    phone.until(lambda: phone.words != before)


def walk(phone: Phone, way: str, saw: dict[str, str], usual: str) -> None:
    """Go round, place by place; `saw` where it is not as usual."""
    phone.way(1).press("Go round the joint", way)
    while phone.has("Next place"):
        label = phone.title.removeprefix("Place ")
        phone.press(saw.get(label, usual), "Next place")
    phone.press("No further place")
    phone.page.wait_for_selector("figure")


def count_trays(phone: Phone) -> None:
    phone.way(2)
    for size, pieces in TRAYS.items():
        if phone.has(size):
            phone.press(size)
        else:
            phone.press("Another size …")
            phone.page.fill("#size", size)
            phone.press("Go on")
        phone.press(*str(pieces), "Keep this count").told(f"{size}: {pieces}")


def take_out(phone: Phone) -> None:
    phone.way(1).press("Taken out", *IN_BOARD)
    phone.page.fill("#tray", "bolt board A")
    phone.kept("taken-out")
    phone.page.locator("main button.first").click()
    phone.page.wait_for_selector("figure")


def settle_holders(phone: Phone) -> None:
    """Each of what else holds, as somebody who has looked at all of them."""
    phone.sent()
    while (rest := phone.page.get_by_role("button", name="It holds no more")).count():
        left = rest.count()
        rest.first.click()
        phone.until(lambda left=left: rest.count() < left)  # type: ignore[misc]


@pytest.fixture
def phones(phone: Phones) -> Phones:
    return phone


def test_the_whole_job(phones: Phones, shop: Shop, tmp_path: Path, capsys: Any) -> None:
    ada = phones().join(shop.code(), "Ada")
    assert "DANGER" in ada.words
    assert ada.title.startswith("Pull the stop lever")
    ada.kept("now")
    tick_on(ada)
    offline_in_the_middle(ada)
    while not ada.has("Stop: the instructor signs here, at the bench."):
        tick_on(ada)
    ada.sent()
    ines = phones().join(shop.code(role="instructor"), "Ines")
    refused_while_something_holds(ada, ines)

    take_out(ada)
    walk(ada, "Clockwise", {"18": "Solid dowel, seen at both ends"}, "Open hole, empty")
    settle_holders(ada)
    count_trays(ada)
    ada.sent()
    second_pair_of_eyes(Program.joined(shop, shop.code(), "Eve"))
    ines.way(1)
    ines.told("Clear to part")
    ines.kept("joint-clear")
    signed(ada, ines)
    ada.told("Fit the press frame").press("Done, and looked at it")
    while not ada.title.startswith("Nothing is left"):
        tick_on(ada)
    ada.sent()
    ada.kept("done")
    verified(ada, shop, tmp_path, capsys)


def second_pair_of_eyes(eve: Program) -> None:
    """Somebody else counts and goes round the other way, with a rod."""
    joint = eve.plan()["walks"][0]
    for size, pieces in TRAYS.items():
        thread, _, length = size.partition(" x ")
        kind = {"what": "screw", "thread": thread, "length_mm": float(length)}
        eve.device.write("counted", joint=joint["joint"], kind=kind, pieces=pieces)
    answers = [
        {
            "place": one["id"],
            "saw": ["solid dowel, both ends" if one["label"] == "18" else "rod to the bottom"],
        }
        for one in joint["places"]
    ]
    gone = {"by": eve.device.by, "guided": True, "complete": True, "direction": "anticlockwise"}
    eve.device.write("went round", joint=joint["joint"], round={"id": "r2", **gone, "answers": answers})
    eve.device.write("closing head", hold="force1")
    eve.send()


def offline_in_the_middle(ada: Phone) -> None:
    """What is written without a network outlives the page, and is sent when it can be."""
    ada.sent()
    ada.until(lambda: len(ada.pictures()) > 40)
    ada.context.set_offline(True)
    for _ in range(3):
        tick_on(ada)
    only_here = [one for one in ada.lines() if not one["sent"]]
    assert len(only_here) > 4
    assert ada.held.startswith(f"{len(only_here)} only on this device")
    ada.kept("offline")
    title = ada.title
    shown_in_the_book(ada)
    ada.page.close()
    ada.context.set_offline(False)
    ada.page = ada.new_page()
    ada.context.route("**/api/**", lambda route: route.abort())
    ada.page.goto(ada.shop.address)
    ada.until(lambda: "no network" in ada.held)
    assert ada.title == title
    assert ada.held.startswith(f"{len(only_here)} only on this device")
    tick_on(ada)
    ada.context.unroute("**/api/**")
    assert all("net::ERR" in one for one in ada.faults), "but for the browser's own lines about the network"
    ada.faults.clear()
    ada.sent()
    assert all(one["sent"] for one in ada.lines())


def shown_in_the_book(ada: Phone) -> None:
    """The drawing and the print of the step are there without a network."""
    ada.press("See it in the book")
    images = ada.page.locator("main img")
    ada.until(lambda: all(images.nth(n).evaluate("(one) => one.naturalWidth > 100") for n in range(2)))
    assert images.count() == 2, "the drawing of the section, and where the step stands"
    ada.kept("book")
    ada.press("Back")


def refused_while_something_holds(ada: Phone, ines: Phone) -> None:
    ada.press("Stop: the instructor signs here, at the bench.").told("Waiting for the instructor.")
    ada.kept("hold-waiting")
    assert not ada.has("Sign")
    assert not ada.has("Nobody else is here: self-check"), "Ines is"
    ada.way(0)
    ines.press("Stop: the instructor signs here, at the bench.").told("Do not pull")
    ines.kept("hold-refused")
    ines.page.locator("[id^=why-]").fill("at the next bench")
    ines.press("Sign").told("Not signed: Do not pull")
    ines.way(0)


def signed(ada: Phone, ines: Phone) -> None:
    """Not before every device has said that all of its own is in."""
    hold = "Stop: the instructor signs here, at the bench."
    ines.way(0).press(hold).told("Clear to part")
    ines.press("Sign").told("Ada has not said that all is in")
    ada.way(0).press(hold).press("All of mine is in").sent()
    ada.way(0)
    ines.way(0).press(hold)
    ines.until(lambda: "has not said" not in ines.words)
    ines.kept("hold-sign")
    ines.press("Sign").told("Done, and looked at it")
    ines.kept("signed")


def verified(ada: Phone, shop: Shop, folder: Path, capsys: Any) -> None:
    """The record stands by itself: whole, and found out when a letter of it is changed."""
    me = ada.me()
    record = folder / "job.record"
    record.write_bytes(shop.ask(f"api/jobs/{me['job']}/export", token=me["token"]))
    capsys.readouterr()
    assert main(["verify", str(record)]) == 0
    written = {json.dumps({k: v for k, v in one.items() if k != "sent"}) for one in ada.lines()}
    exported = {json.dumps(json.loads(line)) for line in record.read_text("utf-8").splitlines()[1:]}
    assert written == exported, "all devices have all"
    record.write_text(record.read_text("utf-8").replace("bolt board A", "bolt board B"), "utf-8")
    assert main(["verify", str(record)]) == 1
