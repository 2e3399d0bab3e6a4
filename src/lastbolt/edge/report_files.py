"""The report on disk: page pictures cut from the sources, then HTML and PDF from the same view."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from pathlib import Path

from lastbolt import __version__
from lastbolt.app.pages import Crop, ReportPage
from lastbolt.edge import pdf_frames
from lastbolt.edge.crop_cut import around, cut
from lastbolt.edge.html_out import report_html
from lastbolt.edge.pdf_in import render_crops
from lastbolt.edge.pdf_out import CROP_DPI, report_pdf
from lastbolt.edge.plain_text import plain_values
from lastbolt.edge.safe_files import make_folder, sha256_of, write_file
from lastbolt.words.machine import Source
from lastbolt.words.problem import Problem

FOOT = (
    f"lastbolt {__version__}. The maker's current manual, local codes and licensed practice come first. "
    "This sheet speaks of fasteners and listed holders only."
)


def write_report(page: ReportPage, folder: Path, files: Mapping[str, Path]) -> tuple[Path, Path]:
    """Write report.html and report.pdf into `folder`; `files` gives the PDF of each source id.

    Raises:
        Refusal: the folder cannot be written.
    """
    page = plain_values(page)
    pictures = cut_pictures(page.crops, files)
    make_folder(folder)
    html, pdf = folder / "report.html", folder / "report.pdf"
    write_file(html, report_html(page, pictures, FOOT))
    write_file(pdf, report_pdf(page, pictures, FOOT))
    return html, pdf


def cut_pictures(crops: Iterable[Crop], files: Mapping[str, Path]) -> dict[str, bytes]:
    """A PNG for each crop whose source's file is at hand."""
    by_source: dict[str, list[Crop]] = defaultdict(list)
    for crop in crops:
        if crop.source in files:
            by_source[crop.source].append(crop)
    found: dict[str, bytes] = {}
    for source, wanted in by_source.items():
        wanted.sort(key=lambda crop: crop.pdf_page)
        asked = tuple(pdf_frames.Crop(crop.pdf_page, around(crop.box), CROP_DPI) for crop in wanted)
        for crop, png in zip(wanted, render_crops(files[source], asked), strict=True):
            found[crop.key] = cut(png, around(crop.box), crop.box) if png else b""
    return found


def source_files(sources: Iterable[Source], folder: Path) -> tuple[dict[str, Path], tuple[Problem, ...]]:
    """The PDF of each source in `folder`, and what is missing or is no longer the file that was read."""
    found: dict[str, Path] = {}
    problems: list[Problem] = []
    for source in sources:
        if not source.file.lower().endswith(".pdf"):
            continue
        path = folder / Path(source.file).name
        if not path.is_file():
            what = f'The file of "{source.title}" is not there, so its pages cannot be shown.'
        elif source.sha256 and sha256_of(path) != source.sha256:
            what = f'The file of "{source.title}" is not the one that was read, so its pages are not shown.'
        else:
            found[source.id] = path
            continue
        problems.append(Problem("LB-D07", what, str(path), "Give its folder with --sources.", "note"))
    return found, tuple(problems)
