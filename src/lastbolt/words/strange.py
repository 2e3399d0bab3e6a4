"""A field of a document that nobody reads: its sort does not know it, or it stands there twice."""

from msgspec import Struct


class StrangeField(Struct, frozen=True):
    """Which field of which thing. `meant`: the known field it looks like; `joint`: that of the thing."""

    document: str
    thing: str
    field: str
    meant: str = ""
    twice: bool = False
    joint: str = ""
