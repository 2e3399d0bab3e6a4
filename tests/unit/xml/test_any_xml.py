"""Whatever the bytes: the modules are read or refused with a code, and nothing is lost in between."""

# ruff: noqa: E501 - markup reads better unbroken

from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from test_dita import GUARD
from xml_samples import dm_ref, module, needs, procedure, read, step

from lastbolt.words.problem import Refusal

WHOLE = module(
    "72", "530", ("Crankcase", "Disassemble"),
    procedure(step("Remove the four screws M6 x 45.", "<warning><para>Hot.</para></warning>", 'id="s1"'),
              needs("Guard off", dm_ref("71", "520"))),
)  # fmt: skip
NAMES = (
    "para", "proceduralStep", "dmRef", "internalRef", "reqCondDm", "warning", "quantity", "quantityGroup", "figure",
    "hotspot", "catalogSeqNumber", "itemSeqNumber", "applic", "assert", "evaluate", "steps", "step", "cmd", "note",
    "choices", "choice", "xref", "prereq", "taskbody", "task", "title", "content", "procedure", "mainProcedure",
    "illustratedPartsCatalog", "avee", "csn", "reqCondGroup", "preliminaryRqmts", "topic", "hazardstatement",
)  # fmt: skip
ATTRIBUTES = (
    "id", "internalRefId", "warningRefs", "applicRefId", "href", "conref", "keyref", "item", "figureNumber",
    "indenture", "csn", "applicPropertyValues", "applicPropertyIdent", "andOr", "changeType", "class", "product",
)  # fmt: skip
VALUES = (
    "",
    "a",
    "b",
    "a b",
    "#a",
    "#a/b",
    "x.dita#a",
    "1",
    "0",
    "1~9",
    "E|H",
    "or",
    "delete",
    "%41",
    "- topic/p ",
)
words = st.sampled_from(
    ("", "Remove the screw (4).", "10 Nm", "\ue000", "see 4.2", "(", "or", "as described in")
)
attributes = st.dictionaries(st.sampled_from(ATTRIBUTES), st.sampled_from(VALUES), max_size=3)


def written(name: str, given: dict[str, str], inside: list[str]) -> str:
    said = "".join(f' {key}="{value}"' for key, value in given.items())
    return f"<{name}{said}>{''.join(inside)}</{name}>"


trees = st.recursive(
    words, lambda inner: st.builds(written, st.sampled_from(NAMES), attributes, st.lists(inner, max_size=4)), max_leaves=25
)  # fmt: skip
quick = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@quick
@given(root=st.sampled_from(("dmodule", "task", "topic", "map", "pm")), inside=st.lists(trees, max_size=5))
def test_elements_in_any_order(tmp_path: Path, root: str, inside: list[str]) -> None:
    path = tmp_path / "any.xml"
    path.write_text(written(root, {"id": "a"}, inside), encoding="utf-8")
    machine = read(path)
    ids = [s.id for s in machine.sections] + [p.id for p in machine.procedures]
    assert len(ids) == len(set(ids))


@quick
@given(
    text=st.sampled_from((WHOLE, GUARD)),
    cut=st.integers(0, 2000),
    put=st.binary(max_size=6),
    gone=st.integers(0, 40),
)
def test_bytes_changed_anywhere(tmp_path: Path, text: str, cut: int, put: bytes, gone: int) -> None:
    raw = text.encode()
    cut = min(cut, len(raw))
    path = tmp_path / "any.xml"
    path.write_bytes(raw[:cut] + put + raw[cut + gone :])
    said = refusal_of(path)
    assert said is None or (len(said) == 1 and said[0].startswith(("LB-X", "LB-F")))


def refusal_of(path: Path) -> list[str] | None:
    """The codes of a refusal, or nothing when the file was read."""
    try:
        read(path)
    except Refusal as refusal:
        return [problem.code for problem in refusal.problems]
    return None
