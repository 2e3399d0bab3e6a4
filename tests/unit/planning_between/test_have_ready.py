"""Tools and supplies to lay ready, and the warnings that hold for all work: once each, with their section."""

from msgspec.structs import replace
from small_book import cited, lines_of, machine, proc, step

from lastbolt.planning.general import general_warnings
from lastbolt.planning.have_ready import have_ready
from lastbolt.words.machine import Caution, Machine, Procedure, Section, Step
from lastbolt.words.supplies import Consumable, Tool


def ready(made: Machine, *numbers: str) -> list[tuple[str, str, str]]:
    return [(item.kind, item.words, item.number) for item in have_ready(lines_of(made, *numbers), made)]


def using(mark: str, words: str, *tools: str) -> Step:
    return replace(step(mark, words), tools=tools)


def with_tools(procedure: Procedure, *steps: Step) -> Procedure:
    """The procedure with the tools that `proc` leaves out of its steps."""
    tools = {one.mark: one.tools for one in steps}
    return replace(procedure, steps=tuple(replace(s, tools=tools.get(s.mark, ())) for s in procedure.steps))


def test_every_tool_once_where_it_is_named_first() -> None:
    first = proc(
        "2.2", "Removing the cover", "remove", "cover", tools=("socket 10 mm, soft mallet", "two drifts T-4")
    )
    then = proc("2.3", "Removing the shaft", "remove", "shaft", tools=("Socket 10 mm; drift T-4", "key 6 mm"))
    assert ready(machine(first, then), "2.2", "2.3") == [
        ("tool", "socket 10 mm", "2.2"),
        ("tool", "soft mallet", "2.2"),
        ("tool", "two drifts T-4", "2.2"),
        ("tool", "key 6 mm", "2.3"),
    ]


def test_a_tool_that_is_only_a_number_has_the_name_a_step_gives_it() -> None:
    one = proc(
        "2.2", "Pressing", "other", "", step("1", "Fit the press frame T-11 to the lid."), tools=("T-11",)
    )
    assert ready(machine(one), "2.2") == [("tool", "press frame T-11", "2.2")]


def test_a_tool_that_a_step_forbids_is_not_laid_ready() -> None:
    pull = using("1", "Pull it off with the puller T-7. Do not use a hammer.", "the puller T-7", "hammer")
    one = with_tools(proc("2.2", "Pulling", "other", "", pull), pull)
    assert ready(machine(one), "2.2") == [("tool", "puller T-7", "2.2")]


def test_supplies_are_told_and_parts_are_not() -> None:
    one = proc("2.2", "Cleaning", "other", "", materials=("cleaner", "Gasket, cover (single use)", "sealant"))
    assert ready(machine(one), "2.2") == [("supply", "cleaner", "2.2"), ("supply", "sealant", "2.2")]


def test_what_is_done_needs_no_tools() -> None:
    one = proc("2.2", "Removing the cover", "remove", "cover", tools=("socket 10 mm",))
    lines = tuple(replace(line, state="done") for line in lines_of(machine(one), "2.2"))
    assert have_ready(lines, machine(one)) == ()


def section(title: str, text: str) -> Section:
    return Section(f"book/section/{title}", "1.2", title, 2, text=text, citations=cited("book", 1, title))


SAFETY = section("Safety", "A rope under load kills. Take the load off the rope before any work.")


def warnings(made: Machine, *numbers: str) -> list[tuple[str, str]]:
    return [(item.signal, item.words) for item in general_warnings(lines_of(made, *numbers), made)]


def test_a_section_on_safety_and_a_sentence_on_any_work_hold_for_all_work() -> None:
    screws = section("Screws", "Screws are metric. Before working on the winch, let it cool. Lay them out.")
    goal = proc("3.1", "Draining", "drain", "oil", step("1", "Drain."))
    assert warnings(machine(SAFETY, screws, goal), "3.1") == [
        ("Safety", SAFETY.text),
        ("Screws", "Before working on the winch, let it cool."),
    ]


def test_a_point_behind_a_short_word_cuts_no_warning() -> None:
    text = "Before any work isolate the drive (see Fig. 2) and lock it. Nuts are metric."
    assert warnings(machine(section("Screws", text))) == [
        ("Screws", "Before any work isolate the drive (see Fig. 2) and lock it.")
    ]


def test_signal_words_that_are_only_explained_are_no_warning() -> None:
    assert warnings(machine(section("Signal words in warnings", "DANGER means that ..."))) == []


def test_warnings_of_general_matters_are_told_and_those_of_other_work_are_not() -> None:
    begin = proc("1.3", "Before you begin", "other", "", step("1", "Keep clean."))
    other = proc("5.3", "Changing the belt", "other", "", step("1", "Do it."))
    warn = Caution("warning", "Stop the engine.", cited("book", 2))
    made = machine(
        replace(begin, cautions=(warn,)), replace(other, cautions=(replace(warn, words="Mind it."),))
    )
    assert warnings(made) == [("warning", "Stop the engine.")]


def test_what_a_line_says_is_not_said_again() -> None:
    warn = Caution("danger", "Carry this out before any work.", cited("book", 2))
    made = machine(replace(proc("2.1", "Making safe", "other", "", step("1", "Stop.")), cautions=(warn,)))
    assert warnings(made, "2.1") == []
    assert warnings(made) == [("danger", "Carry this out before any work.")]


def test_tools_of_the_special_tools_table_are_named_where_a_step_uses_their_number() -> None:
    screw = Tool("t", "Jacking screw M10", "T-701", "Parting the case", citations=cited("book", 2))
    spare = Tool("u", "Seal sleeve", "T-709", citations=cited("book", 2))
    one = proc("3.4", "Parting", "separate", "case", step("4", "Turn T-701 into its hole."), tools=("T-701",))
    two = proc("3.5", "Turning", "other", "", step("1", "Turn the jacking screw T-701 in."))
    made = replace(machine(one, two), tools=(screw, spare))
    assert ready(made, "3.4", "3.5") == [("tool", "Jacking screw M10 T-701", "3.4")]
    assert ready(made, "3.5") == [("tool", "Jacking screw M10 T-701", "3.5")]


def test_consumables_of_steps_are_supplies() -> None:
    lock = Consumable("c", "threadlocker, medium strength", "thread lock")
    grease = Consumable("g", "grease", "grease", how="thin film")
    coat = replace(step("1", "Coat the screws."), consumables=(lock,))
    made = proc("3.4", "Joining", "other", "", coat)
    made = replace(made, steps=(replace(made.steps[0], consumables=(lock, grease)),), consumables=(lock,))
    assert ready(machine(made), "3.4") == [
        ("supply", "threadlocker, medium strength", "3.4"),
        ("supply", "grease, thin film", "3.4"),
    ]


def test_two_tools_or_oils_of_one_size_are_two() -> None:
    one = proc("2.2", "Threads", "other", "", tools=("tap M8-1.25; die M8-1.25", "key M6, socket M6"))
    assert [words for _, words, _ in ready(machine(one), "2.2")] == [
        "tap M8-1.25",
        "die M8-1.25",
        "key M6",
        "socket M6",
    ]
    oils = proc("2.3", "Filling", "other", "", materials=("gear oil VG-46", "hydraulic oil VG-46"))
    assert [words for _, words, _ in ready(machine(oils), "2.3")] == ["gear oil VG-46", "hydraulic oil VG-46"]


def test_a_number_alone_and_with_its_name_are_one_in_any_writing() -> None:
    first = proc("2.2", "Pressing", "other", "", tools=("Q 11, puller Z-1",))
    then = proc(
        "2.3", "More", "other", "", tools=("press frame Q-11", "hub puller Z 1", "two press frames Q11")
    )
    assert ready(machine(first, then), "2.2", "2.3") == [
        ("tool", "press frame Q-11", "2.2"),
        ("tool", "puller Z-1", "2.2"),
    ]


def test_tools_with_more_numbers_are_another_thing() -> None:
    one = proc("2.2", "P", "other", "", tools=("adapter T-4; adapter T-4 with screw T-5",))
    assert len(ready(machine(one), "2.2")) == 2


def test_a_number_of_the_special_tools_table_is_known_in_any_writing() -> None:
    tool = Tool("t", "Jacking screw", "T-701", "Parting the case", citations=cited("book", 2))
    made = proc("3.5", "Turning", "other", "", step("1", "Turn T 701 in."), tools=("T701",))
    assert ready(replace(machine(made), tools=(tool,)), "3.5") == [("tool", "Jacking screw T-701", "3.5")]
