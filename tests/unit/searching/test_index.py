"""What a search finds: sizes and part numbers however they are typed, phrases, words together first."""

from lastbolt.searching.index import Index, Passage
from lastbolt.words.citation import CellPlace, PdfPlace


def page(number: int, text: str) -> Passage:
    words = tuple(text.split())
    boxes = tuple((at / 100, 0.1, at / 100 + 0.01, 0.12) for at in range(len(words)))
    return Passage("m", PdfPlace(number), words, boxes)


INDEX = Index(
    (
        page(1, "Remove the ten case screws M8 x 45 and the gear- case cover."),
        page(2, "Case of the pump. " + "word " * 60 + "Two screws."),
        page(3, "Lock washer, then a washer. Torque 9.5 N·m."),
        Passage("l", CellPlace(7), ("6", "Q222-106", "Washer,", "6", "M8×45")),
    )
)


def found(query: str) -> list[tuple[str, object]]:
    return [
        (hit.source, getattr(hit.place, "pdf_page", 0) or getattr(hit.place, "line", 0))
        for hit in INDEX.search(query)
    ]


def test_a_size_is_found_however_it_is_spaced() -> None:
    for typed in ("M8x45", "m8 x 45", "M8×45", "M8 × 45"):
        assert found(typed) == [("m", 1), ("l", 7)], typed


def test_a_part_number_by_its_figures() -> None:
    assert found("Q222-106") == found("q222 106") == found("222-106") == [("l", 7)]
    assert found("Q222-10") == [], "figures are whole"


def test_words_are_found_by_their_beginning_and_together_first() -> None:
    assert found("case screw") == [("m", 1), ("m", 2)]
    assert [hit.near for hit in INDEX.search("case screw")] == [True, False]


def test_words_in_quotes_stand_together() -> None:
    assert found('"lock washer"') == [("m", 3)]
    assert found('"washer lock"') == []


def test_a_word_broken_at_its_hyphen_is_whole() -> None:
    assert found("gearcase") == [("m", 1)]


def test_the_boxes_are_those_of_the_matches() -> None:
    hit = INDEX.search("M8x45")[0]
    assert hit.boxes == tuple((at / 100, 0.1, at / 100 + 0.01, 0.12) for at in (5, 6, 7))
    assert (hit.before, hit.found, hit.after) == (
        "Remove the ten case screws",
        "M8 x 45",
        "and the gear- case cover.",
    )


def test_nothing_asked_finds_nothing() -> None:
    assert found("") == found("  ,.- ") == found('"') == []
    assert found("no such words") == []
