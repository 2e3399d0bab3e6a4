"""Legends under drawings: several callouts, counts, two columns, names over two lines; steps are none."""

from pathlib import Path

from limit_papers import read_paper

from lastbolt.words.machine import Figure, Machine

DRAWING = """= 2 Pump
== 2.1 Parts of the pump
#rect(width: 70mm, height: 60mm, inset: 0mm)[
  #for n in range(8) [#place(dx: 4mm + 8mm * n, dy: 28mm, circle(radius: 3mm))]
  #place(dx: 10mm, dy: 4mm, circle(radius: 7mm)) #place(dx: 30mm, dy: 4mm, rect(width: 20mm, height: 14mm))
  #place(dx: 15mm, dy: 9mm)[1] #place(dx: 33mm, dy: 6mm)[2] #place(dx: 44mm, dy: 6mm)[3]
  #place(dx: 33mm, dy: 13mm)[4] #place(dx: 44mm, dy: 13mm)[5]]
#h(2mm) Fig. 2-1 Pump \\
"""


def figure_of(legend: str, folder: Path) -> tuple[Figure, Machine]:
    machine = read_paper(DRAWING + legend, folder)
    return machine.figures[0], machine


def test_callouts_names_and_counts(tmp_path: Path) -> None:
    legend = "1#h(4mm)Cover \\\n2, 3#h(4mm)Screw M6 x 20, 4 off \\\n4-5#h(4mm)Washer (2)\n"
    figure, machine = figure_of(legend, tmp_path)
    cover, screw, washer = figure.legend_lines
    assert (cover.callouts, cover.name, cover.quantity.kind) == (("1",), "Cover", "unsaid")
    assert (screw.callouts, screw.name, screw.quantity.low) == (("2", "3"), "Screw M6 x 20", 4)
    assert (washer.callouts, washer.quantity.low) == (("4", "5"), 2)
    assert "taken for how many" in washer.doubt
    assert not screw.doubt
    place = screw.citations[0].place
    assert (place.pdf_page, place.box is not None) == (1, True)  # type: ignore[union-attr]
    assert ("3", "Screw M6 x 20, 4 off") in figure.legend
    assert len(machine.figures) == 1


def test_two_columns_and_a_name_over_two_lines(tmp_path: Path) -> None:
    legend = "1#h(4mm)Cover#h(20mm)2#h(4mm)Screw \\\n3#h(4mm)Shaft with \\\n"
    legend += "#h(6.2mm)its bearing \\\n4#h(4mm)Seal\n"
    figure, _ = figure_of(legend, tmp_path)
    assert [(line.callouts, line.name) for line in figure.legend_lines] == [
        (("1",), "Cover"), (("2",), "Screw"), (("3",), "Shaft with its bearing"), (("4",), "Seal")
    ]  # fmt: skip


def test_what_does_not_fit_the_drawing_is_doubted(tmp_path: Path) -> None:
    legend = "1#h(4mm)Cover \\\n1#h(4mm)Plug \\\n9#h(4mm)Seal\n"
    figure, _ = figure_of(legend, tmp_path)
    first, again, seal = figure.legend_lines
    assert "two names" in first.doubt
    assert "two names" in again.doubt
    assert "not seen to show" in seal.doubt


def test_steps_under_a_drawing_are_no_legend(tmp_path: Path) -> None:
    figure, machine = figure_of(
        "1.#h(4mm)Remove the three screws. \\\n2.#h(4mm)Take off the cover.\n", tmp_path
    )
    assert figure.legend_lines == ()
    assert [step.mark for step in machine.procedures[0].steps] == ["1", "2"]
