"""What steps say of the rows of the parts list: counts and sizes that agree, and those that do not."""

from collections import defaultdict
from collections.abc import Iterator

from lastbolt.planning.counts_of_steps import counted, plain
from lastbolt.planning.disagreements import disagreements
from lastbolt.planning.rows_meant import RowsMeant, short
from lastbolt.words.compared import Finding, Matter, Side, Term
from lastbolt.words.machine import Machine, Mention, PartsRow, Procedure, Step
from lastbolt.words.problem import Problem

_MATTERS: dict[str, Matter] = {"LB-B01": "count", "LB-B02": "size", "LB-B03": "size", "LB-B04": "size"}
_Said = tuple[Procedure, Step, Mention]


def steps_and_rows(machine: Machine) -> Iterator[Finding]:
    """The disagreements that a plan would tell, and every row whose count a step gives alike."""
    told: set[str] = set()
    cited = {citation: row.id for row in machine.rows for citation in row.citations}
    for problem in disagreements(machine):
        told |= {cited[citation] for citation in problem.citations if citation in cited}
        yield _of_problem(problem)
    book = RowsMeant(machine)
    said: dict[tuple[str, ...], list[_Said]] = defaultdict(list)
    rows: dict[tuple[str, ...], tuple[PartsRow, ...]] = {}
    for procedure in machine.procedures:
        for step in procedure.steps:
            for mention in step.mentions:
                meant = book.of_mention(mention, procedure)
                if meant.named and plain(mention.quantity) is not None:
                    key = tuple(row.id for row in meant.rows)
                    said[key].append((procedure, step, mention))
                    rows[key] = meant.rows
    for key, some in said.items():
        printed = counted(rows[key])
        if printed is None or told & set(key):
            continue
        finding = _agreeing(rows[key], printed, some)
        if finding is not None:
            yield finding


def _of_problem(problem: Problem) -> Finding:
    sides = tuple(
        Side(citation.source, citation.words, citations=(citation,)) for citation in problem.citations
    )
    what, _, why = problem.what.partition(": ")
    matter = _MATTERS.get(problem.code, "count")
    return Finding("disagree", matter, what, sides, why or problem.what, code=problem.code)


def _agreeing(rows: tuple[PartsRow, ...], printed: frozenset[int], some: list[_Said]) -> Finding | None:
    """The row and the first procedure whose steps give its count, at once or together."""
    by_procedure: dict[str, list[_Said]] = defaultdict(list)
    for one in some:
        by_procedure[one[0].id].append(one)
    for here in by_procedure.values():
        counts = [plain(mention.quantity) or 0 for _, _, mention in here]
        alone = [one for one, count in zip(here, counts, strict=True) if count in printed]
        if not alone and sum(counts) not in printed:
            continue
        taken = alone[:1] or here
        terms = tuple(_term(*one) for one in taken)
        total = sum(term.count or 0 for term in terms)
        listed = Side(
            rows[0].source, " or ".join(str(count) for count in sorted(printed)), total=total,
            citations=tuple(citation for row in rows for citation in row.citations[:1]),
        )  # fmt: skip
        added = " + ".join(str(term.count) for term in terms)
        steps = Side(
            terms[0].where if len(terms) == 1 else "its steps",
            added if len(terms) == 1 else f"{added} = {total}",
            terms, total, citations=tuple(citation for term in terms for citation in term.citations),
        )  # fmt: skip
        place = f"figure {short(rows[0].figure)}, item {rows[0].item}, " if rows[0].item else ""
        return Finding("agree", "count", f"{place}{rows[0].name}", (listed, steps))
    return None


def _term(procedure: Procedure, step: Step, mention: Mention) -> Term:
    where = f"{procedure.number or procedure.title} step {step.mark}".removesuffix(" step ")
    return Term(where, plain(mention.quantity), words=mention.quantity.words, citations=step.citations[:1])
