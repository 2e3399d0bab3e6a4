"""Safety messages stand with the step that they are for.

Source: ANSI Z535.6-2011 (safety information in product manuals), from memory: the signal words DANGER,
WARNING and
CAUTION are for injury, NOTICE for what is not about injury; messages stand before the step they are for, by
themselves (section and grouped messages) or within its text (embedded messages).
"""

from pathlib import Path

import pytest

from reference.printed import read_lines, steps_of

WORDS = {
    "DANGER": ("danger", "The spring is wound."), "WARNING": ("warning", "Hot oil burns the skin."),
    "CAUTION": ("caution", "The edge of the plate is sharp."), "NOTICE": ("note", "The gasket tears easily."),
}  # fmt: skip
PARTS = ("plug", "plate", "spring", "gasket", "lid")


def lines_with(form: str) -> list[str]:
    """A first step without a message, then one step behind each message."""
    lines = [f"1. Remove the {PARTS[0]}."]
    for number, (word, (_, message)) in enumerate(WORDS.items(), start=2):
        lines += [part.format(word=word, message=message) for part in form.split("|")]
        lines.append(f"{number}. Remove the {PARTS[number - 1]}.")
    return lines


@pytest.mark.parametrize(
    "form",
    [
        "{word}|{message}",
        "{word}: {message}",
        "{word}! {message}",
        "{word} - {message}",
        "! {word}|{message}",
    ],
)
def test_a_message_is_bound_to_the_step_behind_it(tmp_path: Path, form: str) -> None:
    steps = steps_of(read_lines(tmp_path, lines_with(form)))
    assert [step["words"] for step in steps] == [f"Remove the {part}." for part in PARTS]
    said = [[(one["signal"], one["words"]) for one in step.get("cautions", ())] for step in steps]
    assert said == [[], *([message] for message in WORDS.values())]


@pytest.mark.parametrize("word", WORDS)
def test_a_message_in_a_step_is_the_step_s_own(tmp_path: Path, word: str) -> None:
    signal, message = WORDS[word]
    lines = ["1. Remove the plug.", f"2. {word}: {message} Remove the plate.", "3. Remove the lid."]
    steps = steps_of(read_lines(tmp_path, lines))
    assert [step["mark"] for step in steps] == ["1", "2", "3"]
    assert "Remove the plate" in steps[1]["words"]
    told = [
        (one["signal"], one["words"]) for step in (steps[0], steps[2]) for one in step.get("cautions", ())
    ]
    assert told == []
    kept = " ".join([steps[1]["words"], *(one["words"] for one in steps[1].get("cautions", ()))])
    assert message in kept, "the message is not lost"
    assert all(one["signal"] == signal for one in steps[1].get("cautions", ()))


@pytest.mark.parametrize(
    "sentence",
    [
        "Remove the warning lamp.",
        "Remove the plate with the danger sign.",
        "Remove the notice board with caution.",
    ],
)
def test_a_word_within_a_sentence_is_no_signal(tmp_path: Path, sentence: str) -> None:
    first, second = steps_of(read_lines(tmp_path, [f"1. {sentence}", "2. Remove the lid."]))
    assert first["words"] == sentence
    assert not first.get("cautions")
    assert not second.get("cautions")
