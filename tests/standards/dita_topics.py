"""DITA topics for the tests: an invented winch as two machinery tasks and strict tasks, after OASIS DITA 1.3.

Structure: the language reference of DITA 1.3, part 3, and of DITA 1.2 for the task requirements domain.
References
go in a circle (case and pump), nowhere (a topic that is not there, a key that no map has), to alternatives,
through
a key, and a step is kept in one place for two topics (content reference).
"""

from standards.structure_dita import PUBLIC

HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
CASE = f"""{HEAD}{PUBLIC["machinery"]} "machineryTask.dtd">
<task id="case"><title>Separating the winch case</title><shortdesc>For the bench.</shortdesc><taskbody>
<prelreqs><reqconds><reqcond>Belt guard removed (<xref href="guard.dita"/>)</reqcond>
<reqcond>Oil pump removed (<xref href="pump.dita#pump"/>)</reqcond>
<reqcond>Strap removed (<xref href="strap.dita"/>)</reqcond>
<reqcond>Oil drained (<xref keyref="draining"/>)</reqcond><reqcond>Winch on a stand</reqcond></reqconds>
<reqpers><personnel>1</personnel><perscat>Fitter</perscat></reqpers>
<supequip><supeqli><supequi>Socket 10 mm</supequi></supeqli></supequip>
<supplies><supplyli><supply>Thread sealant</supply></supplyli></supplies>
<spares><sparesli><spare>Gasket</spare></sparesli></spares>
<safety><safecond>Hot oil burns.</safecond></safety></prelreqs>
<steps><step><cmd>Remove the seven screws M6 x 45.</cmd><substeps><substep><cmd>Put them on the
board.</cmd></substep>
<substep><cmd>Count them.</cmd></substep></substeps></step>
<step><cmd>Remove the bearing (see <xref href="press.dita"/> or <xref href="puller.dita"/>).</cmd></step>
<step><note type="danger">The spring kicks.</note><note type="caution">Do not lever.</note>
<cmd>Part the case halves.</cmd><stepresult>The joint is open.</stepresult></step>
<step><cmd>Tighten the guide studs to 12 N·m (<xref keyref="nobody"/>).</cmd></step></steps>
<closereqs><reqconds><reqcond>Belt guard installed (<xref href="guard.dita"/>)</reqcond></reqconds>
</closereqs>
</taskbody></task>
"""
GUARD = f"""{HEAD}{PUBLIC["strict"]} "task.dtd">
<task id="guard"><title>Removing the belt guard</title><taskbody><prereq>Power off.</prereq>
<steps>
<step id="sharp"><note type="warning">The edges are sharp.</note>
<cmd>Remove the four screws M6 x 16.</cmd></step>
<step><cmd>Take off the belt guard.</cmd></step></steps></taskbody></task>
"""
PUMP = f"""{HEAD}{PUBLIC["machinery"]} "machineryTask.dtd">
<task id="pump"><title>Removing the oil pump</title><taskbody>
<prelreqs><reqconds><reqcond>Case separated (<xref href="case.dita"/>)</reqcond></reqconds>
<supequip><nosupeq/></supequip><supplies><nosupply/></supplies>
<spares><nospares/></spares><safety><nosafety/></safety></prelreqs>
<steps><step><cmd>Unscrew the three nuts M8.</cmd></step>
<step><cmd>Pull off the oil pump.</cmd></step></steps>
<closereqs><reqconds><noconds/></reqconds></closereqs></taskbody></task>
"""


def short(mark: str, title: str, steps: str) -> str:
    """A strict task with a few steps."""
    return (
        f'{HEAD}{PUBLIC["strict"]} "task.dtd">\n<task id="{mark}"><title>{title}</title><taskbody>'
        f"<steps>{steps}"
        "</steps></taskbody></task>\n"
    )


PRESS = short("press", "Removing the bearing by press", "<step><cmd>Press out the bearing.</cmd></step>")
PULLER = short(
    "puller", "Removing the bearing by puller",
    '<step conref="guard.dita#guard/sharp"><cmd/></step><step><cmd>Pull out the bearing.</cmd></step>',
)  # fmt: skip
DRAIN = short("drain", "Draining the oil", "<step><cmd>Unscrew the plug M14 x 1.5.</cmd></step>")
TOPICS = {
    "case.dita": CASE, "guard.dita": GUARD, "pump.dita": PUMP, "press.dita": PRESS, "puller.dita": PULLER,
    "drain.dita": DRAIN,
}  # fmt: skip
MAP = (
    f"{HEAD}<map><title>Winch</title><keydef keys=\"draining\" href=\"drain.dita\"/>"
    + "".join(f'<topicref href="{name}"/>' for name in TOPICS) + "</map>\n"
)  # fmt: skip
FILES = {**TOPICS, "winch.ditamap": MAP}
