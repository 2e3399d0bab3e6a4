"""What DITA says of tasks and machinery tasks, as a table.

Source: OASIS, Darwin Information Typing Architecture (DITA) Version 1.3, part 3, the language reference's
topics of each element, and DITA 1.2's of the task requirements domain with their lists "Contains" and
"Contained by"; the order inside `prelreqs` and the choice of "none" elements after the declarations of the
task requirements domain; the body of a strict task and of a machinery task after their constraint modules
(the latter from memory). Facts only; of the inline and block elements those that a task of a workshop
manual may use.
"""

from standards.checking import Rule, any_of

INLINE = (
    "b",
    "cite",
    "i",
    "keyword",
    "ph",
    "q",
    "sub",
    "sup",
    "term",
    "tm",
    "u",
    "xref",
    "uicontrol",
    "state",
)
ODD = ("data", "draft-comment", "fn", "indexterm", "required-cleanup", "foreign", "unknown")
BLOCKS = (
    "p",
    "ol",
    "ul",
    "sl",
    "dl",
    "note",
    "hazardstatement",
    "fig",
    "image",
    "lines",
    "lq",
    "object",
    "pre",
    "table",
    "simpletable",
)
ITEM = Rule(any_of(*BLOCKS, *INLINE, *ODD, "itemgroup"), words=True)
FLOW = Rule(any_of(*BLOCKS, *INLINE, *ODD), words=True)
IN_LINE = Rule(any_of(*INLINE, *ODD, "image"), words=True)
NOTE_TYPES = (
    "attention|caution|danger|fastpath|important|note|notice|other|remember|restriction|tip|trouble|warning"
)
LINK = ("href", "keyref", "format", "scope", "type")
NONE = Rule(may=("name", "value"))
DOING = (
    "((?:choices|choicetable|info|itemgroup|stepxmp|substeps|tutorialinfo) )*(stepresult "
    ")?(steptroubleshooting )?"
)
STRICT = (
    "(prereq )?(context )?(steps |steps-unordered )?(result )?(tasktroubleshooting )?(example )?(postreq )?"
)
MACHINERY = (
    "((?:prelreqs|context|section) )*(steps |steps-unordered |steps-informal )?(result )?"
    "(tasktroubleshooting )?(example )*(closereqs )?"
)
RULES: dict[str, Rule] = {
    "task": Rule(
        "title (titlealts )?(shortdesc |abstract )?(prolog )?(taskbody )?(related-links )?(task )*",
        must={"id": r"[A-Za-z_][\w.\-]*"}, may=("domains", "lang", "class"),
    ),
    "title": IN_LINE, "shortdesc": IN_LINE, "cmd": IN_LINE, "p": FLOW, "ph": IN_LINE, "b": IN_LINE,
    "i": IN_LINE,
    "prolog": Rule(
        "(author )*(source )?(publisher )?(copyright )*(critdates )?(permissions )?(metadata "
        ")*(resourceid )*(data )*"
    ),
    "data": Rule(any_of(*INLINE, "data", "image"), words=True, may=("name", "value", "datatype", *LINK)),
    "draft-comment": Rule(any_of(*BLOCKS, *INLINE, *ODD), words=True, may=("author", "time", "disposition")),
    "taskbody": Rule(f"{STRICT}|{MACHINERY}"),
    "prereq": FLOW, "postreq": FLOW, "context": FLOW, "result": FLOW, "example": Rule(any_of(*BLOCKS,
    *INLINE, *ODD, "title"), words=True),
    "section": Rule(any_of(*BLOCKS, *INLINE, *ODD, "title"), words=True, may=("spectitle",)),
    # the task requirements domain
    "prelreqs": Rule("(reqconds )?(reqpers )?(supequip )?(supplies )?(spares )?(safety )?"),
    "closereqs": Rule("reqconds "),
    "reqconds": Rule("noconds |((?:reqcond|reqcontp) )+"),
    "noconds": NONE, "reqcond": ITEM, "reqcontp": ITEM,
    "reqpers": Rule("(personnel (perscat )?(perskill )?(esttime )?)+"),
    "personnel": ITEM, "perscat": ITEM, "perskill": ITEM, "esttime": ITEM,
    "supequip": Rule("nosupeq |supeqli "), "nosupeq": NONE, "supeqli": Rule("(supequi )+"), "supequi": ITEM,
    "supplies": Rule("nosupply |supplyli "), "nosupply": NONE, "supplyli": Rule("(supply )+"), "supply": ITEM,
    "spares": Rule("nospares |sparesli "), "nospares": NONE, "sparesli": Rule("(spare )+"), "spare": ITEM,
    "safety": Rule("nosafety |(safecond )+"), "nosafety": NONE, "safecond": ITEM,
    # steps
    "steps": Rule("(data )*((stepsection )?step )+"),
    "steps-unordered": Rule("(data )*((stepsection )?step )+"),
    "stepsection": ITEM,
    "step": Rule(f"((?:note|hazardstatement) )*cmd {DOING}", may=("importance",)),
    "substeps": Rule("(data )*(substep )+"),
    "substep": Rule(("((?:note|hazardstatement) )*cmd ((?:itemgroup|info|stepxmp|tutorialinfo) "
        ")*(stepresult )?"), may=("importance",)),
    "info": ITEM, "stepxmp": ITEM, "stepresult": ITEM, "itemgroup": ITEM, "tutorialinfo": ITEM,
    "choices": Rule("(choice )+"), "choice": ITEM,
    "note": Rule(any_of(*BLOCKS, *INLINE, *ODD), words=True, may=("type", "othertype", "spectitle")),
    "xref": Rule(any_of(*INLINE, *ODD, "image", "desc"), words=True, may=LINK),
    "ul": Rule("(li )+", may=("compact",)), "ol": Rule("(li )+", may=("compact",)), "li": ITEM,
}  # fmt: skip
COMMON = (
    "id",
    "conref",
    "conkeyref",
    "outputclass",
    "props",
    "product",
    "platform",
    "audience",
    "rev",
    "lang",
    "class",
)
PUBLIC = {
    "machinery": '<!DOCTYPE task PUBLIC "-//OASIS//DTD DITA 1.3 Machinery Task//EN"',
    "strict": '<!DOCTYPE task PUBLIC "-//OASIS//DTD DITA 1.3 Task//EN"',
}
