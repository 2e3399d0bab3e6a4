"""What the standards say about the elements that an export uses, as data, and a check against it.

DITA: OASIS, DITA 1.3 grammar files (Errata 02, 2018-01-16): `task.mod`, `taskreqDomain.mod`,
`topic.mod`, `commonElements.mod`, and `machineryTaskbodyConstraint.mod` of DITA 1.2; looked up, not from
memory. Only what an export may use of each model stands here: an element that is not listed is an error.
S1000D: issue 4.1, chapters 3.9.5.1, 3.9.5.2.1 and 3.9.5.2.3, from memory, without the schema.
"""

import re
from typing import NamedTuple

from lastbolt.words.tree import Element


class Model(NamedTuple):
    """A content model: a pattern over the names of the children, and whether words may stand among them."""

    children: str = ""
    words: bool = False
    attributes: tuple[str, ...] = ()


LIST_ITEM = Model(
    r"((p|note|data|draft-comment) )*", True, ("id",)
)  # listitem.cnt, itemgroup.cnt: parts of it
IN_LINE = Model(
    r"((data|draft-comment) )*", True, ("id",)
)  # ph.cnt, title.cnt (no draft-comment is used there)
DITA: dict[str, Model] = {
    "task": Model(r"title (shortdesc )?(prolog )?(taskbody )?", attributes=("id", "lang")),
    "title": Model("", True),
    "shortdesc": Model("", True),
    "prolog": Model(r"(data )*"),
    # machineryTaskbodyConstraint.mod
    "taskbody": Model(r"((prelreqs|context|section) )*(steps )?(result )?(example )*(closereqs )?"),
    "section": Model(r"(title )?((ul|p|data) )*"),
    "ul": Model(r"(li )+"),
    "li": LIST_ITEM,
    # taskreqDomain.mod
    "prelreqs": Model(r"(reqconds )?(reqpers )?(supequip )?(supplies )?(spares )?(safety )?"),
    "closereqs": Model(r"reqconds "),
    "reqconds": Model(r"noconds |((reqcond|reqcontp) )+"),
    "reqcond": LIST_ITEM,
    "supequip": Model(r"nosupeq |supeqli "),
    "supeqli": Model(r"(supequi )+"),
    "supequi": LIST_ITEM,
    "supplies": Model(r"nosupply |supplyli "),
    "supplyli": Model(r"(supply )+"),
    "supply": LIST_ITEM,
    "spares": Model(r"nospares |sparesli "),
    "sparesli": Model(r"(spare )+"),
    "spare": LIST_ITEM,
    "safety": Model(r"nosafety |(safecond )+"),
    "safecond": LIST_ITEM,
    # task.mod
    "steps": Model(r"((stepsection )?step )+"),
    "stepsection": LIST_ITEM,
    "step": Model(
        r"(note )*cmd ((choices|choicetable|info|itemgroup|stepxmp|substeps|tutorialinfo) )*(stepresult )?",
        attributes=("id", "importance"),
    ),
    "cmd": IN_LINE,
    "info": LIST_ITEM,
    "stepresult": LIST_ITEM,
    # topic.mod, commonElements.mod
    "note": Model(r"((p|data|draft-comment) )*", True, ("type",)),
    "p": Model(r"((data|draft-comment|note) )*", True),
    "data": Model("", False, ("name", "value")),
    "draft-comment": Model("", True),
}
NOTE_TYPES = ("attention", "caution", "danger", "important", "note", "notice", "warning")

CODE = (
    "modelIdentCode", "systemDiffCode", "systemCode", "subSystemCode", "subSubSystemCode", "assyCode",
    "disassyCode", "disassyCodeVariant", "infoCode", "infoCodeVariant", "itemLocationCode",
)  # fmt: skip
CODE_PATTERN = "-".join((
    "[A-Z0-9]{2,14}", "[A-Z0-9]{1,4}", "[A-Z0-9]{2,3}", "[A-Z0-9]{2}", "([A-Z0-9]{2}|[A-Z0-9]{4})",
    "[A-Z0-9]{2}[A-Z0-9]{1,3}", "[A-Z0-9]{3}[A-Z0-9]", "[ABCDT]",
))  # fmt: skip
"""Chapter 4.3 (data module code), from memory."""
DESCRIBED = Model(r"name (identNumber )?reqQuantity (remarks )?")
S1000D: dict[str, Model] = {
    "dmodule": Model("identAndStatusSection content ", attributes=("noNamespaceSchemaLocation", "xsi")),
    "identAndStatusSection": Model("dmAddress dmStatus "),
    "dmAddress": Model("dmIdent dmAddressItems "),
    "dmIdent": Model("dmCode language issueInfo "),
    "dmCode": Model("", attributes=CODE),
    "language": Model("", attributes=("languageIsoCode", "countryIsoCode")),
    "issueInfo": Model("", attributes=("issueNumber", "inWork")),
    "dmAddressItems": Model("issueDate dmTitle "),
    "issueDate": Model("", attributes=("year", "month", "day")),
    "dmTitle": Model("techName (infoName )?"),
    "techName": Model("", True),
    "infoName": Model("", True),
    "dmStatus": Model(
        "security responsiblePartnerCompany originator applic brexDmRef (qualityAssurance )+(remarks )*",
        attributes=("issueType",),
    ),
    "security": Model("", attributes=("securityClassification",)),
    "responsiblePartnerCompany": Model("enterpriseName "),
    "originator": Model("enterpriseName "),
    "enterpriseName": Model("", True),
    "applic": Model("displayText "),
    "displayText": Model("(simplePara )+"),
    "simplePara": Model("", True),
    "brexDmRef": Model("dmRef "),
    "dmRef": Model("dmRefIdent "),
    "dmRefIdent": Model("dmCode "),
    "qualityAssurance": Model("unverified "),
    "unverified": Model(),
    "remarks": Model("(simplePara )+"),
    "content": Model("(refs )?(warningsAndCautions )?procedure "),
    "refs": Model("((dmRef|pmRef|externalPubRef) )+"),
    "externalPubRef": Model("externalPubRefIdent "),
    "externalPubRefIdent": Model("(externalPubCode )?(externalPubTitle )?"),
    "externalPubTitle": Model("", True),
    "procedure": Model("(commonInfo )?preliminaryRqmts mainProcedure closeRqmts "),
    "preliminaryRqmts": Model(
        "(productionMaintData )?reqCondGroup (reqPersons )?(reqTechInfoGroup )?"
        "reqSupportEquips reqSupplies reqSpares reqSafety "
    ),
    "closeRqmts": Model("reqCondGroup "),
    "reqCondGroup": Model("noConds |((reqCondNoRef|reqCondDm|reqCondExternalPub) )+"),
    "noConds": Model(),
    "reqCondNoRef": Model("reqCond "),
    "reqCond": Model("", True),
    "reqSupportEquips": Model("noSupportEquips |supportEquipDescrGroup "),
    "noSupportEquips": Model(),
    "supportEquipDescrGroup": Model("(supportEquipDescr )+"),
    "supportEquipDescr": DESCRIBED,
    "reqSupplies": Model("noSupplies |supplyDescrGroup "),
    "noSupplies": Model(),
    "supplyDescrGroup": Model("(supplyDescr )+"),
    "supplyDescr": DESCRIBED,
    "reqSpares": Model("noSpares |spareDescrGroup "),
    "noSpares": Model(),
    "spareDescrGroup": Model("(spareDescr )+"),
    "spareDescr": DESCRIBED,
    "name": Model("", True),
    "reqQuantity": Model("", True),
    "reqSafety": Model("noSafety |(safetyRqmts )+"),
    "noSafety": Model(),
    "safetyRqmts": Model("(warning )*(caution )*(note )*"),
    "mainProcedure": Model("(proceduralStep )+"),
    "proceduralStep": Model(
        "(title )?(warning )*(caution )*((note|para) )*(proceduralStep )*", attributes=("id",)
    ),
    "warning": Model("(warningAndCautionPara )+"),
    "caution": Model("(warningAndCautionPara )+"),
    "note": Model("(notePara )+"),
    "warningAndCautionPara": Model("", True),
    "notePara": Model("", True),
    "para": Model("", True),
}


def faults(root: Element, models: dict[str, Model]) -> list[str]:
    """What of the document its standard does not allow, and ids that are no XML ids or stand twice."""
    found: list[str] = []
    seen: set[str] = set()
    for element in (root, *root.below()):
        model = models.get(element.name)
        if model is None:
            found.append(f"{element.path}: no such element")
            continue
        inside = "".join(f"{child.name} " for child in element.children())
        if not re.fullmatch(model.children, inside):
            found.append(f"{element.path}: {inside}is not {model.children}")
        if not model.words and any(isinstance(part, str) and part.strip() for part in element.content):
            found.append(f"{element.path}: words where none may stand")
        found += [f"{element.path}: {name}" for name in element.attributes if name not in model.attributes]
        own = element.get("id")
        if own in seen or (own and not re.fullmatch(r"[A-Za-z_][\w.-]*", own, re.ASCII)):
            found.append(f"{element.path}: id {own}")
        seen |= {own} if own else set()
    return found
