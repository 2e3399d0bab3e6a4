"""What the body of each event must hold: the job's own words for what happened, and the decisions."""

from collections.abc import Mapping
from typing import Any, Literal

import msgspec
from msgspec import Struct

from lastbolt.record.kinds import KIND_OF
from lastbolt.words.job import Event

MOST_PIECES = 9_999
Role = Literal["instructor", "trainee", "parts room", "visitor"]


class Opened(Struct, frozen=True, omit_defaults=True, tag_field="event", tag="opened"):
    """What the job is: the first event of a job."""

    goal: str
    machine: str = ""
    engine: str = ""
    variant: str = ""


class Joined(Struct, frozen=True, omit_defaults=True, tag_field="event", tag="joined"):
    """A person joined with a device, in a role."""

    person: str
    role: Role
    device: str


class ClosingHead(Struct, frozen=True, tag_field="event", tag="closing head"):
    """All that this device has on the job is before this."""

    hold: str


class HoldSet(Struct, frozen=True, omit_defaults=True, tag_field="event", tag="hold set"):
    """Work stops before `step` until `role` signs; `wants` is the verdict that is needed ("" any)."""

    hold: str
    step: str = ""
    joint: str = ""
    role: Role = "instructor"
    wants: str = ""
    words: str = ""


class Missing(Struct, frozen=True):
    """A device that sent no closing head, and why it is not waited for."""

    device: str
    reason: str


class Signed(Struct, frozen=True, omit_defaults=True, tag_field="event", tag="signed"):
    """A hold was signed on this evidence, with this verdict."""

    hold: str
    verdict: str
    evidence: str
    missing: tuple[Missing, ...] = ()
    self_check: bool = False
    words: str = ""


class Override(Struct, frozen=True, omit_defaults=True, tag_field="event", tag="override"):
    """A hold was opened against its verdict, with a written reason."""

    hold: str
    verdict: str
    evidence: str
    reason: str
    missing: tuple[Missing, ...] = ()
    self_check: bool = False
    words: str = ""


class Reopened(Struct, frozen=True, omit_defaults=True, tag_field="event", tag="reopened"):
    """What was signed for a hold counts no more."""

    hold: str
    reason: str = ""


class Setting(Struct, frozen=True, tag_field="event", tag="setting"):
    """A setting of the job."""

    name: str
    value: Any


class Edition(Struct, frozen=True, omit_defaults=True, tag_field="event", tag="edition"):
    """The job goes on by this edition of the model."""

    model: str
    words: str = ""


Decision = Opened | Joined | ClosingHead | HoldSet | Signed | Override | Reopened | Setting | Edition


def fits(body: Mapping[str, Any]) -> str:
    """What is wrong with a body of a known event, in words; empty when it fits."""
    for name in ("pieces", "count"):
        number = body.get(name)
        if isinstance(number, int) and not 0 <= number <= MOST_PIECES:
            return f"{name} is not between 0 and {MOST_PIECES}"
    try:
        if KIND_OF[body["event"]] == "decision":
            decision_of(body)
        else:
            job_event(body, "?", "?")
    except (msgspec.ValidationError, TypeError, RecursionError) as error:
        return f"its body does not fit ({error})"
    return ""


def decision_of(body: Mapping[str, Any]) -> Decision:
    """The decision that a body is."""
    made: Decision = msgspec.convert(dict(body), Decision)
    return made


def job_event(body: Mapping[str, Any], name: str, by: str) -> Event:
    """The event of the job's words that a body is, under this id."""
    made: Event = msgspec.convert({**body, "id": name, "by": by}, Event)
    return made
