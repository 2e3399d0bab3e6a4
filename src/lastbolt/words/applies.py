"""Whether what a source says is for this engine, as far as its variant and serial number are known."""

from lastbolt.words.machine import Applies
from lastbolt.words.quantity import Belief


def applies_to(applies: Applies, variant: str, serial: int | None) -> Belief:
    """Whether it is for the engine of this variant ("": not known) and serial number (None: not known).

    Variants are compared without regard to capitals: papers and engine files are not written by one hand.

    >>> applies_to(Applies(variants=("E",)), "e", None), applies_to(Applies(from_serial=300), "", None)
    ('yes', 'unknown')
    """
    unknown = False
    if applies.variants:
        if not variant:
            unknown = True
        elif variant.casefold() not in {one.casefold() for one in applies.variants}:
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
