"""Small machines made by hand: a step with what it names, a procedure, a parts row, the lines of a plan."""

from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import (
    EVERY,
    MODEL_SCHEMA,
    Applies,
    Caution,
    Deed,
    Figure,
    Machine,
    Mention,
    PartsRow,
    Procedure,
    Reference,
    Section,
    Step,
    TableRow,
)
from lastbolt.words.plan import Line, RequiredBy
from lastbolt.words.quantity import UNSAID, Kind, Per, Quantity, exactly

M6X20 = Kind("screw", "M6", 20.0)
M8X20 = Kind("screw", "M8", 20.0)
M8X55 = Kind("screw", "M8", 55.0)
M8X70 = Kind("screw", "M8", 70.0)
REMAINING = Quantity("remaining", words="the remaining two")
AS_REQUIRED = Quantity("as required", words="AR")


def per(count: int, what: Per) -> Quantity:
    """ "two each side"."""
    return Quantity("exactly", count, count, what)


def cited(source: str, page: int, words: str = "", top: float = 0.1) -> tuple[Citation, ...]:
    """One citation of a page."""
    return (Citation(source, PdfPlace(page, f"p{page}", (0.1, top, 0.9, top + 0.02)), words),)


def names(
    name: str, deed: Deed = "remove", count: int | Quantity = UNSAID, kind: Kind | None = None, row: str = ""
) -> Mention:
    """What a step names; `row`: "2/4" for item 4 of figure 2 (several: "2/4 2/5")."""
    quantity = exactly(count) if isinstance(count, int) else count
    return Mention(name, deed, quantity, kind, rows=tuple(f"list/row/{one}" for one in row.split()))


def step(  # noqa: PLR0913 - a test names only what it is about
    mark: str,
    words: str,
    *mentions: Mention,
    deeds: tuple[Deed, ...] | None = None,
    references: tuple[Reference, ...] = (),
    cautions: tuple[Caution, ...] = (),
    locks: tuple[str, ...] = (),
    renew: tuple[str, ...] = (),
    left_hand: bool = False,
    condition: str = "",
    applies: Applies = EVERY,
) -> Step:
    """A step; its id is completed by `proc`."""
    said = tuple(dict.fromkeys(m.deed for m in mentions)) if deeds is None else deeds
    return Step(
        mark, mark, words, said, mentions, references, cautions,
        locks=locks, renew=renew, left_hand=left_hand, condition=condition, applies=applies,
    )  # fmt: skip


def proc(  # noqa: PLR0913 - a test names only what it is about
    number: str,
    title: str,
    deed: Deed,
    part: str,
    *steps: Step,
    after: tuple[str, ...] = (),
    tools: tuple[str, ...] = (),
    materials: tuple[str, ...] = (),
    text: str = "",
    page: int = 1,
) -> Procedure:
    """A section of the manual with its steps; `after`: numbers of its follow-on."""
    made = tuple(
        Step(
            f"book/step/{number}/{s.mark}", s.mark, s.words, s.deeds, s.mentions, s.references, s.cautions,
            locks=s.locks, renew=s.renew, left_hand=s.left_hand, condition=s.condition, applies=s.applies,
            citations=cited("book", page, s.words),
        )
        for s in steps
    )  # fmt: skip
    follow = tuple(
        Reference(f"book/r/{number}/{n}", f"install ({n})", "after", "resolved", (f"book/procedure/{n}",))
        for n in after
    )
    return Procedure(
        f"book/procedure/{number}", number, title, deed, (part,) if part else (), made,
        after=follow, tools=tools, materials=materials, text=text, citations=cited("book", page, title),
    )  # fmt: skip


def reverse_of(number: str, words: str = "Installation is the reverse of removal.") -> tuple[Reference, ...]:
    """The reference of "installation is the reverse of removal"."""
    to = (f"book/procedure/{number}",) if number else ()
    return (Reference(f"book/r/reverse/{number}", words, "reverse of", "resolved", to),)


def row(  # noqa: PLR0913, PLR0917 - a test names only what it is about
    place: str,
    name: str,
    count: int | Quantity = 1,
    kind: Kind | None = None,
    number: str = "",
    renew: bool = False,
    applies: Applies = EVERY,
    more: str = "",
) -> PartsRow:
    """A row of the parts list: "2/4" is item 4 of figure 2; `more` tells two rows of one item apart."""
    figure, item = place.split("/")
    quantity = exactly(count) if isinstance(count, int) else count
    return PartsRow(
        f"list/row/{place}{more}", "list", figure, item, number, name, quantity, kind,
        renew=renew, applies=applies, citations=cited("list", 10 + int(figure), name),
    )  # fmt: skip


def figure(number: str, title: str) -> Figure:
    """A figure of the parts list."""
    return Figure(f"list/figure/{number}", number, title, "list", parts_figure=True)


def table_line(item: str, name: str, count: int, kind: Kind, figure_: str = "", page: int = 1) -> TableRow:
    """A line of the manual's own table of screws."""
    return TableRow(
        f"book/bolt-row/t/{item or name}", "book", "Table 4-1 Case screws", name, exactly(count), kind, item,
        figure_, citations=cited("book", page, f"{item} | {name} | {count}", 0.6),
    )  # fmt: skip


def machine(*things: Procedure | PartsRow | Figure | TableRow | Section) -> Machine:
    """A machine of these things, in the order given."""
    return Machine(
        MODEL_SCHEMA,
        "winch",
        procedures=tuple(t for t in things if isinstance(t, Procedure)),
        rows=tuple(t for t in things if isinstance(t, PartsRow)),
        figures=tuple(t for t in things if isinstance(t, Figure)),
        bolt_rows=tuple(t for t in things if isinstance(t, TableRow)),
        sections=tuple(t for t in things if isinstance(t, Section)),
    )


def lines_of(made: Machine, *numbers: str) -> tuple[Line, ...]:
    """The plan's lines for these sections, all still to do."""
    found: list[Line] = []
    for number in numbers:
        procedure = next(p for p in made.procedures if p.number == number)
        why = RequiredBy("goal")
        found.append(
            Line(
                procedure.id, "opening", procedure.id, why, procedure.cautions, procedure.title,
                procedure.number, citations=procedure.citations,
            )
        )  # fmt: skip
        found += [
            Line(
                s.id, "step", procedure.id, why, s.cautions, s.words, procedure.number, s.mark, s.id,
                mentions=s.mentions, locks=s.locks, left_hand=s.left_hand, renew=s.renew, tools=s.tools,
                citations=s.citations,
            )
            for s in procedure.steps
        ]  # fmt: skip
    return tuple(found)
