"""What the way back is watched for: work that must not be left half done, and halves that do not close."""

from msgspec import Struct

from lastbolt.words.citation import Citation


class NoStop(Struct, frozen=True, omit_defaults=True):
    """Lines that are done in one go. `minutes` None: nobody says how long. `source`: who says so."""

    why: str
    first: str
    """The id of the line of the way back with which it begins."""
    last: str
    words: str
    minutes: float | None = None
    source: str = ""
    citations: tuple[Citation, ...] = ()


class Cause(Struct, frozen=True, omit_defaults=True):
    """One reason why halves do not come together. `because`: what in the record speaks for it."""

    what: str
    look: str
    because: tuple[str, ...] = ()
    source: str = "common practice, no source"
