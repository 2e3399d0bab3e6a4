"""PNG files (ISO/IEC 15948) of 8-bit RGB rows, written and read again without filters."""

import struct
import zlib

from msgspec import Struct

CHANNELS = 3
_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_SIZE_AT = len(_SIGNATURE) + 8
_FORMAT = b"\x08\x02\x00\x00\x00"
"""8 bits, RGB, nothing special."""


class Pixels(Struct, frozen=True):
    """A picture as rows of RGB bytes."""

    width: int
    height: int
    rows: tuple[bytes, ...]


def png_of(pixels: Pixels) -> bytes:
    """A PNG file of these rows."""

    def chunk(name: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))

    flat = b"".join(b"\x00" + row for row in pixels.rows)
    return (
        _SIGNATURE
        + chunk(b"IHDR", struct.pack(">II", pixels.width, pixels.height) + _FORMAT)
        + chunk(b"IDAT", zlib.compress(flat, 6))
        + chunk(b"IEND", b"")
    )


def size_of(png: bytes) -> tuple[int, int]:
    """Width and height in pixels, from the header; 0, 0 when there is none."""
    if len(png) < _SIZE_AT + 8 or not png.startswith(_SIGNATURE):
        return 0, 0
    width, height = struct.unpack(">II", png[_SIZE_AT : _SIZE_AT + 8])
    return width, height


def pixels_of(png: bytes) -> Pixels | None:
    """The pixels of a file that `png_of` wrote; None for any other."""
    width, height = size_of(png)
    if not width or png[_SIZE_AT + 8 : _SIZE_AT + 13] != _FORMAT:
        return None
    data, at = b"", len(_SIGNATURE)
    while at + 8 <= len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        if png[at + 4 : at + 8] == b"IDAT":
            data += png[at + 8 : at + 8 + length]
        at += length + 12
    try:
        flat = zlib.decompress(data)
    except zlib.error:
        return None
    stride = width * CHANNELS + 1
    if len(flat) != stride * height or any(flat[::stride]):
        return None
    return Pixels(width, height, tuple(flat[y * stride + 1 : (y + 1) * stride] for y in range(height)))
