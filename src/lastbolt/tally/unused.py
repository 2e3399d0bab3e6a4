"""What was said of a joint and cannot be used; with any of it nothing is called free (codes LB-T2.).

Each `what` is one short sentence, for the answer's own sentence names it.
"""

from lastbolt.words.problem import Problem
from lastbolt.words.strange import StrangeField

MOST_ROWS = 4
NOBODY_SINCE = ("LB-T38", "LB-T43")
"""Problems that end when somebody goes round the joint again."""


def unused_words(problems: list[Problem]) -> tuple[str, ...]:
    """Those of the problems that keep the joint from being called free, as clauses for a sentence."""
    clauses = (problem.what.rstrip(".") for problem in problems if problem.grade == "stop")
    return tuple(dict.fromkeys(f"{clause[:1].lower()}{clause[1:]}" for clause in clauses))


def strange_field(field: StrangeField, *, here: bool) -> Problem:
    """A field that nobody reads; `here`: what it says may concern this joint."""
    told = "stands twice, and only the last one is read" if field.twice else "is not known and is not read"
    meant = (
        f'Write "{field.meant}", if that is meant' if field.meant else "Put its name right, or take it out"
    )
    return Problem(
        "LB-T20",
        f'The field "{field.field}" of {field.thing} ({field.document} file) {told}.',
        f"{field.document} file, {field.thing}",
        f'{meant}; docs/schemas names every field. A program\'s own remarks begin with "x_".',
        "stop" if here else "doubt",
    )


def says_nothing(event: str, lacks: str) -> Problem:
    """An event that lacks what would make it a statement."""
    return Problem(
        "LB-T21",
        f"{event} {lacks}.",
        event,
        "Ask who said it what was meant, and put it right or undo it.",
        "stop",
    )


def does_not_settle(event: str, holder: str, how: str) -> Problem:
    """A word about another holder that is none of those which settle one."""
    return Problem(
        "LB-T31",
        f'{event} settles holder "{holder}" with "{how}", which is none of the words for it; it stays open.',
        event,
        'Say how it holds no more ("off", "cut", "not fitted"; docs/typed.md); remarks go into "words".',
    )


def joint_of_no_walk(event: str, joint: str) -> Problem:
    """An event speaks of a joint that no walk at hand has: it may be this one, misspelt."""
    return Problem(
        "LB-T22",
        f'{event} speaks of joint "{joint}", of which no walk was given.',
        event,
        "Put the joint's id right, or give that joint's walk too (--walk).",
        "stop",
    )


def row_of_unknown_variant(row: str, variant: str, known: str) -> Problem:
    """A parts row is for a variant that the model does not know; it is not left out."""
    return Problem(
        "LB-T32",
        f'Parts row "{row}" is for variant "{variant}", which the model does not know; it is kept.',
        f'parts row "{row}"',
        f"Put the variant right in the model ({known}), or name it among the model's variants.",
    )


def several_of_one_id(sort: str, name: str) -> Problem:
    """Different things go by one id."""
    return Problem(
        "LB-T23",
        f'Two different {sort} have the id "{name}".',
        f'{sort} "{name}"',
        "Give one of them another id.",
        "stop",
    )


def undo_of_later(event: str, undoes: str) -> Problem:
    """An undo that does not lead to one event before it; it takes nothing back."""
    return Problem(
        "LB-T24",
        f'{event} takes back "{undoes}", which is no single event before it; nothing was taken back.',
        event,
        "Undo the event by its own id, after it.",
        "stop",
    )


def wrong_papers(what: str, says: str, other: str) -> Problem:
    """Two documents speak of different engines."""
    return Problem(
        "LB-T25",
        f'The job is for {what} "{says}", and the engine file is of "{other}".',
        "job file, engine file",
        "Give the files of one engine, or put the id right.",
        "stop",
    )


def by_two(event: str, by: str, other: str) -> Problem:
    """A round inside an event carries another person's name than the event."""
    return Problem(
        "LB-T26",
        f"{event} is by {by} and its round by {other}; it counts for {by} alone.",
        event,
        "Let each person record their own round.",
        "stop",
    )


def size_of_no_row(event: str, size: str) -> Problem:
    """A fastener came out of the joint of a size that nothing known of the joint has."""
    return Problem(
        "LB-T35",
        f"{event} takes out {size}, which no row and no place of this joint has.",
        event,
        "Say where it was (its place), and which row it is; there may be more of them.",
        "stop",
    )


def taken_for(name: str, row: str, words: str) -> Problem:
    """A row of another edition was taken for the one of the same figure and item."""
    return Problem(
        "LB-T36",
        f'Row "{name}" is not in this model; "{row}" ({words}), of the same figure and item, is taken.',
        f'row "{name}"',
        "Nothing, if the new list has kept its numbers; else put the row right in the file that names it.",
        "note",
    )


def no_section_parts(joint: str) -> Problem:
    """A manual was read and nobody says which of its sections parts the joint."""
    return Problem(
        "LB-T37",
        "Nobody says which section of the manual parts this joint, so its steps were not asked.",
        joint,
        'Say what is to be done: --goal "separate the gearcase".',
        "stop",
    )


def too_much(what: str, most: int) -> Problem:
    """More than a joint can have, so that it is a slip."""
    return Problem(
        "LB-T27",
        f"{what}, more than the {most} that are taken.",
        what,
        "Put the number right; split what is really more into joints.",
        "stop",
    )


def row_of_step_not_said(step: str, size: str, rows: list[str]) -> Problem:
    """A step that parts the joint names fasteners by size, and several rows have it."""
    told = ", ".join(rows[:MOST_ROWS]) + (
        f" and {len(rows) - MOST_ROWS} more" if len(rows) > MOST_ROWS else ""
    )
    return Problem(
        "LB-T29",
        f"{step[:1].upper()}{step[1:]} takes out {size}, and {len(rows)} rows have that size: say which.",
        f"{step}; {told}",
        'Type which ("figure 7 item 3 here"), or tie the row in the walk file, with its places if known.',
        "stop",
    )


def not_all_asked(event: str, places: str) -> Problem:
    """A round that is called complete leaves places out; it does not show that there is no further one."""
    return Problem(
        "LB-T30",
        f"{event} is called complete and says nothing of {places}; it is not taken as complete.",
        event,
        'Go round once more and say something of every place, if only "cannot see".',
    )


def nearly_a_place(name: str, listed: str) -> Problem:
    """Something is said of a place whose id differs from a listed one by case, spaces or zeros only."""
    return Problem(
        "LB-T28",
        f'"{name}" and "{listed}" may be one place.'
        if name != listed
        else f'"{name}" is the label of a place, and no place has it as its id.',
        f'place "{name}"',
        "Write the id as the walk does.",
        "stop",
    )


def ticked_together(event: str, section: str) -> Problem:
    """A step of the section that closes the joint was begun or ticked, and nobody has gone round since."""
    return Problem(
        "LB-T38",
        f"{event} ticks section {section}, which puts the joint together, and nobody has gone round since.",
        event,
        "Go round the joint again: what was seen before no longer counts.",
        "stop",
    )


def put_back_on(event: str, section: str, removal: str) -> Problem:
    """A section that puts a part back was ticked after the one that takes it off."""
    return Problem(
        "LB-T42",
        f"{event} ticks section {section}, which puts back what {removal} takes off.",
        event,
        f"Look whether it is off; take it off again by {removal} and tick that, looked at.",
        "stop",
    )


def being_closed(event: str) -> Problem:
    """The record speaks of closing the joint, and nobody has gone round since."""
    return Problem(
        "LB-T43",
        f"{event} speaks of closing the joint, and nobody has gone round since.",
        event,
        "Go round the joint again: fasteners may be in.",
        "stop",
    )


def not_in_order(event: str, later: str, by: str) -> Problem:
    """The numbers of one person's events do not rise with their order in the file."""
    return Problem(
        "LB-T39",
        f"{event} stands before {later} of the same person, {by or 'not named'}, and has the higher number.",
        event,
        "Put the events into the order in which they happened.",
        "stop",
    )


def more_than_listed(section: str, count: int, size: str, row: str) -> Problem:
    """The steps of a section take out more of one row than it has."""
    return Problem(
        "LB-T40",
        f"The steps of section {section} take out {count} x {size}, and {row} has fewer.",
        f"section {section}",
        "Count the places on the casting before anything is forced.",
        "stop",
    )


def ties_disagree(row: str, whole: str, part: str) -> Problem:
    """Two people say differently how much of a row belongs to the joint."""
    return Problem(
        "LB-T41",
        f'{whole or "Somebody"} says all of row "{row}" is this joint\'s, {part or "somebody"} only some.',
        f'parts row "{row}"',
        "Look which is so at the machine, and take the other back: in the walk (ties), or strike the line.",
        "stop",
    )


def no_one_person(called: str, name: str) -> Problem:
    """Somebody goes by a name that is nobody's own."""
    return Problem(
        "LB-T44",
        f'{called} is by "{name}", which is no one person.',
        called,
        "Name the one who looked or did it; a second person says so in an event of their own.",
        "stop",
    )


def perhaps_one_person(called: str, name: str, other: str) -> Problem:
    """Two names may be one person's."""
    return Problem(
        "LB-T45",
        f'{called} is by "{name}", who may be {other}.',
        called,
        "Write one person by one name throughout; two people by names of which none begins the other.",
        "stop",
    )
