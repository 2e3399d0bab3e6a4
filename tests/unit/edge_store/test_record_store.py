"""The store on disk: idempotent, all or nothing, answered after the commit, and it tells who listens."""

import sqlite3
import threading
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from bench_devices import JOB, Device
from lastbolt.edge.store.record_store import Fresh, RecordStore, brought_on
from lastbolt.record.chains import Record, received
from lastbolt.words.problem import Refusal


@pytest.fixture
def store(tmp_path: Path) -> Iterator[RecordStore]:
    made = RecordStore(tmp_path / "records.db")
    yield made
    made.close()


def written(count: int, name: str = "a") -> Device:
    device = Device(name)
    for number in range(count):
        device.write("photo", joint="case", file=f"{number}.jpg")
    return device


def test_kept_once_known_after_and_refused_beside(store: RecordStore) -> None:
    lines = written(3).lines
    assert [r.status for r in store.append(JOB, [lines[0], b"nonsense", lines[2]]).result()] == [
        "kept",
        "refused",
        "kept",
    ]
    assert [r.status for r in store.append(JOB, lines).result()] == ["known", "kept", "known"]
    assert [one.line for one in store.read(JOB)] == [lines[0], lines[2], lines[1]]
    record = store.record(JOB)
    assert [event.hash for event in record.present] == [e.hash for e in received(JOB, lines).present]
    assert store.append("other", lines[:1]).result()[0].status == "refused"


def test_what_is_read_goes_on_after_a_number(store: RecordStore) -> None:
    lines = written(5).lines
    store.append(JOB, lines[:3]).result()
    record, number = brought_on(Record(JOB), store)
    assert (len(record), number) == (3, store.last(JOB))
    store.append(JOB, lines[3:]).result()
    assert [one.line for one in store.read(JOB, number)] == lines[3:]
    assert [one.line for one in store.read(JOB, number, 1)] == lines[3:4]
    assert len(brought_on(record, store, number)[0]) == 5


def test_many_at_once_lose_nothing(store: RecordStore) -> None:
    devices = [written(20, f"d{number}") for number in range(16)]

    def send(device: Device) -> None:
        for line in device.lines:
            assert store.append(JOB, [line]).result()[0].status == "kept"

    threads = [threading.Thread(target=send, args=(device,)) for device in devices]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(store.record(JOB)) == 320


def test_listeners_hear_what_is_new_and_only_that(store: RecordStore) -> None:
    heard: list[Fresh] = []

    def listen(fresh: Sequence[Fresh]) -> None:
        heard.extend(fresh)

    store.tell(listen)
    lines = written(2).lines
    store.append(JOB, lines).result()
    store.append(JOB, lines).result()
    store.close()
    assert [one.event.line for one in heard] == lines
    assert [one.number for one in heard] == [1, 2]


def test_work_that_fails_spoils_nothing_that_came_with_it(store: RecordStore) -> None:
    held = threading.Event()

    def wait(_: sqlite3.Connection) -> None:
        held.wait(10)

    def fail(database: sqlite3.Connection) -> None:
        database.execute("INSERT INTO people VALUES ('p', 'Ada')")
        raise ValueError("no")

    first = store.do(wait)
    failing = store.do(fail)
    kept = store.append(JOB, written(1).lines)
    held.set()
    first.result()
    assert kept.result()[0].status == "kept"
    with pytest.raises(ValueError, match="no"):
        failing.result()
    assert store.ask("SELECT count(*) FROM people") == [(0,)]
    assert len(store.record(JOB)) == 1


def test_it_is_there_when_opened_again_and_every_commit_is_synced(tmp_path: Path) -> None:
    path = tmp_path / "records.db"
    store = RecordStore(path)
    store.append(JOB, written(3).lines).result()
    settings = [store.do(lambda db, p=p: db.execute(f"PRAGMA {p}").fetchone()[0]).result()  # type: ignore[misc]
                for p in ("journal_mode", "synchronous")]  # fmt: skip
    assert settings == ["wal", 2]
    store.close()
    again = RecordStore(path)
    assert len(again.record(JOB)) == 3
    again.close()


def test_what_is_not_ours_is_left_alone(tmp_path: Path) -> None:
    other, text, later = tmp_path / "other.db", tmp_path / "text.db", tmp_path / "later.db"
    with sqlite3.connect(other) as made:
        made.execute("CREATE TABLE theirs (x)")
    made.close()
    text.write_text("not a database, and long enough to look like one\n" * 100)
    RecordStore(later).close()
    with sqlite3.connect(later) as made:
        made.execute("PRAGMA user_version=99")
    made.close()
    for path in (other, text, later, tmp_path / "no" / "folder.db"):
        with pytest.raises(Refusal) as refused:
            RecordStore(path)
        assert [problem.code for problem in refused.value.problems] == ["LB-E40"]
