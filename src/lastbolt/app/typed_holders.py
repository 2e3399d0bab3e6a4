"""Other holders as typed lines settle them: found by name, and what does not settle one said at once."""

import re
from collections.abc import Iterable, Mapping

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.holder_words import holder_sort
from lastbolt.app.typed_dowels import dowels_asked
from lastbolt.app.typed_words import SLACKENED, SOLID, settles
from lastbolt.words.answer import HolderState
from lastbolt.words.evidence import EvidencePlace, Look

_BRACKET = re.compile(r"\s*\([^()]*\)$")
MOST_DIGITS = 100
"""Of a number compared as one: longer ones are slips, and Python reads none of thousands of digits."""
OFF_OR_SLACK = "off, or only slackened? Slackened it still holds"
IS_IT_FREE = "is it free in one half? Also a solid dowel can be seized"


class SaidOfHolder(Struct, frozen=True):
    """What was typed last of a holder: its name as first typed, and how it is ("" if not said)."""

    name: str
    how: str


def state_of(said: SaidOfHolder) -> HolderState:
    """A holder that only typed lines name."""
    sort, ask = holder_sort(said.name) or ("other", "not checked")
    words = _told(said.how, said.name, sort) or ask
    return HolderState(said.name, sort, said.name, settles(said.how), words)


def with_typed(old: tuple[HolderState, ...], typed: Mapping[str, SaidOfHolder]) -> tuple[HolderState, ...]:
    """The holders of the papers, as typed lines settle them; one that only lines name is one more.

    A name is found without the brackets at its end too, where only one holder is called so.
    """
    left = dict(typed)
    exact = [key_of(state.name) for state in old]
    short = [key_of(_BRACKET.sub("", state.name)) for state in old]
    made = []
    for state, name, bare in zip(old, exact, short, strict=True):
        key = name if exact.count(name) == 1 and name in left else bare
        sure = name == key or (short.count(bare) == 1 and bare not in exact)
        said = left.pop(key, None) if sure else None
        made.append(_as_typed(state, said) if said else state)
    return (*made, *(state_of(said) for said in left.values()))


def with_dowels(
    holders: tuple[HolderState, ...], looks: Iterable[Look], places: Iterable[EvidencePlace]
) -> tuple[HolderState, ...]:
    """The holders, and the dowels that were typed as seen, unless one of the holders is of dowels."""
    named = {holder.id: holder for holder in holders}
    return (*holders, *dowels_asked((), looks, places, named))


def key_of(name: str) -> str:
    """What tells places and holders apart: no case, no extra spaces, no zeros before a number."""
    key = " ".join(name.casefold().split())
    return str(int(key)) if key.isdecimal() and len(key) <= MOST_DIGITS else key


def _as_typed(state: HolderState, said: SaidOfHolder) -> HolderState:
    words = _told(said.how, state.name, state.sort) or state.words
    return replace(state, settled=settles(said.how), words=words)


def _told(how: str, name: str, sort: str) -> str:
    """What was said of it; words that leave it open, with what to say instead."""
    low = " ".join(how.casefold().split()).strip(" .")
    if sort == "dowel" and low in (*SLACKENED, *SOLID):
        return f'"{how}": {IS_IT_FREE}. When it is, type "holder {name}: free".'
    if low in SLACKENED:
        return f'"{how}": {OFF_OR_SLACK}. When it is off, type "holder {name}: off".'
    return how
