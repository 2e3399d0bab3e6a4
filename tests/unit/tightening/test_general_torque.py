"""General torques: never for what they would ruin, never more than the casting bears, never the maker's."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.threads.designation import Thread, thread_of
from lastbolt.tightening.general import FRICTION, GeneralTorque, NoGeneralTorque, general_torque, why_refused


def m8() -> Thread:
    found = thread_of("M8")
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("purpose", "what"),
    [
        ("connecting rods", "connecting rods"), ("con-rod nuts", "connecting rods"),
        ("BIG END", "connecting rods"),
        ("main bearing caps", "main bearings"), ("mains", "main bearings"),
        ("cylinder-head bolts", "cylinder heads"),
        ("Heads", "cylinder heads"), ("head, no gasket", "cylinder heads"),
        ("flywheel to crank", "flywheels"),
        ("camshaft bearing caps", "camshaft caps"), ("cam cap", "camshaft caps"), ("oil drain plug", "plugs"),
        ("spark plugs", "plugs"), ("banjo", "hollow bolts"), ("hollow bolt of the oil line", "hollow bolts"),
        ("oil pan", "gasketed covers"), ("gasketed cover", "gasketed covers"), ("rocker cover", "covers"),
        ("cover without gasket of the flywheel", "flywheels"), ("brake caliper", "brakes"),
    ],
)  # fmt: skip
def test_refused(purpose: str, what: str) -> None:
    answer = general_torque(m8(), "8.8", "oiled", purpose)
    assert isinstance(answer, NoGeneralTorque)
    assert answer.why.startswith(what)


@pytest.mark.parametrize(
    "purpose",
    ["bracket", "guard", "hex head screw of the guard", "socket-head screws, bracket", "headlamp bracket",
     "gearbox cover, no gasket", "mainspring post", "a foot of the frame"],
)  # fmt: skip
def test_not_refused(purpose: str) -> None:
    assert why_refused(purpose) == ""
    assert isinstance(general_torque(m8(), "8.8", "oiled", purpose), GeneralTorque)


@given(st.text(max_size=20), st.sampled_from(["rod", "flywheels", "drain plug", "gasket", "banjo"]))
def test_words_around_change_nothing(words: str, told: str) -> None:
    assert why_refused(f"{words} {told} {words}")


@pytest.mark.parametrize(
    ("name", "condition", "purpose", "metal", "engagement", "why"),
    [
        ("", "dry", "bracket", "", None, "class is not known"),
        ("7.7", "dry", "bracket", "", None, "no class"),
        ("grade 5", "dry", "bracket", "", None, "no class"),
        ("8.8", "greasy", "bracket", "", None, "condition"),
        ("8.8", "dry", "  ", "", None, "not told"),
        ("8.8", "dry", "bracket", "cheese", None, "metal"),
        ("8.8", "dry", "bracket", "steel", 0.0, "holds nothing"),
    ],
)
def test_what_is_not_known_gives_no_value(
    name: str, condition: str, purpose: str, metal: str, engagement: float | None, why: str
) -> None:
    answer = general_torque(m8(), name, condition, purpose, metal, engagement)
    assert isinstance(answer, NoGeneralTorque)
    assert why in answer.why


def test_pipe_threads_and_sizes_without_a_head_have_none() -> None:
    for words in ("G 1/4", "M100x2"):
        thread = thread_of(words)
        assert thread is not None
        assert isinstance(general_torque(thread, "8.8", "dry", "bracket"), NoGeneralTorque)


def test_the_casting_holds_it_down() -> None:
    free = general_torque(m8(), "8.8", "oiled", "bracket")
    soft = general_torque(m8(), "8.8", "oiled", "bracket", "magnesium", 8.0)
    deep = general_torque(m8(), "8.8", "oiled", "bracket", "magnesium", 24.0)
    assert isinstance(free, GeneralTorque)
    assert isinstance(soft, GeneralTorque)
    assert isinstance(deep, GeneralTorque)
    assert (free.capped_by, soft.capped_by, deep.capped_by) == ("", "magnesium", "")
    assert soft.torque_Nm < free.torque_Nm == deep.torque_Nm
    assert soft.ceiling is not None
    assert soft.torque_Nm == soft.ceiling.torque_Nm
    assert "not told" in free.words
    assert "held down" in soft.words


@given(st.sampled_from(sorted(FRICTION)), st.sampled_from(["5.6", "8.8", "10.9", "A2-70"]))
def test_ranges_enclose_and_are_never_called_the_makers(condition: str, name: str) -> None:
    answer = general_torque(m8(), name, condition, "bracket")
    assert isinstance(answer, GeneralTorque)
    assert answer.low_Nm <= answer.torque_Nm < answer.high_Nm
    assert answer.preload_low_N < answer.preload_high_N
    assert "not the maker's value" in answer.words
    assert answer.source
