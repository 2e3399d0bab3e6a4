"""XML written out: elements into text, words escaped, the same elements always into the same text."""

import re
from collections.abc import Mapping

from lastbolt.words.tree import Element

NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What no XML 1.0 document may hold, not even as a reference (W3C, XML 1.0 fifth edition, production 2)."""
LOST = "\ufffd"
_NOT_NAME = re.compile(r"[^a-z0-9]+")


def node(name: str, /, *content: Element | str | None, **attributes: str) -> Element:
    """An element to write; what is None or empty words is left out, attributes without a value are too."""
    inside = tuple(part for part in content if part is not None and part != "")
    return Element(name, {key: value for key, value in attributes.items() if value}, inside)


def with_attributes(element: Element, attributes: Mapping[str, str]) -> Element:
    """The element with attributes whose names are no Python names ("xml:lang") before its own."""
    return Element(element.name, {**attributes, **element.attributes}, element.content)


def xml_text(root: Element, doctype: str = "") -> str:
    """The document as text: an element that holds elements only has them line by line."""
    head = '<?xml version="1.0" encoding="UTF-8"?>\n'
    return f"{head}{doctype}\n{_written(root, 0)}" if doctype else head + _written(root, 0)


def _written(element: Element, depth: int) -> str:
    indent = " " * depth
    if not element.content:
        return f"{indent}<{_opening(element)}/>\n"
    if any(isinstance(part, str) for part in element.content):
        return f"{indent}{_in_line(element)}\n"
    inside = "".join(_written(part, depth + 1) for part in element.children())
    return f"{indent}<{_opening(element)}>\n{inside}{indent}</{element.name}>\n"


def _in_line(element: Element) -> str:
    """Without line ends of its own: between words every space counts."""
    if not element.content:
        return f"<{_opening(element)}/>"
    inside = "".join(escaped(part) if isinstance(part, str) else _in_line(part) for part in element.content)
    return f"<{_opening(element)}>{inside}</{element.name}>"


def _opening(element: Element) -> str:
    return element.name + "".join(f' {name}="{escaped(value)}"' for name, value in element.attributes.items())


def escaped(words: str) -> str:
    """Words as they may stand in an element or an attribute: spaces made even, signs that are none seen.

    >>> escaped('M6 < M8 & "tight"'), escaped("a\\x00b")
    ('M6 &lt; M8 &amp; &quot;tight&quot;', 'a\ufffdb')
    """
    even = " ".join(NOT_XML.sub(LOST, words).split())
    return even.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


def name_of(words: str, otherwise: str) -> str:
    """An XML id of plain letters made of words; it begins with a letter.

    >>> name_of("Split the gearcase!", "plan"), name_of("4.2", "plan")
    ('split-the-gearcase', 'plan-4-2')
    """
    made = _NOT_NAME.sub("-", words.lower()).strip("-")[:60].strip("-")
    if not made:
        return otherwise
    return made if made[0].isalpha() else f"{otherwise}-{made}"
