"""Holds an XML document against a table of what each element may hold; knows nothing of the program's own
code."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Mapping
from typing import NamedTuple

XML_ID = re.compile(r"[A-Za-z_][\w.\-]*", re.ASCII)
"""A name without colon as far as ASCII goes (Namespaces in XML 1.0, NCName)."""


class Rule(NamedTuple):
    """What an element holds.

    `inside`: a pattern over its children's names, each with one space behind it. `words`: whether words stand
    among them. `must`: attributes that have to be there, each with a pattern for its value. `may`: others.
    """

    inside: str = ""
    words: bool = False
    must: Mapping[str, str] = {}
    may: tuple[str, ...] = ()


def any_of(*names: str) -> str:
    """Any number of these elements in any order."""
    return f"((?:{'|'.join(names)}) )*"


def faults(
    text: str, rules: Mapping[str, Rule], roots: tuple[str, ...], common: tuple[str, ...]
) -> list[str]:
    """What of the document is not as the table says; `common`: attributes that every element may have."""
    root = ET.fromstring(text)
    found = [] if root.tag in roots else [f"the root is {root.tag}"]
    ids: set[str] = set()
    for one in root.iter():
        name, rule = _local(one.tag), rules.get(_local(one.tag))
        if rule is None:
            found.append(f"{name}: no such element")
            continue
        children = "".join(f"{_local(child.tag)} " for child in one)
        if not re.fullmatch(rule.inside, children):
            found.append(f"{name}: holds {children or 'nothing'}")
        if not rule.words and any(
            (part or "").strip() for part in (one.text, *(child.tail for child in one))
        ):
            found.append(f"{name}: words where none may stand")
        found += _attributes(one, name, rule, common)
        mark = one.get("id")
        if mark is not None and (mark in ids or not XML_ID.fullmatch(mark)):
            found.append(f"{name}: id {mark}")
        ids |= {mark} if mark else set()
    return found


def _attributes(one: ET.Element, name: str, rule: Rule, common: tuple[str, ...]) -> list[str]:
    given = {_local(key): value for key, value in one.attrib.items()}
    found = [f"{name}: no {key}" for key in rule.must if key not in given]
    found += [
        f'{name}: {key}="{given[key]}"' for key,
        form in rule.must.items() if key in given and not re.fullmatch(form, given[key])
    ]  # fmt: skip
    allowed = {*rule.must, *rule.may, *common}
    return found + [f"{name}: attribute {key}" for key in given if key not in allowed]


def _local(name: str) -> str:
    return name.rpartition("}")[2]
