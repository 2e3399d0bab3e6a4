"""The cautions of a sheet: the sources' own for all work first with their page; the usual fit any machine."""

from lastbolt.app.safety_shown import USUAL, safety_shown
from lastbolt.app.shown import Shown
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.plan import General, Plan

ROPE = "A rope under load kills."
AT = (Citation("m", PdfPlace(1, "1-1")),)


def said(*general: General) -> list[tuple[str, str]]:
    plan = Plan("lastbolt.plan/1", "goal", general=general)
    return [(c.signal, c.words) for c in safety_shown(plan, Shown(None))]


def test_the_usual_cautions_fit_any_machine() -> None:
    words = " ".join(caution.words for caution in USUAL).lower()
    assert said() == [(c.signal, c.words) for c in USUAL]
    assert not {"engine", "battery", "gearcase"} & set(words.replace(",", " ").replace(".", " ").split())


def test_the_sources_own_stand_first_with_their_page() -> None:
    found = said(General("Safety", ROPE, AT))
    assert found[0] == ("safety", f"{ROPE} (m, printed page 1-1, PDF page 1)")
    assert len(found) == 1 + len(USUAL)


def test_a_page_is_named_once_for_those_that_stand_on_it() -> None:
    found = said(General("warning", "Warning: It swings.", AT), General("caution", ROPE, AT))
    assert found[0] == ("warning", "It swings.")
    assert found[1][1].endswith("(all of these: m, printed page 1-1, PDF page 1)")


def test_a_long_text_ends_with_a_whole_sentence() -> None:
    text = " ".join(f"Sentence number {n} about what can hurt." for n in range(40))
    words = said(General("Safety", text, AT))[0][1]
    assert "hurt. More on the page. (m, printed page 1-1" in words
    assert len(words) < 520
