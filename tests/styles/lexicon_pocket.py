# ruff: noqa: E501
"""The words of an invented maker of small engines: a pocket handbook, everything told in whole sentences."""

from __future__ import annotations

from dataclasses import replace

from styles.lexicon import OPEN, Lexicon

POCKET: Lexicon = replace(
    OPEN,
    machine="Merrowdale 98 autocycle engine",
    assemblies=(
        ("Top End", (
            ("cylinder head", ("sparking plug", "decompressor valve", "head steady")),
            ("cylinder barrel", ("piston", "gudgeon pin", "upper ring", "lower ring")),
            ("silencer", ("baffle tube", "end cap", "exhaust stub")))),
        ("Transmission", (
            ("clutch", ("pressure plate", "cork plate", "clutch drum", "push rod")),
            ("primary chain case", ("engine sprocket", "shock absorber", "inspection cap")),
            ("countershaft", ("final sprocket", "needle race", "distance collar")))),
        ("Crankcase", (
            ("drive-side half", ("main bearing", "oil seal ring", "dowel sleeve")),
            ("crank assembly", ("flywheel", "crankpin", "connecting rod", "mainshaft")),
            ("pedal shaft", ("pedal crank", "cotter pin", "return stop")))),
        ("Fuel and Ignition", (
            ("carburetter", ("float", "jet needle", "throttle slide", "banjo")),
            ("magneto", ("rotor", "contact breaker", "coil")),
            ("fuel tank", ("tap", "filter gauze", "tank strap")))),
        ("Frame Parts", (
            ("front forks", ("fork spring", "bottom link", "spindle")),
            ("rear brake", ("brake shoe", "brake cam", "anchor arm")))),
    ),
    fasteners=("nut", "bolt", "screw", "stud", "screw"),
    seals=("gasket", "washer of soft copper", "oil seal", "cork ring"),
    tools=("extractor T.6", "peg spanner T.11", "circlip pliers", "clutch compressor T.19"),
    remove=(
        "Undo {fast}.",
        "Take out {fast} and lift off {inner}.",
        "Loosen {fast} a little at a time until all are free.",
        "Using the {tool}, withdraw {inner}.",
        "Carefully ease {part} away from its face.",
        "Scratch a line across {inner} and its housing so that it goes back the same way.",
        "Pull out {inner} and put it in a jar of petrol.",
        "With a pencil mark the position of {inner}, then take it off.",
        "Throw away {seal}.",
        "Let the oil run into a tin, and wait until it drips no more.",
        "Unhook the cable from {inner}.",
        "Straighten the tab and take off {fast}.",
    ),
    install=(
        "Wipe the faces dry and put on a new {seal1}.",
        "Oil {inner} and push it home.",
        "Bring {part} up to the studs and press it on by hand.",
        "Put back {fast} and tighten to {torque}.",
        "Working from corner to corner, tighten {fast} to {torque}.",
        "Do up {fast} to {torque}.",
        "Insert {inner} with its mark towards the chain.",
        "Press {inner} in with the {tool}.",
        "Finally, see that {inner} spins freely.",
        "Then hook the cable to {inner}.",
    ),
    inspect=(
        "Clean {inner} with a rag and look for cracks.",
        "Measure the {measure} of {inner} in two directions: {limit}.",
        "Put a gauge to {inner} and read the {measure}. {Limit}.",
        "Replace {inner} if there is any doubt.",
        "Feel {inner} for shake.",
    ),
    opening=(
        ("Now split {inner}.", ("Undo {fast}.", "Part the halves by hand.", "Hook out {seal}.")),
        ("Free {part} from the frame.", ("Loosen {fast}.", "Swing {inner} to the left as far as it goes.")),
    ),
    closing=(("Put {inner} together.", ("Grease the bore.", "Slide {inner} along its shaft.", "Run up {fast} with the fingers.")),),
    refs={
        "page": ("Remove {part2}{ref}.", "Take off {part2}{ref}.", "First take {part2} off{ref}."),
        "title": ("Remove {part2}{ref}.", "Take {part2} away{ref}."),
        "chapter": ("Before starting on the engine, read {noun}.", "For the remaining work turn to {noun}."),
        "list": ("First do the work under {noun}.", "Go through {noun} before anything else."),
        "any_of": ("Remove {part2}{ref}.",),
        "figure": ("Lift out {inner}{ref}.", "Turn {inner} to the position shown{ref}."),
        "table": ("Tighten {fast}; for the figure {noun}.",),
        "other_book": ("For the daily oiling {noun}.", "Adjust the lamp; {noun}."),
        "reverse": ("Refitting is the reverse of removal.", "Refit in the reverse order.",
                    "Refitting is the reverse of removal, but use a new {seal1}."),
        "variant": ("On the de luxe model, remove {part2}{ref}.", "Machines with a two-speed hub: take off {part2}{ref}."),
        "serial": ("From engine no. {serial}, remove {part2}{ref}.", "Up to engine no. {serial}, take off {part2}{ref}."),
        "condition": ("If {inner} is worn, remove {part2}{ref}.", "Only when {inner} will not move, take off {part2}{ref}."),
        "self": ("Remove {part}{ref}.",),
        "words": ("Do not go further until {part2} has been removed.", "{Part2} must already be off."),
        "dangling": ("Take off the leg shield{ref}.", "Unclip the wiring{ref}."),
    },
    cautions=(
        ("warning", "Petrol vapour lies about the floor. No flame may be near."),
        ("warning", "The fork springs are strong; keep the face away."),
        ("caution", "Never use a screwdriver between the faces."),
        ("caution", "The rings are brittle and break if they are opened too far."),
        ("note", "The long screws belong at the bottom."),
        ("note", "The piston is marked on the crown."),
        ("note", "The dot on the rotor faces upwards."),
    ),
    text=(
        "This little book tells the owner who has some skill, and the dealer, how the engine is taken down and put "
        "together again.",
        "Left and right are as seen from the saddle. Gaskets are used once only.",
        "The number of the engine is stamped below the carburetter.",
        "Little wear is to be expected here if the oil is changed regularly.",
    ),
    decoys=("Engine cold", "Machine on its stand", "Plug lead off", "Tap turned off"),
    measures=("diameter", "gap", "thickness", "bore"),
    general=("General", "About this handbook", "Tightening figures", "Limits of wear"),
    parts_title="List of parts",
)  # fmt: skip
