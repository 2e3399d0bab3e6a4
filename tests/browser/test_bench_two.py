"""Two phones at one bench, two pages of one phone, and a signature that something later makes void."""

from collections.abc import Callable
from typing import Any

from bench_phones import Phone, Program, Shop

Phones = Callable[..., Phone]
HOLD = "Stop: the instructor signs here, at the bench."


def place(phone: Phone, deed: str, *labels: str) -> None:
    phone.way(1).press(deed, *labels)
    phone.page.locator("main button.first").click()
    phone.page.wait_for_selector("figure")


def test_what_two_say_differently_a_person_settles(phone: Phones, shop: Shop) -> None:
    ada, ben = phone().join(shop.code(1), "Ada"), phone().join(shop.code(1), "Ben")
    ben.context.set_offline(True)
    place(ada, "Taken out", "7", "8")
    ada.sent()
    place(ben, "Put in", "7")
    ben.until(lambda: ben.held == "1 only on this device, no network")
    assert not ada.has("Place 7: two people say different things.")
    ben.context.set_offline(False)
    for one in (ada, ben):
        one.told("Place 7: two people say different things.")
        assert "Place 8: two people" not in one.words
    ada.press("Place 7: two people say different things.").told("Ben: in")
    ada.kept("differ")
    assert "Ada: out" in ada.words
    ada.press("It is in").told("Nothing is left in which two people differ.")
    ben.until(lambda: "two people say" not in ben.words)
    state = Program.joined(shop, shop.code(1), "look").state()
    held = {one["subject"]["id"]: one for one in state["registers"] if one["subject"]["sort"] == "place"}
    assert [one["value"] for one in held["p7"]["held"]] == ["in"]
    assert [one["value"] for one in held["p8"]["held"]] == ["out"]
    assert state["doubts"] == []
    ben.faults[:] = [one for one in ben.faults if "net::ERR" not in one]


def test_what_one_sees_in_and_another_took_out_is_put_to_a_person_too(phone: Phones, shop: Shop) -> None:
    ada = phone().join(shop.code(2), "Ada")
    other = Program.joined(shop, shop.code(2), "Ben")
    place(ada, "Taken out", "5")
    ada.sent()
    other.device.write("looked", joint="gearcase", answers=[{"place": "p5", "saw": ["in"]}])
    other.send()
    ada.told("Place 5: two people say different things.")
    ada.press("Place 5: two people say different things.").told("Ben: seen: in").press("It is out")
    ada.told("Nothing is left in which two people differ.").sent()
    other.fetch()
    assert other.state()["doubts"] == []


def test_of_two_pages_on_one_phone_only_one_writes(phone: Phones, shop: Shop) -> None:
    ada = phone().join(shop.code(3), "Ada")
    before = len(ada.lines())
    first, second = ada.page, ada.new_page()
    second.goto(shop.address)
    second.locator("main h1", has_text="Pull the stop lever").wait_for()
    first.locator("main h1", has_text="open in another page of this device").wait_for()
    ada.kept("another-page")
    assert not first.locator("#ways").is_visible(), "there is nothing to write with"
    ada.page = second
    ada.press("I have read this", "Done").told("Close the fuel cock").sent()
    first.get_by_role("button", name="Go on here").click()
    first.locator("main h1", has_text="Close the fuel cock").wait_for()
    second.locator("main h1", has_text="open in another page of this device").wait_for()
    ada.page = first
    ada.press("Done").told("Variant H only").sent()
    own = [one for one in ada.lines() if one["device"] == ada.me()["device"]]
    assert sorted(one["sequence"] for one in own) == [1, 2]
    assert len(ada.lines()) == before + 2
    assert Program.joined(shop, shop.code(3), "look").state()["forks"] == []


def test_the_code_of_another_bench_takes_nobody_there_unasked(phone: Phones, shop: Shop) -> None:
    ada = phone().join(shop.code(5), "Ada")
    ada.press("I have read this", "Done").told("Close the fuel cock").sent()
    ada.page.goto(f"{shop.address}?code={shop.code(6)}")
    ada.told("this phone is at one already").press("Back").told("Close the fuel cock")
    ada.page.reload()
    ada.press("Leave, and clear this device")
    ada.page.wait_for_selector("#code")
    assert ada.page.input_value("#code") == shop.code(6)
    assert ada.lines() == []


def cleared(shop: Shop, bench: int) -> tuple[Program, Program]:
    """A bench up to its hold, all of the joint out and looked at by two, every other holder settled."""
    ben, eve = (Program.joined(shop, shop.code(bench), name) for name in ("Ben", "Eve"))
    given = ben.plan()
    joint = given["walks"][0]["joint"]
    labels = {one["id"]: one["label"] for one in given["walks"][0]["places"]}
    screws = [one for one, label in labels.items() if label not in ("4", "9", "18")]
    hold = next(one for one in ben.device.record.present if one.tag == "hold set").body
    for line in given["plan"]["lines"]:
        if line["id"] == hold["step"]:
            break
        if line["kind"] == "step":
            ben.device.write("step done", step=line["step"] or line["id"], looked=True)
    ben.device.write("took out", joint=joint, places=screws)
    for holder in given["tally"]["holders"]:
        ben.device.write("holder settled", joint=joint, holder=holder["id"], how=holder["answer"])
    answers = [
        {"place": one, "saw": ["solid dowel, both ends" if label == "18" else "rod to the bottom"]}
        for one, label in labels.items()
    ]
    sizes: dict[float, int] = {45: 7, 50: 1, 55: 3, 60: 1, 70: 2, 90: 1}
    for way, one in (("clockwise", ben), ("anticlockwise", eve)):
        one.fetch()
        for length, pieces in sizes.items():
            kind = {"what": "screw", "thread": "M8", "length_mm": length}
            one.device.write("counted", joint=joint, kind=kind, pieces=pieces, complete_pieces=True)
        gone: dict[str, Any] = {"by": one.device.by, "guided": True, "complete": True, "answers": answers}
        one.device.write("went round", joint=joint, round={"id": way, "direction": way, **gone})
        one.send()
    eve.fetch()
    eve.device.write("closing head", hold=hold["hold"])
    eve.send()
    ben.fetch()
    ben.device.write("closing head", hold=hold["hold"])
    ben.send()
    return ben, eve


def test_a_look_that_comes_later_makes_a_signature_void_on_every_device(phone: Phones, shop: Shop) -> None:
    ben, eve = cleared(shop, 4)
    ada = phone().join(shop.code(4), "Ada")
    ada.press(HOLD).told("Clear to part")
    ada.press("All of mine is in").sent()
    ada.way(0)
    ines = phone().join(shop.code(4, "instructor"), "Ines")
    ines.press(HOLD).told("Clear to part").press("Sign").told("Done, and looked at it")
    ada.told("Done, and looked at it")
    eve.fetch()
    eve.device.write("looked", joint="gearcase", answers=[{"place": "p9", "saw": ["in"]}])
    eve.send()
    for one in (ada, ines):
        one.told(HOLD)
        assert not one.has("Done, and looked at it")
    ada.press(HOLD).told("The signature has lapsed, by Eve: a look.")
    ada.kept("hold-lapsed")
    ben.fetch()
    holds = ben.state()["holds"]
    assert [(one["open"], one["signatures"][0]["state"]) for one in holds] == [(False, "lapsed")]
    ben.device.write("undone", undoes=eve.device.previous)
    ben.send()
    ada.until(lambda: "Clear to part" in ada.words)
    assert "has lapsed" in ada.words, "it never revives"
    assert ines.has(HOLD)
