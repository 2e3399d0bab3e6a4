"""What a text says of other holders is found also where "Fig. 3" stands in the middle of the sentence."""

from lastbolt.app.gather_job import hear
from lastbolt.app.holder_sources import Told, sentences_tell
from lastbolt.words.machine import Machine, Procedure, Section

NOTHING_HEARD = hear("joint", (), None)
JOINT = frozenset({"gearcase"})


def told(text: str) -> list[Told]:
    section = Section("m/section/3.1", "3.1", "What it is made of", 2, text=text)
    goal = Procedure("m/procedure/3.2", "3.2", "Parting the gearcase")
    machine = Machine("lastbolt.model/1", "winch", sections=(section,), procedures=(goal,))
    return sentences_tell(machine, NOTHING_HEARD, (goal.id,), JOINT)


def test_a_figure_in_the_sentence_does_not_hide_the_holder() -> None:
    (one,) = told("The lifting bracket (see Fig. 3) of the top is bolted to both halves of the gearcase.")
    assert one.state.sort == "bridging part"
    assert not one.state.settled
    assert one.state.name == "lifting bracket of the top"
    assert "Fig. 3" in one.sentence


def test_a_figure_outside_of_brackets_does_neither() -> None:
    (one,) = told("The gearcase bracket in Fig. 3 is bolted to both halves.")
    assert one.state.name == "gearcase bracket in Fig. 3"


def test_clauses_stay_apart() -> None:
    assert told("Oil the gearcase; the pipe clip is bolted to both halves.") == []
    (one,) = told("Oil it; the pipe clip of the gearcase is bolted to both halves.")
    assert one.state.name == "pipe clip of the gearcase"
