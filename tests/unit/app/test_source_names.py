"""Sources that share a title are told apart."""

import pytest

from lastbolt.app.read_sources import Paged, SourceFile, read_sources
from lastbolt.words.machine import SourceRole


@pytest.mark.parametrize("roles", [("manual", "manual"), ("manual", "parts list")])
def test_two_books_of_one_title_have_two_names(roles: tuple[SourceRole, SourceRole]) -> None:
    files = [
        Paged(SourceFile(f"book_{number}.pdf", role=role, title="Pump drive"), ())
        for number, role in enumerate(roles)
    ]
    titles = [source.title for source in read_sources(files).machine.sources]
    assert len(set(titles)) == 2
