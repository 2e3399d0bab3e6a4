"""What there is to tell people about a step's torques and counts, and of a reference in doubt."""

from lastbolt.reading.problems import Reporter, quoted
from lastbolt.reading.references import Directory
from lastbolt.reading.steps import StepFacts
from lastbolt.reading.targets import Found, section_of
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Reference

LOOK = "Look whether that is meant."


def tell_of_step(reporter: Reporter, facts: StepFacts, cited: tuple[Citation, ...]) -> str:
    """Record the torques of a step that contradict themselves, and what was read with doubt; the doubts."""
    doubts = [facts.doubt] if facts.doubt else []
    for torque in facts.torques:
        if torque.agree == "no":
            said = ", ".join(
                f"{low:g} {unit}" if low == high else f"{low:g}-{high:g} {unit}"
                for low, high, unit in torque.value.printed
            )
            what = f"The torque {quoted(torque.value.words)} says {said}: these are not the same torque."
            reporter.add("LB-R07", what, "Ask the maker which unit is right before tightening.", cited)
        if torque.doubt:
            doubts.append(f"the torque {quoted(torque.value.words)}: {torque.doubt}")
            how = "is not understood" if torque.value.torque_Nm is None else "is read with doubt"
            what = f"The torque {quoted(torque.value.words)} {how}: {torque.doubt}."
            reporter.add("LB-R16", what, "Compare it with the page before tightening.", cited)
    if facts.doubt:
        reporter.add("LB-R14", facts.doubt, "Compare with the page and with the parts list.", cited)
    return "; ".join(doubts)


def tell_of_reference(
    reporter: Reporter,
    reference: Reference,
    found: Found,
    directory: Directory,
    printed: tuple[str, ...] = (),
) -> None:
    """Record the problem of a reference, if it has one; `printed`: the numbers or the title as they stand."""
    words = quoted(reference.words)
    cited = reference.citations
    names = names_of(found, directory)
    match reference.status:
        case "dangling":
            named = ", ".join(found.missing or printed)
            what = f"{words} points to {named or 'a place'}, which none of the sources holds."
            do = "Find the place it means and say so, or set it aside as looked at and not needed here."
            reporter.add("LB-R01", what, do, cited)
        case "ambiguous":
            reporter.add("LB-R02", f"{words} can mean {names}.", "Say which one is meant.", cited)
        case "doubtful":
            what = f"{words} was taken to mean {names}."
            if not found.to:
                what = f"{words} points without naming a place."
            elif reference.role == "see":
                what = f"{words} names {names}; whether that work must come first was not read."
            reporter.add("LB-R03", what, LOOK, cited)
        case "self":
            what = f"{words} points to its own section."
            reporter.add("LB-R04", what, "Find out which section is meant, or set it aside.", cited)
        case "other book":
            what = f"{words} points to another book, which was not read."
            reporter.add("LB-R05", what, "Read that book too, or say what it asks.", cited)
        case "in words":
            what = f"{words} asks for a state without saying where it is described."
            do = "Say which procedure brings that state about, or confirm it at the bench."
            reporter.add("LB-R06", what, do, cited)
        case _:
            pass


def names_of(found: Found, directory: Directory) -> str:
    """The sections found, by number and title."""
    names = []
    for to in found.to:
        target = directory.targets.get(section_of(to))
        if target is not None:
            names.append(f"{target.number} {target.title}".strip())
    return " or ".join(names)
