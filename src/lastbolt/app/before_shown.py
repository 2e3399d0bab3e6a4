"""What must happen before things come off, in words: one entry for what is said of one step."""

from collections.abc import Iterable, Sequence

from msgspec import Struct

from lastbolt.planning.names import words
from lastbolt.words.citation import Citation
from lastbolt.words.plan import BeforeKind, BeforeOff


class BeforeShown(Struct, frozen=True):
    """`heads`: what to do or expect, in short; `words`: what the source says. `at`: section and step."""

    kinds: tuple[BeforeKind, ...]
    heads: tuple[str, ...]
    words: str
    at: str
    citations: tuple[Citation, ...]

    @property
    def sentence(self) -> str:
        """All in one: "Open the lock first (tab washer); slacken while it is still held: Bend ..."."""
        first, *rest = self.heads or ("",)
        heads = "; ".join((first, *(head[:1].lower() + head[1:] for head in rest)))
        return ": ".join(part for part in (heads, self.words) if part)


def before_shown(items: Iterable[BeforeOff]) -> tuple[BeforeShown, ...]:
    """In the order given; what several entries say of one step in the same words is one."""
    found: dict[tuple[str, str], list[tuple[BeforeOff, str]]] = {}
    for item in items:
        head, said = _parted(item)
        found.setdefault((item.line if head else said, said), []).append((item, head))
    return tuple(_joined(some, said) for (_, said), some in found.items())


def _joined(some: Sequence[tuple[BeforeOff, str]], said: str) -> BeforeShown:
    first = some[0][0]
    at = f"{first.number} step {first.mark}" if first.number and first.mark else first.number
    return BeforeShown(
        tuple(item.kind for item, _ in some),
        tuple(dict.fromkeys(head for _, head in some if head)),
        said, at, first.citations,
    )  # fmt: skip


def head_of(kind: BeforeKind) -> str:
    """What to do or expect, in short."""
    said: str = words()["before_said"][kind]
    return said


def _parted(item: BeforeOff) -> tuple[str, str]:
    """The short word for it and the source's own; a section that drains is its title alone."""
    head = head_of(item.kind)
    if item.kind == "drain" and not item.mark:
        return "", item.words
    if item.kind == "lock to open":
        lock, _, said = item.words.partition(": ")
        return f"{head} ({lock})", said
    said_there = item.words.casefold().startswith(f"{head.casefold()} ")
    return "" if said_there else head, item.words
