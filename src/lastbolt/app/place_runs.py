"""Places in words, runs of them together: "1-6, 9 and 10" is read at a glance, eight numbers are not."""

import re
from collections.abc import Sequence

LEAST_RUN = 3
NAMED = re.compile(r"\b([Pp]laces) ((?:\d+, )*\d+ and \d+)\b")


def listed(labels: Sequence[str]) -> str:
    """The labels as a person lists them, three or more that follow each other as a run.

    >>> listed(["1", "2", "3", "5", "16"]), listed(["7"]), listed(["3A", "4"])
    ('1-3, 5 and 16', '7', '3A and 4')
    """
    parts: list[list[str]] = []
    for label in labels:
        if parts and label.isdigit() and parts[-1][-1].isdigit() and int(label) == int(parts[-1][-1]) + 1:
            parts[-1].append(label)
        else:
            parts.append([label])
    said: list[str] = []
    for part in parts:
        said += [f"{part[0]}-{part[-1]}"] if len(part) >= LEAST_RUN else part
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"


def with_runs(words: str) -> str:
    """The words with the places they list put into runs.

    >>> with_runs("Places 1, 2, 3 and 7: look into each; the papers list 1, 2 and 3.")
    'Places 1-3 and 7: look into each; the papers list 1, 2 and 3.'
    """
    return NAMED.sub(lambda found: f"{found[1]} {listed(re.split(r', | and ', found[2]))}", words)
