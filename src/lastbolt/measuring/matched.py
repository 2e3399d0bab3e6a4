"""Which size of the sheet a person means: by its number, its id, or enough of the source's words."""

from collections.abc import Sequence
from difflib import get_close_matches
from itertools import pairwise

from msgspec import Struct

from lastbolt.measuring.dimensions import dimension_of, is_which, size_words, words_of
from lastbolt.words.readings import Size

_ALIKE = 0.75


class Meant(Struct, frozen=True):
    """The size, and which one of several alike; without a size, those that it may be."""

    size: Size | None = None
    of: str = ""
    near: tuple[Size, ...] = ()


def meant(what: str, sizes: Sequence[Size]) -> Meant:
    """The one size that the words fit; words that only say which one ("cylinder 2") may stand among them.

    Every other word must stand in the source's name. Where several fit, the one that has no further words is
    meant, if there is one; else nobody is guessed.
    """
    said = what.strip()
    head, _, rest = said.partition(" ")
    if head.rstrip(".").isdigit() and (not rest or head.endswith(".")):
        found = [one for one in sizes if one.number == int(head.rstrip("."))]
        return Meant(found[0], rest.strip()) if found else Meant()
    exact = [one for one in sizes if said == one.limit or said in one.also]
    if exact:
        return Meant(exact[0])
    by_words = _by_words(said, sizes)
    if by_words.size is None and "," in said:
        # "Flatness of the joint faces, cover": what stands behind the last comma says which one.
        name, _, which = said.rpartition(",")
        before = _by_words(name, sizes)
        if before.size is not None and which.strip():
            return Meant(before.size, f"{before.of} {which.strip()}".strip())
    return by_words


def _by_words(said: str, sizes: Sequence[Size]) -> Meant:
    ranked = sorted(_fits(words_of(said), sizes), key=lambda fit: (fit.left_over, -fit.shared, fit.unsaid))
    if not ranked:
        return Meant(near=nearest(said, sizes))
    first = ranked[0]
    best = [fit for fit in ranked if (fit.left_over, fit.shared) == (first.left_over, first.shared)]
    if len(best) == 1 or (first.unsaid == 0 and best[1].unsaid):
        return Meant(first.size, " ".join(first.left))
    return Meant(near=tuple(fit.size for fit in best))


class _Fit(Struct, frozen=True):
    """How well words fit a size: those left over, how many both have, how many of the source's are unsaid."""

    left: tuple[str, ...]
    shared: int
    unsaid: int
    size: Size

    @property
    def left_over(self) -> int:
        """How many words only say which one."""
        return len(self.left)


def _fits(said: tuple[str, ...], sizes: Sequence[Size]) -> list[_Fit]:
    found: list[_Fit] = []
    for one in sizes:
        named = words_of(one.what)
        kind = set(_kinds(said, one))
        left = tuple(word for word in said if word not in named and word not in kind)
        if len(left) == len(said) or not (not left or any(map(is_which, left))):
            continue
        if any(not is_which(word) and not _goes_with(word, left) for word in left):
            continue
        shared = sum(word in named for word in said)
        found.append(_Fit(left, shared, sum(word not in said for word in named), one))
    return found


def _goes_with(word: str, left: tuple[str, ...]) -> bool:
    """Whether a number stands right behind the word: "piston 2"."""
    at = left.index(word)
    return at + 1 < len(left) and left[at + 1].isdigit()


def _kinds(said: tuple[str, ...], size: Size) -> tuple[str, ...]:
    """Words of the kind of size, where the person calls it by another name: "end play" for "end float"."""
    kind = dimension_of(size.what)
    if size.dimension != kind.name or dimension_of(" ".join(said)).name != size.dimension:
        return ()
    names = (words_of(name) for name in kind.names if name in size_words())
    return tuple(word for name in names if set(name) <= set(said) for word in name)


def nearest(said: str, sizes: Sequence[Size]) -> tuple[Size, ...]:
    """Those that share most words, spelled a little otherwise too; for a hint."""
    every = {word for one in sizes for word in words_of(one.what)}
    own = words_of(said)
    pairs = ("".join(pair) for pair in pairwise(own))
    words = {near for word in (*own, *pairs) for near in get_close_matches(word, every, 1, _ALIKE)}
    shared = [(len(words & set(words_of(one.what))), one) for one in sizes]
    most = max((number for number, _ in shared), default=0)
    return tuple(one for number, one in shared if number == most and most)[:3]
