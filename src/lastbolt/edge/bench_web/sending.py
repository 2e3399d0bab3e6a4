"""What a device sent: only its own words, only those its role may say."""

from lastbolt.edge.bench_web.asked import turned
from lastbolt.edge.bench_web.people import Ticket
from lastbolt.record.chains import Receipt
from lastbolt.record.exported import lines_of
from lastbolt.record.rights import may
from lastbolt.record.sealed import NotAnEvent, SealedEvent, read_line
from lastbolt.words.problem import Problem

MOST_LINES = 500


def lines_sent(body: bytes) -> tuple[bytes, ...]:
    """The lines of one request.

    Raises:
        Turned: there are too many.
    """
    lines = lines_of(body)
    if len(lines) > MOST_LINES:
        raise turned(413, "LB-E65", f"More than {MOST_LINES} events at once.", "Send them in parts.")
    return lines


def checked(lines: tuple[bytes, ...], ticket: Ticket, job: str) -> list[SealedEvent | Receipt]:
    """The event of each line, or its refusal where it is none or the role may not say so.

    Raises:
        Turned: one is another device's or another person's; then nothing of it all is kept.
    """
    return [_checked(line, ticket, job) for line in lines]


def _checked(line: bytes, ticket: Ticket, job: str) -> SealedEvent | Receipt:
    try:
        event = read_line(line)
    except NotAnEvent as wrong:
        return Receipt("refused", problem=wrong.problem)
    if (event.device, event.by, event.job) != (ticket.device, ticket.person, job):
        what = "These events are not this device's own, its person's or this job's. None of them was kept."
        raise turned(403, "LB-E62", what, "Send them from the device that wrote them.")
    if may(ticket.role, event.tag):
        return event
    what = f'"{event.tag}" is not for the role {ticket.role}.'
    problem = Problem("LB-E62", what, f"event {event.sequence}", "Ask the instructor.", "stop")
    return Receipt("refused", event.hash, problem)
