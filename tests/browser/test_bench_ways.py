"""What comes besides ticking: what cannot be done, what will not move or close, and the bell."""

from collections.abc import Callable

from bench_phones import Phone, Program, Shop

Phones = Callable[..., Phone]


def events(phone: Phone) -> list[dict[str, object]]:
    own = [one for one in phone.lines() if one["device"] == phone.me()["device"]]
    return [one["body"] for one in sorted(own, key=lambda one: int(one["sequence"]))]


def test_a_tick_is_taken_back_and_what_cannot_be_done_is_noted(phone: Phones, shop: Shop) -> None:
    ada = phone().join(shop.code(1), "Ada")
    ada.press("I have read this", "Done").told("Close the fuel cock")
    ada.press("Take back: 2.1 step 1").told("Pull the stop lever")
    ada.press("Done").told("Close the fuel cock").press("Cannot do this …")
    ada.kept("cannot")
    ada.press("The tool is missing").told("Close the fuel cock")
    assert [one["event"] for one in events(ada)] == ["step done", "undone", "step done", "step started"]
    assert events(ada)[-1]["words"] == "The tool is missing"
    ada.press("Tick several …")
    ada.kept("several")
    assert not ada.page.locator("main button.first").is_enabled(), (
        "nothing is ticked before somebody ticks it"
    )
    ada.press("Back")


def test_it_wont_move_and_it_wont_close(phone: Phones, shop: Shop) -> None:
    ada = phone().join(shop.code(2), "Ada")
    ada.way(1).press("Taken out", "1", "2").press("Taken out").way(4)
    assert ada.title == "Stop. Take the load off."
    ada.told("Look here first").told("Not out, as far as this device knows: 3 to 18.")
    assert "Bracket of the priming pump" in ada.words
    ada.kept("wont-move")
    ada.press("It won't move: tell the instructor")
    ada.until(lambda: events(ada)[-1] == {"event": "won't move", "joint": "gearcase"})
    ada.press("It won't close: stop the job")
    ada.told("Never draw the halves together with the screws.")
    ada.kept("wont-close")
    assert not ada.has("Done"), "the job is stopped"
    ada.press("Found, and put right")
    assert not ada.title.startswith("Pull"), "without what was found it stays stopped"
    ada.page.fill("#cause", "a dowel not lined up")
    other = Program.joined(shop, shop.code(2), "Ben")
    other.device.write("laid in", thing="rag")
    other.send()
    ada.until(lambda: any(one["body"].get("thing") == "rag" for one in ada.lines()))
    assert ada.page.input_value("#cause") == "a dowel not lined up", "news from others leave it"
    ada.press("Found, and put right").told("Pull the stop lever")
    found = [one for one in events(ada) if one["event"] in ("won't close", "found why")]
    assert [one["joint"] for one in found] == ["gearcase", "gearcase"]
    assert found[1]["cause"] == "a dowel not lined up"


def test_what_is_laid_in_comes_out_and_the_next_crew_reads_it_in_a_minute(phone: Phones, shop: Shop) -> None:
    ada = phone().join(shop.code(3), "Ada")
    for thing in ("rag in the recess", "locking pin Q-04"):
        ada.way(2).press("Lay something in …")
        ada.page.fill("#thing", thing)
        ada.press("Laid in").told(f"1 {thing}")
    ada.press("1 locking pin Q-04: Out again")
    ada.until(lambda: "locking pin" not in ada.words)
    ada.kept("trays")
    ada.way(0).press("I have read this", "Tick several …")
    for box in ada.page.get_by_role("checkbox").all():
        box.click()
    ada.page.locator("main button.first").click()
    ada.told("Set the tray under the gearcase.")
    ada.way(2).press("M8 x 45", "3", "Keep this count").told("M8 x 45: 3")
    ada.way(1).press("Taken out", "1", "2", "3")
    ada.page.fill("#tray", "tin 2")
    ada.press("Taken out").way(3).press("Hand over")
    said = ada.words
    ada.kept("handover")
    assert len(said.split()) < 200, "about what is read aloud in a minute (common practice, no source)"
    parts = [said.index(part) for part in ("Slack, or at a stage", "Not sure", "Laid in", "Off, and", "Next")]
    assert parts == sorted(parts), "what is dangerous first"
    assert "nobody looked: 4 to 18" in said
    assert "1 rag in the recess" in said
    assert "M8 x 45: 3" in said
    assert "locking pin" not in said
    assert "out, in tin 2: 1 to 3" in said
    assert "2.1 Making the engine safe" in said
    ada.page.fill("#to", "group 5")
    ada.press("Hand over").sent()
    ada.way(0).told("Look: is it done, and still so?")
    ada.kept("next-crew")
    ada.press("It is so: I looked").told("Set the tray under the gearcase.")
    assert events(ada)[-1] == {"event": "procedure done", "procedure": "manual/procedure/2.1", "looked": True}


def test_what_is_not_off_opens_its_steps_again(phone: Phones, shop: Shop) -> None:
    ben = Program.joined(shop, shop.code(4), "Ben")
    ben.device.write("procedure done", procedure="manual/procedure/3.1", looked=False)
    ben.device.write("handed over", to="Ada", kind="handover")
    ben.send()
    ada = phone().join(shop.code(4), "Ada")
    ada.press("I have read this")
    while not ada.title.startswith("Confirm off: Removing the flywheel guard"):
        title = ada.title
        if ada.has("I have read this"):
            ada.press("I have read this")
        ada.press("It is so: I looked" if ada.has("It is so: I looked") else "Done")
        ada.until(lambda title=title: ada.title != title)  # type: ignore[misc]
    ada.press("It is not so").until(lambda: events(ada)[-1]["event"] == "undone")
    ada.sent()
    lines = [one for one in ben.plan()["plan"]["lines"] if one["procedure"] == "manual/procedure/3.1"]
    assert {(one["kind"], one["state"]) for one in lines} >= {("step", "to do")}
    ada.way(3).press("The whole list").told("– · 1 Remove the two screws M6 x 16")


def test_in_spanish(phone: Phones, shop: Shop) -> None:
    eva = phone(locale="es-ES").join(shop.code(5), "Eva")
    assert eva.page.evaluate("document.documentElement.lang") == "es"
    assert eva.has("Lo he leído")
    eva.kept("spanish")
    eva.way(3).press("English")
    eva.until(lambda: eva.has("Hand over"))
    eva.page.reload()
    eva.told("Pull the stop lever")
    assert eva.has("I have read this"), "the choice outlives the page"
