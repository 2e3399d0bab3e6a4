"""What people call the sources that were read together, and whose text they are."""

from collections import Counter

import msgspec

from lastbolt.words.machine import Source


def told_apart_by_title(sources: list[Source]) -> list[Source]:
    """Books that share a title are called by what they are, and by their file if that is one name too: people
    must see which one a line stands in."""
    titles = Counter(source.title for source in sources)
    roles = Counter((source.title, source.role) for source in sources)

    def called(source: Source) -> str:
        if titles[source.title] == 1:
            return source.title
        role = source.role.capitalize()
        return role if roles[source.title, source.role] == 1 else f"{role} {source.file or source.id}"

    return [msgspec.structs.replace(source, title=called(source)) for source in sources]


def with_lineage(sources: list[Source]) -> tuple[Source, ...]:
    """Sources read together are taken to be one maker's text, copied from each other, unless a person said
    otherwise: two papers of one maker are one witness, not two."""
    shared = next((s.lineage for s in sources if s.lineage), "maker")
    return tuple(s if s.lineage else msgspec.structs.replace(s, lineage=shared) for s in sources)


def machine_name(sources: list[Source]) -> str:
    """What the machine is called: as its manual is, else as the first source."""
    manual = next((s for s in sources if s.role == "manual"), sources[0] if sources else None)
    return manual.title.partition(",")[0].strip() if manual is not None else "machine"
