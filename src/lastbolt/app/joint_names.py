"""Whether a title of the sources names the joint's own parts."""

import re
from collections.abc import Iterable
from typing import Literal

from lastbolt.planning.names import sentences, stems
from lastbolt.words.joint import Walk
from lastbolt.words.machine import Machine, Mention

HowNamed = Literal["both", "one", "no"]
_BELONGS = re.compile(r"\bbelongs? to the ([a-z -]+?) joint\b", re.IGNORECASE)


def faces_of(walks: Iterable[Walk]) -> tuple[frozenset[str], ...]:
    """The words of each of the parts that come apart, as the walks name them."""
    found = {frozenset(stems(face)): None for walk in walks for face in walk.faces}
    return tuple(words for words in found if words)


def words_of(walk: Walk) -> frozenset[str]:
    """The words by which a walk calls its joint."""
    said = (walk.joint, walk.name, *walk.faces)
    return frozenset(stem for words in said for stem in stems(words))


def joint_words(machine: Machine, walks: Iterable[Walk], goals: tuple[str, ...]) -> frozenset[str]:
    """The words by which sources call the joint's own parts: its faces, and what the goal's sections part."""
    parts = [part for procedure in machine.procedures if procedure.id in goals for part in procedure.parts]
    of_goal = {word for part in parts for word in stems(part)}
    return frozenset(of_goal.union(*faces_of(walks)))


def how_named(title: str, faces: tuple[frozenset[str], ...]) -> HowNamed:
    """Whether a title names both parts of the joint ("Gearcase housing and cover", or "Gearbox", which both
    share), one of them, or none."""
    words = frozenset(stems(title))
    if not words or not faces:
        return "no"
    named = [face for face in faces if face <= words]
    if len(faces) > 1 and (len(named) == len(faces) or all(words <= face for face in faces)):
        return "both"
    return "one" if named else "no"


def figures_naming(machine: Machine, faces: tuple[frozenset[str], ...]) -> dict[str, HowNamed]:
    """The parts figures (by id and by number) whose title names the joint, and how."""
    found: dict[str, HowNamed] = {}
    for figure in machine.figures:
        how = how_named(figure.title, faces) if figure.parts_figure else "no"
        if how != "no":
            found.update(dict.fromkeys((figure.id, figure.number), how))
    return found


def said_of_joint(machine: Machine, faces: tuple[frozenset[str], ...]) -> dict[str, str]:
    """Rows of which a step says in words that they belong to this joint, each with that step."""
    parts = {word for face in faces for word in face}
    found: dict[str, str] = {}
    for procedure in machine.procedures:
        for step in procedure.steps:
            for sentence in sentences(step.words):
                said = _BELONGS.search(sentence)
                if said is None or not set(stems(said[1])) or not set(stems(said[1])) <= parts:
                    continue
                sized = [m for m in step.mentions if _size_in(m, sentence)]
                where = f"section {procedure.number} step {step.mark}"
                found.update({row: where for mention in sized for row in mention.rows})
    return found


def _size_in(mention: Mention, sentence: str) -> bool:
    kind = mention.kind
    if kind is None or kind.thread is None or kind.length_mm is None:
        return False
    return f"{kind.thread}x{kind.length_mm:g}".lower() in sentence.replace(" ", "").replace("×", "x").lower()
