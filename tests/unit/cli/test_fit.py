"""`lastbolt fit`: both parts' limits, what they make together, how far to warm the hub."""

import json
from typing import Any

import pytest

from lastbolt.cli.main import main


def told(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, str]:
    assert main(["fit", *words, "--json"]) == 0
    found: list[dict[str, Any]] = json.loads(capsys.readouterr().out)["told"]
    return {one["what"]: one["value"] for one in found}


def test_a_transition_fit(capsys: pytest.CaptureFixture[str]) -> None:
    # ISO 286-2: 72 H7 0 to +30, 72 m6 +11 to +30 (figures from memory).
    found = told(capsys, "72", "H7/m6")
    assert found["hole 72 H7"] == "72.0000 to 72.0300 mm (+0 to +30 µm)"
    assert found["shaft 72 m6"] == "72.0110 to 72.0300 mm (+11 to +30 µm)"
    assert found["together"] == "transition, from 30 µm interference to 19 µm clearance"


def test_warming_of_a_measured_hub(capsys: pytest.CaptureFixture[str]) -> None:
    # 0.06 + 0.02 mm over 100 mm, steel of 10.5 to 12.5 millionths: 0.08 / (100 x 12.5e-6) = 64 K, or 76 K.
    found = told(capsys, "--hole", "99.94", "--shaft", "100", "--hub", "steel")
    assert found["interference"] == "0.06 mm"
    assert found["warm the hub of steel"].startswith("by 64 to 76 K, from 20 °C to 96 °C at most")
    assert "burn" in found["take care"]
    loose = told(capsys, "--hole", "100.01", "--shaft", "100", "--hub", "steel")
    assert loose["warming"].startswith("none")


def test_a_bearing_by_its_group(capsys: pytest.CaptureFixture[str]) -> None:
    assert told(capsys, "C3", "--bearing", "35")["radial clearance C3"] == "15 to 33 µm"


@pytest.mark.parametrize(
    "words",
    [["H7"], ["72"], ["72", "H7/Q6"], ["600", "H7/g6"], ["72", "H7/p6", "--hub", "cheese"],
     ["C9", "--bearing", "35"], ["20", "t6"], []],
)  # fmt: skip
def test_what_is_not_in_the_tables_is_refused(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", *words]) == 2
    assert "LB-M16" in capsys.readouterr().err
