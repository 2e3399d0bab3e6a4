"""What a sheet or a screen shows: one frozen value per page, laid out by an edge, never changed by it."""

from msgspec import Struct

from lastbolt.words.citation import Box
from lastbolt.words.claims import Verdict
from lastbolt.words.picture import JointPicture, Spot


class Crop(Struct, frozen=True):
    """A piece of a page to show as a picture: the cited box with some page around it."""

    key: str
    source: str
    pdf_page: int
    box: Box


class Cite(Struct, frozen=True):
    """A citation in words; `crop` is the key of its picture, if it stands on a page."""

    where: str
    words: str = ""
    crop: str | None = None


class Remark(Struct, frozen=True):
    """A sentence with where it stands; `aside` is a smaller second sentence (what to do, by whom)."""

    words: str
    aside: str = ""
    cites: tuple[Cite, ...] = ()


class CautionShown(Struct, frozen=True):
    """A warning of the source, with its signal word."""

    signal: str
    words: str


class LineShown(Struct, frozen=True):
    """One line of the checklist. `tags`: short words such as "left-hand thread" or "new gasket"."""

    mark: str
    words: str
    cautions: tuple[CautionShown, ...] = ()
    tags: tuple[str, ...] = ()
    why: str = ""
    cites: tuple[Cite, ...] = ()
    confirm: bool = False
    done: bool = False
    stop: str = ""
    """Work stops before this line: why, in one sentence."""
    which: tuple[str, ...] = ()
    """Which fasteners a bare "remove the screws" means."""


class BlockShown(Struct, frozen=True):
    """One procedure of the checklist with its picture and the question to ask before starting it."""

    number: str
    title: str
    where: str
    why: str = ""
    question: str = ""
    picture: str | None = None
    cautions: tuple[CautionShown, ...] = ()
    lines: tuple[LineShown, ...] = ()


class SizeShown(Struct, frozen=True):
    """One size: how many this engine should have in the joint, and what was seen.

    `because`: what the papers say, less or plus what this engine's own file says. `differs`: whole pieces
    were counted, and not as many as expected.
    """

    size: str
    expected: str
    because: str
    seen: str
    differs: bool = False


class HolderShown(Struct, frozen=True):
    """Another holder of the joint and whether it is settled."""

    name: str
    state: str
    settled: bool
    cites: tuple[Cite, ...] = ()


class ReportPage(Struct, frozen=True):
    """The report on one goal: the answer first, then what it stands on."""

    title: str
    subtitle: str
    sentence: str
    verdict: Verdict
    why: str = ""
    clear_to_part: bool = False
    next_steps: tuple[Remark, ...] = ()
    picture: JointPicture = JointPicture()
    legend: tuple[tuple[Spot, str], ...] = ()
    """Marks with what they mean; only those met."""
    picture_key: str = ""
    no_picture: str = ""
    """Why there is none."""
    places: tuple[tuple[str, str], ...] = ()
    """Label and state in words, place by place."""
    counts: tuple[SizeShown, ...] = ()
    count_disagreements: tuple[str, ...] = ()
    """Sentences with their numbers; they stand before the counts, all of them."""
    count_notes: tuple[str, ...] = ()
    suspicions: tuple[Remark, ...] = ()
    more_suspicions: tuple[str, ...] = ()
    """Further ones, in short."""
    holders: tuple[HolderShown, ...] = ()
    holder_notes: tuple[str, ...] = ()
    ready: tuple[Remark, ...] = ()
    before_off: tuple[Remark, ...] = ()
    blocks: tuple[BlockShown, ...] = ()
    plan_state: str = ""
    open_points: tuple[Remark, ...] = ()
    disagreements: tuple[Remark, ...] = ()
    way_back: tuple[Remark, ...] = ()
    certificate: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    not_covered: tuple[str, ...] = ()
    crops: tuple[Crop, ...] = ()
    safety: tuple[CautionShown, ...] = ()
    made_safe: str = ""
    """What is asked before the next steps; the cautions themselves stand below."""
    """Cautions that hold for all of it: the manual's own first."""
