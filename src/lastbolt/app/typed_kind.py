"""The size that somebody typed, by the same rules that read a parts list."""

from lastbolt.reading.fasteners import kind_of, read_kind, sizes_in
from lastbolt.words.quantity import Kind


def typed_kind(text: str) -> Kind | None:
    """The kind of fastener in typed words; a bare size ("M6x45") is a screw's; None when there is no size."""
    named = read_kind(text)
    if named is not None:
        return named
    sizes = sizes_in(text)
    return kind_of("screw", sizes[0]) if sizes else None
