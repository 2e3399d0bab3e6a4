"""Why a signature is refused: by what it had seen itself, so that every device says the same."""

from collections.abc import Callable, Iterator

from lastbolt.record.bodies import HoldSet, Override, Signed, decision_of
from lastbolt.record.chains import Record
from lastbolt.record.holds import evidence_digest, hold_of, touches
from lastbolt.record.sealed import Hash, SealedEvent, Unsealed, read_line, seal
from lastbolt.record.undo import standing_acts, standing_events
from lastbolt.words.problem import Problem

Opening = Signed | Override
SERVER_WRITES = "opened"
NO_WORK = ("question answered", "set aside")


def signature_faults(record: Record, name: Hash) -> tuple[Problem, ...]:
    """What is wrong with a signature or an override; empty when it counts."""
    event = record.event(name)
    said = decision_of(event.body)
    assert isinstance(said, Opening)
    seen = record.view(event.named)
    state = hold_of(seen, said.hold)
    hold = state.set
    if hold is None:
        what = "people set it differently" if state.conflict else "nobody had set it"
        do = "Set the hold, or set it again with both in view; then sign."
        found = [_problem("LB-E12", f"The hold cannot be signed: {what}.", said.hold, do)]
        return (*_barrier(seen, event, said), *found)
    checks: tuple[Callable[[], Iterator[Problem]], ...] = (
        lambda: _barrier(seen, event, said),
        lambda: _evidence(record, event, said),
        lambda: _verdict(said, hold),
        lambda: _role(seen, event, said, hold),
        lambda: _own_work(seen, event, said, hold),
        lambda: _second_walk(seen, event, said, hold),
        lambda: _alone(seen, event, said, hold),
        lambda: _reason(said),
    )
    return tuple(problem for check in checks for problem in check())


def may_sign(record: Record, proposal: Unsealed) -> tuple[Problem, ...]:
    """What would be wrong with a signature that is not sealed yet."""
    event = read_line(seal(proposal))
    tried = record.view(one.hash for one in record.present)
    tried.take(event)
    return signature_faults(tried, event.hash)


def _problem(code: str, what: str, hold: str, do: str) -> Problem:
    return Problem(code, what, f'hold "{hold}"', do, "stop")


def _barrier(seen: Record, event: SealedEvent, said: Opening) -> Iterator[Problem]:
    """Every joined device has said that all it has is sent, or is named as missing with a reason."""
    last: dict[str, list[SealedEvent]] = {}
    server = set()
    for one in seen.present:
        if one.tag == "joined":
            last.setdefault(str(one.body["device"]), [])
        if one.tag == SERVER_WRITES:
            server.add(one.device)
        last[one.device] = [*_not_before(seen, last.get(one.device, []), one), one]
    excused = {one.device for one in said.missing if one.reason.strip()}
    for device in sorted(set(last) - server - excused - {event.device}):
        ends = last[device]
        if not ends or not all(_closes(end, said.hold) for end in ends):
            what = f'The device "{device}" has not said that all it has is sent.'
            do = "Have it send its closing head, or name it as missing, with the reason."
            yield _problem("LB-E11", what, said.hold, do)


def _closes(end: SealedEvent, hold: str) -> bool:
    return end.tag == "closing head" and str(end.body["hold"]) == hold


def _not_before(seen: Record, last: list[SealedEvent], one: SealedEvent) -> list[SealedEvent]:
    return [old for old in last if not seen.before(old.hash, one.hash)]


def _evidence(record: Record, event: SealedEvent, said: Opening) -> Iterator[Problem]:
    if said.evidence != evidence_digest(record, event.hash):
        what = "It was signed for other evidence than was before it."
        yield _problem("LB-E13", what, said.hold, "Load the job again, look at the verdict, and sign afresh.")


def _verdict(said: Opening, hold: HoldSet) -> Iterator[Problem]:
    if isinstance(said, Signed) and hold.wants and said.verdict != hold.wants:
        what = f'The verdict was "{said.verdict}", and this hold wants "{hold.wants}".'
        do = "Settle what is open and sign then; against the verdict only an instructor's override opens it."
        yield _problem("LB-E14", what, said.hold, do)


def role_of(seen: Record, person: str) -> str:
    """The role in which a person joined last; empty when that is not one role."""
    last: list[SealedEvent] = []
    for one in seen.present:
        if one.tag == "joined" and str(one.body["person"]) == person:
            last = [*_not_before(seen, last, one), one]
    roles = {str(one.body["role"]) for one in last}
    return roles.pop() if len(roles) == 1 else ""


def _role(seen: Record, event: SealedEvent, said: Opening, hold: HoldSet) -> Iterator[Problem]:
    wanted = "instructor" if isinstance(said, Override) else hold.role
    if isinstance(said, Signed) and said.self_check:
        return
    if (role := role_of(seen, event.by)) != wanted:
        what = f"This hold is opened by the role {wanted}, and not by {role or 'one who joined in no role'}."
        yield _problem("LB-E15", what, said.hold, f"Have the {wanted} sign, at the bench.")


def _own_work(seen: Record, event: SealedEvent, said: Opening, hold: HoldSet) -> Iterator[Problem]:
    if isinstance(said, Override) or said.self_check:
        return
    for act in standing_acts(seen):
        if act.by == event.by and act.tag not in NO_WORK and touches(act, hold.joint):
            what = "Who did the work cannot sign for it."
            do = "Have somebody else of that role sign, or sign as a self-check after a second walk."
            yield _problem("LB-E16", what, said.hold, do)
            return


def _alone(seen: Record, event: SealedEvent, said: Opening, hold: HoldSet) -> Iterator[Problem]:
    """A self-check is for one who has nobody of that role to ask."""
    if isinstance(said, Override) or not said.self_check:
        return
    joined = {str(one.body["person"]) for one in seen.present if one.tag == "joined"} - {event.by}
    if any(role_of(seen, person) == hold.role for person in joined):
        what = f"Somebody of the role {hold.role} is in this job: a self-check does not stand for them."
        yield _problem("LB-E19", what, said.hold, f"Have the {hold.role} sign, at the bench.")


def _second_walk(seen: Record, event: SealedEvent, said: Opening, hold: HoldSet) -> Iterator[Problem]:
    if isinstance(said, Override) or not said.self_check:
        return
    ways = set()
    for one in standing_events(seen):
        if one.tag == "went round" and one.by == event.by and str(one.body["joint"]) == hold.joint:
            made = one.body["round"]
            if made.get("guided") and made.get("complete"):
                ways.add(made.get("direction", ""))
    if not {"clockwise", "anticlockwise"} <= ways:
        what = "A self-check needs a second walk in the other direction."
        yield _problem(
            "LB-E17", what, said.hold, "Go round once clockwise and once anticlockwise; then sign."
        )


def _reason(said: Opening) -> Iterator[Problem]:
    if isinstance(said, Override) and not said.reason.strip():
        what = "An override says why."
        yield _problem("LB-E18", what, said.hold, "Write the reason; it stays with the job.")
