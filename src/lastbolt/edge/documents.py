"""JSON documents on disk: checked on the way in, unknown fields kept on the way out.

Every document says its schema ("lastbolt.walk/1"). A wrong one is refused with the name of the thing that is
wrong, never its index.
"""

import re
from pathlib import Path
from typing import Any, Generic, NamedTuple, TypeVar

import msgspec

from lastbolt.edge.json_text import RIGHT_FILE, decoded, json_bytes, too_deep
from lastbolt.edge.plain_text import plain, plain_json, plain_values
from lastbolt.edge.safe_files import write_file
from lastbolt.edge.sane_numbers import LONG_NUMBER, out_of_range
from lastbolt.edge.sane_texts import MOST_LETTERS, too_long
from lastbolt.edge.strange_fields import name_of, strange_fields
from lastbolt.words.account import ACCOUNT_SCHEMA, Account
from lastbolt.words.answer import ANSWER_SCHEMA, Answer
from lastbolt.words.back import BACK_SCHEMA, Back
from lastbolt.words.changes import CHANGES_SCHEMA, Changes
from lastbolt.words.columns import COLUMNS_SCHEMA, ColumnsFile
from lastbolt.words.compared import COMPARED_SCHEMA, Compared
from lastbolt.words.corrections import CORRECTIONS_SCHEMA, Corrections
from lastbolt.words.engine import ENGINE_SCHEMA, Engine
from lastbolt.words.job import JOB_SCHEMA, Job
from lastbolt.words.joint import WALK_SCHEMA, Walk
from lastbolt.words.machine import MODEL_SCHEMA, Machine
from lastbolt.words.order import ORDER_SCHEMA, Order
from lastbolt.words.plan import PLAN_SCHEMA, Plan
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.readings import READINGS_SCHEMA, Readings
from lastbolt.words.strange import StrangeField
from lastbolt.words.verified import VERIFIED_SCHEMA, Verified

Document = TypeVar(
    "Document",
    Machine,
    Walk,
    Engine,
    Job,
    Plan,
    Answer,
    Changes,
    Compared,
    Corrections,
    ColumnsFile,
    Back,
    Account,
    Order,
    Readings,
    Verified,
)

SCHEMA_OF: dict[type, str] = {
    Machine: MODEL_SCHEMA,
    Walk: WALK_SCHEMA,
    Engine: ENGINE_SCHEMA,
    Job: JOB_SCHEMA,
    Plan: PLAN_SCHEMA,
    Answer: ANSWER_SCHEMA,
    Changes: CHANGES_SCHEMA,
    Compared: COMPARED_SCHEMA,
    Corrections: CORRECTIONS_SCHEMA,
    ColumnsFile: COLUMNS_SCHEMA,
    Back: BACK_SCHEMA,
    Account: ACCOUNT_SCHEMA,
    Order: ORDER_SCHEMA,
    Readings: READINGS_SCHEMA,
    Verified: VERIFIED_SCHEMA,
}
CALLED: dict[type, str] = {
    Machine: "model",
    Walk: "walk",
    Engine: "engine",
    Job: "job",
    Plan: "plan",
    Answer: "answer",
    Changes: "changes",
    Compared: "compared",
    Corrections: "corrections",
    ColumnsFile: "columns",
    Back: "back",
    Account: "account",
    Order: "order",
    Readings: "readings",
    Verified: "verified",
}

_PATH = re.compile(r"`(\$[^`]*)`\s*$")
_STEP = re.compile(r"\.(\w+)|\[(\d+|\.\.\.)\]")


class Opened(NamedTuple, Generic[Document]):
    """A document, and the fields of its file that nobody reads: unknown ones, and doubled ones."""

    document: Document
    strange: tuple[StrangeField, ...]


def opened(path: Path, kind: type[Document]) -> Opened[Document]:
    """The document in `path`, read once, so that it may be a pipe.

    Raises:
        Refusal: it is not one; with one problem.
    """
    raw = json_bytes(path, CALLED[kind])
    value = decoded(raw, path)
    _check_schema(value, path, kind)
    _check_texts(raw, value, path, kind)
    try:
        _check_numbers(raw, value, path, kind)
        raw = plain_json(raw)
        document = msgspec.json.decode(raw, type=kind)
        return Opened(document, _strange(raw, document, kind))
    except msgspec.DecodeError as error:
        raise Refusal(_wrong(error, plain_values(value), path, CALLED[kind])) from None
    except RecursionError:
        raise Refusal(too_deep(path)) from None


def load(path: Path, kind: type[Document]) -> Document:
    """The document in `path`; raises Refusal with one problem when it is not one."""
    return opened(path, kind).document


def _strange(raw: bytes, document: Document, kind: type[Document]) -> tuple[StrangeField, ...]:
    """A file with nothing but what was read says the same when written again; only others are searched."""
    if msgspec.json.format(raw, indent=-1) == msgspec.json.encode(document):
        return ()
    return strange_fields(raw, kind, CALLED[kind])


def save(path: Path, document: Document) -> None:
    """Write the document so that people can read and compare it; an existing one's unknown fields stay.

    Raises Refusal when `path` holds something else: nothing is overwritten that lastbolt could not read.
    """
    fresh = msgspec.to_builtins(document)
    if path.is_file() and (old := path.read_bytes()).strip():
        fresh = _over(_same_sort(old, path, type(document)), fresh, _known_fields(type(document)))
    write_file(path, msgspec.json.format(msgspec.json.encode(fresh), indent=1) + b"\n")


def _same_sort(old: bytes, path: Path, kind: type) -> Any:
    """The existing document's own values, when it is one of this sort."""
    try:
        value = msgspec.json.decode(old)
    except (msgspec.DecodeError, RecursionError):
        value = None
    says = str(value.get("schema", "")) if isinstance(value, dict) else ""
    if says != SCHEMA_OF[kind]:
        other = says.rpartition("/")[0] == SCHEMA_OF[kind].rpartition("/")[0]
        kept = f"is a {CALLED[kind]} file of another version" if other else f"is no {CALLED[kind]} file"
        what = f"This file exists and {kept}; it was left as it is."
        raise Refusal(Problem("LB-D05", what, str(path), "Give another name to write to.", "stop"))
    return value


def published_schemas() -> dict[str, dict[str, Any]]:
    """JSON Schema of every document, by file name."""
    found = {}
    for kind, schema in SCHEMA_OF.items():
        made = msgspec.json.schema(kind)
        made["$schema"] = "https://json-schema.org/draft/2020-12/schema"
        made["title"] = schema
        found[schema.replace("lastbolt.", "").replace("/", "-") + ".json"] = made
    return found


def _check_schema(head: Any, path: Path, kind: type) -> None:
    wanted = SCHEMA_OF[kind]
    says = head.get("schema") if isinstance(head, dict) else None
    if says == wanted:
        return
    if isinstance(says, str) and says.rpartition("/")[0] == wanted.rpartition("/")[0]:
        what, do = f'Schema "{says}" is of another version.', f"Use a lastbolt that writes {wanted}."
    elif says:
        what = f'This is a "{says}" document, not a {CALLED[kind]} ("{wanted}").'
        do = RIGHT_FILE
    else:
        what = f'No "schema" field; a {CALLED[kind]} file says "schema": "{wanted}".'
        do = "Add the field, or give the right file to this option."
    raise Refusal(Problem("LB-D03", what, str(path), do, "stop"))


def _check_numbers(raw: bytes, value: Any, path: Path, kind: type) -> None:
    place = out_of_range(value, _known_fields(kind)) if LONG_NUMBER.search(raw) else ""
    if place:
        what = (
            f"The {CALLED[kind]} file has a number beyond a million, which no engine and no book of one has."
        )
        do = "Put the number right there; a figure too many is the usual cause."
        raise Refusal(Problem("LB-D19", what, f"{path}, {plain(place)}", do, "stop"))


def _check_texts(raw: bytes, value: Any, path: Path, kind: type) -> None:
    most = MOST_LETTERS[kind is Machine]
    if place := too_long(raw, value, most):
        what = f"The {CALLED[kind]} file has a text of more than {most:,} letters, which nobody wrote there."
        do = "Put there what was meant; a whole file that slipped into a field is the usual cause."
        raise Refusal(Problem("LB-D23", what, f"{path}, {plain(place)}", do, "stop"))


def _wrong(error: msgspec.DecodeError, value: Any, path: Path, called: str) -> Problem:
    text = str(error)
    found = _PATH.search(text)
    place = _named(value, found.group(1)) if found else ""
    what = text[: found.start()].rstrip(" -at") if found else text
    return Problem(
        "LB-D04",
        f"The {called} file has a value of the wrong kind: {what}.",
        f"{path}{', ' + place if place else ''}",
        "Put it right there; docs/schemas says what each field holds.",
        "stop",
    )


def _named(value: Any, json_path: str) -> str:
    """`$.procedures[3].steps[1].mark` -> "procedures 4.2, steps 5: mark", by ids where there are some."""
    said: list[str] = []
    for name, index in _STEP.findall(json_path):
        if name:
            said.append(name)
            value = value.get(name) if isinstance(value, dict) else None
        elif index == "...":
            break
        else:
            value = value[int(index)] if isinstance(value, list) and int(index) < len(value) else None
            said[-1:] = [f"{said[-1] if said else 'item'} {name_of(value, int(index))}"]
    return " / ".join(said)


def _known_fields(kind: type) -> frozenset[str]:
    """Every field name that the document's type or one of its parts has."""
    made = msgspec.json.schema(kind)
    return frozenset(name for part in made["$defs"].values() for name in part.get("properties", ()))


def _over(old: Any, new: Any, known: frozenset[str]) -> Any:
    """`new`, and from `old` the fields that the document's type does not know."""
    if isinstance(old, dict) and isinstance(new, dict):
        kept = {key: value for key, value in old.items() if key not in new and key not in known}
        return {**{key: _over(old.get(key), value, known) for key, value in new.items()}, **kept}
    if isinstance(old, list) and isinstance(new, list):
        by_id = {item["id"]: item for item in old if isinstance(item, dict) and "id" in item}
        return [
            _over(by_id.get(item.get("id")), item, known) if isinstance(item, dict) else item for item in new
        ]
    return new


def write_schemas(folder: Path) -> None:
    """Write every published schema into `folder`."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, schema in published_schemas().items():
        write_file(folder / name, msgspec.json.format(msgspec.json.encode(schema), indent=1) + b"\n")


if __name__ == "__main__":
    import sys

    write_schemas(Path(sys.argv[1]))
