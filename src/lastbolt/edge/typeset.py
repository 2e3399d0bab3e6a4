"""A sheet of paper, set by typst from a template. Words of sources go in as data, never as markup."""

import tempfile
from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path
from typing import Any

import msgspec


def typeset(template: str, data: Any, beside: Mapping[str, bytes] | None = None) -> bytes:
    """The PDF of a template of `edge/layout`. The same input gives the same bytes.

    Args:
        template: its file name
        data: what it reads as `data.json`
        beside: further files that it names, pictures for one
    """
    import typst

    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        (root / template).write_bytes((files("lastbolt.edge") / "layout" / template).read_bytes())
        for name, content in (beside or {}).items():
            (root / name).write_bytes(content)
        (root / "data.json").write_bytes(msgspec.json.encode(data))
        made = typst.compile(root / template, root=root)
    if not isinstance(made, bytes):
        raise TypeError("typst gave several documents for one sheet")
    return made
