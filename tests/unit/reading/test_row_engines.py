"""Which engines a remark in a parts list singles out; each meaning reasoned from the words (common practice,
no source). What is not understood to its last word leaves nothing out."""

import pytest

from lastbolt.reading.conditions import combined, conditions_in
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.row_engines import heading_engines, row_engines
from lastbolt.words.applies import applies_to, is_limited
from lastbolt.words.machine import EVERY

KNOWN = ("H", "K")

# words; engines (variant, serial) that it is for; engines that it is not for
UNDERSTOOD = [
    # a bound before the number
    ("from serial no. 5000", [("K", 5000), ("K", 9000)], [("K", 4999)]),
    ("from serial no. 40 211", [("K", 40211)], [("K", 40)]),
    ("from serial no. 1.200", [("K", 1200)], [("K", 1199)]),
    ("S/N > 1000", [("K", 1001)], [("K", 999)]),
    ("S/N ≥ 1000", [("K", 1000)], [("K", 999)]),
    ("as of engine no. 1000", [("K", 1000)], [("K", 999)]),
    ("up to serial no. 1000", [("K", 1), ("K", 1000)], [("K", 1001)]),
    ("prior to S/N 5000", [("K", 4999)], [("K", 5001)]),
    ("S/N <5000", [("K", 4999)], [("K", 5001)]),
    # the engine of the bound itself is never left out: "before" and "until" are used both ways
    ("before serial 5000", [("K", 5000)], [("K", 5001)]),
    ("after serial no. 1000", [("K", 1000)], [("K", 999)]),
    # behind the number
    ("S/N 1000 on", [("K", 1000), ("K", 1300)], [("K", 999)]),
    ("S/N 1000 and up", [("K", 1300)], [("K", 999)]),
    ("S/N 1000 & above", [("K", 1300)], [("K", 999)]),
    ("S/N 1000-UP", [("K", 1300)], [("K", 999)]),
    ("S/N 1000 - up", [("K", 1300)], [("K", 999)]),
    ("S/N 1000-", [("K", 1300)], [("K", 999)]),
    ("engine no. 1000 - ", [("K", 1300)], [("K", 999)]),
    ("S/N 1000 ff.", [("K", 1300)], [("K", 999)]),
    ("serial 1000+", [("K", 1300)], [("K", 999)]),
    ("S/N 1000 onwards", [("K", 1300)], [("K", 999)]),
    ("eng. no. 1000 and subsequent", [("K", 1300)], [("K", 999)]),
    ("serial number 1000 and earlier", [("K", 900)], [("K", 1001)]),
    # words for coming and going
    ("added at serial no. 1000", [("K", 1300)], [("K", 999)]),
    ("introduced serial no. 1000", [("K", 1300)], [("K", 999)]),
    ("deleted from serial no. 5000", [("K", 1300)], [("K", 5001)]),
    ("discontinued after serial no. 5000", [("K", 1300)], [("K", 5001)]),
    ("not fitted from serial no. 5000", [("K", 1300)], [("K", 5001)]),
    ("not up to serial no. 1000", [("K", 1300)], [("K", 999)]),
    ("not from serial no. 1000 to 2000", [("K", 900), ("K", 2100)], [("K", 1500)]),
    # runs and lists
    ("serial nos. 100 to 199", [("K", 100), ("K", 199)], [("K", 99), ("K", 200)]),
    ("serial numbers 1000 thru 1,400", [("K", 1300)], [("K", 1401)]),
    ("between serial no. 1000 and 2000", [("K", 1300)], [("K", 2001)]),
    ("serial no. 1200, 1300", [("K", 1200), ("K", 1300)], [("K", 1250), ("K", 12001300)]),
    ("serial 1200 and 1300", [("K", 1300)], [("K", 1250)]),
    ("serial no. 1200; 1300-1400", [("K", 1200), ("K", 1350)], [("K", 1250)]),
    ("from serial no. 1200 to 1250 and from 1290", [("K", 1220), ("K", 1300)], [("K", 1270)]),
    ("up to serial no. 1200 and from 1290", [("K", 900), ("K", 1300)], [("K", 1250)]),
    ("not serial nos. 1200 and 1300", [("K", 1250), ("K", 1)], [("K", 1200), ("K", 1300)]),
    ("serial no. 1000 only", [("K", 1000)], [("K", 1001)]),
    # variants
    ("model K only", [("K", 1)], [("H", 1)]),
    ("models H and K", [("K", 1), ("H", 1)], [("L", 1)]),
    ("model K, H", [("K", 1), ("H", 1)], [("L", 1)]),
    ("for H", [("H", 1)], [("K", 1)]),
    ("H only", [("H", 1)], [("K", 1)]),
    ("(H)", [("H", 1)], [("K", 1)]),
    ("not for model H", [("K", 1), ("L", 1)], [("H", 1)]),
    ("only not for model H", [("K", 1)], [("H", 1)]),
    ("not suitable for model H", [("K", 1)], [("H", 1)]),
    ("except model H", [("K", 1)], [("H", 1)]),
    ("all models except K", [("H", 1)], [("K", 1)]),
    ("not for models H, K", [("L", 1)], [("H", 1), ("K", 1)]),
    # both, and beside other remarks
    ("model H, from serial no. 5000", [("H", 5000)], [("K", 5000), ("H", 4999)]),
    ("Model H only. Renew.", [("H", 1)], [("K", 1)]),
    ("Always renew; from serial no. 5000", [("K", 5000)], [("K", 4999)]),
]

OPEN = [
    "M8x65 up to serial no. 1000, then M8x70", "was M8x65 to serial no. 1000", "serial no. 900 (approx.)",
    "serial no. 1000: length changed to 75", "to S/N 1000 and K 1300", "model K: short", "K: 2, H: 4",
    "not only for model H", "not for model H only", "not for serial no. 900 only",
    "replaces item 3 on model K", "also model K", "model K or with PTO", "models with electric start",
    "model K or from serial no. 5000", "model K; from serial no. 5000",
    "model K; renew, from serial no. 5000", "models H-K", "model K, 2 off", "SN 1000/", "S/N A1000 - A2000",
    "not fitted to serial no. 900", "fitted to serial no. 900", "deleted on serial no. 5000",
    "not for model H, K", "up to serial no. 1000, 1500", "from serial no. 2000 to 1000",
    "up to chassis no. 500", "S/N 1000", "S/N 100,200", "from serial no. 99999999999999999999",
    "serial no. 1000 on model H",
]  # fmt: skip
"""S/N 1000 alone may be from there on, S/N 100,200 one number or two: nobody can say."""


@pytest.mark.parametrize(("words", "yes", "no"), UNDERSTOOD)
def test_a_remark_is_for_the_engines_that_its_words_mean(
    words: str, yes: list[tuple[str, int]], no: list[tuple[str, int]]
) -> None:
    said = row_engines("Gearcase", (words,), KNOWN)
    assert said.doubt == ""
    assert [applies_to(said.applies, *engine) for engine in yes] == ["yes"] * len(yes)
    assert [applies_to(said.applies, *engine) for engine in no] == ["no"] * len(no)


@pytest.mark.parametrize("words", OPEN)
def test_a_remark_not_understood_to_its_last_word_leaves_nothing_out(words: str) -> None:
    said = row_engines("Gearcase", (words,), KNOWN)
    assert not is_limited(said.applies)
    assert words[:20] in said.doubt


@pytest.mark.parametrize("words", ["", "single use", "long", "left-hand thread", "25 N·m", "see item 4"])
def test_other_remarks_say_nothing_of_engines(words: str) -> None:
    assert row_engines("Serial number plate", (words,), KNOWN) == (EVERY, "")


@pytest.mark.parametrize(
    ("title", "yes", "no"),
    [
        ("Gearcase (model H)", ("H", 1), ("K", 1)),
        ("Gearcase (H)", ("H", 1), ("K", 1)),
        ("Gearcase, not for model H", ("K", 1), ("H", 1)),
        ("Gearcase up to S/N 5000 (1 of 2)", ("K", 5000), ("K", 5001)),
    ],
)
def test_a_title_binds_the_rows_below_it(title: str, yes: tuple[str, int], no: tuple[str, int]) -> None:
    applies = row_engines(title, (), KNOWN).applies
    assert (applies_to(applies, *yes), applies_to(applies, *no)) == ("yes", "no")


@pytest.mark.parametrize("title", ["Gearcase H", "Gearcase (model H), cover", "Gearcase (H), cover (K)"])
def test_a_title_not_understood_binds_nothing(title: str) -> None:
    assert not is_limited(row_engines(title, (), KNOWN).applies)


def test_title_and_remark_hold_together() -> None:
    both = row_engines("Gearcase (model H)", ("from serial no. 1000",), KNOWN)
    assert (both.applies.variants, both.applies.from_serial, both.doubt) == (("H",), 1000, "")
    gloss = row_engines("Hand start (model H)", ("Hand start (H)", "H only"), KNOWN)
    assert (gloss.applies.variants, gloss.doubt) == (("H",), "")
    assert row_engines("Hand start (model H)", ("also (K)",), KNOWN).doubt
    assert row_engines("Hand start (model H)", ("model K",), KNOWN).doubt


def test_a_column_of_quantities_may_be_for_serial_numbers() -> None:
    late = heading_engines("from S/N 1001", "from S/N 1001").applies
    assert (applies_to(late, "K", 1300), applies_to(late, "K", 900)) == ("yes", "no")
    assert heading_engines("not for H", "H").applies.variants == ()
    assert heading_engines("E", "E").applies.variants == ("E",)
    assert heading_engines("from 1990", "from 1990").doubt


@pytest.mark.parametrize(
    ("sentence", "yes", "no"),
    [
        ("Not for model H: remove the plate.", ("K", 1), ("H", 1)),
        ("Remove the plate (not on variant E).", ("K", 1), ("E", 1)),
        ("Serial no. 1200; 1300-1400: remove the plate.", ("K", 1350), ("K", 1250)),
        ("S/N 1000 & above: remove the plate.", ("K", 1300), ("K", 999)),
        ("Not fitted from serial no. 5000: remove the plate.", ("K", 4000), ("K", 5001)),
        ("From serial no. 40 211, 2 screws hold the plate.", ("K", 50000), ("K", 40000)),
    ],
)
def test_sentences_of_a_manual_are_read_by_the_same_words(
    sentence: str, yes: tuple[str, int], no: tuple[str, int]
) -> None:
    _, applies = combined(conditions_in(lexicon().scan(sentence), lexicon()))
    assert (applies_to(applies, *yes), applies_to(applies, *no)) == ("yes", "no")
