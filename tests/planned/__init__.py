"""Short ways to write a small model by hand, for the tests of planning."""

from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import (
    EVERY,
    MODEL_SCHEMA,
    Applies,
    Deed,
    Machine,
    Procedure,
    Reference,
    ReferenceRole,
    ReferenceStatus,
    Step,
)


def page(number: int, words: str = "") -> tuple[Citation, ...]:
    return (Citation("m", PdfPlace(number, f"4-{number}"), words),)


def ref(  # noqa: PLR0913 - a test names only what it is about
    name: str,
    *to: str,
    role: ReferenceRole = "before",
    status: ReferenceStatus = "resolved",
    steps: tuple[str, str] | None = None,
    only_if: str = "",
    any_of: bool = False,
    applies: Applies = EVERY,
) -> Reference:
    """A reference with the id `name`, to procedures (or other things) with these ids."""
    first, last = steps or (None, None)
    words = f"see {' and '.join(to) or name}"
    return Reference(name, words, role, status, to, any_of, first, last, only_if, applies, page(7, words))


def step(mark: str, *references: Reference, **more: object) -> Step:
    """A step; its id is made when the procedure is."""
    return Step(mark, mark, f"Do step {mark}.", references=references, citations=page(8), **more)  # type: ignore[arg-type]


def proc(  # noqa: PLR0913 - a test names only what it is about
    name: str,
    *steps: Step | str,
    before: tuple[Reference, ...] = (),
    after: tuple[Reference, ...] = (),
    title: str = "",
    deed: Deed = "remove",
    parts: tuple[str, ...] = (),
    applies: Applies = EVERY,
    **more: object,
) -> Procedure:
    """A procedure whose id and number are `name`; step ids are "name.mark"."""
    from msgspec.structs import replace

    made = [step(one) if isinstance(one, str) else one for one in steps]
    return Procedure(
        name, name, title or f"Removing the {name}", deed, parts,
        tuple(replace(one, id=f"{name}.{one.mark}") for one in made),
        before, after, applies=applies, citations=page(3), **more,  # type: ignore[arg-type]
    )  # fmt: skip


def machine(*procedures: Procedure, **more: object) -> Machine:
    return Machine(MODEL_SCHEMA, "hand-made", procedures=procedures, **more)  # type: ignore[arg-type]
