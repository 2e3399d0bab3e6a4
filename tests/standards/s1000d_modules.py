"""A small publication of S1000D modules for the tests: an invented winch, written after issue 4.1 from
memory.

Its references go in a circle (case and pump need each other), lead nowhere (a strap that no module
describes), to
alternatives (press or puller), to a chain (case, then guard) and back to the module itself.
"""

from collections.abc import Iterable

CODE = (
    'modelIdentCode="WINCH" systemDiffCode="A" systemCode="{0}" subSystemCode="1" subSubSystemCode="0" '
    'assyCode="01" disassyCode="00" disassyCodeVariant="A" infoCode="{1}" infoCodeVariant="A" '
    'itemLocationCode="D"'
)
RULES_CODE = CODE.format("00", "022")


def code_of(system: str, info: str) -> str:
    """The module's code in one word."""
    return f"WINCH-A-{system}-10-01-00A-{info}A-D"


def refers(system: str, info: str) -> str:
    """A reference to a module."""
    return f"<dmRef><dmRefIdent><dmCode {CODE.format(system, info)}/></dmRefIdent></dmRef>"


def module(system: str, info: str, names: tuple[str, str], content: str) -> str:
    """A whole data module with its status."""
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n<dmodule><identAndStatusSection><dmAddress><dmIdent>'
        f'<dmCode {CODE.format(system, info)}/><language languageIsoCode="en" countryIsoCode="GB"/>'
        '<issueInfo issueNumber="001" inWork="00"/></dmIdent><dmAddressItems>'
        f'<issueDate year="2031" month="05" day="09"/><dmTitle><techName>{names[0]}</techName>'
        f"<infoName>{names[1]}</infoName></dmTitle></dmAddressItems></dmAddress><dmStatus>"
        '<security securityClassification="01"/><responsiblePartnerCompany><enterpriseName>None</en'
        "terpriseName>"
        "</responsiblePartnerCompany><originator><enterpriseName>None</enterpriseName></originator>"
        "<applic><displayText><simplePara>All</simplePara></displayText></applic><brexDmRef><dmRef>"
        "<dmRefIdent>"
        f"<dmCode {RULES_CODE}/></dmRefIdent></dmRef></brexDmRef><qualityAssurance><unverified/>"
        f"</qualityAssurance>"
        f"</dmStatus></identAndStatusSection><content>{content}</content></dmodule>\n"
    )


def condition(words: str, reference: str = "") -> str:
    """A required condition, with the module that brings it about or in words only."""
    if reference:
        return f"<reqCondDm><reqCond>{words}</reqCond>{reference}</reqCondDm>"
    return f"<reqCondNoRef><reqCond>{words}</reqCond></reqCondNoRef>"


def equipment(name: str) -> str:
    """One piece of support equipment."""
    one = f"<supportEquipDescr><name>{name}</name><reqQuantity>1</reqQuantity></supportEquipDescr>"
    return f"<supportEquipDescrGroup>{one}</supportEquipDescrGroup>"


def supply(name: str) -> str:
    """One supply."""
    one = f'<supplyDescr><name>{name}</name><reqQuantity unitOfMeasure="ml">5</reqQuantity></supplyDescr>'
    return f"<supplyDescrGroup>{one}</supplyDescrGroup>"


def spare(name: str) -> str:
    """One spare."""
    one = f"<spareDescr><name>{name}</name><reqQuantity>1</reqQuantity></spareDescr>"
    return f"<spareDescrGroup>{one}</spareDescrGroup>"


def procedure(
    steps: Iterable[str],
    before: str = "",
    close: str = "",
    needed: tuple[str, str, str] = ("", "", ""),
    safety: str = "",
) -> str:
    """A procedure; what is not given is said to be none."""
    tools, supplies, spares = needed
    return (
        f"<procedure><preliminaryRqmts><reqCondGroup>{before or '<noConds/>'}</reqCondGroup>"
        f"<reqSupportEquips>{tools or '<noSupportEquips/>'}</reqSupportEquips>"
        f"<reqSupplies>{supplies or '<noSupplies/>'}</reqSupplies><reqSpares>"
        f"{spares or '<noSpares/>'}</reqSpares>"
        f"<reqSafety>{f'<safetyRqmts>{safety}</safetyRqmts>' if safety else '<noSafety/>'}</reqSafety>"
        f"</preliminaryRqmts>"
        f"<mainProcedure>{''.join(steps)}</mainProcedure>"
        f"<closeRqmts><reqCondGroup>{close or '<noConds/>'}</reqCondGroup></closeRqmts></procedure>"
    )


def step(words: str, before: str = "", inside: str = "", mark: str = "") -> str:
    """One step, with what stands before its words and the steps in it."""
    return (
        f"<proceduralStep{f' id={mark!r}' if mark else ''}>{before}<para>{words}</para>"
        f"{inside}</proceduralStep>"
    )


def warned(sort: str, words: str) -> str:
    """A warning or caution."""
    return f"<{sort}><warningAndCautionPara>{words}</warningAndCautionPara></{sort}>"


GUARD = module("71", "520", ("Belt guard", "Remove procedure"), procedure([
    step("Remove the four screws M6 x 16.", warned("warning", "The edges are sharp.")),
    step("Take off the belt guard."),
]))  # fmt: skip
PUMP = module("73", "520", ("Oil pump", "Remove procedure"), procedure(
    [step("Unscrew the three nuts M8."), step("Pull off the oil pump.")], condition("Case parted",
    refers("72", "530")),
))  # fmt: skip
PRESS = module(
    "74", "520", ("Bearing by press", "Remove procedure"), procedure([step("Press out the bearing.")])
)
PULLER = module(
    "75", "520", ("Bearing by puller", "Remove procedure"), procedure([step("Pull out the bearing.")])
)
CASE = module("72", "530", ("Winch case", "Disassemble procedure"), procedure(
    [
        step("Remove the seven screws M6 x 45.", inside=step("Put them on the board.") + step("Count them."),
        mark="stp-1"),
        step(f"Remove the bearing (see {refers('74', '520')} or {refers('75', '520')})."),
        step("Part the case halves.", warned("warning", "The spring kicks.") + warned("caution",
        "Do not lever.")),
        step('Tighten the guide studs to 12 N·m (see <internalRef internalRefId="stp-1"/>).'),
    ],
    condition("Belt guard off", refers("71", "520")) + condition("Oil pump off", refers("73", "520"))
    + condition("Strap off", refers("79", "520")) + condition("Winch on a stand"),
    condition("Install the belt guard", refers("71", "720")),
    (equipment("Socket 10 mm"), supply("Thread sealant"), spare("Gasket")), warned("warning",
    "Hot oil burns."),
))  # fmt: skip


def line(item: str, count: str, name: str, number: str, indent: str = "2") -> str:
    """A line of the illustrated parts data."""
    return (
        f'<catalogSeqNumber figureNumber="01" item="{item}" indenture="{indent}"><itemSeqNumber '
        f'itemSeqNumberValue="00A"><quantityPerNextHigherAssy>{count}</quantityPerNextHigherAssy>'
        f'<partRef manufacturerCodeValue="NONE" partNumberValue="{number}"/><partSegment><itemIdentData>'
        f"<descrForPart>{name}</descrForPart></itemIdentData></partSegment></itemSeqNumber>"
        f"</catalogSeqNumber>"
    )


ROWS = (
    ("001", "1", "Winch case", "WN-1", "1"), ("002", "7", "Screw M6 x 45", "WN-2", "2"),
    ("003", "AR", "Sealant", "WN-3", "2"), ("004", "1", "Gasket", "WN-4", "2"),
)  # fmt: skip
PARTS = module("72", "941", ("Winch case", "Illustrated parts data"), (
    '<illustratedPartsCatalog><figure><title>Winch case</title><graphic infoEntityIdent="ICN-WINCH-1">'
    '<hotspot applicationStructureName="2"/></graphic></figure>'
    f"{''.join(line(*row) for row in ROWS)}</illustratedPartsCatalog>"
))  # fmt: skip
MODULES = {
    f"DMC-{code_of(system, info)}.XML": text
    for system, info, text in (
        ("71", "520", GUARD), ("72", "530", CASE), ("72", "941", PARTS), ("73", "520", PUMP), ("74", "520",
        PRESS),
        ("75", "520", PULLER),
    )
}  # fmt: skip
