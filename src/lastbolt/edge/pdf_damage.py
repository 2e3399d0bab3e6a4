"""What shows to be wrong with a PDF file as a whole: a missing end, streams that fail their checksum."""

import mmap
import re
import zlib
from pathlib import Path

_TAIL = 2048
_LARGEST_CHECKED = 300 * 2**20
_LARGEST_STREAM = 64 * 2**20
_STREAM = re.compile(rb"(?<!end)stream\r?\n")
_DICT_REACH = 2048
_FLATE = re.compile(rb"/(?:FlateDecode|Fl)\b")
_OTHER_FILTER = re.compile(rb"/(?:ASCII85Decode|ASCIIHexDecode|LZWDecode|RunLengthDecode|A85|AHx|LZW|RL)\b")
_PIECE = 1 << 20


def damage_of(path: Path) -> str:
    """What is wrong with the file, in words, or "" when nothing shows."""
    size = path.stat().st_size
    if size == 0:
        return ""
    with path.open("rb") as stream, mmap.mmap(stream.fileno(), 0, access=mmap.ACCESS_READ) as data:
        said = []
        if data.rfind(b"%%EOF", max(0, size - _TAIL)) < 0:
            said.append("its end is missing")
        if size <= _LARGEST_CHECKED and data.rfind(b"/Encrypt") < 0:
            broken, checked = _broken_streams(data)
            if broken:
                said.append(f"{broken} of its {checked} compressed parts do not unpack")
        return " and ".join(said)


def _broken_streams(data: mmap.mmap) -> tuple[int, int]:
    """How many flate streams fail to unpack to their checksum, and how many there are."""
    broken = checked = 0
    position = 0
    while match := _STREAM.search(data, position):
        start = match.end()
        end = data.find(b"endstream", start)
        if end < 0:
            break
        head = data[max(0, match.start() - _DICT_REACH) : match.start()]
        head = head[head.rfind(b" obj") + 1 :]
        if _FLATE.search(head) and not _OTHER_FILTER.search(head):
            checked += 1
            broken += not _unpacks(data, start, end)
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
