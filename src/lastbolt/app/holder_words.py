"""Words by which sources name what else holds a joint together; data, not rules.

The first entry whose word stands in a part's name gives its sort. Common practice, no source.
"""

from lastbolt.words.joint import HolderSort

HOLDER_WORDS: tuple[tuple[str, HolderSort, str], ...] = (
    ("circlip", "circlip", "out of its groove?"),
    ("snap ring", "circlip", "out of its groove?"),
    ("retaining ring", "circlip", "out of its groove?"),
    ("dowel", "dowel", "a hollow one may have a bolt through it; a solid one only guides"),
    ("shaft nut", "shaft-end nut", "off?"),
    ("flange nut", "shaft-end nut", "off?"),
    ("castle nut", "shaft-end nut", "off?"),
    ("slotted nut", "shaft-end nut", "off?"),
    ("bracket", "bridging part", "off, or bolted to one side only?"),
    ("mount", "bridging part", "off, or bolted to one side only?"),
    ("pump", "bridging part", "off, or bolted to one side only?"),
    ("cover", "bridging part", "off, or bolted to one side only?"),
    ("guard", "bridging part", "off, or bolted to one side only?"),
    ("strap", "bridging part", "off, or bolted to one side only?"),
    ("clamp", "bridging part", "off, or bolted to one side only?"),
    ("sealant", "sealant", "cut or softened all round?"),
    ("sealing compound", "sealant", "cut or softened all round?"),
)
NOT_HOLDERS = ("gasket", "screw", "bolt", "washer", "plug", "seal ring", "o-ring", "label", "plate,")

TOLD_OF: tuple[tuple[str, HolderSort, str], ...] = (
    ("stands across", "bridging part", "off, or bolted to one side only?"),
    ("lies across", "bridging part", "off, or bolted to one side only?"),
    ("reaches across", "bridging part", "off, or bolted to one side only?"),
    ("bolted to both", "bridging part", "off, or bolted to one side only?"),
    ("fixed to both", "bridging part", "off, or bolted to one side only?"),
    ("screwed to both", "bridging part", "off, or bolted to one side only?"),
    ("bears on the", "bridging part", "off, or bolted to one side only?"),
    ("bridges the", "bridging part", "off, or bolted to one side only?"),
    ("spans the", "bridging part", "off, or bolted to one side only?"),
    ("press fit", "fit", "pressed apart as the manual says?"),
    ("shrink fit", "fit", "parted as the manual says?"),
    ("interference fit", "fit", "pressed apart as the manual says?"),
)
"""What a source says of a part that holds the joint, in a sentence that also names a part of the joint."""

TIES = ("ties ", "clamps ", "holds ")
"""What a source says of a nut that holds the joint through what passes through it."""

STANDS_ON = ("base frame", "base plate", "bed plate", "foundation", "floor")
"""What is not of the joint: a part that a step lifts off it stands there, and not across the joint."""


def holder_sort(name: str) -> tuple[HolderSort, str] | None:
    """The sort of holder that a part's name suggests, and what to look for; None for none."""
    low = name.lower()
    if any(word in low for word in NOT_HOLDERS):
        return None
    return next(((sort, ask) for word, sort, ask in HOLDER_WORDS if word in low), None)


def is_dowel_name(name: str) -> bool:
    """Whether the name is a dowel's, whatever its kind was read as."""
    return "dowel" in name.lower()
