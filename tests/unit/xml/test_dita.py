"""DITA tasks and machinery tasks (OASIS DITA 1.2 and 1.3).

Element names of the machinery task were compared with the published grammar file of the task requirements
domain of DITA 1.2 (taskreqDomain.mod); those of the task are from memory.
"""

# ruff: noqa: E501 - markup reads better unbroken

from pathlib import Path

from xml_samples import codes, of, read

GUARD = (
    '<task id="t_guard"><title>Removing the flywheel guard</title><taskbody><steps>'
    '<step id="s1"><cmd>Remove the three screws M6 x 20.</cmd></step>'
    '<step id="s2"><cmd>Lift the guard off.</cmd></step></steps></taskbody></task>'
)


def put(folder: Path, **files: str) -> Path:
    """Topics by name; two underscores stand for a subfolder, `map` is a map."""
    for name, text in files.items():
        path = folder / f"{name.replace('__', '/')}.{'ditamap' if name == 'map' else 'dita'}"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def task(
    body: str, topic: str = "t_split", title: str = "Splitting the crankcase", attributes: str = ""
) -> str:
    return f'<task id="{topic}" {attributes}><title>{title}</title><taskbody>{body}</taskbody></task>'


def steps(*commands: str) -> str:
    return f"<steps>{''.join(f'<step><cmd>{command}</cmd></step>' for command in commands)}</steps>"


def test_a_task_with_what_comes_before_and_after(tmp_path: Path) -> None:
    body = (
        '<prereq><ul><li>The guard is removed (<xref href="guard.dita"/>).</li><li>The engine is cold.</li></ul></prereq>'
        "<context>This frees the shafts.</context>"
        + steps("Separate the halves.")
        + '<postreq><p>Fit the guard (<xref href="guard.dita#t_guard"/>).</p></postreq>'
    )
    machine = read(put(tmp_path, a=task(body), guard=GUARD))
    found, guard = of(machine, "t_split"), of(machine, "t_guard")
    assert [(r.role, r.status, r.to) for r in found.before] == [
        ("before", "resolved", (guard.id,)), ("before", "in words", ()),
    ]  # fmt: skip
    assert [(r.role, r.to) for r in found.after] == [("after", (guard.id,))]
    assert found.before[0].words == "The guard is removed (Removing the flywheel guard)."
    assert (found.text, found.deed, guard.deed) == ("This frees the shafts.", "separate", "remove")
    assert guard.parts == ("flywheel guard",)
    assert codes(machine) == ["LB-R06"]


def test_a_prerequisite_whose_reference_stands_in_its_own_sentence(tmp_path: Path) -> None:
    body = '<prereq>The guard is removed. See <xref href="guard.dita"/>.</prereq>' + steps("Go.")
    machine = read(put(tmp_path, a=task(body), guard=GUARD))
    assert [(r.status, r.to) for r in of(machine, "t_split").before] == [
        ("resolved", (of(machine, "t_guard").id,))
    ]


def test_dangling_circular_and_own_references(tmp_path: Path) -> None:
    body = (
        '<prereq><p>Starter off (<xref href="starter.dita"/>).</p><p>Halves apart (<xref href="#t_split"/>).</p>'
        '<p>Read <xref href="https://localhost/x" scope="external">the bulletin</xref>.</p></prereq>'
        + steps("Go.")
    )
    machine = read(put(tmp_path, a=task(body)))
    assert [r.status for r in of(machine, "t_split").before] == ["dangling", "self", "other book"]
    assert codes(machine) == ["LB-R01", "LB-R04", "LB-R05"]


def test_alternatives_in_a_step(tmp_path: Path) -> None:
    command = 'Remove the guard (<xref href="guard.dita"/>) or the cover (<xref href="cover.dita"/>).'
    cover = task(steps("Remove the cover."), "t_cover", "Removing the cover")
    machine = read(put(tmp_path, a=task(steps(command)), guard=GUARD, cover=cover))
    (reference,) = of(machine, "t_split").steps[0].references
    assert (reference.any_of, reference.status) == (True, "resolved")
    assert set(reference.to) == {of(machine, "t_guard").id, of(machine, "t_cover").id}


def test_substeps_choices_notes_and_results(tmp_path: Path) -> None:
    body = (
        '<steps><step><note type="danger">Springs fly out.</note><cmd>Remove the cover.</cmd><info>Keep the four screws '
        "M6 x 45.</info><substeps><substep><cmd>Crack the screws.</cmd></substep><substep><cmd>Turn them out.</cmd>"
        "</substep></substeps><stepresult>The cover comes off.</stepresult></step>"
        '<step importance="optional"><cmd>Free the shaft.</cmd><choices><choice>Use the puller.</choice><choice>Warm the '
        "case.</choice></choices></step></steps>"
    )
    first, sub1, sub2, second, one, two = of(read(put(tmp_path, a=task(body))), "t_split").steps
    assert [s.mark for s in (first, sub1, sub2, second, one, two)] == ["1", "1.1", "1.2", "2", "2.1", "2.2"]
    assert first.words == "Remove the cover. Keep the four screws M6 x 45. The cover comes off."
    assert [(c.signal, c.words) for c in first.cautions] == [("danger", "Springs fly out.")]
    assert [m.quantity.low for m in first.mentions if m.kind is not None] == [4]
    assert (second.condition, one.words) == ("optional", "Use the puller.")
    assert one.condition.endswith("choice 1 of 2 in step 2")
    assert two.condition.endswith("choice 2 of 2 in step 2")


def test_a_hazard_statement_comes_with_its_step(tmp_path: Path) -> None:
    body = (
        '<steps><step><hazardstatement type="warning"><messagepanel><typeofhazard>Hot case</typeofhazard><consequence>'
        "Burns</consequence><howtoavoid>Wear gloves</howtoavoid></messagepanel></hazardstatement><cmd>Lift it.</cmd>"
        "</step></steps>"
    )
    (step,) = of(read(put(tmp_path, a=task(body))), "t_split").steps
    assert [(c.signal, c.words) for c in step.cautions] == [("warning", "Hot case. Burns. Wear gloves")]


def test_a_machinery_task(tmp_path: Path) -> None:
    body = (
        "<prelreqs><reqconds><reqcond>The engine is cold.</reqcond><reqcond>Guard off: <xref href='guard.dita'/></reqcond>"
        "<reqcontp>Battery handbook BM-4</reqcontp></reqconds><reqpers><personnel>1</personnel></reqpers><supequip>"
        "<supeqli><supequi>Puller LB-9</supequi></supeqli></supequip><supplies><supplyli><supply>Sealant</supply></supplyli>"
        "</supplies><spares><sparesli><spare>Gasket</spare></sparesli></spares><safety><safecond><p>Wear goggles.</p>"
        "</safecond></safety></prelreqs>"
        + steps("Tighten the screws to 10 Nm.")
        + "<closereqs><reqconds><reqcond>Fill "
        "the oil.</reqcond></reqconds></closereqs>"
    )
    machine = read(put(tmp_path, a=task(body), guard=GUARD))
    found = of(machine, "t_split")
    assert [r.status for r in found.before] == ["in words", "resolved", "other book"]
    assert (found.tools, found.materials) == (("Puller LB-9",), ("Sealant", "Gasket"))
    assert [(c.signal, c.words) for c in found.cautions] == [("warning", "Wear goggles.")]
    assert [t.torque_Nm for t in found.steps[0].torques] == [(10.0, 10.0)]
    assert [r.role for r in found.after] == ["after"]


def test_no_conditions_are_none(tmp_path: Path) -> None:
    body = "<prelreqs><reqconds><noconds/></reqconds><safety><nosafety/></safety></prelreqs>" + steps("Go.")
    found = of(read(put(tmp_path, a=task(body))), "t_split")
    assert (found.before, found.cautions) == ((), ())


def test_shared_content_is_put_in_its_place(tmp_path: Path) -> None:
    shared = (
        '<topic id="lib"><title>Shared</title><body><note id="n1" type="warning">Springs fly out.</note>'
        '<p id="p1">Remove the nut.</p></body></topic>'
    )
    body = (
        '<steps><step><note conref="lib.dita#lib/n1"/><cmd><ph conref="lib.dita#lib/p1"/></cmd></step><step><cmd>Go '
        '<ph conref="lib.dita#lib/none"/>on.</cmd></step></steps>'
    )
    machine = read(put(tmp_path, a=task(body), lib=shared))
    first, _ = of(machine, "t_split").steps
    assert first.words == "Remove the nut."
    assert [(c.signal, c.words) for c in first.cautions] == [("warning", "Springs fly out.")]
    assert first.cautions[0].citations[0].place.file == "lib.dita"  # type: ignore[union-attr]
    assert codes(machine) == ["LB-X10"]


def test_shared_content_cannot_grow_without_end(tmp_path: Path) -> None:
    circle = '<p id="p1">a <ph conref="#lib/p1"/></p>'
    layers = "".join(
        f'<p id="q{n}">' + f'<ph conref="#lib/q{n + 1}"/>' * 10 + "</p>" for n in range(8)
    ) + '<p id="q8">ha</p>'  # fmt: skip
    lib = f'<topic id="lib"><title>Shared</title><body>{circle}{layers}</body></topic>'
    body = steps('Do <ph conref="lib.dita#lib/p1"/> it.', 'Then <ph conref="lib.dita#lib/q0"/> go.')
    machine = read(put(tmp_path, a=task(body), lib=lib))
    assert "LB-X10" in codes(machine)
    assert len(of(machine, "t_split").steps[1].words) < 200_000


def test_keys_lead_where_the_map_says(tmp_path: Path) -> None:
    made = (
        '<map><title>Model K engine</title><keydef keys="grd" href="sub/guard.dita"/><keydef keys="eng"><topicmeta>'
        '<keywords><keyword>Model K</keyword></keywords></topicmeta></keydef><topicref href="a.dita"/></map>'
    )
    body = '<prereq><p>Guard off (<xref keyref="grd"/>).</p></prereq>' + steps(
        'Turn the <keyword keyref="eng"/> on. See <xref keyref="none">that</xref>.'
    )
    machine = read(put(tmp_path, a=task(body), sub__guard=GUARD, map=made))
    found = of(machine, "t_split")
    assert found.before[0].to == (of(machine, "t_guard").id,)
    assert found.steps[0].words == "Turn the Model K on. See that."
    assert [r.status for r in found.steps[0].references] == ["dangling"]
    assert machine.sources[0].title == "Model K engine"
    assert machine.sections[0].title == "Splitting the crankcase"


def test_a_reference_to_a_step(tmp_path: Path) -> None:
    body = '<prereq><p>Screws out (<xref href="guard.dita#t_guard/s1"/>).</p></prereq>' + steps("Go.")
    (reference,) = of(read(put(tmp_path, a=task(body), guard=GUARD)), "t_split").before
    assert (reference.status, reference.from_step, reference.to_step) == ("resolved", "1", "1")


def test_products_are_kinds_of_engine(tmp_path: Path) -> None:
    body = '<steps><step product="E H"><cmd>Remove the pump.</cmd></step></steps>'
    machine = read(put(tmp_path, a=task(body)))
    assert of(machine, "t_split").steps[0].applies.variants == ("E", "H")
    assert machine.variants == ("E", "H")


def test_names_of_a_specialisation_are_known_by_their_class(tmp_path: Path) -> None:
    text = (
        '<job id="j" class="- topic/topic task/task job/job "><name class="- topic/title ">Removing the pump</name>'
        '<jobbody class="- topic/body task/taskbody job/jobbody "><acts class="- topic/ol task/steps job/acts ">'
        '<act class="- topic/li task/step job/act "><do class="- topic/ph task/cmd job/do ">Remove the pump.</do></act>'
        "</acts></jobbody></job>"
    )
    (found,) = read(put(tmp_path, a=text)).procedures
    assert (found.title, [s.words for s in found.steps]) == ("Removing the pump", ["Remove the pump."])


def test_topics_in_topics(tmp_path: Path) -> None:
    inner = task(steps("Remove the guard."), "t_in", "Removing the guard")
    text = f'<topic id="t_out"><title>Crankcase</title><body><p>See below.</p></body>{inner}</topic>'
    machine = read(put(tmp_path, a=text))
    out, inside = machine.sections
    assert (out.holds, inside.holds, inside.parent, inside.level) == ("text", "procedure", out.id, 2)


def test_ranges_and_pushes_of_shared_content_are_told(tmp_path: Path) -> None:
    lib = task(
        '<steps><step id="s1"><cmd>Crack it.</cmd></step><step id="s2"><cmd>Turn it.</cmd></step></steps>',
        "lib",
        "Shared",
    )
    body = '<steps><step conref="lib.dita#lib/s1" conrefend="lib.dita#lib/s2"><cmd/></step><step conaction="pushafter" conref="lib.dita#lib/s1"><cmd>Go.</cmd></step></steps>'
    machine = read(put(tmp_path, a=task(body), lib=lib))
    assert codes(machine) == ["LB-X10", "LB-X10"]


def test_steps_of_a_remedy_are_told_to_be_words_only(tmp_path: Path) -> None:
    text = (
        '<troubleshooting id="x"><title>Oil leak</title><troublebody><troubleSolution><remedy><steps><step><cmd>Renew the '
        "seal.</cmd></step></steps></remedy></troubleSolution></troublebody></troubleshooting>"
    )
    machine = read(put(tmp_path, a=text))
    assert ([s.text for s in machine.sections], codes(machine)) == (["Renew the seal."], ["LB-X11"])


def test_words_for_some_engines_in_a_step_for_all_are_told(tmp_path: Path) -> None:
    command = 'Remove the <ph product="E">four</ph><ph product="H">six</ph> screws.'
    found = of(read(put(tmp_path, a=task(steps(command)))), "t_split").steps[0]
    assert '"four" only for E' in found.condition
    assert '"six" only for H' in found.condition
    assert found.applies.variants == ()


def test_paragraphs_of_informal_steps_are_steps(tmp_path: Path) -> None:
    body = "<steps-informal><p>Drain the oil.</p><p>Remove the eight screws M8 x 45.</p></steps-informal>"
    machine = read(put(tmp_path, a=task(body)))
    assert [(s.mark, s.words) for s in of(machine, "t_split").steps] == [
        ("1", "Drain the oil."), ("2", "Remove the eight screws M8 x 45."),
    ]  # fmt: skip


def test_words_between_the_steps_that_tell_something_to_do_are_a_step(tmp_path: Path) -> None:
    body = (
        "<steps><stepsection>The halves come apart now.</stepsection><step><cmd>Drain the oil.</cmd></step>"
        "<stepsection>Open the swing bolts.</stepsection><step><cmd>Lift off the half.</cmd></step></steps>"
    )
    found = of(read(put(tmp_path, a=task(body))), "t_split")
    assert [s.mark for s in found.steps] == ["1", "1a", "2"]
    assert found.text == "The halves come apart now."


def test_a_task_of_which_no_step_was_made_says_so(tmp_path: Path) -> None:
    machine = read(
        put(tmp_path, a=task("<prereq>The guard is removed.</prereq><steps></steps>"), guard=GUARD)
    )
    assert "LB-X11" in codes(machine)


def test_what_a_picture_is_called_stands_with_its_step(tmp_path: Path) -> None:
    body = '<steps><step><cmd>Take out the screws.</cmd><info><fig><title>Screws (9)</title><image href="a.png"><alt>one at the rear</alt></image></fig></info></step></steps>'
    found = of(read(put(tmp_path, a=task(body))), "t_split")
    assert found.steps[0].words == "Take out the screws. Screws (9) one at the rear"


def test_a_word_for_one_engine_or_another_is_parted_by_or(tmp_path: Path) -> None:
    body = steps('Remove the <ph product="a">eight</ph><ph product="b">nine</ph> screws M8 x 45.')
    found = of(read(put(tmp_path, a=task(body))), "t_split")
    assert found.steps[0].words == "Remove the eight or nine screws M8 x 45."
