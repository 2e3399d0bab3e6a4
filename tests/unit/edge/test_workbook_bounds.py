"""Workbooks that lie: each is one clear problem, and the program goes on."""

import io
import zipfile
from pathlib import Path

import openpyxl
import pytest

from lastbolt.edge.workbook_in import read_workbook
from lastbolt.words.problem import Refusal


def book() -> bytes:
    made = openpyxl.Workbook()
    sheet = made.active
    assert sheet is not None
    for row in (("Item", "Description", "Qty"), ("1", "Screw M6 x 45", 4)):
        sheet.append(row)
    stream = io.BytesIO()
    made.save(stream)
    return stream.getvalue()


def with_cell_at(place: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(book())) as old, zipfile.ZipFile(out, "w") as new:
        for entry in old.infolist():
            data = old.read(entry)
            if entry.filename.startswith("xl/worksheets/"):
                data = data.replace(b'r="A2"', f'r="{place}"'.encode())
            new.writestr(entry.filename, data)
    return out.getvalue()


@pytest.mark.parametrize("place", ["A99999999999", "ZZZZ1", "AAAAAAAAAAAA1", "XFD1048576", "A0", "1A"])
def test_a_cell_of_an_absurd_place(tmp_path: Path, place: str) -> None:
    file = tmp_path / "list.xlsx"
    file.write_bytes(with_cell_at(place))
    codes = []
    try:
        rows = [row for sheet in read_workbook(file) for row in sheet.table.sheet.rows]
    except Refusal as refused:
        rows, codes = [], [problem.code for problem in refused.problems]
    assert rows or set(codes) <= {"LB-F31", "LB-F32", "LB-F39"}


@pytest.mark.parametrize("name", ["list.xlsx", "list.ods", "list.xls"])
@pytest.mark.parametrize("cut", [0.3, 0.7, 0.97])
def test_a_cut_workbook(tmp_path: Path, name: str, cut: float) -> None:
    file = tmp_path / name
    whole = book()
    file.write_bytes(whole[: int(len(whole) * cut)])
    with pytest.raises(Refusal) as refused:
        read_workbook(file)
    assert refused.value.problems[0].code == "LB-F39"


def test_a_broken_directory(tmp_path: Path) -> None:
    file = tmp_path / "list.xlsx"
    whole = bytearray(book())
    at = whole.rfind(b"PK\x01\x02")
    whole[at : at + 4] = b"XXXX"
    file.write_bytes(bytes(whole))
    with pytest.raises(Refusal) as refused:
        read_workbook(file)
    assert refused.value.problems[0].code == "LB-F39"
