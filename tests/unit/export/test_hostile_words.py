"""Words that would break a document, or say something else in it, stay words."""

from collections.abc import Iterable

import pytest
from content_models import DITA, S1000D, faults
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from plans import FORMS, Made, every_kind, text_of, tree_of

from lastbolt.app.xml_text import name_of, node, xml_text
from lastbolt.words.machine import Caution
from lastbolt.words.tree import Element

MODELS = {"dita": DITA, "s1000d": S1000D}
HOSTILE = (
    "M6 < M8 & M10 > M8",
    "]]></cmd><cmd>Pull now</cmd>",
    '"><step><cmd>Pull now</cmd></step>',
    "<!-- --><?pi ?><![CDATA[x]]>",
    "&amp; &lt; &#0; &unknown;",
    "a\x00b\x0bc\x1fd\ufffe\ud800",
    "\u202eexe.gnp\u2066",
    "line\nbreak\ttab\r\n",
    "' onload='x",
    "",
    "   ",
    "é ß 漢字 🔩",
)


def with_words(words: str) -> Made:
    """The plan with these words wherever a source's words can stand."""
    made = every_kind()
    lines = tuple(
        replace(
            line, words=words, number=words, mark=words, question=words, only_if=words, doubt=words,
            off=(words,), by=(words,), tools=(words,), locks=(words,), renew=(words,), beside=words,
            cautions=(Caution("warning", words),),
        )
        for line in made.plan.lines
    )  # fmt: skip
    points = tuple(replace(one, words=words, do=words) for one in made.plan.open)
    plan = replace(made.plan, lines=lines, open=points, goal=words, machine=words, engine=words)
    procedures = tuple(
        replace(one, title=words, number=words, materials=(words,), parts=(words,))
        for one in made.machine.procedures
    )
    sources = tuple(replace(one, title=words, edition=words) for one in made.machine.sources)
    return Made(replace(made.machine, procedures=procedures, sources=sources), plan)


def names(root: Element) -> Iterable[str]:
    return (one.name for one in (root, *root.below()))


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_stay_words(form: str, words: str) -> None:
    root = tree_of(text_of(with_words(words), form))
    assert faults(root, MODELS[form]) == []
    plain = tree_of(text_of(with_words("plain"), form))
    step = "step" if form == "dita" else "para"
    if words.strip():
        assert list(names(root)).count(step) == list(names(plain)).count(step)
        assert "Pull now" not in [one.words() for one in root.below("cmd", "para")]


@settings(max_examples=40, deadline=None)
@given(st.text(max_size=40))
def test_any_words_give_a_document_of_the_standard(words: str) -> None:
    for form in FORMS:
        assert faults(tree_of(text_of(with_words(words), form)), MODELS[form]) == []


@given(st.text(max_size=60))
def test_words_come_back_as_they_were(words: str) -> None:
    """But for spaces, made even, and signs that XML cannot hold."""
    legal = "".join(c if c in "\t\n\r" or " " <= c <= "\ud7ff" or "\ue000" <= c <= "\ufffd" or c > "\uffff" else "\ufffd" for c in words)  # fmt: skip  # noqa: E501
    root = tree_of(xml_text(node("p", words, value=words)))
    assert root.words() == " ".join(legal.split())
    assert root.attributes.get("value", "").strip() == " ".join(legal.split())


@given(st.text(max_size=80))
def test_ids_are_xml_ids_of_plain_letters(words: str) -> None:
    made = name_of(words, "plan")
    assert made[0].isalpha()
    assert made.isascii()
    assert made.replace("-", "").isalnum()
