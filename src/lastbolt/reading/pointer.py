"""One phrase that points elsewhere, as a value."""

from typing import NamedTuple

from lastbolt.reading.title_pointers import Cue, Form


class Pointer(NamedTuple):
    """One pointing phrase. `targets` are numbers, pages or a title as printed."""

    start: int
    end: int
    form: Form
    targets: tuple[str, ...]
    cue: Cue
    any_of: bool = False
    from_step: str | None = None
    to_step: str | None = None
    exceptions: str = ""
    span: bool = False
    """The targets are the first and last of a run ("pages 4-6 to 4-8")."""
    weak: bool = False
    """Nothing but the number itself says that it points: it does if the book has such a section."""
