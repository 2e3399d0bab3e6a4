"""Torques that lean on another one, lists whose later numbers bear no unit, two states in one breath.

Each is read right, or gives no number and is told. The sentences are invented.
"""

import json
from pathlib import Path

import pytest

from lastbolt.cli.main import main
from lastbolt.reading.torques import torques_in


def read(text: str) -> list[float | None]:
    """The upper end of each torque in N·m, None where no number is told."""
    return [t.value.torque_Nm[1] if t.value.torque_Nm else None for t in torques_in(text)]


@pytest.mark.parametrize(
    "text",
    [
        "Tighten the lid screws to half the torque of the arm bolts (60 N·m).",
        "Tighten them to two thirds of the tightening torque of the hub nuts, 90 N·m.",
        "Tighten the plugs to 80 % of the value for the arm bolts (60 N·m).",
        "Tighten by hand, then to 1/3 of 60 N·m.",
        "Tighten to ½ of the 60 N·m.",
        "Tighten the screws to 10 % less than that of the arm bolts (60 N·m).",
    ],
)
def test_a_part_of_another_torque_is_no_number_and_is_told(text: str) -> None:
    assert read(text) == [None]
    assert torques_in(text)[0].doubt


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Tighten the M5 screws to 5 N·m, M8 to 21 and M12 to 73.", [5.0, None, None]),
        ("Tighten the screws M5 to 5 and the bolts M12 to 73 N·m.", [None, 73.0]),
        ("Tighten the screws to 5, the bolts to 73 N·m.", [None, 73.0]),
        ("Tighten the arm bolts to 70-75 lb-ft dry, 55 oiled.", [101.6864, None]),
        ("Tighten the bolts to 73 N·m (60 with grease).", [73.0, None]),
    ],
)
def test_numbers_without_a_unit_beside_a_torque_are_told(text: str, expected: list[float | None]) -> None:
    """75 lbf·ft = 101.686 N·m (NIST SP 811, appendix B.8)."""
    assert read(text) == [one if one is None else pytest.approx(one, rel=1e-4) for one in expected]
    assert all(t.doubt for t in torques_in(text) if t.value.torque_Nm is None)


def test_of_two_states_the_first_is_doubted() -> None:
    assert torques_in("Tighten the arm bolts to 70-75 lb-ft dry, 55 oiled.")[0].doubt
    assert all(t.doubt for t in torques_in("Tighten to 9 N·m (old version: 7 N·m)."))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Tighten the screws to 1.4 kN·cm.", 14.0),
        ("Tighten the screws to 2 daN·cm.", 0.2),
        ("Tighten the screws (3) to 9 N·m.", 9.0),
        ("Tighten not more than 9 N·m.", 9.0),
        ("Tighten to the torque of the arm bolts (60 N·m).", 60.0),
        ("Turn screw 4 to the left and tighten the nuts to 21 N·m.", 21.0),
    ],
)
def test_what_is_plain_stays_read(text: str, expected: float) -> None:
    """SI prefixes: 1 kN·cm = 10 N·m, 1 daN·cm = 0.1 N·m."""
    assert read(text) == pytest.approx([expected])


TABLE = """# Press: handbook

## 2.1 Tightening torques

| Fastener | Torque |
|---|---|
| Lid screw M5 | {first} |
| Hub bolt M10 | {second} |
| Arm nut M8 | {third} |

## 3.1 Taking off the lid

1. Remove the 4 screws M5x20.
2. Lift off the lid.
"""


@pytest.mark.parametrize("same", ["do.", '"', "ditto", "as above", "same as above", "″"])
def test_a_cell_that_says_the_same_as_above_has_that_torque(
    same: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = TABLE.format(first="5 N·m", second=same, third=same)
    (tmp_path / "m.md").write_text(text, encoding="utf-8")
    main(["read", str(tmp_path / "m.md"), "--out", str(tmp_path / "m.json")])
    torques = json.loads((tmp_path / "m.json").read_text(encoding="utf-8"))["torques"]
    assert [(t["thread"], t["value"]["torque_Nm"]) for t in torques] == [
        ("M5", [5.0, 5.0]), ("M10", [5.0, 5.0]), ("M8", [5.0, 5.0])
    ]  # fmt: skip
    assert "LB-P06" not in capsys.readouterr().out


@pytest.mark.parametrize(
    ("first", "second"), [("do.", "43 N·m"), ("5 N·m", "see 4.2"), ("5 N·m", "like the lid screw")]
)
def test_a_cell_of_words_that_is_not_understood_is_told(
    first: str, second: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = TABLE.format(first=first, second=second, third="21 N·m")
    (tmp_path / "m.md").write_text(text, encoding="utf-8")
    main(["read", str(tmp_path / "m.md"), "--out", str(tmp_path / "m.json")])
    assert "LB-P06" in capsys.readouterr().out
    assert len(json.loads((tmp_path / "m.json").read_text(encoding="utf-8"))["torques"]) == 2


def test_a_section_of_torques_in_sentences_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = TABLE.partition("|")[0] + "The lid screws take 5 N·m. The hub bolts are drawn up with 4 mkp.\n"
    (tmp_path / "m.md").write_text(
        text + "\n## 3.1 Taking off the lid\n\n1. Lift off the lid.\n", encoding="utf-8"
    )
    main(["read", str(tmp_path / "m.md"), "--out", str(tmp_path / "m.json")])
    told = " ".join(capsys.readouterr().out.split())
    assert "LB-P06" in told
    assert "5 N·m" in told
    assert "4 mkp" in told
