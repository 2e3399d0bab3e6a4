"""Documents on disk: refused by name, kept whole, unknown fields not lost."""

import json
from pathlib import Path

import jsonschema
import msgspec
import pytest

from lastbolt.edge import documents
from lastbolt.words.engine import AsFound, Engine
from lastbolt.words.joint import Walk
from lastbolt.words.machine import Machine, Procedure, Step
from lastbolt.words.problem import Refusal


def write(path: Path, value: object) -> Path:
    path.write_text(json.dumps(value), encoding="utf-8")
    return path


def refused(path: Path, kind: type) -> Refusal:
    with pytest.raises(Refusal) as caught:
        documents.load(path, kind)
    return caught.value


def test_missing_file_is_named(tmp_path: Path) -> None:
    problem = refused(tmp_path / "none.json", Walk).problems[0]
    assert problem.code == "LB-D01"
    assert "none.json" in problem.where


def test_broken_json_names_its_line(tmp_path: Path) -> None:
    path = tmp_path / "walk.json"
    path.write_text('{"schema": "lastbolt.walk/1",\n "joint": }', encoding="utf-8")
    problem = refused(path, Walk).problems[0]
    assert (problem.code, problem.where) == ("LB-D02", f"{path}, line 2")


@pytest.mark.parametrize(
    ("schema", "says"),
    [("lastbolt.job/1", "not a walk"), ("lastbolt.walk/9", "another version"), (None, 'No "schema" field')],
)
def test_wrong_schema(tmp_path: Path, schema: str | None, says: str) -> None:
    problem = refused(write(tmp_path / "w.json", {"schema": schema} if schema else {}), Walk).problems[0]
    assert problem.code == "LB-D03"
    assert says in problem.what


def test_wrong_type_is_named_by_the_things_own_name(tmp_path: Path) -> None:
    model = {
        "schema": "lastbolt.model/1", "name": "winch",
        "procedures": [{"id": "m/procedure/4.2", "number": "4.2", "title": "t",
                        "steps": [{"id": "m/step/4.2/5", "mark": 5, "words": "w"}]}],
    }  # fmt: skip
    problem = refused(write(tmp_path / "m.json", model), Machine).problems[0]
    assert problem.code == "LB-D04"
    assert '"m/procedure/4.2"' in problem.where
    assert '"m/step/4.2/5"' in problem.where
    assert "[0]" not in problem.where


def test_unknown_fields_survive_and_known_ones_can_be_cleared(tmp_path: Path) -> None:
    path = write(
        tmp_path / "e.json",
        {"schema": "lastbolt.engine/1", "id": "3", "name": "no. 3", "variant": "B", "bench_colour": "grey"},
    )
    engine = documents.load(path, Engine)
    documents.save(path, msgspec.structs.replace(engine, variant="", as_found=(AsFound("other", "dent"),)))
    again = json.loads(path.read_text(encoding="utf-8"))
    assert again["bench_colour"] == "grey"
    assert "variant" not in again
    assert documents.load(path, Engine).as_found[0].words == "dent"


def test_save_never_overwrites_what_is_not_ours(tmp_path: Path) -> None:
    path = tmp_path / "notes.txt"
    path.write_text("my only copy", encoding="utf-8")
    with pytest.raises(Refusal) as caught:
        documents.save(path, Engine("lastbolt.engine/1", "3", "no. 3"))
    assert caught.value.problems[0].code == "LB-D05"
    assert path.read_text(encoding="utf-8") == "my only copy"


def test_published_schemas_accept_what_is_written_and_refuse_what_is_refused() -> None:
    model = Machine(
        "lastbolt.model/1", "winch", procedures=(Procedure("p", "1", "t", steps=(Step("s", "1", "w"),)),)
    )
    schema = documents.published_schemas()["model-1.json"]
    jsonschema.validate(json.loads(msgspec.json.encode(model)), schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"schema": "lastbolt.model/1", "name": 7}, schema)


def test_schema_files_are_in_step() -> None:
    folder = Path(__file__).parents[3] / "docs" / "schemas"
    assert {p.name: json.loads(p.read_text(encoding="utf-8")) for p in sorted(folder.glob("*.json"))} == (
        json.loads(json.dumps(documents.published_schemas()))
    ), "run: python -m lastbolt.edge.documents docs/schemas"
