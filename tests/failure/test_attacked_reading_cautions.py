"""The second line of a warning in bold begins with a number: it is no heading, and takes no steps."""

import json
from pathlib import Path

import pytest

from failure.made_pdf import typeset_pdf
from lastbolt.cli.main import main

BOOK = """
#set text(size: 10pt)
#set par(leading: 0.5em)
#text(size: 14pt, weight: "bold")[4 Casing]

#text(size: 12pt, weight: "bold")[4.1 Draining the oil]

+ Unscrew the plug.
+ Drain the oil.

#text(size: 12pt, weight: "bold")[4.2 Removing the guard]

+ Remove the two screws M6 x 16.
+ Lift off the guard.

#text(size: 12pt, weight: "bold")[4.3 Parting the casing]

#box(stroke: 0.5pt, inset: 4pt)[#set text(weight: "bold")
  CAUTION The casing may crack where a bolt is left. Wait until all \\ SECOND]

+ Remove the eight screws M8 x 45.
+ Part the casing with a mallet.
"""


@pytest.mark.parametrize(
    "second",
    ["31 kg. Use a sling.", "10 minutes later the pressure is gone.", "2 persons are needed for the lift.",
     "3.2 and the guard 2.2 must be off.", "A falling half kills."],
)  # fmt: skip
def test_a_number_at_the_start_of_a_cautions_second_line_is_no_heading(second: str, tmp_path: Path) -> None:
    typeset_pdf(tmp_path / "m.pdf", BOOK.replace("SECOND", second))
    main(["read", str(tmp_path / "m.pdf"), "--out", str(tmp_path / "m.json")])
    model = json.loads((tmp_path / "m.json").read_text(encoding="utf-8"))
    found = {one["number"]: one for one in model["procedures"]}
    assert list(found) == ["4.1", "4.2", "4.3"]
    assert [step["words"] for step in found["4.3"]["steps"]][:1] == ["Remove the eight screws M8 x 45."]
    told = [*found["4.3"].get("cautions", []), *found["4.3"]["steps"][0].get("cautions", [])]
    assert any(second.rstrip(".") in one["words"] for one in told)
