"""The list of sources in an export: each part of a source's name once."""

from lastbolt.app.export_content import _sources
from lastbolt.words.machine import MODEL_SCHEMA, Machine, Source


def test_an_edition_or_file_that_the_title_holds_is_not_said_again() -> None:
    book = Source("m", "Service manual, issue A", "manual", "m", "issue A", "m.pdf")
    table = Source("p", "p.csv", "parts list", "p", file="p.csv")
    assert _sources(Machine(MODEL_SCHEMA, "m", sources=(book, table))) == (
        "Service manual, issue A, m.pdf",
        "p.csv",
    )
