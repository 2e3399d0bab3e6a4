"""What shows to be wrong with a PDF file as a whole: a missing end, streams that fail their checksum."""

import mmap
import re
import zlib
from collections.abc import Sequence
from pathlib import Path

from lastbolt.edge.pdf_frames import Damage

_TAIL = 2048
_LARGEST_CHECKED = 300 * 2**20
_LARGEST_STREAM = 64 * 2**20
_LINE_END = re.compile(rb"\r?\n")
_DICT_REACH = 2048
_FLATE = re.compile(rb"/(?:FlateDecode|Fl)\b")
_OTHER_FILTER = re.compile(rb"/(?:ASCII85Decode|ASCIIHexDecode|LZWDecode|RunLengthDecode|A85|AHx|LZW|RL)\b")
_PIECE = 1 << 20


def damage_of(path: Path, first: int = 0, step: int = 1) -> Damage:
    """What shows to be wrong with the file, as far as its streams `first`, `first + step`, ... tell."""
    size = path.stat().st_size
    if size == 0:
        return Damage()
    with path.open("rb") as stream, mmap.mmap(stream.fileno(), 0, access=mmap.ACCESS_READ) as data:
        broken = checked = 0
        no_end = data.rfind(b"%%EOF", max(0, size - _TAIL)) < 0
        if size <= _LARGEST_CHECKED and data.rfind(b"/Encrypt") < 0:
            broken, checked = _broken_streams(data, first, step)
        return Damage(no_end, broken, checked)


def damage_in_words(parts: Sequence[Damage]) -> str:
    """What those who looked at a part of the file each found wrong with it, or "" when nothing shows."""
    said = ["its end is missing"] if any(part.no_end for part in parts) else []
    broken, checked = sum(part.broken for part in parts), sum(part.checked for part in parts)
    if broken:
        said.append(f"{broken} of its {checked} compressed parts do not unpack")
    return " and ".join(said)


def _broken_streams(data: mmap.mmap, first: int, step: int) -> tuple[int, int]:
    """How many flate streams fail to unpack to their checksum, and how many were looked at."""
    broken = checked = seen = 0
    position = 0
    while (begin := data.find(b"stream", position)) >= 0:
        position = begin + len(b"stream")
        line_end = _LINE_END.match(data, position)
        if line_end is None or data[max(0, begin - 3) : begin] == b"end":
            continue
        start = line_end.end()
        end = data.find(b"endstream", start)
        if end < 0:
            break
        head = data[max(0, begin - _DICT_REACH) : begin]
        head = head[head.rfind(b" obj") + 1 :]
        if _FLATE.search(head) and not _OTHER_FILTER.search(head):
            mine = seen % step == first
            seen += 1
            checked += mine
            broken += mine and not _unpacks(data, start, end)
        position = end
    return broken, checked


def _unpacks(data: mmap.mmap, start: int, end: int) -> bool:
    unpacker = zlib.decompressobj()
    produced = 0
    try:
        for at in range(start, end, _PIECE):
            rest = data[at : min(at + _PIECE, end)]
            while rest:
                produced += len(unpacker.decompress(rest, _PIECE))
                rest = unpacker.unconsumed_tail
                if produced > _LARGEST_STREAM:
                    return True  # too large to check; PDFium has its own limits
            if unpacker.eof:
                return True
    except zlib.error:
        return False
    return unpacker.eof
