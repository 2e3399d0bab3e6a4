"""The counts of a joint's fasteners side by side, in numbers and as the table that people read."""

from msgspec import Struct


class CountSaid(Struct, frozen=True):
    """A number of pieces as a source has it. `exact`: where it is just that many; `may`: nothing but the size
    ties them to this joint."""

    words: str
    exact: int | None = None
    may: bool = False


class SourceCounts(Struct, frozen=True):
    """What one source says of a size."""

    source: str
    numbers: tuple[CountSaid, ...]


class InTray(Struct, frozen=True):
    """Pieces that somebody counted: `whole` from tip to head, or heads only; in all trays or in some."""

    pieces: int
    by: str
    whole: bool = True
    all_trays: bool = True


class SizeCounts(Struct, frozen=True):
    """All counts of one size.

    `places` and `seen_out`: how many there are, and at how many the fastener was seen out; None where no
    place is known for the size. `engine`: by the engine's own file, a number for each row of the size.
    """

    size: str
    printed: tuple[SourceCounts, ...] = ()
    steps: tuple[CountSaid, ...] = ()
    places: int | None = None
    seen_out: int | None = None
    tray: tuple[InTray, ...] = ()
    engine: tuple[int, ...] = ()

    @property
    def only_fits(self) -> bool:
        """Whether nothing but the size ties it to this joint, and nothing of it was seen."""
        unseen = self.places is None and not self.tray and not self.engine
        said = [number for source in self.printed for number in source.numbers]
        return unseen and bool(said) and all(number.may for number in said)


class CountTable(Struct, frozen=True):
    """One row for each size and length, one column for each source of count; `sizes`: the rows in numbers."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...] = ()
    sizes: tuple[SizeCounts, ...] = ()
