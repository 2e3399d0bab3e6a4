"""What a step says: deeds, parts, counts, sizes, callouts, locks, renewal, turning direction."""

import pytest

from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.steps import StepFacts, read_step


def step(text: str) -> StepFacts:
    return read_step(text, lexicon(), callouts_in_brackets=True)


def parts(text: str) -> list[tuple[str, str]]:
    return [(m.name, m.deed) for m in step(text).mentions]


def fasteners(text: str) -> list[tuple[str, int | None, str]]:
    return [(m.kind.words(), m.quantity.low, m.deed) for m in step(text).mentions if m.kind is not None]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Remove the two screws M6 x 16 (2) with their washers.", [("screw M6x16", 2, "remove")]),
        ("Remove the case screws.", [("screw", None, "remove")]),
        ("Unscrew both nuts from the studs.", [("nut", 2, "remove"), ("stud", None, "other")]),
        ("Remove the screws holding the pump bracket.", [("screw", None, "remove")]),
        (
            "Remove two screws M6 x 45 and three M6 x 60.",
            [("screw M6x45", 2, "remove"), ("screw M6x60", 3, "remove")],
        ),
        ("Remove 4 x M6x45 and 2 x M8x70.", [("M6x45", 4, "remove"), ("M8x70", 2, "remove")]),
        (
            "Then remove the screws: 4 x M8 x 30 and 2 x M8 x 55.",
            [("screw M8x30", 4, "remove"), ("screw M8x55", 2, "remove")],
        ),
        ("Fit the cover with the five screws M6 x 25.", [("screw M6x25", 5, "install")]),
        ("Screw the plug in by hand.", []),
        ("Press out the piston pin.", []),
        ("Remove the remaining two bolts M8 x 70.", [("bolt M8x70", 2, "remove")]),
        ("Using eight M5 x 10mm screws, attach the bracket.", [("screw M5x10", 8, "install")]),
    ],
)
def test_fasteners_of_a_step(text, expected):
    assert fasteners(text) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Take the guard (1) off to the front.", [("guard", "remove")]),
        ("Draw the silencer off the studs.", [("silencer", "remove"), ("studs", "other")]),
        ("Free the cover with light taps of a mallet.", [("cover", "remove")]),
        (
            "Lift off the cover, the gasket and the key.",
            [("cover", "remove"), ("gasket", "remove"), ("key", "remove")],
        ),
        ("Remove the drain plug.", [("drain plug", "remove")]),
        ("Carefully separate the case halves.", [("case halves", "separate")]),
        ("If the shaft is damaged, remove the oil pan.", [("oil pan", "remove")]),
    ],
)
def test_parts_of_a_step(text, expected):
    assert parts(text) == expected


@pytest.mark.parametrize(
    ("text", "callouts"),
    [
        ("Remove the screws (6, 10, 11).", ("6", "10", "11")),
        ("Loosen the 22 screws: 6, 10, 16-18.", ("6", "10", "16", "17", "18")),
        ("Remove screw 5.", ("5",)),
    ],
)
def test_callouts_of_a_mention(text, callouts):
    assert step(text).mentions[0].callouts == callouts


def test_lone_bracket_is_a_count_where_the_book_has_no_callouts():
    (mention,) = read_step("Remove the screws (4).", lexicon(), callouts_in_brackets=False).mentions
    assert (mention.quantity.low, mention.callouts) == (4, ())


@pytest.mark.parametrize(
    "text",
    [
        "Undo the nut (left-hand thread).",
        "Slacken the nut clockwise and unscrew it.",
        "Tighten anticlockwise.",
        "Remove the nut M20 x 1.5 LH.",
    ],
)
def test_left_hand(text):
    assert step(text).left_hand


@pytest.mark.parametrize(
    "text", ["Turn the shaft clockwise.", "Tighten clockwise.", "Undo the nut anticlockwise."]
)
def test_not_left_hand(text):
    assert not step(text).left_hand


@pytest.mark.parametrize(
    ("text", "renew"),
    [
        ("Fit a new gasket.", ("gasket",)),
        ("Remove the gasket and throw it away.", ("gasket",)),
        ("Throw the tab washer away.", ("tab washer",)),
        ("Always renew the O-rings.", ("O-rings",)),
        ("The O-rings must be renewed.", ("O-rings",)),
        ("Use new O-rings and never reuse the split pins.", ("O-rings", "split pins")),
        ("Turn the shaft.", ()),
    ],
)
def test_renewal(text, renew):
    assert step(text).renew == renew


def test_locks_and_tools():
    facts = step("Bend back the tab washer and pull the hub off with special tool 117.04.")
    assert facts.locks == ("tab washer",)
    assert facts.tools == ("special tool 117.04",)


def test_variants_of_single_sentences_do_not_bind_the_whole_step():
    facts = step("Variant E: connect the battery. Variant H: put the starting handle in.")
    assert facts.applies.variants == ()
