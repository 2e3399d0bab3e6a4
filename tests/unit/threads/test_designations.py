"""What a designation means, and what is not understood: nothing is guessed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.threads.designation import all_threads, thread_of

ALL = list(all_threads())


@pytest.mark.parametrize(
    ("words", "designation", "pitch_mm"),
    [
        ("M8", "M8", 1.25), ("m8", "M8", 1.25), ("M8X1.25", "M8", 1.25), ("M8-1.25x30", "M8", 1.25),
        ("M8x45", "M8", 1.25), ("M8 x 45 mm", "M8", 1.25), ("M8x1x45", "M8x1", 1.0),
        ("M8x45 - 8.8", "M8", 1.25),
        ("M3x0,5", "M3", 0.5), ("M10 × 1,25 LH - 6g", "M10x1.25", 1.25), ("M64x6", "M64", 6.0),
        ("#10-32", "#10-32 UNF", 25.4 / 32), ("No. 10-24", "#10-24 UNC", 25.4 / 24),
        ("10-32 UNF-2B LH", "#10-32 UNF", 25.4 / 32), ('7/16"-14', "7/16-14 UNC", 25.4 / 14),
        ("¼-20 UNC", "1/4-20 UNC", 1.27), (".250-20 UNC", "1/4-20 UNC", 1.27),
        ("3/8 UNF", "3/8-24 UNF", 25.4 / 24),
        ("1-1/8-7 UNC-2A", "1 1/8-7 UNC", 25.4 / 7), ("1-64", "#1-64 UNC", 25.4 / 64),
        ("1-8", "1-8 UNC", 3.175),
        ("G1/2A", "G 1/2", 25.4 / 14), ("G 1½", "G 1 1/2", 25.4 / 11), ("1/2 NPT", "1/2-14 NPT", 25.4 / 14),
        ("Rc 1/4", "Rc 1/4", 25.4 / 19), ("1/4 BSP", "G 1/4", 25.4 / 19),
    ],
)  # fmt: skip
def test_understood(words: str, designation: str, pitch_mm: float) -> None:
    thread = thread_of(words)
    assert thread is not None
    assert thread.designation == designation
    assert thread.pitch_mm == pytest.approx(pitch_mm)


def test_left_hand_and_tolerance_are_kept_as_written() -> None:
    thread = thread_of("M14x1.5 LH - 5g6g")
    assert thread is not None
    assert (thread.left_hand, thread.tolerance) == (True, "5g6g")
    inside = thread_of("M6-6H")
    assert inside is not None
    assert (inside.left_hand, inside.tolerance) == (False, "6H")


@pytest.mark.parametrize(
    "words",
    ["", "8", "M", "M13", "M8x", "M8x0", "M8x1.1", "M16x1.25", "M8x1/2", "1/4", "#10", "1/4-20 UNF", "1/4-19",
     "#1/4-20", "G 5/0", "5/0-3", "1/2-13 NPT", "hello", "M8 and M10", "M8" * 50, "１/0-20", "M٨"],
)  # fmt: skip
def test_not_understood(words: str) -> None:
    assert thread_of(words) is None


@given(st.sampled_from(ALL), st.booleans())
def test_every_designation_is_read_as_itself(thread: object, left: bool) -> None:
    name = thread.designation  # type: ignore[attr-defined]
    again = thread_of(f"{name} LH" if left else name)
    assert again is not None
    assert (again.designation, again.pitch_mm, again.left_hand) == (name, thread.pitch_mm, left)  # type: ignore[attr-defined]


@given(st.text(max_size=30))
def test_any_words_are_borne(words: str) -> None:
    thread_of(words)
    thread_of(f"M8 {words}")
    thread_of(f"1/4-{words}")
