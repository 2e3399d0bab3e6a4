"""Small S1000D modules and DITA topics, written for these tests.

Element and attribute names are those of the public standards (S1000D issues 3.0 and 4.1, DITA 1.2/1.3); all
content is invented. "Memory": the structure was written from memory, without the schema at hand.
"""

from pathlib import Path

from lastbolt.app.read_sources import Marked, SourceFile, read_sources
from lastbolt.edge.xml_in import read_publication
from lastbolt.words.machine import Machine, Procedure

DMC = (
    'modelIdentCode="LB" systemDiffCode="A" systemCode="{system}" subSystemCode="1" subSubSystemCode="0" '
    'assyCode="01" disassyCode="00" disassyCodeVariant="A" infoCode="{info}" infoCodeVariant="A" '
    'itemLocationCode="D"'
)


def dmc(system: str, info: str) -> str:
    """The code as a string: system 72, information code 520 -> LB-A-72-10-01-00A-520A-D."""
    return f"LB-A-{system}-10-01-00A-{info}A-D"


def dm_ref(system: str, info: str, more: str = "") -> str:
    """A reference to a module (S1000D 4.1 chapter 3.9.5.2.1.2, references; memory)."""
    return f"<dmRef {more}><dmRefIdent><dmCode {DMC.format(system=system, info=info)}/></dmRefIdent></dmRef>"


def module(
    system: str, info: str, names: tuple[str, str], content: str, issue: str = "001", top: str = ""
) -> str:
    """A data module (S1000D 4.1 chapter 3.9.5.1, identification and status section; memory)."""
    return f"""<?xml version="1.0" encoding="UTF-8"?>
{top}<dmodule>
<identAndStatusSection><dmAddress>
<dmIdent><dmCode {DMC.format(system=system, info=info)}/>
<language languageIsoCode="en" countryIsoCode="GB"/><issueInfo issueNumber="{issue}" inWork="00"/></dmIdent>
<dmAddressItems><dmTitle><techName>{names[0]}</techName><infoName>{names[1]}</infoName></dmTitle></dmAddressItems>
</dmAddress><dmStatus><applic><displayText><simplePara>All</simplePara></displayText></applic></dmStatus>
</identAndStatusSection>
<content>{content}</content>
</dmodule>"""


def procedure(steps: str, conditions: str = "<noConds/>", close: str = "<noConds/>", more: str = "") -> str:
    """A procedure (S1000D 4.1 chapters 3.9.5.2.1.9 and 3.9.5.2.3; memory)."""
    return (
        f"<procedure><preliminaryRqmts><reqCondGroup>{conditions}</reqCondGroup>{more}</preliminaryRqmts>"
        f"<mainProcedure>{steps}</mainProcedure>"
        f"<closeRqmts><reqCondGroup>{close}</reqCondGroup></closeRqmts></procedure>"
    )


def step(words: str, more: str = "", attributes: str = "") -> str:
    """One step of a procedure."""
    return f"<proceduralStep {attributes}>{more}<para>{words}</para></proceduralStep>"


def needs(words: str, reference: str) -> str:
    """A required condition with its module (chapter 3.9.5.2.1.9, reqCondDm; memory)."""
    return f"<reqCondDm><reqCond>{words}</reqCond>{reference}</reqCondDm>"


def put(folder: Path, **files: str) -> Path:
    """The files in a folder; names without ending get .xml."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in files.items():
        (folder / f"{name}.xml").write_text(text, encoding="utf-8")
    return folder


def read(path: Path) -> Machine:
    """The model of a folder, archive or file of modules."""
    publication = read_publication(path)
    return read_sources([Marked(SourceFile(path.name, publication.sha256), publication)]).machine


def of(machine: Machine, number: str) -> Procedure:
    """The procedure of a data module code, or of a topic id."""
    return next(p for p in machine.procedures if p.id.endswith(f"/procedure/{number}"))


def codes(machine: Machine) -> list[str]:
    """The codes of all problems, sorted."""
    return sorted(problem.code for problem in machine.problems)
