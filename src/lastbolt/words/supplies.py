"""What work needs to have at hand: consumables and tools, as a source names them."""

from typing import Literal, get_args

from msgspec import Struct

from lastbolt.words.citation import Citation
from lastbolt.words.measured import Span

ConsumableKind = Literal["sealant", "thread lock", "oil", "grease", "cleaner", "fluid", "other"]
CONSUMABLES: dict[str, ConsumableKind] = {name: name for name in get_args(ConsumableKind)}
"""By their own names: what a language file says is looked up here."""


class Consumable(Struct, frozen=True, omit_defaults=True):
    """Something that is used up: sealant, oil, grease, thread lock. `amount` is as printed; `how` the words
    that stand for an amount ("thin film")."""

    id: str
    name: str
    kind: ConsumableKind = "other"
    amount: Span | None = None
    how: str = ""
    used_for: str = ""
    words: str = ""
    citations: tuple[Citation, ...] = ()
    doubt: str = ""


class Tool(Struct, frozen=True, omit_defaults=True):
    """A tool with the number by which the source knows it; "" where it has none."""

    id: str
    name: str
    number: str = ""
    used_for: str = ""
    words: str = ""
    citations: tuple[Citation, ...] = ()
    doubt: str = ""
