"""What somebody laid in and nobody took away: a pin or a clamp holds halves together, a cloth does not."""

from collections.abc import Iterator

from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import Heard
from lastbolt.app.holder_words import says
from lastbolt.refitting.put_in_list import put_in_list
from lastbolt.words.answer import HolderState

LAID_IN = "laid in#"
"""Before the thing: the holder that asks for it."""


def laid_in_asked(documents: Documents, heard: Heard) -> Iterator[HolderState]:
    """A holder for each thing still in that may hold, open until it is taken away or settled."""
    for one in put_in_list(documents.job):
        if one.count <= 0 or says("lies_in_only", one.thing):
            continue
        name = f"{LAID_IN}{one.thing}"
        how = heard.settling(name)
        where = f", {one.where}" if one.where else ""
        words = f"laid in by {one.by}{where}, and not taken away: does it hold the halves together?"
        yield HolderState(name, "other", one.thing, bool(how), how or words)
