"""What can be wrong with the evidence about a joint, or with its answer; codes LB-T.. (docs/errors.md)."""

from lastbolt.words.problem import Problem

NO_PLACES = "LB-T04"
KEEP_FROM_CLEAR = ("LB-T06", "LB-T11", "LB-T33", "LB-T34")
"""Statements about this very joint that could not be used, or cannot stand: something may be in."""


def not_used(problems: tuple[Problem, ...]) -> tuple[str, ...]:
    """What was said of this joint and set aside, in words, without a stop at the end."""
    return tuple(problem.what.rstrip(".") for problem in problems if problem.code in KEEP_FROM_CLEAR)


def reserved_place(place: str) -> Problem:
    """A place has an id that stands for something else here."""
    return Problem(
        "LB-T01",
        f'A place has the id "{place}", which stands for unlisted places or the rest of the machine.',
        f'place "{place}"',
        "Give the place another id in the walk file.",
        "stop",
    )


def certificate_refused(reasons: list[str]) -> Problem:
    """The second program did not accept the certificate: `free` is not shown."""
    return Problem(
        "LB-T02",
        "The answer could not be checked by the second program, so it is not shown.",
        "certificate: " + "; ".join(reasons[:3]),
        "Look at one more place, or count the tray once more, and ask again; report this as a fault.",
    )


def unlisted_place(place: str, where: str) -> Problem:
    """Somebody names a place that no walk lists; it is taken as one more place."""
    return Problem(
        "LB-T03",
        f'Place "{place}" is in no walk of this joint; it is taken as one more place.',
        where,
        "Add it to the walk file, or put the id right.",
    )


def no_places(joint: str) -> Problem:
    """Nobody has listed any place."""
    return Problem(
        NO_PLACES,
        "No place of this joint is listed, so nothing can be shown to be out.",
        joint,
        'Go round it and list its places: in a walk file, or typed ("1-7 out, 8 in").',
    )


def no_lines(joint: str) -> Problem:
    """No parts row could be taken as belonging."""
    return Problem(
        "LB-T05",
        "No row of a parts list was found that ties its fasteners to this joint.",
        joint,
        'Say which rows belong here, in the walk file or typed: "figure 7 item 3 here"; without a parts list '
        '"7 x M6x45".',
    )


def engine_fact_unused(words: str, why: str, do: str = "Name the parts row (line) and how many.") -> Problem:
    """A fact of the engine file could not be used in the counts."""
    return Problem(
        "LB-T06",
        f'"{words}" was not used in the counts: {why}.',
        "engine file",
        do,
    )


def typed_not_understood(line: int, text: str, why: str, instead: str) -> Problem:
    """A typed line that says nothing that is understood: why, and what to type instead."""
    return Problem(
        "LB-T07",
        why,
        f'line {line}: "{text}"',
        f'{instead}, then "strike line {line}"; until then nothing is called free.',
    )


def other_joint(events: int) -> Problem:
    """Some events speak of other joints."""
    return Problem(
        "LB-T08",
        f"{events} events of the job speak of other joints and were left out here.",
        "job file",
        "Nothing, if that is so; else put the joint's id right in those events.",
        "note",
    )


def unknown_step(step: str) -> Problem:
    """A tick names a step that the model does not have."""
    return Problem(
        "LB-T09",
        f'The job ticks "{step}", which the model does not have; the tick claims nothing.',
        "job file",
        "Put the step's id right, or read the manual again.",
        "stop",
    )


def joints_differ(names: list[str], used: str) -> Problem:
    """Walks of several joints were given."""
    return Problem(
        "LB-T10",
        f"Walks of other joints were left out: {', '.join(names)}.",
        used,
        "Ask for each joint by itself.",
        "note",
    )


def leads_nowhere(says: str, name: str) -> Problem:
    """A name in a walk or job that no document has; what is said of it is not used."""
    return Problem(
        "LB-T11",
        f'The {says} "{name}", and there is none of that name; this claims nothing.',
        f'"{name}"',
        "Put the id right; the model file and the answer (--json) show the ids there are.",
    )


def typed_row_beside_papers(line: int, text: str) -> Problem:
    """A typed line gives a row of the list although a model gives the list."""
    return Problem(
        "LB-T12",
        "With a walk the list comes from the model; this typed row was not counted once more.",
        f'line {line}: "{text}"',
        f'Type which row it is ("figure 7 item 3 here"), and "strike line {line}".',
    )


def typed_struck(line: int, text: str) -> Problem:
    """A typed line was struck by a later one."""
    return Problem(
        "LB-T13", "This line was struck.", f'line {line}: "{text}"', "Nothing, if so meant.", "note"
    )


def typed_other_document(schema: str, option: str) -> Problem:
    """A JSON document was given in place of typed lines."""
    return Problem(
        "LB-T14",
        f"This is a {schema} document, not typed lines.",
        "--typed",
        f"Give it to {option}; typed lines are plain text (docs/typed.md).",
        "stop",
    )
