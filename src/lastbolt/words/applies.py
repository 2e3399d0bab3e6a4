"""Whether what a source says is for this engine, as far as its variant and serial number are known."""

import re
from collections.abc import Iterable

from lastbolt.words.machine import Applies, Serials
from lastbolt.words.quantity import Belief

CALLED = re.compile(r"^(?:models?|types?|variants?|versions?|engines?)\b[\s.:]*(?=\S)")


def variant_key(name: str) -> str:
    """What tells variants apart: their name without capitals, spaces, hyphens and the word for what they are.

    >>> variant_key("Model B") == variant_key("b"), variant_key("Type  B-2"), variant_key("model")
    (True, 'b2', 'model')
    """
    key = " ".join(name.casefold().split()).strip(" .:")
    return "".join(CALLED.sub("", key).replace("-", " ").split()) or key


def runs(applies: Applies) -> tuple[Serials, ...]:
    """The runs of serial numbers it is for; none: it is for all of them.

    >>> len(runs(Applies(from_serial=300))), runs(Applies(variants=("E",)))
    (1, ())
    """
    if applies.from_serial is None and applies.to_serial is None:
        return applies.serials
    return (Serials(applies.from_serial, applies.to_serial), *applies.serials)


def is_limited(applies: Applies) -> bool:
    """Whether it singles out engines by variant or serial number, not by words only."""
    return bool(applies.variants or applies.except_variants or runs(applies))


def limited_to(found: Iterable[Serials], words: str = "", variants: tuple[str, ...] = ()) -> Applies:
    """For the engines of these runs (none: of any number) and these variants."""
    numbers = tuple(found)
    if len(numbers) == 1:
        return Applies(variants, numbers[0].from_serial, numbers[0].to_serial, words)
    return Applies(variants, words=words, serials=numbers)


def in_both(some: tuple[Serials, ...], others: tuple[Serials, ...]) -> tuple[Serials, ...]:
    """The numbers in both, where both speak of numbers. None at all stays a run without numbers: a slip."""
    if not some or not others:
        return some or others
    made = [
        Serials(
            max((n for n in (one.from_serial, other.from_serial) if n is not None), default=None),
            min((n for n in (one.to_serial, other.to_serial) if n is not None), default=None),
        )
        for one in some
        for other in others
    ]
    real = [r for r in made if r.from_serial is None or r.to_serial is None or r.from_serial <= r.to_serial]
    return tuple(real) or tuple(made[:1])


def applies_to(applies: Applies, variant: str, serial: int | None) -> Belief:
    """Whether it is for the engine of this variant ("": not known) and serial number (None: not known).

    Variants are compared by `variant_key`: papers and engine files are not written by one hand.

    >>> applies_to(Applies(variants=("E",)), "e", None), applies_to(Applies(from_serial=300), "", None)
    ('yes', 'unknown')
    """
    beliefs = (_by_variant(applies, variant), _by_serial(runs(applies), serial))
    if "no" in beliefs:
        return "no"
    return "unknown" if "unknown" in beliefs else "yes"


def _by_variant(applies: Applies, variant: str) -> Belief:
    if not applies.variants and not applies.except_variants:
        return "yes"
    if not variant:
        return "unknown"
    key = variant_key(variant)
    if key in {variant_key(one) for one in applies.except_variants}:
        return "no"
    return "yes" if not applies.variants or key in {variant_key(one) for one in applies.variants} else "no"


def _by_serial(found: tuple[Serials, ...], serial: int | None) -> Belief:
    if not found:
        return "yes"
    if serial is None or any(is_turned_round(run) for run in found):
        return "unknown"  # a run whose end is before its start is a slip, and speaks of no engine
    within = (
        (run.from_serial is None or serial >= run.from_serial)
        and (run.to_serial is None or serial <= run.to_serial)
        for run in found
    )
    return "yes" if any(within) else "no"


def is_turned_round(run: Serials) -> bool:
    """Whether its end is before its start."""
    return run.from_serial is not None and run.to_serial is not None and run.from_serial > run.to_serial


def engines_words(applies: Applies) -> str:
    """The engines it is for, in words of our own.

    >>> engines_words(Applies(variants=("E",), from_serial=40211))
    'variant E, from serial no. 40211'
    """
    said = [f"variant {' or '.join(applies.variants)}"] if applies.variants else []
    said += [f"not variant {' or '.join(applies.except_variants)}"] if applies.except_variants else []
    numbers = [run for run in (_run_words(run) for run in runs(applies)) if run]
    said += [" or ".join(numbers)] if numbers else []
    return ", ".join(said)


def _run_words(run: Serials) -> str:
    if run.from_serial is not None and run.from_serial == run.to_serial:
        return f"serial no. {run.from_serial}"
    said = [f"from serial no. {run.from_serial}"] if run.from_serial is not None else []
    said += [f"to serial no. {run.to_serial}"] if run.to_serial is not None else []
    return ", ".join(said)
