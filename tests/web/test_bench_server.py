"""The bench's server over real connections: joining, sending, signing, streams, and what it turns away."""

import http.client
import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from bench_devices import Device
from lastbolt.edge.bench_web.limits import Limits, Pace
from lastbolt.record.verifying import verify_record
from web.bench_client import M6, PLACES, Bench, Joined, served


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    with served(tmp_path_factory.mktemp("bench") / "s.db") as bench:
        yield bench


@pytest.fixture
def bench(running: Bench) -> Bench:
    """The same server with a job of its own for each test."""
    jobs = running.room.jobs
    job = jobs.open_job(goal="split the case")
    hold = {"hold": "h", "step": "pull", "joint": "case", "role": "instructor", "wants": "free"}
    jobs.write(job, {"event": "hold set", **hold})
    running.room.entering._limits = Limits(Pace(1000, 1000))
    return running._replace(job=job)


def cleared(one: Joined) -> None:
    """Take everything out, go round, count."""
    device = one.device
    device.write("took out", joint="case", places=list(PLACES), kind=M6)
    answers = [{"place": place, "saw": ["light through"]} for place in PLACES]
    made = {"id": "r", "by": device.by, "guided": True, "complete": True, "answers": answers}
    device.write("went round", joint="case", round=made)
    device.write("counted", joint="case", kind=M6, pieces=3)


def test_from_joining_to_a_signature_that_lapses(bench: Bench) -> None:
    one, two = bench.join("Ada"), bench.join("Ben")
    chief = bench.join("Cleo", "instructor")
    for device in (one, two, chief):
        device.fetch()
    cleared(one)
    assert [r["status"] for r in one.send().json["receipts"]] == ["kept"] * 3
    two.fetch()
    answers = [{"place": place, "saw": ["light through"]} for place in PLACES]
    made = {"id": "r2", "by": two.device.by, "guided": True, "complete": True, "answers": answers}
    two.device.write("went round", joint="case", round=made)
    for joined in (one, two):
        joined.device.write("closing head", hold="h")
        assert joined.send().status == 200
    chief.fetch()
    plan = chief.ask("GET", "plan").json
    assert (plan["tally"]["verdict"], plan["tally"]["clear_to_part"]) == ("free", True)
    assert plan["walks"][0]["joint"] == "case"
    name = chief.device.sign("h")
    chief.send()
    (hold,) = one.state()["holds"]
    assert (hold["open"], [s["state"] for s in hold["signatures"]]) == (True, ["standing"])
    seen = two.device.write("looked", joint="case", answers=[{"place": "p2", "saw": ["in"]}])
    two.send()
    (hold,) = one.state()["holds"]
    assert not hold["open"]
    assert [(s["signature"], s["state"], s["events"]) for s in hold["signatures"]] == [
        (name, "lapsed", [seen])
    ]


def test_sending_twice_in_parts_and_out_of_order_ends_alike(bench: Bench) -> None:
    one = bench.join("Ada")
    cleared(one)
    lines = one.device.lines
    assert [r["status"] for r in one.send(lines[2], lines[0]).json["receipts"]] == ["kept", "kept"]
    state = one.state()
    assert [len(state["waiting"]), [p["code"] for p in state["problems"]]] == [1, ["LB-E52"]]
    assert [r["status"] for r in one.send().json["receipts"]] == ["known", "kept", "known"]
    assert one.state()["waiting"] == []
    got = one.ask("GET", "events?after=0")
    assert set(lines) <= set(got.body.splitlines())
    assert one.ask("GET", f"events?after={got.headers['lastbolt-next']}").body == b""


def test_what_one_device_may_not_say(bench: Bench) -> None:
    one, two = bench.join("Ada"), bench.join("Ben")
    visitor, parts = bench.join("Vera", "visitor"), bench.join("Paul", "parts room")
    one.device.write("photo", joint="case", file="1")
    before = len(bench.store.record(bench.job))
    assert two.send(*one.device.lines).code == "LB-E62"
    forged = Device(one.device.name, two.device.by, bench.job)
    forged.write("photo", joint="case", file="1")
    assert one.send(*forged.lines).status == 403
    one.device.write("override", hold="h", verdict="held", evidence="0" * 64, reason="hurry")
    visitor.device.write("photo", joint="case", file="2")
    parts.device.write("took out", joint="case", places=["p1"])
    assert len(bench.store.record(bench.job)) == before, "nothing of this was kept"
    for joined, said in ((one, ["kept", "refused"]), (visitor, ["refused"]), (parts, ["refused"])):
        receipts = joined.send().json["receipts"]
        assert [receipt["status"] for receipt in receipts] == said
        assert receipts[-1]["problem"]["code"] == "LB-E62"
    written = bench.room.jobs.device
    stranger = Device(written, written, bench.job)
    stranger.write("joined", person=one.device.by, role="instructor", device=one.device.name)
    assert one.send(*stranger.lines).status == 403


def test_another_bench_no_token_and_a_wrong_one(bench: Bench) -> None:
    one = bench.join("Ada")
    other = bench.room.jobs.open_job(goal="another")
    assert one.ask("GET", f"/api/jobs/{other}/state").code == "LB-E62"
    assert one.ask("POST", f"/api/jobs/{other}/events", b"").status == 403
    assert one.ask("GET", "/api/jobs").code == "LB-E62"
    assert one.ask("GET", "/api/stream").status == 403
    assert one.ask("POST", "/api/jobs", b"").status == 403
    for path in ("state", "plan", "events", "export", "stream"):
        assert bench.ask("GET", f"/api/jobs/{bench.job}/{path}").code == "LB-E61"
        assert bench.ask("GET", f"/api/jobs/{bench.job}/{path}?token=x").status == 401
    instructor = bench.join("Cleo", code=bench.room.people.code_of("", "instructor"))
    assert instructor.ask("GET", "/api/jobs/none/state").code == "LB-E63"


NAMED = b'"device":"device-x","name":"x"}'


@pytest.mark.parametrize(
    ("wish", "status"),
    [
        (b"", 400),
        (b"[]", 400),
        (b"[" * 5_000, 400),
        (b'{"code":"AAAAAA",' + NAMED, 403),
        (b'{"code":"CODE","device":"../../x","name":"x"}', 400),
        (b'{"code":"CODE","device":"device-x","name":" "}', 400),
        (b'{"code":"CODE+AAAA",' + NAMED, 403),
        (b'{"code":"CODE+CODE",' + NAMED, 403),
    ],
)
def test_joining_wrongly(bench: Bench, wish: bytes, status: int) -> None:
    wish = wish.replace(b"CODE", bench.code().encode())
    reply = bench.ask("POST", "/api/join", wish)
    assert reply.status == status
    assert set(reply.json) == {"problem"}


def test_a_code_is_read_as_people_type_it_and_names_are_plain(bench: Bench) -> None:
    code = bench.code().lower()
    one = bench.join("<b>Ada</b>\u202e  x", code=f"{code[:3]}-{code[3:]} ")
    names = one.ask("GET", "/api/people").json
    assert names[one.device.by] == "<b>Ada</b> x"
    lines = b"".join(event.line for event in bench.store.record(bench.job).present)
    assert b"<b>" not in lines, "names are in no event"


def test_an_instructor_joins_from_elsewhere_only_where_nobody_reads_along(bench: Bench) -> None:
    entering = bench.room.entering
    wish = json.dumps({"code": bench.code("instructor"), "device": "device-far", "name": "Far"}).encode()
    with pytest.raises(Exception, match="An instructor joins from this machine"):
        entering.join(wish, "192.0.2.77")
    assert entering.join(wish, "127.0.0.1")["role"] == "instructor"


def test_guessing_codes_is_slow_and_a_token_has_its_pace() -> None:
    limits = Limits(Pace(3, 0.5))
    assert [limits.take("a", 0.0) for _ in range(4)] == [True, True, True, False]
    assert limits.take("b", 0.0)
    assert [limits.take("a", now) for now in (1.0, 3.0, 3.1)] == [False, True, False]


def test_what_is_too_long_or_from_elsewhere_is_turned_away(bench: Bench) -> None:
    one = bench.join("Ada")
    assert one.send(b"x" * (257 << 10)).status == 413
    assert one.ask("POST", "events", b"\n".join([b"{}"] * 501)).code == "LB-E65"
    assert one.ask("GET", "events?after=-1").code == "LB-E65"
    assert one.ask("DELETE", "state").status == 405
    assert one.ask("GET", "state", origin="http://evil.example").status == 403
    assert one.ask("POST", "events", b"x", transfer_encoding="chunked").status in (400, 411)
    assert [r["status"] for r in one.send(b"nonsense", b"\xff").json["receipts"]] == ["refused"] * 2


def test_every_answer_carries_the_policy_and_no_path_leads_out(bench: Bench) -> None:
    page = bench.ask("GET", "/")
    assert page.status == 200
    for reply in (page, bench.ask("GET", "/../people.py"), bench.ask("GET", "/%2e%2e%2fpeople.py")):
        assert "default-src 'none'" in reply.headers["content-security-policy"]
        assert reply.headers["x-content-type-options"] == "nosniff"
    assert bench.ask("GET", "/people.py").status == 404
    assert bench.ask("GET", "/%2e%2e%2fpeople.py").status == 404


def events_of(stream: http.client.HTTPResponse, count: int) -> list[tuple[int, bytes]]:
    """The next so many events of a stream."""
    found: list[tuple[int, bytes]] = []
    number = 0
    while len(found) < count:
        line = stream.readline().rstrip(b"\n")
        if line.startswith(b"id: "):
            number = int(line[4:])
        elif line.startswith(b"data: "):
            found.append((number, line[6:]))
    return found


def test_a_stream_gives_what_there_is_then_what_comes_and_goes_on_where_it_broke_off(bench: Bench) -> None:
    one = bench.join("Ada")
    link = http.client.HTTPConnection("127.0.0.1", bench.port, timeout=20)
    link.request("GET", f"/api/jobs/{bench.job}/stream?token={one.token}")
    stream = link.getresponse()
    assert stream.headers["content-type"].startswith("text/event-stream")
    first = events_of(stream, 3)
    one.device.write("photo", joint="case", file="1")
    one.send()
    ((number, line),) = events_of(stream, 1)
    assert line == one.device.lines[0]
    link.close()
    link.request("GET", f"/api/jobs/{bench.job}/stream?token={one.token}",
                 headers={"Last-Event-ID": str(first[-1][0])})  # fmt: skip
    assert events_of(link.getresponse(), 1) == [(number, line)]
    link.close()


def test_the_instructor_hears_of_every_bench_and_moves_jobs_out_and_in(bench: Bench, tmp_path: Path) -> None:
    one = bench.join("Ada")
    chief = bench.join("Cleo", code=bench.room.people.code_of("", "instructor"))
    link = http.client.HTTPConnection("127.0.0.1", bench.port, timeout=20)
    link.request("GET", f"/api/stream?token={chief.token}&after={one.state()['next']}")
    stream = link.getresponse()
    one.device.write("photo", joint="case", file="1")
    one.send()
    ((_, said),) = events_of(stream, 1)
    assert json.loads(said) == {"job": bench.job, "number": one.state()["next"], "hash": one.device.previous}
    link.close()
    listed = {job["job"]: job for job in chief.ask("GET", "/api/jobs").json}
    assert listed[bench.job]["code"] == bench.code()
    assert "device-Ada" in [device["device"] for device in listed[bench.job]["devices"]]
    exported = chief.ask("GET", "export").body
    assert verify_record(exported.splitlines()).whole
    with served(tmp_path / "other.db") as other:
        there = other.join("Cleo", code=other.room.people.code_of("", "instructor"))
        told = there.ask("POST", "/api/jobs", exported).json
        assert told == {
            "job": bench.job,
            "receipts": {"kept": len(exported.splitlines()) - 1, "known": 0, "refused": 0},
        }
        assert other.store.export(bench.job) == exported
        assert there.ask("POST", "/api/jobs", b"nonsense").code == "LB-E30"
