"""What S1000D issue 4.1 says of procedural and illustrated-parts modules, as a table.

From memory of issue 4.1, chapters 3.9.5.1 (identification and status), 3.9.5.2.1 (common constructs),
3.9.5.2.3 (procedural) and 3.9.5.2.7 (parts); no schema at hand. The order of the preliminary requirements,
the names of groups and of their "none" elements agree with modules of issues 4.0 to 5.0 found in public
repositories. Facts only.
"""

from standards.checking import Rule, any_of

CODE = {
    "modelIdentCode": "[A-Z0-9]{2,14}", "systemDiffCode": "[A-Z0-9]{1,4}", "systemCode": "[A-Z0-9]{2,3}",
    "subSystemCode": "[A-Z0-9]", "subSubSystemCode": "[A-Z0-9]", "assyCode": "[A-Z0-9]{2}(?:[A-Z0-9]{2})?",
    "disassyCode": "[A-Z0-9]{2}", "disassyCodeVariant": "[A-Z0-9]{1,3}", "infoCode": "[A-Z0-9]{3}",
    "infoCodeVariant": "[A-Z0-9]", "itemLocationCode": "[ABCDT]",
}  # fmt: skip
TEXT = Rule(
    any_of("dmRef", "internalRef", "emphasis", "subScript", "superScript", "quantity", "acronym", "pmRef"),
    words=True,
)
PARA = Rule(
    any_of(
        "dmRef", "internalRef", "emphasis", "subScript", "superScript", "quantity", "acronym", "randomList",
        "sequentialList", "externalPubRef", "catalogSeqNumberRef", "pmRef",
    ),
    words=True, may=("applicRefId",),
)  # fmt: skip
REFERS = ("applicRefId", "warningRefs", "cautionRefs", "independentCheck", "skillLevelCode", "keepWithNext")
DESCRIBED = Rule(
    ("name (shortName )?(catalogSeqNumberRef |natoStockNumber )*(identNumber )*reqQuantity (remarks )?"),
    may=REFERS,
)
CONDITION = "((?:reqCondNoRef|reqCondDm|reqCondPm|reqCondExternalPub|reqCondCircuitBreaker) )+"
RULES: dict[str, Rule] = {
    "dmodule": Rule("identAndStatusSection content ", may=("noNamespaceSchemaLocation",)),
    "identAndStatusSection": Rule("dmAddress dmStatus "),
    "dmAddress": Rule("dmIdent dmAddressItems "),
    "dmIdent": Rule("(identExtension )?dmCode language issueInfo "),
    "dmCode": Rule(must=CODE),
    "language": Rule(must={"languageIsoCode": "[a-z]{2,3}", "countryIsoCode": "[A-Z]{2}"}),
    "issueInfo": Rule(must={"issueNumber": r"\d{3}", "inWork": r"\d{2}"}),
    "dmAddressItems": Rule("issueDate dmTitle "),
    "issueDate": Rule(must={"year": r"\d{4}", "month": "0[1-9]|1[0-2]", "day": r"0[1-9]|[12]\d|3[01]"}),
    "dmTitle": Rule("techName (infoName )?(infoNameVariant )?"), "techName": TEXT, "infoName": TEXT,
    "dmStatus": Rule(
        "security (dataRestrictions )*(logo )?responsiblePartnerCompany originator "
        "(applicCrossRefTableRef )?applic "
        "(techStandard )?brexDmRef (qualityAssurance )+(systemBreakdownCode )*(skillLevel )*(reason"
        "ForUpdate )*"
        "(remarks )*", may=("issueType",),
    ),
    "security": Rule(must={"securityClassification": r"\d{2}"}, may=("commercialClassification", "caveat")),
    "responsiblePartnerCompany": Rule("(enterpriseName )?", may=("enterpriseCode",)),
    "originator": Rule("(enterpriseName )?", may=("enterpriseCode",)), "enterpriseName": TEXT,
    "applic": Rule("(displayText )?((?:assert|evaluate) )?"), "displayText": Rule("(simplePara )+"),
    "assert": Rule(words=True, may=("applicPropertyIdent", "applicPropertyType", "applicPropertyValues")),
    "simplePara": TEXT, "brexDmRef": Rule("dmRef "),
    "dmRef": Rule("dmRefIdent (dmRefAddressItems )?(behavior )?", may=("applicRefId", "referredFragment",
    "show", "actuate")),
    "dmRefIdent": Rule("(identExtension )?dmCode (issueInfo )?(language )?"),
    "dmRefAddressItems": Rule("(dmTitle )?(issueDate )?"),
    "qualityAssurance": Rule("unverified |(firstVerification )(secondVerification )?"), "unverified": Rule(),
    "firstVerification": Rule(must={"verificationType": "tabtop|onobject|ttandoo"}),
    "remarks": Rule("(simplePara )+"),
    "content": Rule("(refs )?(referencedApplicGroup )?(warningsAndCautions )?(procedure "
        "|illustratedPartsCatalog )"),
    "refs": Rule("((?:dmRef|pmRef|externalPubRef) )+"),
    "externalPubRef": Rule("externalPubRefIdent (externalPubRefAddressItems )?"),
    "externalPubRefIdent": Rule("(externalPubCode )?(externalPubTitle )?(externalPubIssueInfo )?"),
    "externalPubTitle": TEXT, "externalPubCode": TEXT,
    # procedural
    "procedure": Rule("(commonInfo )?preliminaryRqmts mainProcedure closeRqmts "),
    "preliminaryRqmts": Rule(
        "(productionMaintData )?reqCondGroup (reqPersons )?(reqTechInfoGroup )?reqSupportEquips "
        "reqSupplies reqSpares "
        "reqSafety "
    ),
    "closeRqmts": Rule("reqCondGroup "), "reqCondGroup": Rule(f"noConds |{CONDITION}"), "noConds": Rule(),
    "reqCondNoRef": Rule("reqCond ", may=("applicRefId",)), "reqCondDm": Rule("reqCond dmRef ",
    may=("applicRefId",)),
    "reqCondExternalPub": Rule("reqCond externalPubRef "), "reqCond": TEXT,
    "reqPersons": Rule("(person |personnel )+"),
    "personnel": Rule("(personCategory )?(personSkill )?(trade )?(estimatedTime )?", may=("numRequired",)),
    "reqSupportEquips": Rule("noSupportEquips |supportEquipDescrGroup "), "noSupportEquips": Rule(),
    "supportEquipDescrGroup": Rule("(supportEquipDescr )+"), "supportEquipDescr": DESCRIBED,
    "reqSupplies": Rule("noSupplies |supplyDescrGroup "), "noSupplies": Rule(),
    "supplyDescrGroup": Rule("(supplyDescr )+"), "supplyDescr": DESCRIBED,
    "reqSpares": Rule("noSpares |spareDescrGroup "), "noSpares": Rule(),
    "spareDescrGroup": Rule("(spareDescr )+"), "spareDescr": DESCRIBED,
    "name": TEXT, "reqQuantity": Rule(words=True, may=("unitOfMeasure",)),
    "identNumber": Rule("manufacturerCode (partAndSerialNumber )?"), "manufacturerCode": Rule(words=True),
    "partAndSerialNumber": Rule("(partNumber )?(serialNumber )*"), "partNumber": Rule(words=True),
    "reqSafety": Rule("noSafety |(safetyRqmts )+"), "noSafety": Rule(),
    "safetyRqmts": Rule("(warning )*(caution )*(note )*", may=("warningRefs", "cautionRefs")),
    "mainProcedure": Rule("(proceduralStep )+"),
    "proceduralStep": Rule(
        "(title )?(warning )*(caution )*((?:note|para|figure|table) )*(proceduralStep )*", may=REFERS
    ),
    "title": TEXT, "para": PARA,
    "warning": Rule("(symbol )?(warningAndCautionPara )+", may=("vitalWarningFlag",)),
    "caution": Rule("(symbol )?(warningAndCautionPara )+"), "note": Rule("(symbol )?(notePara )+"),
    "warningAndCautionPara": PARA, "notePara": PARA, "emphasis": Rule(words=True, may=("emphasisType",)),
    "internalRef": Rule(words=True, must={"internalRefId": r"[A-Za-z_][\w.\-]*"},
    may=("internalRefTargetType", "referredFragment")),
    # illustrated parts data
    "illustratedPartsCatalog": Rule("(figure )*(catalogSeqNumber )+"),
    "figure": Rule("title (graphic )+", may=("applicRefId",)),
    "graphic": Rule("(hotspot )*", must={"infoEntityIdent": "ICN-[A-Z0-9-]+"}),
    "hotspot": Rule(may=("applicationStructureName", "applicationStructureIdent", "hotspotTitle",
    "hotspotType")),
    "catalogSeqNumber": Rule(
        "(itemSeqNumber )+", must={"figureNumber": "[0-9A-Z]{2,3}", "item": r"\d{3}"},
        may=("indenture", "itemVariant", "figureNumberVariant", "catalogSeqNumberValue"),
    ),
    "itemSeqNumber": Rule(
        "(reasonForSelection )?quantityPerNextHigherAssy (totalQuantity )?partRef (partSegment "
        ")?(partLocationSegment )?"
        "(applicabilitySegment )?(genericPartDataGroup )?",
        must={"itemSeqNumberValue": r"\d{2}[A-Z]|[A-Z0-9]{3}"}, may=("applicRefId",),
    ),
    "quantityPerNextHigherAssy": Rule(words=True),
    "partRef": Rule(must={"manufacturerCodeValue": "[A-Z0-9]{1,5}", "partNumberValue": ".{1,32}"}),
    "partSegment": Rule("itemIdentData (techData )?"), "itemIdentData": Rule("descrForPart "),
    "descrForPart": TEXT,
    "partLocationSegment": Rule("(attachStoreShipPart )?"),
    "attachStoreShipPart": Rule(may=("attachStoreShipPartCode",)),
}  # fmt: skip
COMMON = (
    "id",
    "changeMark",
    "changeType",
    "reasonForUpdateRefIds",
    "securityClassification",
    "derivativeClassificationRefId",
)
