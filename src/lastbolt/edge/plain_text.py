"""Text without the signs that hide, or that change how the rest is shown.

A control character (Unicode Cc) becomes U+FFFD, so that it is seen; a format character (Cf: direction,
joiners, zero-width, tags) goes. Both can make a person read another number than the program does (UTR 36).
"""

import json
import re
import unicodedata
from typing import Any

import msgspec
from msgspec.structs import replace

SOFT_HYPHEN = "\xad"
SEEN = "\ufffd"
_MAYBE = re.compile(r"[^ -~\n\t]")
_NEW_LINE = re.compile(r"\r\n?")
_RETURN = r"\\(?:r|u000[dD])(?:\\(?:n|u000[aA]))?"
_ESCAPE = re.compile(
    _RETURN + r"|\\(?:u[dD][89abAB][0-9a-fA-F]{2}\\u[dD][c-fC-F][0-9a-fA-F]{2}|u[0-9a-fA-F]{4}|.)"
)
_HARMLESS = frozenset([r"\n", r"\t", r"\"", r"\\", r"\/"])


def plain(text: str, kept: str = "") -> str:
    """The text with control characters seen as U+FFFD and without format characters, but for those `kept`."""
    if text.isprintable():
        return text
    return _MAYBE.sub(
        lambda sign: sign[0] if sign[0] in kept else _plain_sign(sign[0]), _NEW_LINE.sub("\n", text)
    )


def _plain_sign(sign: str) -> str:
    match unicodedata.category(sign):
        case "Cf":
            return ""
        case "Cc" | "Cs":
            return SEEN
        case "Zl" | "Zp":
            return " "
        case _:
            return sign


def plain_values(value: Any) -> Any:
    """The value with every text in it plain: of a document, a page to show, or their parts."""
    if isinstance(value, str):
        return plain(value)
    if isinstance(value, msgspec.Struct):
        now = {name: getattr(value, name) for name in value.__struct_fields__}
        new = {name: plain_values(held) for name, held in now.items()}
        return replace(value, **{name: held for name, held in new.items() if held is not now[name]})
    if isinstance(value, dict):
        return {plain_values(key): plain_values(held) for key, held in value.items()}
    if isinstance(value, tuple) and hasattr(value, "_make"):
        return value._make(plain_values(held) for held in value)
    if isinstance(value, tuple | list):
        return type(value)(plain_values(held) for held in value)
    return value


def plain_json(raw: bytes) -> bytes:
    """The JSON text with every text in it plain, also where a sign is written as an escape."""
    flat = msgspec.json.format(raw, indent=-1).decode()
    if flat.isprintable() and all(escape[0] in _HARMLESS for escape in _ESCAPE.finditer(flat)):
        return raw
    return _ESCAPE.sub(_plain_escape, plain(raw.decode())).encode()


def _plain_escape(escape: re.Match[str]) -> str:
    if escape[0] in _HARMLESS:
        return escape[0]
    if re.fullmatch(_RETURN, escape[0]):
        return r"\n"
    return json.dumps(plain(json.loads(f'"{escape[0]}"')), ensure_ascii=False)[1:-1]
