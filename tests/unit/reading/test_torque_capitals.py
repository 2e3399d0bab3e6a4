"""Torques in lines set in capitals are read as in small letters; a list of them once ended the reading."""

import pytest

from lastbolt.reading.torques import torques_in


@pytest.mark.parametrize(
    "text",
    [
        "tighten to 10 and 20 Nm", "tighten to 10 or 20 Nm", "tighten to 10 then 20 Nm",
        "tighten to 10 Nm then 20 Nm", "screws 3 and 5 to 20 Nm", "between 10 and 20 Nm", "10 up to 15 Nm",
        "10 thru 15 Nm", "20 plus or minus 2 Nm", "min 10 max 20 Nm", "stage 1: 10 Nm, stage 2: 20 Nm",
        "first stage 10 Nm, second stage 90 degrees", "20 Nm then 1/4 of a turn", "20 Nm then 60° to 90°",
    ],
)  # fmt: skip
def test_capitals_change_nothing(text: str) -> None:
    def told(words: str) -> list[tuple[object, ...]]:
        found = [(one.value, one.doubt) for one in torques_in(words)]
        return [
            (v.torque_Nm, v.angle_deg, v.stage.lower(), v.words.lower(), doubt.lower()) for v, doubt in found
        ]

    assert told(text.upper()) == told(text)


@pytest.mark.parametrize("word", ["to", "thru", "through", "up to"])
def test_every_word_of_a_range_is_one(word: str) -> None:
    (torque,) = torques_in(f"Tighten to 10 {word} 15 Nm.")
    assert torque.value.torque_Nm == (10.0, 15.0)
