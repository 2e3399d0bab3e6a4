"""Which citations get a picture: figures, rows and what is not printed beside; never the same twice."""

from lastbolt.app.shown import Shown, not_beside
from lastbolt.words.citation import CellPlace, Citation, PdfPlace
from lastbolt.words.machine import MODEL_SCHEMA, Machine, Source

BOX = (0.1, 0.2, 0.9, 0.25)
SHOWN_AT = "Book, PDF page 4"


def shown() -> Shown:
    source = Source("book", "Book", "manual", "maker", file="book.pdf")
    return Shown(Machine(MODEL_SCHEMA, "m", sources=(source,)))


def cited(words: str, *, box: tuple[float, float, float, float] = BOX) -> Citation:
    return Citation("book", PdfPlace(4, None, box), words)


def test_words_printed_beside_get_no_picture() -> None:
    (cite,) = shown().cites((cited("Pull the lever off the shaft."),), beside="Pull the lever off the shaft.")
    assert (cite.where, cite.crop) == (SHOWN_AT, None)


def test_words_not_printed_beside_get_one() -> None:
    one = shown()
    (cite,) = one.cites((cited("All guards installed before the first run"),), beside="Asks for a state.")
    assert cite.crop == one.crops()[0].key
    assert one.crops()[0].box == BOX, "the box as cited; room around it is the cutter's business"


def test_a_row_of_a_table_always_gets_one() -> None:
    assert not_beside("6 | A-606 | Bolt M8 | 9", "6 A-606 Bolt M8 9")


def test_the_same_piece_of_a_page_is_shown_once() -> None:
    one = shown()
    first, second = (one.cites((cited("6 | Bolt | 9"),)) for _ in range(2))
    assert first[0].crop
    assert second[0].crop is None
    assert second[0].where == SHOWN_AT
    assert len(one.crops()) == 1


def test_a_page_that_the_words_name_is_not_named_again() -> None:
    one = shown()
    assert one.cites((cited("Off."),), beside=f"Off. ({SHOWN_AT})") == ()
    (cite,) = one.cites((cited("6 | Bolt | 9"),), beside=f"lists 9 bolts ({SHOWN_AT})")
    assert cite.where == "Picture: Book"


def test_one_citation_for_a_page() -> None:
    two = (cited("One."), cited("Two.", box=(0.1, 0.6, 0.9, 0.7)))
    assert [cite.where for cite in shown().cites(two)] == [SHOWN_AT]


def test_without_pictures_only_where() -> None:
    one = shown()
    assert one.cites((cited("6 | Bolt | 9"),), pictures=False)[0].crop is None
    assert one.crops() == ()


def test_a_line_of_a_table_file_has_no_picture() -> None:
    (cite,) = shown().cites((Citation("book", CellPlace(3), "6 | Bolt | 9"),))
    assert (cite.where, cite.crop) == ("Book, line 3", None)
