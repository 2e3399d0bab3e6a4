"""A looked-up pointer as the model keeps it, and what it asks of its step."""

from lastbolt.reading.references import Directory
from lastbolt.reading.steps import RawReference, is_work
from lastbolt.reading.targets import Found, Target
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Reference, ReferenceRole


def made_reference(
    identity: str,
    raw: RawReference,
    found: Found,
    own: Target,
    role: ReferenceRole,
    cited: tuple[Citation, ...],
) -> Reference:
    """The reference as the model keeps it."""
    pointer = raw.pointer
    status, to = found.status, found.to
    own_id = own.procedure or own.id
    steps: tuple[str | None, str | None] = (pointer.from_step, pointer.to_step)
    steps = found.steps if found.steps[0] else steps
    if pointer.form not in ("steps", "reverse") and own_id in to and steps[0] is None:
        rest = tuple(t for t in to if t != own_id)
        status, to = ("self", to) if not rest else (status, rest)
    if to == (own_id,) and found.steps[0] and role == "before":
        role = "see"  # "Repeat 4.1.1" in 4.1
    if pointer.weak and pointer.form == "section" and own_id not in to:
        steps = None, None  # the numbers of operations, which turned out to be sections
    condition = pointer.exceptions if pointer.form == "reverse" else raw.condition
    return Reference(
        identity, raw.words, role, status, to, found.any_of and len(to) > 1,
        *steps, condition, raw.applies, cited, found.missing,
    )  # fmt: skip


def role_in_step(raw: RawReference, found: Found, directory: Directory) -> ReferenceRole:
    """What a pointer in a step asks: "remove it (see 4.2)" needs 4.2 done; "tighten (see 8.1)" informs."""
    if raw.pointer.form == "reverse":
        return "reverse of"
    if raw.pointer.form in ("steps", "table", "figure", "own", "elsewhere"):
        return "see"
    if raw.pointer.form == "demand":
        return "before"
    if raw.pointer.cue == "later":
        return "after"
    information = found.to and not any(directory.holds_work(to) for to in found.to)
    if information:
        return "see"
    return "before" if is_work(raw.deeds) or raw.pointer.cue == "perform" else "see"
