"""The engine file: one individual engine, with its own facts that speak before the papers."""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation
from lastbolt.words.quantity import Kind

ENGINE_SCHEMA = "lastbolt.engine/1"


class AsFound(Struct, frozen=True, omit_defaults=True):
    """One way in which this engine is not the one in the book.

    `missing`: `count` pieces of `line` (a parts row or typed line) are not there, at `place` if known.
    `odd length`: a piece of `kind` stands where `line` says another. `insert`: a repaired thread at `place`.
    """

    what: Literal["missing", "extra", "odd length", "insert", "other"]
    words: str
    place: str | None = None
    line: str | None = None
    count: int = 1
    kind: Kind | None = None
    by: str = ""
    citations: tuple[Citation, ...] = ()


class Engine(Struct, frozen=True, omit_defaults=True):
    """The engine file. `joint` facts name places of walks by id."""

    schema: str
    id: str
    name: str
    variant: str = ""
    serial: int | None = None
    as_found: tuple[AsFound, ...] = ()

    def missing_places(self) -> frozenset[str]:
        """Ids of the places that have been empty since it was found so."""
        return frozenset(one.place for one in self.as_found if one.what == "missing" and one.place)
