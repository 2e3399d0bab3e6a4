# ruff: noqa: E501, RUF012
"""House 1: A4, one column, decimal numbers three deep, marks "1." and "a)", boxed warnings, N·m only."""

from __future__ import annotations

from styles.house import House
from styles.setter import Setter


class House1(House):
    """Decimal numbers; references by number in brackets or in the sentence."""

    name = "style_1"
    units = ("N·m",)
    trail = {
        "section": (" (see {n})", " (refer to section {n})", ", see {n}", " as described in {n}"),
        "page": (" (see page {p})", " (page {p})"),
        "title": (", see \"{t}\"",),
        "any_of": (" (see {n} or {m})",),
        "figure": (" (Fig. {f})", ", see Fig. {f}"),
        "variant": (" (see {n})",), "serial": (" (see {n})",), "condition": (" (see {n})", ", see {n}"),
        "self": (" (see {n})",), "dangling": (" (see {n})", " (refer to section {n})"),
    }  # fmt: skip
    noun = {
        "chapter": ("chapter {n}",), "range": ("sections {n} to {m}",), "list": ("sections {list} and {m}",),
        "steps": ("section {n}, steps {s1} to {s2}", "{n} steps {s1} to {s2}"), "repeat": ("steps {s1} and {s2}",),
        "table": ("see Table {tb}",), "other_book": ("see the operator's manual", "see the motor maker's manual"),
    }  # fmt: skip


HOUSE, SETTER = House1, Setter
