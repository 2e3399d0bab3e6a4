"""Damaged JSON documents (RFC 8259) of every kind the program takes, and damaged typed lines.

Each case has all documents of one joint; one of them is damaged. Whatever the damage, no answer may call the
joint
clear to part when a screw is still in, nor when a part of a document was not read.
"""

import json
import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

from failure.damaged import document_seeds as seeds
from failure.damaged.cases import OUT, Case, Kind, cut, flipped, mangled

BENCH = ("walk.json", "job.json", "engine.json")
TALLY = (
    "tally",
    "--model",
    "model.json",
    "--walk",
    "walk.json",
    "--job",
    "job.json",
    "--engine",
    "engine.json",
    "--goal",
    seeds.GOAL,
)
PLAN = (
    "plan",
    seeds.GOAL,
    "--model",
    "model.json",
    "--job",
    "job.json",
    "--engine",
    "engine.json",
    "--out",
    OUT,
)
CHANGES = ("changes", "model.json", "new.json", "--job", "job.json", "--plan", "plan.json")
USES = {
    "model.json": (TALLY, PLAN, CHANGES), "new.json": (CHANGES,), "plan.json": (CHANGES,),
    "walk.json": (TALLY,),
    "job.json": (TALLY, PLAN, CHANGES), "engine.json": (TALLY, PLAN),
}  # fmt: skip
Harm = Callable[[random.Random, bytes], bytes]


def whole(*, finished: bool) -> dict[str, bytes]:
    """All documents of the joint."""
    return {
        "model.json": seeds.model(), "new.json": seeds.model(), "plan.json": seeds.plan(),
        "walk.json": seeds.text(seeds.walk()), "job.json": seeds.text(seeds.job(finished=finished)),
        "engine.json": seeds.text(seeds.engine()),
    }  # fmt: skip


def harmed(rng: random.Random, folder: Path, harm: Harm, *, finished: bool = False, **wants: Any) -> Case:
    """One document of the joint harmed, given to one of the commands that take it."""
    name = rng.choice((*USES, *BENCH))
    every = whole(finished=finished)
    every[name] = harm(rng, every[name])
    for each, content in every.items():
        (folder / each).write_bytes(content)
    argv = rng.choice(USES[name])
    return Case(argv, (name,), writes=OUT in argv, earlier=seeds.plan(), never_clear=argv is TALLY, **wants)


def cut_off(rng: random.Random, folder: Path) -> Case:
    def harm(rng: random.Random, content: bytes) -> bytes:
        return cut(rng, content.rstrip())

    return harmed(rng, folder, harm, finished=True, wants="refused")


def bits(rng: random.Random, folder: Path) -> Case:
    """Bits turned over in the documents of a joint that still holds: it must never become clear to part."""
    return harmed(rng, folder, lambda rng, content: flipped(rng, content, 4))


def pieces(rng: random.Random, folder: Path) -> Case:
    return harmed(rng, folder, mangled)


def places(value: Any) -> list[tuple[Any, Any]]:
    """Every thing and list of the document with each of its keys."""
    found: list[tuple[Any, Any]] = []
    waiting = [value]
    while waiting:
        one = waiting.pop()
        keys = list(one) if isinstance(one, dict) else list(range(len(one)))
        found += [(one, key) for key in keys]
        waiting += [one[key] for key in keys if isinstance(one[key], (dict, list))]
    return found


OTHERS: dict[type, tuple[Any, ...]] = {
    str: (5, [], {}, True, 1.5, ["a"]), bool: ("yes", 1, [], {}), int: ("5", [], {}, True), float: ("5.0",
    [], {}, True),
    list: ({}, "a", 5, True), dict: ([], "a", 5, True),
}  # fmt: skip


def wrong_kind(rng: random.Random, content: bytes) -> bytes:
    """One value replaced by one of another kind."""
    document = json.loads(content)
    within, key = rng.choice([(one, key) for one, key in places(document) if one[key] is not None])
    within[key] = rng.choice(OTHERS[type(within[key])])
    return json.dumps(document).encode()


def kinds_wrong(rng: random.Random, folder: Path) -> Case:
    """A joint that is clear must not stay so when a value of its documents has the wrong kind."""
    return harmed(rng, folder, wrong_kind, finished=True, wants="refused")


NUMBERS = (
    "1e308",
    "-1e308",
    "1e400",
    "9" * 400,
    "9" * 5000,
    "-1",
    "NaN",
    "Infinity",
    "1e-400",
    "0",
    "1000001",
    "-0",
    "01",
    "0x10",
)


def huge_number(rng: random.Random, content: bytes) -> bytes:
    """One number replaced by one that no engine has."""
    document = json.loads(content)
    found = [
        (one, key) for one, key in places(document) if isinstance(one[key], (int,
        float)) and not isinstance(one[key], bool)
    ]  # fmt: skip
    if not found:
        return wrong_kind(rng, content)
    within, key = rng.choice(found)
    within[key] = "\0"
    return json.dumps(document).replace('"\\u0000"', rng.choice(NUMBERS)).encode()


def numbers_huge(rng: random.Random, folder: Path) -> Case:
    return harmed(rng, folder, huge_number)


def deep(rng: random.Random, content: bytes) -> bytes:
    """Lists within lists in the place of a value, or of the whole."""
    depth = rng.choice((100, 1000, 100_000, 2_000_000))
    begin, end = rng.choice((("[", "]"), ('{"a":', "}"), ("[", ""), ('[{"a":', "}]")))
    nested = begin * depth + "1" + end * depth
    if rng.random() < 0.3:
        return nested.encode()
    document = json.loads(content)
    within, key = rng.choice(places(document))
    within[key] = "\0"
    return json.dumps(document).replace('"\\u0000"', nested).encode()


def too_deep(rng: random.Random, folder: Path) -> Case:
    return harmed(rng, folder, deep, finished=True, wants="refused")


def doubled(rng: random.Random, content: bytes) -> bytes:
    """One thing gives a field twice, with two values."""
    document = json.loads(content)
    within, key = rng.choice([(one, key) for one, key in places(document) if isinstance(one, dict)])
    other = json.loads(
        wrong_kind(rng, json.dumps({"a": within[key] if within[key] is not None else 1}).encode())
    )
    value = other["a"] if isinstance(other, dict) and rng.random() < 0.3 else within[key]
    within["\0"] = value
    return json.dumps(document).replace('"\\u0000"', json.dumps(key)).encode()


def fields_doubled(rng: random.Random, folder: Path) -> Case:
    """A field that stands twice: what the first one says is lost (RFC 8259, 4), so nothing may be called
    clear."""
    return harmed(rng, folder, doubled, finished=rng.random() < 0.5)


def misspelt(rng: random.Random, content: bytes) -> bytes:
    """One field's name with a slip in it, so that it is not read."""
    document = json.loads(content)
    within, key = rng.choice([(one, key) for one, key in places(document) if isinstance(one, dict)])
    place = rng.randrange(len(key))
    within[key[:place] + rng.choice("zqX_ ") + key[place + 1 :]] = within.pop(key)
    return json.dumps(document).encode()


def fields_misspelt(rng: random.Random, folder: Path) -> Case:
    """A misspelt field is not read: what it said may have been that something is still in."""
    return harmed(rng, folder, misspelt, finished=True)


def not_this(rng: random.Random, content: bytes) -> bytes:
    """Something that is no document, or another one, or in another encoding."""
    text = content.decode()
    return rng.choice((
        b"", b"\n", b"null", b"[]", b"5", b'"a"', b"{}", b"\0" * 5000, rng.randbytes(900), b"%PDF-1.7\n",
        b"PK\x03\x04 ",
        b"<?xml version='1.0'?><a/>", text.encode("utf-16"), text.encode("utf-32"),
        b'{"schema": "lastbolt.nothing/1"}',
        content.replace(b"/1", b"/2", 1), content + content, content.replace(b'"', b"'"),
        b"// note\n" + content,
        content[:-3] + b",}", content.replace(b"lastbolt.", b"LASTBOLT.", 1), b"\xef\xbb\xbf" + content[1:],
        content[:40] + b"\xff\xfe" + content[40:],
    ))  # fmt: skip


def no_document(rng: random.Random, folder: Path) -> Case:
    return harmed(rng, folder, not_this, finished=True, wants="refused")


def exchanged(rng: random.Random, folder: Path) -> Case:
    """Each option with another's document."""
    every = whole(finished=True)
    for name, content in every.items():
        (folder / name).write_bytes(content)
    wrong = rng.choice([name for name in every if name != "model.json"])
    argv = tuple(wrong if word == "model.json" else word for word in TALLY)
    return Case(argv, (wrong,), wants="told", writes=False,
    never_clear=True) if wrong == "new.json" else Case(
        argv, (wrong,), wants="refused", writes=False
    )  # fmt: skip


def long_string(rng: random.Random, content: bytes) -> bytes:
    """A string of many megabytes in the place of a short one, or as a field's name."""
    most = 1 if len(content) < 5000 else 100
    long = "x" * (rng.choice((1, min(20, most), most)) * 10**6)
    document = json.loads(content)
    within, key = rng.choice([(one, key) for one, key in places(document) if isinstance(one[key], str)])
    if isinstance(within, dict) and rng.random() < 0.3:
        within[long] = 1
    else:
        within[key] = long
    return json.dumps(document).encode()


def strings_long(rng: random.Random, folder: Path) -> Case:
    return harmed(rng, folder, long_string, memory_MB=1500.0)


def too_large(rng: random.Random, folder: Path) -> Case:
    """A file far larger than any such document; most of it is a hole that takes no room."""
    case = harmed(rng, folder, lambda rng, content: content, finished=True, wants="refused", memory_MB=1200.0)
    with (folder / case.damaged[0]).open("r+b") as stream:
        stream.truncate(rng.choice((300, 3000)) * 10**6)
    return case


def typed(rng: random.Random, folder: Path, content: bytes, **wants: Any) -> Case:
    """The typed lines of a small joint."""
    (folder / "typed.txt").write_bytes(content)
    return Case(("tally", "--typed", "typed.txt"), ("typed.txt",), writes=False, **wants)


def typed_harmed(rng: random.Random, folder: Path) -> Case:
    """Lines cut off or garbled, of a joint that still holds: it must never become clear to part.

    A line that is not understood keeps the joint from clear (docs/typed.md); one that is cut off whole is
    not seen.
    """
    lines = seeds.TYPED_IN.splitlines()
    number = rng.randrange(len(lines))
    line = lines[number].encode()
    lines[number] = (
        rng.choice((flipped, mangled, cut))(rng, line).decode("utf-8", "surrogateescape") if line else ""
    )
    text = "\n".join(lines).encode("utf-8", "surrogateescape")
    return typed(rng, folder, text, never_clear="2 in" in text.decode("utf-8", "replace"))


def typed_odd(rng: random.Random, folder: Path) -> Case:
    """Lines without end, without number, or no text at all."""
    text = seeds.TYPED_IN.encode()
    odd = rng.choice((
        b"1-99999999 out\n", b"9" * 5000 + b" out\n", b"1-" * 3000 + b"2 out\n", b"x" * 900_000,
        b"by " + b"A" * 90_000,
        b"\n" * 100_000, b"1 out\n" * 3000, rng.randbytes(4000), b"\0" * 4000, b"holder a\n" * 3000,
        b"999999999 x M6x45\n",
        "1 óut\u202e\n".encode(), b"strike line 99999999999\n", b"strike line 1\n" * 900,
        b"tray -1 x M6x45\n", b"x" * 2_000_000,
        b"2 x M1e308x1e308\n", b"2 x M6x45\n" * 200,
    ))  # fmt: skip
    where = rng.choice((0, len(text)))
    return typed(rng, folder, text[:where] + odd + text[where:], never_clear=True)


KINDS = (
    Kind("json_cut_off", cut_off), Kind("json_bits", bits), Kind("json_pieces", pieces),
    Kind("json_kinds_wrong", kinds_wrong),
    Kind("json_numbers", numbers_huge), Kind("json_deep", too_deep), Kind("json_doubled", fields_doubled),
    Kind("json_misspelt", fields_misspelt), Kind("json_no_document", no_document), Kind("json_exchanged",
    exchanged),
    Kind("json_long_string", strings_long, True), Kind("json_too_large", too_large, True),
    Kind("typed_harmed", typed_harmed), Kind("typed_odd", typed_odd),
)  # fmt: skip
