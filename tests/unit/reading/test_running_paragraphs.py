"""Books whose headings are run into their first paragraph, and whose steps are its sentences."""

import pytest
import typst

from lastbolt.app.read_sources import Paged, SourceFile, read_sources
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.reading.drafts import Book
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.piece import At, Piece, joined
from lastbolt.reading.sentence_steps import steps_are_sentences
from lastbolt.reading.titles import names_work
from lastbolt.reading.verbs import orders, told_passively
from lastbolt.words.machine import Machine, Procedure

SETTING = """
#set page(width: 120mm, height: 190mm, margin: 12mm)
#set text(size: 9pt, font: "New Computer Modern", hyphenate: false)
#set par(first-line-indent: 5mm, justify: true, spacing: 0.65em)
#let warning(words) = block(inset: (x: 5mm), above: 2mm, below: 2mm)[#emph[Warning: #words]]
#let head(words) = { v(2mm); [#h(-5mm)*#words*] }
"""
POCKET = (
    SETTING
    + """
#align(center)[#text(size: 12pt)[*SECTION A* \\ *THE PUMP*]]

This book tells the owner how the pump is taken down and put together again, and what to look at.

#head[To remove pump.] Tools: hook spanner. Before starting: Lid removed (see "To remove lid"); lead off.

Undo the six nuts (M8). Scratch a line across the pump and its housing so that it goes back the same way.
Hook out the ring.

#warning[The pump is heavy. Two people are needed.]

With a pencil mark the place of the shim, then take it off. The shim is thin. Lift off the pump.

#head[To strip pump.] Remove the cover. Wipe the bore dry and lay the cover on a clean cloth, away from dust.

#head[To remove lid.] Undo the screws (Fig. A2). Take the lid off and put it away until it is
wanted again for use.

#head[To refit pump.] Refitting is the reverse of removal. Tighten the nuts to 20 N·m, turning
the shaft by hand.
"""
)
COUNTED = (
    SETTING
    + """
#align(center)[#text(size: 12pt)[*FRONT SYSTEM*]]

#head[41. REMOVE FRONT AXLE.] Prior work: Wheel removed (paragraph 43). Attach a hoist to the axle
and lift it.

Remove the two nuts. Remove the pump as in paragraph 43, and lay all small parts in a tin in their order.

#head[42. INSPECT FRONT AXLE.] Wash the axle in solvent. Try the bushing on its shaft for free
movement, and renew it.

#head[43. REMOVE WHEEL.] Loosen the nuts evenly until all tension is relieved. Draw off the wheel with the
puller.
"""
)


def _read(source: str, tmp: pytest.TempPathFactory) -> Machine:
    folder = tmp.mktemp("running")
    written, target = folder / "paper.typ", folder / "paper.pdf"
    written.write_text(source, encoding="utf-8")
    typst.compile(str(written), output=str(target))
    pages = read_pages(target, PdfSettings(source="paper"))
    return read_sources([Paged(SourceFile(target.name), pages)]).machine


@pytest.fixture(scope="module")
def pocket(tmp_path_factory: pytest.TempPathFactory) -> Machine:
    return _read(POCKET, tmp_path_factory)


@pytest.fixture(scope="module")
def counted(tmp_path_factory: pytest.TempPathFactory) -> Machine:
    return _read(COUNTED, tmp_path_factory)


def _words(procedure: Procedure) -> list[str]:
    return [step.words for step in procedure.steps]


def test_run_in_headings_are_sections(pocket: Machine, counted: Machine) -> None:
    assert [p.title for p in pocket.procedures] == [
        "To remove pump", "To strip pump", "To remove lid", "To refit pump"
    ]  # fmt: skip
    assert [(p.number, p.title) for p in counted.procedures] == [
        ("41", "REMOVE FRONT AXLE"), ("42", "INSPECT FRONT AXLE"), ("43", "REMOVE WHEEL")
    ]  # fmt: skip


def test_each_sentence_that_tells_is_a_step(pocket: Machine) -> None:
    """Also with verbs that no word list has; what tells nothing stays with the step before it."""
    assert _words(pocket.procedures[0]) == [
        "Undo the six nuts (M8).",
        "Scratch a line across the pump and its housing so that it goes back the same way.",
        "Hook out the ring.",
        "With a pencil mark the place of the shim, then take it off. The shim is thin.",
        "Lift off the pump.",
    ]
    assert pocket.procedures[0].steps[0].mentions[0].quantity.low == 6


def test_labels_inside_the_first_paragraph_are_blocks(pocket: Machine, counted: Machine) -> None:
    pump, _, lid, _ = pocket.procedures
    assert pump.tools == ("hook spanner",)
    assert lid.id in {to for r in pump.before for to in r.to}
    assert [r.to for r in counted.procedures[0].before] == [(counted.procedures[2].id,)]


def test_a_warning_ends_where_its_type_ends(pocket: Machine) -> None:
    (step,) = [s for s in pocket.procedures[0].steps if s.cautions]
    assert step.words.startswith("With a pencil")
    assert [c.words for c in step.cautions] == ["The pump is heavy. Two people are needed."]


def test_paragraphs_with_headings_lead_by_their_number(counted: Machine) -> None:
    (reference,) = [r for s in counted.procedures[0].steps for r in s.references]
    assert reference.to == (counted.procedures[2].id,)


def test_a_figure_with_a_letter_is_cited(pocket: Machine) -> None:
    """The book lacks the figure, which is told."""
    assert [p.what for p in pocket.problems if p.code == "LB-R09"] == [
        "Figure A2 is cited but was not found."
    ]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("Scratch a line across it.", True),
        ("Then dab both faces.", True),
        ("From corner to corner, dab the joint.", True),
        ("This book tells the owner how.", False),
        ("With the lid off, the pump is free.", False),
        ("Timing marks are on the face.", False),
    ],
)
def test_orders_are_told_without_a_known_verb(words: str, *, told: bool) -> None:
    language = lexicon()
    assert orders(language.scan(words), language) is told


@pytest.mark.parametrize(
    ("title", "names"),
    [("To remove the lid", True), ("REMOVE LID", True), ("Remove the lid", False), ("The lid", False)],
)
def test_titles_of_work_are_no_orders(title: str, *, names: bool) -> None:
    assert names_work(title, lexicon()) is names


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("The six nuts are removed.", True),
        ("The lid should then be fitted.", True),
        ("The pump is fitted with a seal.", False),
        ("When the lid is removed, the pump is free.", False),
        ("The lid must already be removed.", False),
    ],
)
def test_what_is_done_tells_what_to_do(words: str, *, told: bool) -> None:
    """What is fitted or held tells how a thing is, unless a word bids it."""
    language = lexicon()
    assert told_passively(language.scan(words), language) is told


@pytest.mark.parametrize(
    ("title", "words", "steps"),
    [
        ("Cylinder head", "Undo the nuts. Lift the head. Dab the joint. The gasket is thin.", True),
        ("Cylinder head", "The head holds two valves. It has six nuts. Lift the head.", False),
        ("General safety", "Undo the nuts. Lift the head. Dab the joint.", False),
    ],
)
def test_sections_of_orders_are_steps_whatever_their_title(title: str, words: str, *, steps: bool) -> None:
    book = Book(lexicon())
    for kind, text in (("heading", title), ("text", words)):
        line = Line(text, 0.1, 0.2, 0.6, 0.22, 10.0, False, 0, 4)
        book.add(Piece("heading" if kind == "heading" else "text", At(1, line), text))
    assert steps_are_sentences(book.sections[0], "other", lexicon()) is steps


SHORT_COLUMN = (
    SETTING
    + """
#set page(columns: 2)
#rect(width: 44mm, height: 30mm)[#circle(radius: 6mm) #circle(radius: 5mm) #circle(radius: 4mm)]
Fig. 1. The pump

#head[To remove pump.] Undo the six nuts. Turn the pump by hand until the mark stands at the top of
the housing.

Lift off the pump. Lay it on a clean cloth, and turn it over so that no oil can run out of the bore
of the shaft.

#head[To strip pump.] Undo the screws. Take off the lid and lay it aside. Wipe the bore dry with a
cloth that sheds no hair.

Take the shaft out. Take the ring off the shaft, and put both away until they are wanted again for
the rebuilding of it.

#head[To refit pump.] Wipe the faces dry. Put the pump on its studs. Press it home by hand, without
any force at all.
#colbreak()
Tighten the nuts. Afterwards: Fill the pump.
"""
)


def test_a_short_right_column_beside_a_picture_follows_the_left_one(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    """Its lines stand level with nothing but the picture; the left column is no margin of headings."""
    machine = _read(SHORT_COLUMN, tmp_path_factory)
    assert [p.title for p in machine.procedures][-1] == "To refit pump"
    assert _words(machine.procedures[-1])[-1] == "Tighten the nuts."


@pytest.mark.parametrize("look", ["emph(words)", "underline(offset: 2pt, words)"])
def test_run_in_headings_may_slope_or_be_underlined(
    look: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    machine = _read(POCKET.replace("[#h(-5mm)*#words*]", f"[#h(-5mm)#{look}]"), tmp_path_factory)
    assert [p.title for p in machine.procedures] == [
        "To remove pump", "To strip pump", "To remove lid", "To refit pump"
    ]  # fmt: skip
    assert [len(p.steps) for p in machine.procedures] == [5, 2, 2, 2]


DEEDS = (
    SETTING
    + """
#let part(number, name) = [
  #block(above: 6mm)[#h(-5mm)#text(size: 12pt)[*#number #name*]]

  #head[Removal.] Undo the nuts (M8). Lift the part off with both hands, and lay it on a clean cloth with its
  face up.

  #head[Inspection.] Wash the part. Renew it where it is worn, and have the bore measured by somebody who has
  the gauge.

  #head[Installation.] Reverse the removal. Tighten the nuts to 20 N·m, and turn the shaft by hand, once round
  and back.
]
#part("2.1", "Pump")
#part("2.2", "Governor")
"""
)


def test_run_in_headings_may_be_deeds_alone(tmp_path_factory: pytest.TempPathFactory) -> None:
    found = _read(DEEDS, tmp_path_factory).procedures
    assert [p.title for p in found] == [
        f"{part}: {deed}"
        for part in ("Pump", "Governor")
        for deed in ("Removal", "Inspection", "Installation")
    ]
    assert _words(found[0])[0] == "Undo the nuts (M8)."


def test_a_sentence_that_only_points_is_a_step_of_its_own(tmp_path_factory: pytest.TempPathFactory) -> None:
    """It was once added to the step before it."""
    asked = POCKET.replace("Wipe the bore dry", "The lid must already be off. Wipe the bore dry")
    words = _words(_read(asked, tmp_path_factory).procedures[1])
    assert words[:2] == ["Remove the cover.", "The lid must already be off."]


def test_a_unit_broken_at_its_hyphen_is_made_whole() -> None:
    assert joined("then 24 Ft.-", "Lbs. and finally") == "then 24 Ft.-Lbs. and finally"


REBUILT = (
    SETTING
    + """
#head[To rebuild crank assembly.] Press the pin in. Fit the rods, and see that they turn freely on their pins.

#head[To refit crank assembly.] Put the shaft in its bearings. Turn it by hand, and see that it turns freely.

#head[To refit pump.] Fit the pump. Afterwards: Install the crank assembly (see page 1). Turn it once more
by hand.

#place(bottom + center)[1]
#pagebreak()
#head[To refit lid.] Fit the lid. Tighten the nuts to 20 N·m, and wipe off what oil there is on the
outside of it.
#place(bottom + center)[2]
#pagebreak()
#head[To refit guard.] Install the crank assembly, page 1. Fit the guard, and see that it is clear of the
wheel.
#place(bottom + center)[3]
"""
)


def test_the_name_of_a_part_is_no_deed(tmp_path_factory: pytest.TempPathFactory) -> None:
    """ "Install the crank assembly" does not mean to assemble it."""
    machine = _read(REBUILT, tmp_path_factory)
    (step,) = [s for s in machine.procedures[-1].steps if s.references]
    assert [r.to for r in step.references] == [(machine.procedures[1].id,)]
