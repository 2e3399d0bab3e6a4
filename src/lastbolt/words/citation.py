"""Where a fact stands: source, edition, place in it, and the words."""

from msgspec import Struct

Box = tuple[float, float, float, float]
"""Left, top, right, bottom as fractions of the page as displayed; origin top left."""


def rounded(box: Box, digits: int = 5) -> Box:
    """The box to so many decimals, as documents hold it: 5 are a hundredth of a millimetre on A4."""
    left, top, right, bottom = box
    return round(left, digits), round(top, digits), round(right, digits), round(bottom, digits)


class PdfPlace(Struct, frozen=True, omit_defaults=True, tag="pdf", tag_field="at"):
    """A box on a page: `pdf_page` counts from 1, `printed_page` is what the page says."""

    pdf_page: int
    printed_page: str | None = None
    box: Box | None = None


class TextPlace(PdfPlace, frozen=True, omit_defaults=True, tag="text", tag_field="at"):
    """A line of a text without pages (from 1). `pdf_page` counts the parts it was read in, which begin at its
    chapters; `under`: the heading it stands under."""

    line: int = 0
    under: str = ""


class CellPlace(Struct, frozen=True, omit_defaults=True, tag="cell", tag_field="at"):
    """A line of a table file (from 1, header included) and the column's heading."""

    line: int
    column: str | None = None


class XmlPlace(Struct, frozen=True, omit_defaults=True, tag="xml", tag_field="at"):
    """An element of an XML source: the names from the root down to it, its file and the line."""

    path: str
    file: str = ""
    line: int = 0


class ImagePlace(Struct, frozen=True, omit_defaults=True, tag="image", tag_field="at"):
    """A box on a picture."""

    box: Box


class SaidPlace(Struct, frozen=True, omit_defaults=True, tag="said", tag_field="at"):
    """What a person said or typed; `event` is the event's id, or the line of a typed list."""

    by: str
    event: str = ""


Place = PdfPlace | TextPlace | CellPlace | XmlPlace | ImagePlace | SaidPlace


class Citation(Struct, frozen=True, omit_defaults=True):
    """One witness: the source's id, where in it, the words there; `title`: what people call the source."""

    source: str
    place: Place
    words: str = ""
    title: str = ""
