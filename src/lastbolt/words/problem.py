"""What is wrong, where, and what to do: one value for every edge."""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation


class Problem(Struct, frozen=True, omit_defaults=True):
    """Something to know. `stop`: nothing can be answered; `doubt`: an answer stands on it; `note`."""

    code: str
    what: str
    where: str
    do: str
    grade: Literal["stop", "doubt", "note"] = "doubt"
    citations: tuple[Citation, ...] = ()


class Refusal(Exception):
    """Raised at an edge when nothing can be answered; carries the problems to show."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__("; ".join(f"{p.code} {p.what}" for p in problems))
        self.problems = problems
