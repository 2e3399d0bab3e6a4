# ruff: noqa: E501
"""The words of older invented makers: a typed works book, a pocket handbook, a farm engine's shop manual."""

from __future__ import annotations

from dataclasses import replace

from styles.lexicon import OPEN, Lexicon

TYPED: Lexicon = replace(
    OPEN,
    machine="Hallowick Mark IV pumping engine",
    assemblies=(
        ("Cylinder and Head", (
            ("cylinder head", ("rocker pedestal", "exhaust valve", "inlet valve", "push rod tube")),
            ("cylinder barrel", ("liner", "spigot ring", "distance piece")),
            ("decompressor", ("lifting lever", "spindle", "return spring")))),
        ("Crankcase", (
            ("end cover", ("main bearing", "thrust plate", "oil thrower")),
            ("sump", ("strainer", "drain pipe", "dip-stick")),
            ("crankcase door", ("breather", "stirrup", "clamp bar")))),
        ("Flywheel and Governor", (
            ("flywheel", ("taper key", "rim guard", "hub washer")),
            ("governor", ("weight carrier", "sliding sleeve", "speeder spring", "bell crank")),
            ("timing case", ("idler wheel", "idler pin", "camshaft wheel")))),
        ("Fuel and Water", (
            ("fuel pump", ("tappet", "delivery union", "rack")),
            ("water pump", ("impeller", "gland nut", "pump spindle")),
            ("fuel tank", ("filler cap", "gauze", "tank strap")))),
    ),
    fasteners=("nut", "bolt", "setscrew", "nut", "stud"),
    seals=("paper joint", "copper washer", "oil seal", "felt ring"),
    tools=("extractor P.14", "hide-faced hammer", "ring compressor P.22", "box key P.31", "feeler gauge"),
    remove=(
        "Undo {fast} and lift away {inner}.",
        "Unscrew {fast}.",
        "Slacken {fast} half a turn at a time, and then remove them.",
        "Draw off {inner}, using the {tool}.",
        "Tap {inner} lightly with a hide-faced hammer until it is free.",
        "Note the position of {inner} for re-assembly.",
        "Withdraw {inner} squarely, taking care that it does not foul {part}.",
        "Remove the split pin and unscrew {fast}.",
        "Lift off {part}.",
        "Discard {seal}.",
        "Run off the oil into a clean tin.",
        "Knock back the tab washer and undo {fast}.",
        "Take out {inner} and wash it in paraffin.",
    ),
    install=(
        "Scrape the joint faces clean and place a new {seal1} in position.",
        "Smear {inner} with clean engine oil and enter it in its bore.",
        "Offer up {part} and see that it beds evenly.",
        "Replace {fast} and tighten them to a torque of {torque}.",
        "Tighten {fast} in turn, and finally to {torque}.",
        "Pull down {fast} evenly to {torque}.",
        "Refit {inner} with the plain side outwards.",
        "Drive home {inner} with the {tool}.",
        "Screw up {fast} to {torque} and fit new split pins.",
        "Turn the engine by hand and make certain that {inner} does not bind.",
    ),
    inspect=(
        "Wash {inner} in paraffin and examine it for cracks and scores.",
        "Check the {measure} of {inner} with a micrometer; it should be {limit}.",
        "Set a dial gauge against {inner} and note the {measure}. {Limit}.",
        "Renew {inner} if it is worn beyond this figure.",
        "Try {inner} in its housing for shake.",
    ),
    opening=(
        ("Strip {inner} in the following manner:", ("Unscrew {fast}.", "Part the two halves.", "Pick out {seal}.")),
        ("Release {part} from its seat:", ("Slacken {fast}.", "Turn {inner} anti-clockwise as far as it will go.")),
    ),
    closing=(
        ("Build up {inner}:", ("Oil the bore.", "Slide {inner} on to its seat.", "Run up {fast} by hand.")),
    ),
    refs={
        "section": ("Take off {part2}{ref}.", "Detach {part2}{ref} and lay it aside.", "Remove {part2}{ref}."),
        "page": ("Detach {part2}{ref}.", "Take {part2} away{ref}."),
        "title": ("Remove {part2}{ref}.", "First detach {part2}{ref}."),
        "chapter": ("Before proceeding, study {noun}.", "For the complete assembly, see {noun}."),
        "range": ("Perform the operations in {noun}.", "Carry out the work in {noun}."),
        "list": ("First carry out {noun}.", "Complete {noun} before going further."),
        "any_of": ("Detach {part2}{ref}.",),
        "steps": ("Strip the assembly, following {noun}.", "Open {part2} as laid down in {noun}."),
        "repeat": ("Repeat {noun} on the other side.", "Repeat {noun} for each remaining bearing."),
        "figure": ("Lift out {inner}{ref}.", "Turn {inner} until the keyway is as shown{ref}."),
        "table": ("Tighten {fast}; for the torque {noun}.",),
        "other_book": ("For daily attention {noun}.", "Line up the belt; {noun}."),
        "reverse": ("Refitting is the reverse of removal.", "To refit, reverse the removal procedure.",
                    "Refitting is the reverse of removal, but a new {seal1} must be used."),
        "variant": ("On marine engines, detach {part2}{ref}.", "Radiator-cooled engines only: take off {part2}{ref}."),
        "serial": ("From engine no. {serial} onwards, detach {part2}{ref}.", "Before engine no. {serial}, take off {part2}{ref}."),
        "condition": ("If {inner} is scored, remove {part2}{ref}.", "Should {inner} be seized, take off {part2}{ref}."),
        "self": ("Remove {part}{ref}.",),
        "words": ("Do not proceed until {part2} has been removed.", "{Part2} must already have been taken off."),
        "dangling": ("Disconnect the drip feed{ref}.", "Clear the oil way with wire{ref}."),
    },
    cautions=(
        ("warning", "The flywheel must be chocked before any nut is slackened."),
        ("warning", "The valve springs are compressed and can fly out."),
        ("caution", "On no account use a lever between the joint faces."),
        ("caution", "Water left in the jacket will crack it in frost."),
        ("note", "The two long bolts are fitted nearest to the flywheel."),
        ("note", "The shims are to be kept with their own bearing."),
        ("note", "Each wheel is stamped with a dot on the meshing tooth."),
    ),
    text=(
        "This book is intended for the use of erectors and repair shops. All directions are given as seen from the "
        "flywheel end.",
        "Old joints must not be used a second time. Cleanliness is the first condition of good work.",
        "The engine was run on brake before despatch. The engine number is stamped on the crankcase.",
        "The parts are lapped together in the works and should not be interchanged.",
    ),
    decoys=("Engine cold and stopped", "Engine on trestles", "Water run off", "Cooling water shut off"),
    measures=("diameter", "end play", "thickness", "bore"),
    general=("General", "About this book", "Tightening torques", "Limits of wear"),
    parts_title="List of parts",
)  # fmt: skip
