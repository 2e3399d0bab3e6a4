"""Why is this line here? The chain of reasons, expanded from one edge per line."""

from collections.abc import Iterable

from lastbolt.words.plan import Line


def why(lines: Iterable[Line], line_id: str) -> tuple[Line, ...]:
    """The line, the line that needs it, and so on up to one that the goal itself asks for."""
    named = {line.id: line for line in lines}
    chain: list[Line] = []
    seen: set[str] = set()
    here = line_id
    while here in named and here not in seen:
        seen.add(here)
        chain.append(named[here])
        here = named[here].required_by.line
    return tuple(chain)
