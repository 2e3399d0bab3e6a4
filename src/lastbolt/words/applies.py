"""Whether what a source says is for this engine, as far as its variant and serial number are known."""

import re

from lastbolt.words.machine import Applies
from lastbolt.words.quantity import Belief

CALLED = re.compile(r"^(?:models?|types?|variants?|versions?|engines?)\b[\s.:]*(?=\S)")


def variant_key(name: str) -> str:
    """What tells variants apart: their name without capitals, spaces and the word for what they are.

    >>> variant_key("Model B") == variant_key("b"), variant_key("Type  B2"), variant_key("model")
    (True, 'b2', 'model')
    """
    key = " ".join(name.casefold().split()).strip(" .:")
    return "".join(CALLED.sub("", key).split())


def applies_to(applies: Applies, variant: str, serial: int | None) -> Belief:
    """Whether it is for the engine of this variant ("": not known) and serial number (None: not known).

    Variants are compared by `variant_key`: papers and engine files are not written by one hand.

    >>> applies_to(Applies(variants=("E",)), "e", None), applies_to(Applies(from_serial=300), "", None)
    ('yes', 'unknown')
    """
    unknown = False
    if applies.variants:
        if not variant:
            unknown = True
        elif variant_key(variant) not in {variant_key(one) for one in applies.variants}:
            return "no"
    low, high = applies.from_serial, applies.to_serial
    if low is not None and high is not None and low > high:
        return "unknown"  # such a range is a slip, and speaks of no engine
    if low is not None or high is not None:
        if serial is None:
            return "unknown"
        if (low is not None and serial < low) or (high is not None and serial > high):
            return "no"
    return "unknown" if unknown else "yes"
