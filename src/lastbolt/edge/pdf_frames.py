"""The messages between the program and its PDF worker: one request in, length-prefixed frames out."""

import struct
from typing import BinaryIO, Literal

import msgspec
from msgspec import Struct

from lastbolt.words.citation import Box
from lastbolt.words.page import PageLayout

_LENGTH = struct.Struct(">I")
LARGEST_FRAME = 256 * 1024 * 1024


class Limits(Struct, frozen=True):
    """What a worker may use: memory for the whole process, seconds for one page, pixels for one picture."""

    memory_MB: int = 1024
    page_s: float = 20.0
    open_s: float = 60.0
    picture_pixels: int = 40_000_000


class Crop(Struct, frozen=True):
    """A box of a page (from 1) to make a picture of."""

    pdf_page: int
    box: Box
    dpi: float = 150.0


class Request(Struct, frozen=True, tag="request"):
    """The first message to a worker: the file to open; with `crops`, only their pictures are wanted."""

    path: str
    limits: Limits
    crops: tuple[Crop, ...] = ()


class Share(Struct, frozen=True, tag="share"):
    """The second: read the pages `first`, `first + step`, ...; then look for damage in as large a part."""

    first: int
    step: int


class ScanWanted(Struct, frozen=True, tag="scan"):
    """To a reader of scans, behind the request: a page to read, and where pages read before are kept."""

    pdf_page: int
    kept: str = ""


class Opened(Struct, frozen=True, tag="opened"):
    """The file could be opened."""

    pages: int


class Failed(Struct, frozen=True, tag="failed"):
    """The file could not be opened."""

    reason: Literal["password", "damaged", "not a PDF", "no pages", "unreadable"]


class PageRead(Struct, frozen=True, tag="page"):
    """One page, with the number of characters that mean nothing in the file."""

    layout: PageLayout
    unmapped: int = 0


class PageFailed(Struct, frozen=True, tag="page failed"):
    """PDFium gave up on this page but lives on."""

    pdf_page: int


class ScanRead(Struct, frozen=True, tag="scan page"):
    """One page read from its picture. `unsure`: which words the reader doubts, by their place in the page's;
    `mark`: the picture's own, by which the page is kept; `again`: it was kept from an earlier reading."""

    layout: PageLayout
    unsure: tuple[int, ...] = ()
    mark: str = ""
    again: bool = False


class Picture(Struct, frozen=True, tag="picture"):
    """One crop as a PNG; empty when the page could not be drawn."""

    index: int
    png: bytes


class Damage(Struct, frozen=True):
    """What shows to be wrong with a file: no end; compressed parts that do not unpack, of so many checked."""

    no_end: bool = False
    broken: int = 0
    checked: int = 0


class Done(Struct, frozen=True, tag="done"):
    """Nothing more will come. `damage` is what is wrong with the file all the same."""

    damage: Damage = Damage()


Frame = Opened | Failed | PageRead | PageFailed | ScanRead | Picture | Done
Message = Request | Share | ScanWanted

_encoder = msgspec.msgpack.Encoder()
_frame_decoder = msgspec.msgpack.Decoder(Frame)
_message_decoder = msgspec.msgpack.Decoder(Message)


def write_frame(stream: BinaryIO, frame: Frame | Message) -> None:
    """Write one frame and push it out."""
    body = _encoder.encode(frame)
    stream.write(_LENGTH.pack(len(body)) + body)
    stream.flush()


def read_frame(stream: BinaryIO) -> Frame | None:
    """The worker's next frame, or None when it is gone or talks nonsense."""
    body = _read_body(stream)
    try:
        return None if body is None else _frame_decoder.decode(body)
    except msgspec.DecodeError:
        return None


def read_message(stream: BinaryIO) -> Message | None:
    """The parent's next message, or None when it is gone."""
    body = _read_body(stream)
    return None if body is None else _message_decoder.decode(body)


def _read_body(stream: BinaryIO) -> bytes | None:
    head = stream.read(_LENGTH.size)
    if len(head) < _LENGTH.size:
        return None
    length = _LENGTH.unpack(head)[0]
    if length > LARGEST_FRAME:
        return None
    body = stream.read(length)
    return body if len(body) == length else None
