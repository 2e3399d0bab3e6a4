"""Which events there are, of which kind each is, and what each speaks of.

An observation is never refused and always adds up; an act is a value of what it was done to; a decision is a
permission and can be refused.
"""

from collections.abc import Mapping
from typing import Any, Literal

from msgspec import Struct

EventKind = Literal["observation", "act", "decision"]

_OBSERVATIONS = (
    "looked", "went round", "counted", "photo", "heads stand", "measured", "zero checked",
    "reading confirmed", "tool taken", "found bad", "handed over", "won't move",
)  # fmt: skip
_ACTS = (
    "step started", "step done", "procedure done", "undone", "took out", "put in", "tightened", "slackened",
    "laid in", "taken away", "renewed", "won't close", "found why", "holder settled", "set aside",
    "question answered",
)  # fmt: skip
_DECISIONS = (
    "opened", "joined", "closing head", "hold set", "signed", "reopened", "override", "setting", "edition",
)  # fmt: skip

KIND_OF: dict[str, EventKind] = {
    **dict.fromkeys(_OBSERVATIONS, "observation"),
    **dict.fromkeys(_ACTS, "act"),
    **dict.fromkeys(_DECISIONS, "decision"),
}

MODEL_EDITION = "model"
_ONE_SUBJECT = {
    "step started": ("step", "step"),
    "step done": ("step", "step"),
    "procedure done": ("procedure", "procedure"),
    "holder settled": ("holder", "holder"),
    "question answered": ("question", "question"),
    "set aside": ("reference", "reference"),
    "laid in": ("thing", "thing"),
    "taken away": ("thing", "thing"),
    "hold set": ("hold", "hold"),
    "signed": ("hold", "hold"),
    "override": ("hold", "hold"),
    "reopened": ("hold", "hold"),
    "closing head": ("hold", "hold"),
    "setting": ("setting", "name"),
}
"""Events about one thing: its sort, and the field that names it."""


class Subject(Struct, frozen=True, omit_defaults=True, order=True):
    """What an event speaks of. `occupancy`: of a place, the n-th fastener there, from 1; 0: not said."""

    sort: str
    id: str
    joint: str = ""
    occupancy: int = 0

    def bare(self) -> "Subject":
        """The same, whichever fastener it was."""
        return Subject(self.sort, self.id, self.joint) if self.occupancy else self


def places_named(body: Mapping[str, Any]) -> tuple[str, ...]:
    """The places that the body of an event names, each once."""
    named = [str(place) for place in body.get("places") or ()]
    answered = [*(body.get("answers") or ()), *((body.get("round") or {}).get("answers") or ())]
    named += [str(one["place"]) for one in (*answered, *(body.get("proud") or ()))]
    return tuple(dict.fromkeys(named))


def subjects_of(body: Mapping[str, Any], occupancies: Mapping[str, int] | None = None) -> tuple[Subject, ...]:
    """What an event with this body must speak of; `occupancies`: which fastener it was, place by place."""
    tag, joint = str(body.get("event", "")), str(body.get("joint", ""))
    at = occupancies or {}
    found = [Subject("place", place, joint, at.get(place, 0)) for place in places_named(body)]
    if tag == "edition":
        found.append(Subject("edition", MODEL_EDITION))
    elif one := _ONE_SUBJECT.get(tag):
        sort, field = one
        found.append(Subject(sort, str(body.get(field, "")), joint if sort == "holder" else ""))
    return tuple(found)
