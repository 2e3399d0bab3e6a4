# ruff: noqa: E501
"""The words of an invented publisher of shop manuals for farm tractors: whole sentences, one after the other."""

from __future__ import annotations

from dataclasses import replace

from styles.lexicon import OPEN, Lexicon

FARM: Lexicon = replace(
    OPEN,
    machine="Garnet Valley 40 and 42 tractors",
    assemblies=(
        ("Front System", (
            ("front axle", ("axle pivot pin", "radius rod", "spindle bushing")),
            ("steering gear", ("worm shaft", "sector shaft", "ball nut", "side cover")),
            ("tie rod", ("tube clamp", "rod end", "dust cap")))),
        ("Engine", (
            ("cylinder head", ("rocker arm shaft", "valve spring", "head water outlet")),
            ("timing gear cover", ("crankshaft pulley", "slinger", "idler gear")),
            ("oil pan", ("oil pickup", "pan baffle", "oil level tube")),
            ("flywheel", ("ring gear", "pilot bearing", "flywheel dowel")))),
        ("Clutch", (
            ("engine clutch", ("clutch disc", "pressure plate", "release collar")),
            ("clutch shaft", ("shaft sleeve", "pto drive hub", "snap ring")))),
        ("Transmission", (
            ("shift cover", ("shift rail", "detent spring", "shifter fork")),
            ("countershaft", ("reverse idler", "thrust collar", "low gear")),
            ("range box", ("sun gear", "planet carrier", "coupling sleeve")))),
        ("Hydraulic Lift", (
            ("lift cover", ("rockshaft", "lift arm", "draft plunger")),
            ("hydraulic pump", ("pump gear", "wear plate", "pump body")),
            ("control valve", ("valve spool", "check ball", "unloader")))),
    ),
    fasteners=("cap screw", "nut", "cap screw", "bolt", "stud"),
    seals=("gasket", "O-ring", "oil seal", "quad ring"),
    tools=("puller GV-17", "splitting stand", "seal driver GV-23", "chain hoist", "spanner GV-31"),
    remove=(
        "Remove {fast}.",
        "Unbolt and remove {inner}.",
        "Remove {fast} and lift off {inner}.",
        "Loosen {fast} evenly until all tension is relieved.",
        "Working through the side opening, remove {inner}.",
        "Use {tool} to pull {inner} from its bore.",
        "Bump {part} loose with a soft hammer.",
        "Identify {inner} so it can be reinstalled in its original position.",
        "Discard {seal}.",
        "Drain the oil.",
        "Disconnect {inner}.",
        "Attach a hoist to {part} and take up the slack.",
        "Cut the lock wire and remove {fast}.",
    ),
    install=(
        "Clean all gasket surfaces and install a new {seal1}.",
        "Lubricate {inner} and slide it into place.",
        "Lower {part} over the dowel pins.",
        "Install {fast} and tighten to a torque of {torque}.",
        "Tighten {fast} evenly to a torque of {torque}.",
        "Using {tool}, drive {inner} in until it bottoms.",
        "Install {inner} with the long hub forward.",
        "Tighten {fast} to {torque} and install new lock wire.",
        "Rotate {inner} by hand to be sure that it does not bind.",
        "Fill with clean oil to the level plug.",
    ),
    inspect=(
        "Wash {inner} in solvent and inspect for wear, cracks or scoring.",
        "Check the {measure} of {inner}, which should be {limit}.",
        "Using a dial indicator, measure the {measure} of {inner}; it should be {limit}.",
        "Renew {inner} if its condition is questionable.",
        "Try {inner} on its shaft for free movement.",
    ),
    opening=(
        ("Proceed to disassemble {inner}.", ("Remove {fast}.", "Separate the halves.", "Pry out {seal}.")),
        ("Free {part} from its seat.", ("Loosen {fast}.", "Turn {inner} to the left until it stops.")),
    ),
    closing=(("Assemble {inner}.", ("Grease the bore.", "Slide {inner} onto its seat.", "Start {fast} by hand.")),),
    refs={
        "section": ("Remove {part2}{ref}.", "Unbolt and remove {part2}{ref}.", "First, remove {part2}{ref}."),
        "title": ("Remove {part2}{ref}.",),
        "chapter": ("For work on related parts, see {noun}.", "Before starting, read {noun}."),
        "range": ("Perform the work in {noun}.", "Proceed as in {noun}."),
        "list": ("Perform the work in {noun}.", "Complete {noun} before going on."),
        "any_of": ("Remove {part2}{ref}.",),
        "figure": ("Lift out {inner}{ref}.", "Turn {inner} until its flat is as shown{ref}."),
        "table": ("Tighten {fast}; for the torque {noun}.",),
        "other_book": ("For daily lubrication {noun}.", "Adjust the governor; {noun}."),
        "reverse": ("Installation is the reverse of removal.", "To install, reverse the removal procedure.",
                    "Installation is the reverse of removal, except that a new {seal1} must be used."),
        "variant": ("On diesel models, remove {part2}{ref}.", "On model 42, remove {part2}{ref}."),
        "serial": ("On tractors from serial number {serial}, remove {part2}{ref}.", "On tractors prior to serial number {serial}, remove {part2}{ref}."),
        "condition": ("If {inner} is worn, remove {part2}{ref}.", "Only if {inner} is to be renewed, remove {part2}{ref}."),
        "self": ("Remove {part}{ref}.",),
        "words": ("Do not proceed until {part2} has been removed.", "{Part2} must already be off."),
        "dangling": ("Remove the side screen{ref}.", "Bleed the brake line{ref}."),
    },
    cautions=(
        ("warning", "Block the front wheels and support the tractor on stands before any bolt is removed."),
        ("warning", "The draft spring is preloaded. Keep clear of its end."),
        ("caution", "Do not pry between machined surfaces."),
        ("caution", "Do not allow the drive shaft to hang by its splines."),
        ("note", "The two longer cap screws are installed at the rear."),
        ("note", "Shims must be kept in their original position."),
        ("note", "Timing marks are on the front face of the gears."),
    ),
    text=(
        "This manual covers both gasoline and diesel models. All directions are given as seen from the operator's seat.",
        "Gaskets and lock wire are not to be used again.",
        "The serial number is stamped on the right side of the shift cover.",
        "The unit needs no attention between overhauls if its oil is changed at the proper time.",
    ),
    decoys=("Tractor on level floor", "Engine cold", "Tractor on stands", "Battery disconnected"),
    measures=("diameter", "end play", "thickness", "bore"),
    general=("Service Data", "General", "Tightening torques", "Wear limits"),
    parts_title="Parts reference",
)  # fmt: skip
