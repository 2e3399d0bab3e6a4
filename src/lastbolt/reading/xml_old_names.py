"""S1000D modules of the issues up to 3.0, with their elements renamed as issue 4.0 renamed them.

Issue 4.0 (2008) gave all elements spelled-out names and turned the parts of codes into attributes. The names
here are those that the readers ask for; others stay as they are. Written from memory of the two vocabularies.
"""

import re
from collections.abc import Mapping

from lastbolt.words.tree import Element

ELEMENTS: Mapping[str, str] = {
    "idstatus": "identAndStatusSection", "dmaddres": "dmAddress", "dmtitle": "dmTitle",
    "techname": "techName", "infoname": "infoName", "issno": "issueInfo", "status": "dmStatus",
    "descript": "description", "para0": "levelledPara", "subpara1": "levelledPara",
    "subpara2": "levelledPara", "subpara3": "levelledPara", "subpara4": "levelledPara",
    "proced": "procedure", "mainfunc": "mainProcedure", "step1": "proceduralStep",
    "step2": "proceduralStep", "step3": "proceduralStep", "step4": "proceduralStep",
    "step5": "proceduralStep", "prelreqs": "preliminaryRqmts", "closereqs": "closeRqmts",
    "reqconds": "reqCondGroup", "noconds": "noConds", "reqcond": "reqCond", "reqcondm": "reqCondDm",
    "reqcontp": "reqCondExternalPublication", "reqpers": "reqPersons", "supequip": "reqSupportEquips",
    "supeqli": "supportEquipDescrGroup", "supequi": "supportEquipDescr", "nosupeq": "noSupportEquips",
    "supplies": "reqSupplies", "supplyli": "supplyDescrGroup", "supply": "supplyDescr",
    "nosupply": "noSupplies", "spares": "reqSpares", "sparesli": "spareDescrGroup", "spare": "spareDescr",
    "nospares": "noSpares", "safety": "reqSafety", "safecond": "safetyRqmts", "nosafety": "noSafety",
    "nomen": "name", "identno": "identNumber", "mfc": "manufacturerCode", "pnr": "partNumber",
    "qty": "reqQuantity", "refdm": "dmRef", "reftp": "externalPubRef", "pubcode": "externalPubCode",
    "pubtitle": "externalPubTitle", "xref": "internalRef", "ipc": "illustratedPartsCatalog",
    "csn": "catalogSeqNumber", "isn": "itemSeqNumber", "qna": "quantityPerNextHigherAssy",
    "dfp": "descrForPart", "randlist": "randomList", "seqlist": "sequentialList", "item": "listItem",
    "deflist": "definitionList", "acterm": "acronymTerm", "acrodef": "acronymDefinition",
}  # fmt: skip
ATTRIBUTES: Mapping[str, str] = {
    "xrefid": "internalRefId", "xidtype": "internalRefTargetType", "issno": "issueNumber",
    "apsid": "applicationStructureIdent", "apsname": "applicationStructureName",
    "boardno": "infoEntityIdent", "ind": "indenture", "uom": "unitOfMeasure",
    "refapplic": "applicRefId",
}  # fmt: skip
CODE_PARTS: Mapping[str, str] = {
    "modelic": "modelIdentCode", "sdc": "systemDiffCode", "chapnum": "systemCode",
    "section": "subSystemCode", "subsect": "subSubSystemCode", "subject": "assyCode",
    "discode": "disassyCode", "discodev": "disassyCodeVariant", "incode": "infoCode",
    "incodev": "infoCodeVariant", "itemloc": "itemLocationCode",
}  # fmt: skip
_CSN = re.compile(r"(?P<sns>.*?)(?P<fig>\d{2})(?P<figv>[A-Z]?)(?P<item>\d{3})(?P<itemv>[A-Z]?)")


def is_old(root: Element) -> bool:
    """Whether a module speaks the vocabulary of the issues up to 3.0.

    The two share few names; the module's own code is written `avee` there, and `dmCode` since.
    """
    return root.first("avee") is not None and root.first("dmCode") is None


def upgraded(element: Element) -> Element:
    """The element with what stands in it, in the vocabulary of issue 4.0; places stay those of the source."""
    if element.name == "avee":
        parts = {CODE_PARTS[c.name]: c.words() for c in element.children() if c.name in CODE_PARTS}
        return Element("dmCode", parts, (), element.file, element.line, element.path)
    attributes = {ATTRIBUTES.get(key, key): value for key, value in element.attributes.items()}
    if element.name == "csn":
        attributes = {**attributes, **_sequence_number(element.get("csn"))}
    if element.name == "isn":
        attributes["itemSeqNumberValue"] = element.get("isn")
    content = tuple(upgraded(part) if isinstance(part, Element) else part for part in element.content)
    name = ELEMENTS.get(element.name, element.name)
    return Element(name, attributes, content, element.file, element.line, element.path)


def _sequence_number(printed: str) -> dict[str, str]:
    """The figure and item of a catalogue sequence number: its last digits, "... 01A005B"."""
    match = _CSN.fullmatch("".join(printed.split()).replace("-", "").upper())
    if match is None:
        return {}
    return {
        "figureNumber": match["fig"], "figureNumberVariant": match["figv"],
        "item": match["item"], "itemVariant": match["itemv"],
    }  # fmt: skip
