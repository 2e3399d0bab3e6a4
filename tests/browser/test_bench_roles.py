"""Who may do what at a bench: the instructor against the verdict, one alone, a visitor, the parts room."""

from collections.abc import Callable

from bench_phones import Phone, Program, Shop

Phones = Callable[..., Phone]
HOLD = "Stop: the instructor signs here, at the bench."


def at_the_hold(shop: Shop, bench: int) -> Program:
    """A bench that was ticked up to its hold, and nothing of whose joint was looked at."""
    ben = Program.joined(shop, shop.code(bench), "Ben")
    hold = next(one for one in ben.device.record.present if one.tag == "hold set").body
    for line in ben.plan()["plan"]["lines"]:
        if line["id"] == hold["step"]:
            break
        if line["kind"] == "step":
            ben.device.write("step done", step=line["step"] or line["id"], looked=True)
    ben.device.write("closing head", hold=hold["hold"])
    ben.send()
    return ben


def test_against_the_verdict_only_the_instructor_opens_with_a_reason_that_stays(
    phone: Phones, shop: Shop
) -> None:
    ben = at_the_hold(shop, 1)
    ada = phone().join(shop.code(1), "Ada")
    ada.press(HOLD).told("Waiting for the instructor.")
    assert not ada.has("Open it against the verdict")
    ada.press("All of mine is in").sent()
    ada.way(0)
    ines = phone().join(shop.code(1, "instructor"), "Ines")
    ines.press(HOLD).press("Open it against the verdict")
    ines.page.locator("main [role=alert]", has_text="Why open it against what lastbolt says?").wait_for()
    assert not ben.state()["holds"][0]["open"], "not without a reason"
    ines.page.fill("#against", "the case is for scrap")
    ines.kept("hold-against")
    ines.press("Open it against the verdict").told("Opened against the verdict")
    ada.told("Opened against the verdict, with a reason. That stays in the record.")
    ada.kept("opened-against")
    signature = ben.state()["holds"][0]["signatures"][0]
    assert signature["override"]
    assert signature["state"] == "standing"


def test_one_alone_is_refused_a_self_check_that_nothing_bears_out(phone: Phones, shop: Shop) -> None:
    at_the_hold(shop, 2)
    ada = phone().join(shop.code(2), "Ada")
    ada.press(HOLD).press("Nobody else is here: self-check").told("Not signed: Do not pull")
    ada.way(0).told(HOLD)


def test_a_signature_of_one_who_did_the_work_is_refused_and_says_why(phone: Phones, shop: Shop) -> None:
    ben = at_the_hold(shop, 6)
    ines = Program.joined(shop, shop.code(6, "instructor"), "Ines")
    ada = phone().join(shop.code(6), "Ada")
    ada.press(HOLD).press("All of mine is in").sent()
    ines.fetch()
    ines.device.write("took out", joint="gearcase", places=["p1"])
    ines.device.sign("force1")
    ines.send()
    ada.told("Not signed:")
    ada.kept("hold-own-work")
    state = ben.state()["holds"][0]
    assert not state["open"]
    faults = {one["code"]: one["what"] for one in state["signatures"][0]["faults"]}
    assert faults["LB-E16"] in ada.words
    ada.way(0).told(HOLD)


def test_a_visitor_reads_and_the_parts_room_counts(phone: Phones, shop: Shop) -> None:
    vera = phone().join(shop.code(3, "visitor"), "Vera")
    vera.press("I have read this", "Done")
    vera.page.locator("#said", has_text="This is not for a visitor.").wait_for()
    assert vera.title.startswith("Pull the stop lever")
    pat = phone().join(shop.code(4, "parts room"), "Pat")
    pat.way(2).press("M8 x 45", "7", "Keep this count").told("M8 x 45: 7")
    pat.sent()
    pat.way(0).press("I have read this", "Done")
    pat.page.locator("#said", has_text="This is not for the parts room.").wait_for()
    for one in (vera, pat):
        assert all(line["sent"] for line in one.lines()), "nothing waits that the server would refuse"


def test_a_step_that_takes_out_the_joints_fasteners_asks_where(phone: Phones, shop: Shop) -> None:
    ben = Program.joined(shop, shop.code(5), "Ben")
    for line in ben.plan()["plan"]["lines"]:
        if line["id"] == "manual/step/6.4/2":
            break
        if line["kind"] == "step":
            ben.device.write("step done", step=line["step"] or line["id"], looked=True)
    ben.send()
    ada = phone().join(shop.code(5), "Ada")
    ada.told("Remove the case screws.").press("Out: at which places? …", "3", "Taken out").sent()
    held = [one["body"] for one in ada.lines() if one["body"]["event"] == "took out"]
    assert [one["places"] for one in held] == [["p3"]]
