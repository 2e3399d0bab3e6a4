"""All kinds of damaged input, and which of them are tried: each day a few of each, in the long profile
thousands."""

from failure.damaged import documents, marked_up, pdf_bytes, pdf_contents, pdf_objects, tables, workbooks
from failure.damaged.cases import Kind

KINDS: tuple[Kind, ...] = (
    *pdf_bytes.KINDS,
    *pdf_objects.KINDS,
    *pdf_contents.KINDS,
    *tables.KINDS,
    *workbooks.KINDS,
    *marked_up.KINDS,
    *documents.KINDS,
)


def shared_out(total: int, heavy: int) -> dict[str, int]:
    """How many inputs of each kind: `heavy` of each heavy one, and the rest evenly."""
    light = [kind.name for kind in KINDS if not kind.heavy]
    counts = {kind.name: heavy for kind in KINDS if kind.heavy}
    rest = total - sum(counts.values())
    for place, name in enumerate(light):
        counts[name] = rest // len(light) + (place < rest % len(light))
    return counts
