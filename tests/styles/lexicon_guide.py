# ruff: noqa: E501
"""The words of an invented maker of chippers: a time guide for dealers, told in as few words as will do."""

from __future__ import annotations

from dataclasses import replace

from styles.lexicon import OPEN, Lexicon

GUIDE: Lexicon = replace(
    OPEN,
    machine="Prandle 60 chipper power unit",
    assemblies=(
        ("Engine", (
            ("blower housing", ("recoil starter", "debris screen", "air baffle")),
            ("cylinder head", ("rocker stand", "push rod guide", "valve cap", "head shroud")),
            ("flywheel", ("flywheel hub", "ring gear", "flywheel key")),
            ("oil base", ("oil pickup", "oil baffle", "gear pump")))),
        ("Clutch", (
            ("clutch drum", ("friction shoe", "drum spring", "hub spacer")),
            ("throwout fork", ("fork pivot", "release bearing", "fork boot")),
            ("belt sheave", ("taper bushing", "belt keeper", "sheave hub")))),
        ("Gearbox", (
            ("gearbox cover", ("shift rail", "detent ball", "breather")),
            ("input shaft", ("pinion", "bearing cone", "preload spacer")),
            ("output shaft", ("drive gear", "bearing cup", "shaft collar", "slinger")))),
        ("Feed", (
            ("feed roll", ("roll bearing", "roll spring", "torque arm")),
            ("hydraulic pump", ("pump coupling", "inlet elbow", "relief cartridge")),
            ("control bar", ("bar link", "spool clevis", "detent spring")))),
        ("Cutter", (
            ("cutter disc", ("knife", "knife backer", "fan blade")),
            ("cutter hood", ("hood hinge", "discharge chute", "hood latch")))),
    ),
    fasteners=("bolt", "screw", "nut", "cap screw", "stud"),
    seals=("gasket", "O-ring", "lip seal", "sealing ring"),
    tools=("puller 60-114", "hub wrench 60-120", "seal driver 60-133", "hoist", "holding bar 60-107"),
    remove=(
        "Remove {fast}.",
        "Remove {fast} and {inner}.",
        "Loosen {fast} evenly; remove.",
        "Pull {inner} with {tool}.",
        "Lift {part} off dowels.",
        "Tag {inner} for position.",
        "Pry out {seal}; discard.",
        "Drain oil from {part}.",
        "Unplug lead at {inner}.",
        "Slide {inner} off shaft.",
        "Remove cotter pin and {fast}.",
    ),
    install=(
        "Clean faces; install new {seal1}.",
        "Oil {inner}; install.",
        "Set {part} on dowels.",
        "Install {fast}; torque to {torque}.",
        "Torque {fast} in crisscross order to {torque}.",
        "Install {fast}. Tighten to {torque}.",
        "Install {inner}, chamfer in.",
        "Drive in {inner} with {tool}.",
        "Apply threadlocker, medium; tighten {fast} to {torque}.",
        "Check {inner} for free rotation.",
    ),
    inspect=(
        "Wash {inner}; look for cracks and scoring.",
        "Measure {measure} of {inner}: {limit}.",
        "Check {measure} of {inner} with dial indicator: {limit}.",
        "Replace {inner} if out of limits.",
        "Check threads of {inner}.",
    ),
    opening=(
        ("Disassemble {inner}:", ("Remove {fast}.", "Split halves.", "Remove {seal}.")),
        ("Free {part}:", ("Loosen {fast}.", "Turn {inner} left to stop.")),
    ),
    closing=(("Build up {inner}:", ("Grease bore.", "Slide {inner} on seat.", "Start {fast} by hand.")),),
    refs={
        "section": ("Remove {part2}{ref}.", "Take off {part2}{ref}."),
        "page": ("Remove {part2}{ref}.", "Remove {part2} first{ref}."),
        "title": ("Remove {part2}{ref}.",),
        "chapter": ("Before starting, read {noun}.", "For complete overhaul see {noun}."),
        "range": ("Perform {noun}.", "Do {noun}."),
        "list": ("Complete {noun}.", "Perform {noun} before next step."),
        "any_of": ("Remove {part2}{ref}.",),
        "steps": ("Open {part2}; follow {noun}.", "Perform {noun}."),
        "repeat": ("Repeat {noun} on other side.", "Repeat {noun} for each remaining knife."),
        "figure": ("Lift out {inner}{ref}.", "Align {inner} as shown{ref}."),
        "table": ("Tighten {fast}; for torque {noun}.",),
        "other_book": ("For daily service {noun}.", "Adjust governor; {noun}."),
        "reverse": ("Installation is reverse of removal.", "Install in reverse order of removal.",
                    "Installation is reverse of removal, except install new {seal1}."),
        "variant": ("Model 60E only: remove {part2}{ref}.", "Units with electric start: remove {part2}{ref}."),
        "serial": ("S/N {serial} and up: remove {part2}{ref}.", "Before S/N {serial}: remove {part2}{ref}."),
        "condition": ("If {inner} is scored, remove {part2}{ref}.", "Only if {inner} is seized, remove {part2}{ref}."),
        "self": ("Remove {part}{ref}.",),
        "words": ("Do not proceed until {part2} is removed.", "{Part2} must be off before this step."),
        "dangling": ("Remove side shield{ref}.", "Bleed hose{ref}."),
    },
    cautions=(
        ("warning", "Cutter disc can turn by itself. Block it before reaching in."),
        ("warning", "Springs are under load. Wear eye protection."),
        ("warning", "Oil under pressure can pierce skin."),
        ("caution", "Do not pry on machined faces."),
        ("caution", "Knife edges are sharp; use gloves."),
        ("note", "Long bolts go next to drain plug."),
        ("note", "Keep shims with their bearing."),
    ),
    text=(
        "Times are for a unit that is clean and on the shop floor. They do not include road test or pickup.",
        "Left and right are as seen from the feed chute. Discard all old seals.",
        "Serial number plate is on the gearbox cover.",
        "Parts of this group are matched at the plant.",
    ),
    decoys=("Unit on stand", "Engine cold", "Spark plug lead off", "Wheels blocked"),
    measures=("diameter", "end play", "thickness", "bore"),
    general=("General", "How to use this guide", "Torque chart", "Wear limits"),
    parts_title="Parts lists",
)  # fmt: skip
