"""Fields of a JSON document that its sort does not know, and fields that stand in one thing twice.

They are kept when the file is written, but nothing reads them: who wrote "complete_peices" must be told.
Names that begin with "$" or "x_" are remarks of other programs.
"""

from collections.abc import Iterator
from difflib import get_close_matches
from typing import Any

import msgspec
from msgspec import inspect

from lastbolt.edge.json_text import Thing, with_doubles
from lastbolt.words.strange import StrangeField

REMARKS = ("$", "x_")
NAMED_BY = ("id", "number", "label", "name", "code", "place")


def strange_fields(raw: bytes, kind: type, called: str) -> tuple[StrangeField, ...]:
    """Every field that is not read; `raw` is a document that has been decoded as `kind` already."""
    value = with_doubles(raw)
    return tuple(_of(value, inspect.type_info(kind), _Where(called)))


class _Where(msgspec.Struct, frozen=True):
    """Where in the document: the things around, and the joint that the nearest of them names."""

    document: str
    things: tuple[str, ...] = ()
    joint: str = ""

    def inside(self, field: str, number: int | None, value: Any) -> "_Where":
        name = f"{field} {name_of(value, number)}" if number is not None else field
        return _Where(self.document, (*self.things, name), self.joint)

    def strange(self, field: str, meant: str, *, twice: bool) -> StrangeField:
        thing = " / ".join(self.things) or f"the {self.document} itself"
        joint = "" if field == "joint" else self.joint
        return StrangeField(self.document, thing, field, meant, twice, joint)


def _of(value: Any, kind: inspect.Type, where: _Where) -> Iterator[StrangeField]:
    """The strange fields of an object and of all that it holds; the depth is that of the types."""
    struct = _struct_of(value, kind)
    if struct is None:
        return
    fields = {field.encode_name: field.type for field in struct.fields}
    if isinstance(value.get("joint"), str):
        where = _Where(where.document, where.things, value["joint"])
    for name in value.twice:
        yield where.strange(name, "", twice=True)
    for name, held in value.items():
        if name in fields:
            yield from _held(held, fields[name], where, name)
        elif name != struct.tag_field and not name.startswith(REMARKS):
            meant = get_close_matches(name, fields, 1, 0.7)
            yield where.strange(name, meant[0] if meant else "", twice=False)


def _held(value: Any, kind: inspect.Type, where: _Where, name: str) -> Iterator[StrangeField]:
    if isinstance(value, list):
        inner = _item_of(kind)
        for number, item in enumerate(value):
            if inner is not None and isinstance(item, dict):
                yield from _of(item, inner, where.inside(name, number, item))
    elif isinstance(value, dict):
        yield from _of(value, kind, where.inside(name, None, value))


def _item_of(kind: inspect.Type) -> inspect.Type | None:
    """What the items of a list are; None when they hold no objects of their own fields."""
    found = [
        one.item_type for one in _choices(kind) if isinstance(one, inspect.VarTupleType | inspect.ListType)
    ]
    return found[0] if found else None


def _choices(kind: inspect.Type) -> tuple[inspect.Type, ...]:
    return kind.types if isinstance(kind, inspect.UnionType) else (kind,)


def _struct_of(value: Any, kind: inspect.Type) -> inspect.StructType | None:
    if not isinstance(value, Thing):
        return None
    for one in _choices(kind):
        if isinstance(one, inspect.StructType) and (
            one.tag_field is None or value.get(one.tag_field) == one.tag
        ):
            return one
    return None


def name_of(value: Any, number: int | None) -> str:
    """What a thing of a document is called: by its own id where it has one, else by its place in the list."""
    if isinstance(value, dict):
        for key in NAMED_BY:
            if isinstance(value.get(key), str | int):
                return f'"{value[key]}"'
    return f"no. {(number or 0) + 1}"
