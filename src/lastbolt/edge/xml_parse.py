"""The bytes of one XML file into elements, and nothing fetched, expanded or run on their behalf.

Expat of the standard library reads one file in one go. A file that declares text of its own (entities) or
wants text from elsewhere is refused: what a person sees must be what stands in the file. Two kinds of
declarations, common in S1000D modules, are let through because nothing ever follows them: the names of
illustrations (unparsed entities) and the standard lists of character names, which are known here anyway.
"""

from html.entities import html5
from xml.parsers import expat

from msgspec import Struct

from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.tree import Element


class Limits(Struct, frozen=True):
    """How large a single file may be before it is refused."""

    file_bytes: int = 64 * 2**20
    depth: int = 120
    elements: int = 400_000
    attribute_chars: int = 100_000


LIMITS = Limits()


class Parsed(Struct, frozen=True):
    """The root of a file, and the character names in it that nobody knows."""

    root: Element
    unknown: tuple[str, ...] = ()


def parse(raw: bytes, file: str, where: str, limits: Limits = LIMITS) -> Parsed:
    """The elements of one XML file.

    Args:
        raw: the file's bytes
        file: its name inside its folder or archive, for citations
        where: what a person calls the file, for problems
        limits: what is too much
    Raises:
        Refusal: it is too large or too deep, declares entities, or is not well-formed.
    """
    if len(raw) > limits.file_bytes:
        raise too_much(f"more than {limits.file_bytes // 2**20} MiB", where)
    builder = _Builder(file, where, limits)
    try:
        builder.parser.Parse(raw, True)
    except expat.ExpatError as error:
        why = expat.errors.messages.get(error.code, "not well-formed")
        what = f"The file is not well-formed XML: {why}."
        do = "Get the file again from where it came, or mend it there."
        raise Refusal(Problem("LB-X01", what, f"{where}, line {error.lineno}", do, "stop")) from None
    except (LookupError, ValueError) as error:
        what = f"The file's encoding is not understood: {error}."
        raise Refusal(Problem("LB-X01", what, where, "Save it as UTF-8.", "stop")) from None
    assert builder.root is not None
    return Parsed(builder.root, tuple(builder.unknown))


def too_much(what: str, where: str) -> Refusal:
    """The refusal of a file that is larger than any module is."""
    do = "Give the modules themselves; if this is one, split it."
    return Refusal(Problem("LB-X03", f"The file is larger than any module is: {what}.", where, do, "stop"))


class _Open:
    """An element whose end has not come yet."""

    __slots__ = ("attributes", "content", "count", "line", "name", "path")

    def __init__(self, name: str, attributes: dict[str, str], path: str, line: int) -> None:
        self.name, self.attributes, self.path, self.line = name, attributes, path, line
        self.content: list[Element | str] = []
        self.count: dict[str, int] = {}


class _Builder:
    def __init__(self, file: str, where: str, limits: Limits) -> None:
        self.file, self.where, self.limits = file, where, limits
        self.root: Element | None = None
        self.unknown: list[str] = []
        self._open: list[_Open] = []
        self._seen = 0
        parser = expat.ParserCreate()
        parser.SetParamEntityParsing(expat.XML_PARAM_ENTITY_PARSING_NEVER)
        parser.buffer_text = True
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._words
        parser.EntityDeclHandler = self._entity
        parser.SkippedEntityHandler = self._skipped
        self.parser = parser

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        self._seen += 1
        if self._seen > self.limits.elements:
            raise too_much(f"more than {self.limits.elements} elements", self.where)
        if len(self._open) >= self.limits.depth:
            raise too_much(f"elements {self.limits.depth} deep in each other", self._here())
        if any(len(value) > self.limits.attribute_chars for value in attributes.values()):
            raise too_much(f"an attribute of over {self.limits.attribute_chars} characters", self._here())
        local = name.rpartition(":")[2]
        path = local
        if self._open:
            above = self._open[-1]
            count = above.count[local] = above.count.get(local, 0) + 1
            path = f"{above.path}/{local}" if count == 1 else f"{above.path}/{local}[{count}]"
        plain = {key.rpartition(":")[2]: value for key, value in attributes.items()}
        self._open.append(_Open(local, plain, path, self.parser.CurrentLineNumber))

    def _end(self, name: str) -> None:
        del name
        done = self._open.pop()
        element = Element(done.name, done.attributes, tuple(done.content), self.file, done.line, done.path)
        if self._open:
            self._open[-1].content.append(element)
        else:
            self.root = element

    def _words(self, text: str) -> None:
        if self._open:
            self._open[-1].content.append(text)

    def _entity(self, name: str, is_parameter: bool, value: str | None, *where: str | None) -> None:
        """`where` ends with the notation of an unparsed entity: an illustration, only named here."""
        if where[-1] is not None or (is_parameter and value is None):
            return
        what = f'The file declares text that is to be put in elsewhere (entity "{name}").'
        do = "Have it exported with that text in its place; lastbolt puts in nothing on a file's behalf."
        raise Refusal(Problem("LB-X02", what, self._here(), do, "stop"))

    def _skipped(self, name: str, is_parameter: bool) -> None:
        if is_parameter:
            return
        known = html5.get(f"{name};")
        if known is None:
            self.unknown.append(name)
        self._words(known or "\ufffd")

    def _here(self) -> str:
        return f"{self.where}, line {self.parser.CurrentLineNumber}"
