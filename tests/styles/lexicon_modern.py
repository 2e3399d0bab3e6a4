# ruff: noqa: E501
"""The words of an invented maker of compressors: a modern book set from a database of sentences."""

from __future__ import annotations

from dataclasses import replace

from styles.lexicon import OPEN, Lexicon

MODERN: Lexicon = replace(
    OPEN,
    machine="Quorvex K5 compressor",
    assemblies=(
        ("Drive", (
            ("drive motor", ("terminal cover", "fan cowl", "feather key")),
            ("coupling", ("elastic element", "coupling half", "spacer sleeve")),
            ("belt guard", ("guard mesh", "hinge bracket", "quarter-turn lock")))),
        ("Compressor stage", (
            ("intake housing", ("intake flap", "flap spindle", "pilot piston")),
            ("rotor housing", ("main rotor", "gate rotor", "suction plate", "wear sleeve")),
            ("discharge cover", ("bearing plate", "angular contact bearing", "shim ring")),
            ("shaft seal carrier", ("sleeve", "wave spring", "scavenge tube")))),
        ("Oil system", (
            ("oil filter head", ("filter cartridge", "bypass valve", "pressure switch")),
            ("oil separator", ("separator element", "scavenge line", "sight glass")),
            ("thermostat housing", ("wax element", "thermostat spring", "end cap")))),
        ("Cooling", (
            ("fan unit", ("fan wheel", "fan shroud", "inlet cone")),
            ("combined cooler", ("oil matrix", "air matrix", "drain valve")))),
        ("Air outlet", (
            ("minimum pressure valve", ("valve insert", "check disc", "valve cap")),
            ("condensate trap", ("float ball", "trap bowl", "strainer insert")))),
    ),
    fasteners=("screw", "nut", "screw", "bolt", "flange screw"),
    seals=("O-ring", "flat gasket", "sealing ring", "moulded gasket"),
    tools=("puller QX-010", "assembly sleeve QX-024", "torque wrench", "locking pin QX-031", "eye bolt M10"),
    remove=(
        "Unscrew {fast}.",
        "Unscrew {fast} and remove {inner}.",
        "Undo {fast} crosswise and take them out.",
        "Withdraw {inner} using the {tool}.",
        "Lift {part} off and set it down on a clean surface.",
        "Mark the installation position of {inner}.",
        "Remove and dispose of {seal}.",
        "Disconnect the plug from {inner}.",
        "Collect the oil that runs out of {part}.",
        "Pull {inner} out by hand.",
        "Release the clip and push {inner} aside.",
    ),
    install=(
        "Clean the sealing surfaces and insert a new {seal1}.",
        "Coat {inner} with compressor oil and insert it.",
        "Place {part} on the locating pins.",
        "Screw in {fast}. Tightening torque: {torque}.",
        "Tighten {fast} crosswise. Tightening torque: {torque}.",
        "Insert {fast} and tighten to {torque}.",
        "Fit {inner}; the arrow points in the direction of flow.",
        "Press in {inner} using the {tool}.",
        "Coat the threads of {fast} with threadlocker (medium strength) and tighten to {torque}.",
        "Check that {inner} moves freely.",
    ),
    inspect=(
        "Clean {inner} and check for cracks and scoring.",
        "Measure the {measure} of {inner}. {Limit}.",
        "Determine the {measure} of {inner} at three points: {limit}.",
        "Renew {inner} if a value is outside the tolerance.",
        "Check {inner} for ease of movement.",
    ),
    opening=(
        ("Dismantle {inner}:", ("Undo {fast}.", "Separate the halves.", "Remove {seal}.")),
        ("Release {part} from its seat:", ("Slacken {fast}.", "Turn {inner} counter-clockwise up to the stop.")),
    ),
    closing=(("Assemble {inner}:", ("Grease the bore.", "Push {inner} up to the stop.", "Screw in {fast} hand-tight.")),),
    refs={
        "page": ("Remove {part2}{ref}.", "Take off {part2}{ref}."),
        "title": ("Remove {part2}{ref}.", "Take {part2} off{ref}.", "Remove {part2} beforehand{ref}."),
        "chapter": ("Before beginning, observe {noun}.", "For all further work see {noun}."),
        "list": ("Beforehand, complete {noun}.", "Carry out {noun} first."),
        "any_of": ("Remove {part2}{ref}.",),
        "figure": ("Lift out {inner}{ref}.", "Align {inner} as shown{ref}."),
        "table": ("Tighten {fast}; for the torque {noun}.",),
        "other_book": ("For daily checks {noun}.", "Connect the supply; {noun}."),
        "reverse": ("Installation is carried out in reverse order of removal.", "Install in reverse order.",
                    "Installation is carried out in reverse order of removal; insert a new {seal1}."),
        "variant": ("Version with frequency converter: remove {part2}{ref}.", "Only for air-cooled units: take off {part2}{ref}."),
        "serial": ("From serial no. {serial}: remove {part2}{ref}.", "Up to serial no. {serial}: take off {part2}{ref}."),
        "condition": ("If {inner} is damaged, remove {part2}{ref}.", "Only if {inner} cannot be moved, take off {part2}{ref}."),
        "self": ("Remove {part}{ref}.",),
        "words": ("Continue only when {part2} has been removed.", "{Part2} must already be removed."),
        "dangling": ("Remove the side panel{ref}.", "Flush the control line{ref}."),
    },
    cautions=(
        ("warning", "Unit under pressure. Relieve the pressure and check the gauge before opening."),
        ("warning", "Hot oil can cause burns. Let the unit cool down."),
        ("warning", "Start-up by remote control. Lock the main switch."),
        ("caution", "Sharp edges on the rotors. Wear gloves."),
        ("caution", "Levers damage the sealing surfaces. Use the jacking threads."),
        ("note", "The longest screws are next to the outlet."),
        ("note", "Keep the shim rings with their bearing."),
    ),
    text=(
        "This manual is intended for service technicians who have been trained on the unit.",
        "Left and right are as seen from the control panel. Seals are never used twice.",
        "The serial number is on the type plate beside the intake.",
        "The assembly is maintenance-free between overhauls.",
    ),
    decoys=("Unit switched off and locked", "Unit cooled down", "Compressor on a pallet", "Pressure relieved"),
    measures=("diameter", "axial play", "thickness", "bore"),
    general=("General", "About this manual", "Tightening torques", "Wear limits"),
    parts_title="Spare parts",
)  # fmt: skip
