"""Labels of places in words, runs of them together: "1-6, 9 and 10" is read at a glance."""

from collections.abc import Sequence

LEAST_RUN = 3
LONGEST_NUMBER = 9


def listed(labels: Sequence[str]) -> str:
    """The labels as a person lists them, three or more that follow each other as a run.

    >>> listed(["1", "2", "3", "5", "16"]), listed(["7"]), listed(["3A", "4"])
    ('1-3, 5 and 16', '7', '3A and 4')
    """
    return with_and(_in_runs(labels, LEAST_RUN))


def to_type(labels: Sequence[str]) -> str:
    """The labels as they are typed.

    >>> to_type(["1", "2", "3", "5", "6", "9"])
    '1-3, 5-6, 9'
    """
    return ", ".join(_in_runs(labels, 2))


def at_places(labels: Sequence[str]) -> str:
    """Where something is to be done, the places by their labels.

    >>> at_places(["7"]), at_places(["1", "2", "3"])
    ('Place 7', 'Places 1-3')
    """
    return f"Place{'' if len(labels) == 1 else 's'} {listed(labels)}"


def deed_at(labels: Sequence[str], deed: str) -> str:
    """What is done at each place; {} in the deed stands for the place.

    >>> deed_at(["1", "2", "3"], "look into {} from both sides")
    'Places 1-3: look into each from both sides.'
    """
    return f"{at_places(labels)}: {deed.format('it' if len(labels) == 1 else 'each')}."


def with_and(names: Sequence[str]) -> str:
    """Names as a person lists them: "a, b and c"; nothing where there are none."""
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else "".join(names)


def _in_runs(labels: Sequence[str], least: int) -> list[str]:
    parts: list[list[str]] = []
    for label in labels:
        if parts and _follows(parts[-1][-1], label):
            parts[-1].append(label)
        else:
            parts.append([label])
    said: list[str] = []
    for part in parts:
        said += [f"{part[0]}-{part[-1]}"] if len(part) >= least else part
    return said


def _follows(last: str, label: str) -> bool:
    return is_number(last) and is_number(label) and int(label) == int(last) + 1


def is_number(label: str) -> bool:
    """Not by `isdigit`, which takes a raised figure ("7²") for one that `int` does not."""
    return label.isdecimal() and len(label) <= LONGEST_NUMBER
