"""What holds a joint beside what a step names first: parts across it, seals and rivets that are cut open."""

from collections.abc import Iterable

from lastbolt.app.holder_words import listed, says
from lastbolt.app.untold_fasteners import TAKING_OUT
from lastbolt.planning.names import stems
from lastbolt.words.answer import HolderState
from lastbolt.words.machine import Mention, Step


def taken_off(step: Step) -> str:
    """What a step takes off or loosens first that is no fastener; nothing for a step that does otherwise."""
    off = [one for one in step.mentions if one.deed in TAKING_OUT and one.kind is None]
    return off[0].name if off else ""


def held_across(sentence: str, part: str, joint: frozenset[str], asked: Iterable[HolderState]) -> bool:
    """Whether a sentence takes off both halves a part that nobody asks for; `joint`: the halves' words."""
    own = set(stems(part))
    if not own or own <= {*joint, *listed("general_names")} or not says("on_both", sentence):
        return False
    return not any(own <= set(stems(state.name)) for state in asked)


def holds_besides(sentence: str, named: Iterable[Mention]) -> bool:
    """Whether a sentence tells of a hold that none of these names is: "cut the seal, lift off the cover"."""
    rest = sentence.casefold()
    for mention in named:
        rest = rest.replace(mention.name.casefold(), " ")
    return says("holds_in_words", rest) or says("opens_by_force", rest)


def named_in(sentence: str, step: Step) -> list[Mention]:
    """What a sentence of a step names, without the washers under its screws, which hold nothing."""
    low = sentence.casefold()
    return [one for one in step.mentions if one.name.casefold() in low and not _is_washer(one)]


def _is_washer(mention: Mention) -> bool:
    return mention.name.casefold().removesuffix("s").endswith("washer")
