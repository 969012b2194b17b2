"""What every record of ours keeps to, whoever has written all its fingerprints anew."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from divert.core.words import N_, Text
from divert.evidence.page_text import even
from divert.figures.figure_sum import figures_in
from divert.recheck.opening import Opened

# Of each report at least one of these is printed.
LEAST = {
    "sponsor": ("supplied.diverted.central", "supported.diverted.central"),
    "grant": ("mass.diverted.central",),
    "board": ("mass.diverted.central",),
}


def broken_rules(opened: Opened, pages: Sequence[str]) -> list[Text]:
    """Return what of a record no report of ours would hold; ``pages``: as the record has them."""
    record = opened.record
    printed = record["printed"]
    told = []
    for one in printed:
        quantum = float(one["quantum"])
        power = math.log10(quantum) if quantum > 0 else math.nan
        if not abs(power - round(power)) < 1e-9 if math.isfinite(power) else True:
            told.append(Text(N_("The record rounds {text} in steps of {quantum}, as no report does."),
                             {"text": str(one["text"]), "quantum": f"{quantum:g}"}))  # fmt: skip
    told += [
        Text(N_("Page {page} has “{there}” where the record says that {text} is printed."),
             {"page": one["page"], "there": _there(one, pages), "text": str(one["text"])})
        for one in printed
        if one.get("at") is not None and _there(one, pages) != even(str(one["text"]))
    ]  # fmt: skip
    number = record["report"].get("number")
    same_pages = len(pages) == len(opened.pages)  # else what is gone or put in is said already
    if same_pages and number and not all(str(number) in page for page in opened.pages):
        told.append(Text(N_("The number {number} of the record does not stand on every page."),
                         {"number": str(number)}))  # fmt: skip
    wanted = LEAST.get(str(record["report"].get("audience")), ())
    named = {path for one in printed for path in _paths(str(one["key"]))}
    if not named & set(wanted):
        told.append(Text(N_("The record does not list the figure that such a report is made for.")))
    if same_pages and record.get("structure") != opened.structure:
        told.append(Text(N_("What is told beside the drawing (tags, descriptions, titles) is not as "
                            "it was when the report was made.")))  # fmt: skip
    told += [Text(_STRANGE[code]) for code in opened.strange]
    return told


_STRANGE = {
    "attachments": N_("The files inside are not the two that a report holds, each once."),
    "acts": N_("Something in the file acts when it is opened or clicked: no report does."),
}


def _there(one: Mapping[str, Any], pages: Sequence[str]) -> str:
    start, end = (int(n) for n in one["at"])
    page = int(one["page"]) - 1
    return pages[page][start:end] if 0 <= page < len(pages) else ""


def _paths(key: str) -> list[str]:
    try:
        return [path for _, path in figures_in(key)]
    except ValueError:
        return []
