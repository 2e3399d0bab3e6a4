"""A model whose citations say what people call their source, so that those of several models stay apart."""

from collections.abc import Mapping
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine


def with_titles(machine: Machine, titles: Mapping[str, str]) -> Machine:
    """The model with the title of its source in every citation that has none; `titles`: by source."""
    named: Machine = _named(machine, titles)
    return named


def _named(value: Any, titles: Mapping[str, str]) -> Any:
    if isinstance(value, Citation):
        title = titles.get(value.source, "")
        return replace(value, title=title) if title and not value.title else value
    if isinstance(value, Struct):
        new = {name: _named(getattr(value, name), titles) for name in value.__struct_fields__}
        same = all(new[name] is getattr(value, name) for name in new)
        return value if same else replace(value, **new)
    if isinstance(value, tuple):
        items = tuple(_named(item, titles) for item in value)
        return value if all(a is b for a, b in zip(items, value, strict=True)) else items
    return value
