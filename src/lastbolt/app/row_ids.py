"""Rows named by the ids of another edition: the same figure and item of a list whose file has another name.

An id begins with its source ("parts/row/7/3"), and a source is called after its file. A walk made beside the
old edition stays good for the new one.
"""

from collections import defaultdict

from msgspec.structs import replace

from lastbolt.app.gather_documents import Documents
from lastbolt.tally.layout import may_be
from lastbolt.tally.unused import taken_for
from lastbolt.words.engine import Engine
from lastbolt.words.job import Counted, Event, Job, PutIn, TookOut
from lastbolt.words.joint import Walk
from lastbolt.words.machine import Machine, PartsRow
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import Kind


def with_rows_found(documents: Documents) -> tuple[Documents, tuple[Problem, ...]]:
    """The documents, each row that the model does not know under the only id that ends like it; and which.

    A row of another size than the places that name it have is not taken for the same.
    """
    if documents.machine is None:
        return documents, ()
    ids = _Ids(documents.machine, documents.walks)
    found = replace(
        documents,
        walks=tuple(_walk(walk, ids) for walk in documents.walks),
        engine=_engine(documents.engine, ids),
        job=_job(documents.job, ids),
    )
    return found, tuple(taken_for(name, row.id, row.name) for name, row in ids.taken.items())


class _Ids:
    def __init__(self, machine: Machine, walks: tuple[Walk, ...]) -> None:
        self.known = {row.id for row in machine.rows}
        self.taken: dict[str, PartsRow] = {}
        self.by_tail: dict[str, list[PartsRow]] = defaultdict(list)
        for row in machine.rows:
            self.by_tail[_tail(row.id)].append(row)
        self.said: dict[str, list[Kind]] = defaultdict(list)
        for walk in walks:
            tied = {place: tie.line for tie in walk.ties for place in tie.places}
            for place in walk.places:
                for line in (*place.lines, *([tied[place.id]] if place.id in tied else ())):
                    self.said[line] += [place.kind] if place.kind else []

    def of(self, name: str) -> str:
        if name in self.known or "/row/" not in name:
            return name
        same = self.by_tail.get(_tail(name), [])
        if len(same) != 1 or not all(may_be(kind, same[0].kind) for kind in self.said[name]):
            return name
        self.taken[name] = same[0]
        return same[0].id

    def maybe(self, name: str | None) -> str | None:
        return self.of(name) if name else name


def _tail(name: str) -> str:
    return name.partition("/row/")[2]


def _walk(walk: Walk, ids: _Ids) -> Walk:
    places = tuple(replace(p, lines=tuple(ids.of(line) for line in p.lines)) for p in walk.places)
    return replace(walk, places=places, ties=tuple(replace(tie, line=ids.of(tie.line)) for tie in walk.ties))


def _engine(engine: Engine | None, ids: _Ids) -> Engine | None:
    if engine is None:
        return None
    return replace(engine, as_found=tuple(replace(f, line=ids.maybe(f.line)) for f in engine.as_found))


def _job(job: Job | None, ids: _Ids) -> Job | None:
    return None if job is None else replace(job, events=tuple(_event(event, ids) for event in job.events))


def _event(event: Event, ids: _Ids) -> Event:
    if isinstance(event, TookOut | PutIn | Counted):
        return replace(event, line=ids.maybe(event.line))
    return event
