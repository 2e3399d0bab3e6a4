"""What planning itself finds wrong, beside the reader's problems; codes LB-L.. (docs/errors.md)."""

from lastbolt.words.applies import variant_key
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine
from lastbolt.words.problem import Problem


def circular(what: str, where: str, do: str, citations: tuple[Citation, ...]) -> Problem:
    """Sections need each other, so that no order satisfies all of them."""
    return Problem("LB-L01", what, where, do, "doubt", citations)


def unknown_subject(subject: str, event: str) -> Problem:
    """The job names something that the model does not have."""
    return Problem(
        "LB-L02",
        f'The job names "{subject}", which this model does not have; the plan makes no use of it.',
        f"event {event}",
        "Plan with the model that the job was begun with, or say it again for the present one.",
    )


def unnamed_variant(variant: str, machine: Machine) -> tuple[Problem, ...]:
    """The engine is of a variant that no source singles out: what is for the named ones is left out."""
    named = machine.variants
    if not variant or not named or variant_key(variant) in {variant_key(one) for one in named}:
        return ()
    what = (
        f'No source names variant "{variant}"; what they say of variant {" or ".join(named)} only is '
        "taken as not for this engine."
    )
    do = "Look at the type plate; put the variant right in the engine file or job if it is a slip."
    return (Problem("LB-L03", what, f'variant "{variant}"', do),)
