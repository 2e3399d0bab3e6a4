# ruff: noqa: E501
"""The words of an invented maker: things, sentences, cautions. A house style takes one lexicon."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Lexicon:
    """What a maker's writers have at hand. Slots in sentences: fast part inner seal tool torque limit ref part2."""

    machine: str
    assemblies: tuple[tuple[str, tuple[tuple[str, tuple[str, ...]], ...]], ...]
    fasteners: tuple[str, ...]
    seals: tuple[str, ...]
    tools: tuple[str, ...]
    remove: tuple[str, ...]
    install: tuple[str, ...]
    inspect: tuple[str, ...]
    opening: tuple[tuple[str, tuple[str, ...]], ...]
    """A step and its sub-steps, where things come apart."""
    closing: tuple[tuple[str, tuple[str, ...]], ...]
    """The same where they go together."""
    refs: dict[str, tuple[str, ...]]
    """Sentences by kind of reference."""
    cautions: tuple[tuple[str, str], ...]
    text: tuple[str, ...]
    decoys: tuple[str, ...]
    measures: tuple[str, ...]
    general: tuple[str, str, str, str] = ("General", "About this manual", "Tightening torques", "Wear limits")
    parts_title: str = "Parts list"
    actions: dict[str, str] = field(default_factory=dict)


OPEN = Lexicon(
    machine="Tollmarsh H31 hoist drive",
    assemblies=(
        ("Brake", (
            ("brake housing", ("brake disc", "pressure plate", "thrust spring", "release lever")),
            ("brake magnet", ("armature", "guide bush", "return spring")),
            ("hand release", ("cam", "link rod", "stop collar")))),
        ("Gear unit", (
            ("gear housing", ("bevel pinion", "spacer tube", "layshaft", "ring gear")),
            ("input shaft", ("roller bearing", "shim pack", "splined hub")),
            ("output flange", ("flange ring", "thrust washer", "lip seal carrier")),
            ("oil pump", ("rotor", "pump cover", "relief valve")))),
        ("Drum", (
            ("rope drum", ("drum shaft", "rope clamp", "end disc")),
            ("drum bearing", ("bearing cap", "ball race", "grease cup")),
            ("rope guide", ("guide screw", "follower", "side roller")))),
        ("Engine", (
            ("cylinder head", ("rocker shaft", "inlet valve", "exhaust valve", "push rod")),
            ("flywheel", ("starter ring", "crank hub", "key")),
            ("fuel tank", ("filler neck", "drain plug", "strainer")),
            ("oil pan", ("baffle plate", "suction pipe", "dipstick tube")))),
        ("Frame", (
            ("chain guard", ("guard plate", "hinge", "inspection flap")),
            ("base frame", ("rubber mount", "cross member", "towing eye")))),
    ),
    fasteners=("screw", "bolt", "nut", "screw", "stud"),
    seals=("gasket", "O-ring", "shaft seal", "paper joint"),
    tools=("puller HT-14", "pin wrench HT-22", "guide mandrel HT-30", "lifting beam HT-41", "socket 24 mm"),
    remove=(
        "Remove {fast}.",
        "Remove {fast} and take off {inner}.",
        "Slacken {fast} evenly, then unscrew them.",
        "Unscrew {fast} while a helper holds {inner}.",
        "Withdraw {inner} with the {tool}.",
        "Lift {part} off the dowels.",
        "Mark the position of {inner} before it is taken out.",
        "Take out {inner} and lay it on a clean cloth.",
        "Remove {inner} together with its shims; keep the shims in order.",
        "Prise out {seal} and discard it.",
        "Drain the oil from {part} into a clean tray.",
        "Disconnect the lead from {inner}.",
        "Bend back the lock plate and remove {fast}.",
    ),
    install=(
        "Clean the joint faces and fit a new {seal1}.",
        "Oil {inner} lightly and fit it.",
        "Set {part} on the dowels with the mark facing outwards.",
        "Fit {fast} and tighten to {torque}.",
        "Tighten {fast} crosswise to {torque}.",
        "Torque {fast} to {torque}.",
        "Fit {inner} with the chamfer towards the housing.",
        "Press in {inner} with the {tool} until it bottoms.",
        "Fit {fast} with threadlocker, medium strength, and tighten to {torque}.",
        "Check that {inner} turns freely by hand.",
    ),
    inspect=(
        "Clean {inner} and check it for cracks, scoring and discoloration.",
        "Measure the {measure} of {inner} at four places: {limit}.",
        "Measure the {measure} of {inner} with a dial gauge. {Limit}.",
        "Replace {inner} if it is worn beyond the limit.",
        "Check the threads of {inner}; chase them if needed.",
    ),
    opening=(
        ("Dismantle {inner} as follows:", ("Remove {fast}.", "Separate the two halves.", "Take out {seal}.")),
        ("Free {part} from its mount:", ("Slacken {fast}.", "Turn {inner} to the left until it stops.")),
    ),
    closing=(
        ("Fit {inner}:", ("Grease the bore.", "Slide {inner} on to its seat.", "Fit {fast}, finger tight.")),
    ),
    refs={
        "section": ("Remove {part2}{ref}.", "Take off {part2}{ref} and put it aside.", "Dismount {part2}{ref}."),
        "page": ("Remove {part2}{ref}.", "Take {part2} off{ref}."),
        "title": ("Remove {part2}{ref}.", "Remove {part2} first{ref}."),
        "chapter": ("Before any work on the drive is begun, read {noun}.", "For the complete assembly see {noun}."),
        "range": ("Carry out {noun}.", "Do the work described in {noun}."),
        "list": ("First complete {noun}.", "Carry out {noun} before the next step."),
        "any_of": ("Remove {part2}{ref}.",),
        "steps": ("Take the assembly apart; follow {noun}.", "Open {part2} as told in {noun}."),
        "repeat": ("Repeat {noun} for the other side.", "Repeat {noun} for each remaining cap."),
        "figure": ("Lift out {inner}{ref}.", "Turn {inner} so that the slot lies as shown{ref}."),
        "table": ("Tighten {fast}; for the torque {noun}.",),
        "other_book": ("For the daily checks {noun}.", "Wire the motor; {noun}."),
        "reverse": ("Installation is the reverse of removal.", "Install in the reverse order of removal.",
                    "Installation is the reverse of removal, but a new {seal1} must be fitted."),
        "variant": ("Models with electric start: remove {part2}{ref}.", "Version B only: take off {part2}{ref}."),
        "serial": ("From serial no. {serial}: remove {part2}{ref}.", "Up to serial no. {serial}, dismount {part2}{ref}."),
        "condition": ("If {inner} is damaged, remove {part2}{ref}.", "Only when {inner} is stuck, take off {part2}{ref}."),
        "self": ("Remove {part}{ref}.",),
        "words": ("Do not go on unless {part2} has been removed.", "{Part2} must already be off."),
        "dangling": ("Remove the side cover{ref}.", "Blow out the oil way{ref}."),
    },
    cautions=(
        ("warning", "The load must be on the ground before the brake is opened."),
        ("warning", "Springs are under tension. Wear eye protection."),
        ("caution", "Do not pry on the joint faces."),
        ("caution", "Oil that is left in blind holes can burst the casting."),
        ("note", "The two longest screws sit next to the drain plug."),
        ("note", "Keep the shims of each side together."),
        ("warning", "The parts are hot after running. Let them cool."),
        ("note", "The mark on the rim faces the operator."),
    ),
    text=(
        "This manual is written for trained fitters. It tells how the hoist drive is taken apart, checked and put "
        "together again.",
        "Left and right are as seen by the operator. Old seals are never used again.",
        "The drive has been run on the test bed before delivery. The serial number is stamped on the gear housing.",
        "The assembly needs no care between overhauls apart from the oil level.",
        "The parts are paired at the factory and bear the same number.",
    ),
    decoys=("Hoist on level ground", "Engine cold", "Drive unit on a stand", "Power switched off"),
    measures=("diameter", "end float", "thickness", "bore", "runout"),
)  # fmt: skip
