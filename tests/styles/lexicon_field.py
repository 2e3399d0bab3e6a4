# ruff: noqa: E501
"""The words of an invented service: a field maintenance book for a generator set."""

from __future__ import annotations

from dataclasses import replace

from styles.lexicon import OPEN, Lexicon

FIELD: Lexicon = replace(
    OPEN,
    machine="Generator set 15 kW, Ordwell type 2",
    assemblies=(
        ("Engine", (
            ("rocker cover", ("oil filler", "baffle", "breather tube")),
            ("cylinder head", ("rocker arm shaft", "valve bridge", "thermostat", "lifting bracket")),
            ("crankshaft damper", ("damper hub", "pulley", "timing pointer")),
            ("oil pan", ("pickup screen", "drain cock", "level gage")))),
        ("Fuel System", (
            ("injection pump", ("drive gear", "shutdown lever", "delivery valve")),
            ("fuel tank", ("tank sender", "tank strap", "fill neck")),
            ("lift pump", ("diaphragm", "primer lever", "pump lid")))),
        ("Alternator", (
            ("alternator end bell", ("rear bearing", "brush holder", "louver")),
            ("rotor", ("exciter armature", "drive disk", "fan")),
            ("control box", ("voltage regulator", "hinge pin", "wiring harness")))),
        ("Cooling System", (
            ("radiator", ("radiator cap", "overflow tube", "isolator")),
            ("coolant pump", ("pump impeller", "pump shaft", "ceramic seat")))),
        ("Frame and Housing", (
            ("top panel", ("lifting eye", "exhaust flap", "panel hinge")),
            ("skid base", ("shock mount", "tie-down ring", "fork pocket")))),
    ),
    fasteners=("capscrew", "bolt", "nut", "screw", "capscrew"),
    seals=("gasket", "preformed packing", "oil seal", "seal ring"),
    tools=("torque wrench, 0-175 lb-ft", "mechanical puller", "retaining ring pliers", "lifting sling", "dial indicator"),
    remove=(
        "Remove {fast}.",
        "Remove {fast} and {inner} from {part}.",
        "Loosen {fast} and let {inner} hang free.",
        "Using {tool}, remove {inner}.",
        "Lift {part} from the dowels.",
        "Tag {inner} for reassembly.",
        "Remove {seal}. Discard {seal}.",
        "Drain oil from {part} into a suitable container.",
        "Disconnect the harness from {inner}.",
        "Remove the cotter pin and {fast}. Discard the cotter pin.",
        "Slide {inner} off the shaft.",
    ),
    install=(
        "Clean mating surfaces and install a new {seal1}.",
        "Apply engine oil to {inner} and install it.",
        "Position {part} on the dowels.",
        "Install {fast}. Torque to {torque}.",
        "Torque {fast} in a crisscross pattern to {torque}.",
        "Tighten {fast} to {torque}.",
        "Install {inner} with the part number facing out.",
        "Press in {inner} until it seats.",
        "Apply sealing compound to the threads of {fast} and tighten to {torque}.",
        "Make sure that {inner} turns freely.",
    ),
    inspect=(
        "Inspect {inner} for cracks, burrs and scoring.",
        "Measure the {measure} of {inner}. {Limit}.",
        "Using a dial indicator, check the {measure} of {inner}: {limit}.",
        "Replace {inner} if it is not within limits.",
        "Inspect the threads of {inner}.",
    ),
    opening=(
        ("Disassemble {inner} as follows:", ("Remove {fast}.", "Separate the halves.", "Remove {seal}.")),
        ("Free {part} as follows:", ("Loosen {fast}.", "Turn {inner} counterclockwise to the stop.")),
    ),
    closing=(("Assemble {inner} as follows:", ("Install {fast} finger-tight.", "Grease the bore.", "Slide {inner} onto its seat.")),),
    refs={
        "section": ("Remove {part2}{ref}.", "Remove and set aside {part2}{ref}.", "Disconnect and remove {part2}{ref}."),
        "page": ("Remove {part2}{ref}.", "Remove {part2} first{ref}."),
        "title": ("Remove {part2}{ref}.",),
        "chapter": ("Before starting this task, read {noun}.", "For general overhaul see {noun}."),
        "range": ("Perform {noun}.", "Do the tasks in {noun}."),
        "list": ("Perform {noun} first.", "Complete {noun} before proceeding."),
        "any_of": ("Remove {part2}{ref}.",),
        "steps": ("Disassemble {part2} in accordance with {noun}.", "Perform {noun}."),
        "repeat": ("Repeat {noun} for the opposite side.", "Repeat {noun} for each remaining mount."),
        "figure": ("Lift out {inner}{ref}.", "Align {inner} as shown{ref}."),
        "table": ("Tighten {fast}; for torque {noun}.",),
        "other_book": ("For daily checks {noun}.", "Adjust the governor; {noun}."),
        "reverse": ("Installation is the reverse of removal.", "Install in reverse order of removal.",
                    "Installation is the reverse of removal, except that a new {seal1} is installed."),
        "variant": ("On the 60 hertz set, remove {part2}{ref}.", "Sets with winterization kit only: remove {part2}{ref}."),
        "serial": ("On serial numbers {serial} and up, remove {part2}{ref}.", "Prior to serial number {serial}, remove {part2}{ref}."),
        "condition": ("If {inner} is damaged, remove {part2}{ref}.", "Only if {inner} is seized, remove {part2}{ref}."),
        "self": ("Remove {part}{ref}.",),
        "words": ("Do not proceed unless {part2} has been removed.", "{Part2} must be removed before this step."),
        "dangling": ("Remove the side louver{ref}.", "Bleed the return line{ref}."),
    },
    cautions=(
        ("warning", "High voltage can cause death. Disconnect the load and ground the set."),
        ("warning", "Fuel vapor can explode. Do not smoke or use an open flame."),
        ("warning", "The rotor weighs 60 pounds. Use a lifting device."),
        ("caution", "Do not pry between mating surfaces."),
        ("caution", "Cap all openings. Dirt will damage the injection pump."),
        ("note", "Two capscrews are longer than the others."),
        ("note", "Shims may be stuck to the bearing."),
    ),
    text=(
        "This chapter gives field and depot level instructions. Tasks are given in the order in which they are done.",
        "Left and right are as seen when facing the control box. Discard all gaskets and cotter pins.",
        "The data plate is on the control box.",
        "The parts of this assembly are matched and must be kept together.",
    ),
    decoys=("Set on level ground", "Engine cold", "Batteries disconnected", "Set on maintenance stand"),
    measures=("diameter", "end play", "thickness", "bore"),
    general=("Introduction", "Scope", "Torque values", "Wear limits"),
    parts_title="Repair parts",
)  # fmt: skip
