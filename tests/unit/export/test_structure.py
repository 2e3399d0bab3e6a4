"""What an export is made of, against the content models of the standards (sources: content_models.py)."""

import re

import pytest
from content_models import CODE, CODE_PATTERN, DITA, NOTE_TYPES, S1000D, faults
from plans import FORMS, Made, every_kind, text_of, tree_of

from lastbolt.app.make_plan import make_plan

MODELS = {"dita": DITA, "s1000d": S1000D}


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("complete", [False, True])
def test_a_plan_with_every_kind_of_line_has_the_structure_of_the_standard(form: str, complete: bool) -> None:
    made = every_kind(complete=complete)
    kinds = {line.kind for line in made.plan.lines}
    assert kinds >= {"opening", "step", "confirm", "condition"}
    assert ("question" in kinds) is not complete
    assert faults(tree_of(text_of(made, form)), MODELS[form]) == []


@pytest.mark.parametrize("form", FORMS)
def test_the_check_sees_what_is_wrong(form: str) -> None:
    text = text_of(every_kind(), form)
    swapped = (
        text.replace("<cmd>", "<info>", 1).replace("</cmd>", "</info>", 1)
        if form == "dita"
        else text.replace("<para>", "<p>", 1).replace("</para>", "</p>", 1)
    )
    assert faults(tree_of(swapped), MODELS[form])
    assert faults(tree_of(re.sub(r' id="[^"]*"', ' id="4.2"', text)), MODELS[form])


def test_dita_names_the_machinery_task_of_oasis() -> None:
    """Public identifier: OASIS, machineryTask.dtd of DITA 1.3 (Errata 02)."""
    text = text_of(every_kind(), "dita")
    assert '<!DOCTYPE task PUBLIC "-//OASIS//DTD DITA 1.3 Machinery Task//EN" "machineryTask.dtd">' in text
    types = {note.get("type") for note in tree_of(text).below("note")}
    assert types == {"danger", "warning", "caution", "note"}
    assert types <= set(NOTE_TYPES)


def test_s1000d_has_a_code_a_date_and_rules() -> None:
    """Chapters 4.3 (code) and 3.9.5.1 (address, status), from memory."""
    root = tree_of(text_of(every_kind(), "s1000d"))
    code = root.first("dmCode")
    assert code is not None
    said = [code.get(name) for name in CODE]
    one = "{}-{}-{}-{}{}-{}-{}{}-{}{}-{}".format(*said)
    assert re.fullmatch(CODE_PATTERN, one)
    assert code.get("infoCode") == "530", "a case is parted: disassemble (chapter 8.4, from memory)"
    date, issue = root.first("issueDate"), root.first("issueInfo")
    assert date is not None
    assert date.attributes == {"year": "2031", "month": "02", "day": "03"}
    assert issue is not None
    assert issue.get("inWork") == "01", "nobody has released it"
    assert root.first("unverified") is not None


def test_two_goals_of_one_machine_get_two_codes() -> None:
    made = every_kind()
    other = Made(made.machine, make_plan(made.machine, "4.4"))
    codes = [tree_of(text_of(one, "s1000d")).first("dmCode") for one in (made, other)]
    first, second = (one.attributes for one in codes if one is not None)
    assert first != second


@pytest.mark.parametrize("form", FORMS)
def test_the_same_plan_gives_the_same_text(form: str) -> None:
    assert text_of(every_kind(), form) == text_of(every_kind(), form)
