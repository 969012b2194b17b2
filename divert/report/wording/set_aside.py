"""Why entries could not be used, in words: the causes for which they were set aside."""

from __future__ import annotations

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printer

_SET_ASIDE = 0.05  # of the entries: from here on the first page says so
_REASONS = {
    "no date": N_("no date"),
    "no material": N_("no material"),
    "no quantity": N_("no quantity"),
    "quantity unreadable": N_("quantity unreadable"),
    "unit unknown": N_("unit unknown"),
    "net mass zero or less": N_("net mass zero or less"),
    "date in the future": N_("date in the future"),
    "date before the start": N_("date before the start"),
    "date order ambiguous": N_("date order ambiguous"),
    "larger than any load": N_("larger than any load"),
    "exact copy of a file": N_("exact copy of a file"),
    "correction matches no entry": N_("correction matches no entry"),
    "file unreadable": N_("file unreadable"),
    "unknown material": N_("material not in the list, and not weighed"),
    "unknown source": N_("unknown source"),
    "unknown container": N_("container not in the list, and not weighed"),
}


def causes(figures: Figures, printer: Printer) -> list[tuple[str, int]]:
    """Return each cause in words with its number of entries, the largest first."""
    counts: dict[str, int] = {}
    for finding in figures.findings:
        if finding.level == "refused" and finding.answer is None:
            counts[finding.code] = counts.get(finding.code, 0) + finding.rows
    ordered = sorted(counts.items(), key=lambda item: (-item[1], item[0]))
    return [(printer.plain(Text(_REASONS.get(code, code))), count) for code, count in ordered]


def many_set_aside(figures: Figures, printer: Printer) -> Markup | None:
    """Return a word on entries that could not be used, where they are too many to leave to a later page."""
    rows = figures.rows
    if not rows.seen or rows.set_aside < _SET_ASIDE * rows.seen:
        return None
    share = printer.share("period:rows.set_aside/period:rows.seen", rows.set_aside / rows.seen)
    return printer.say(
        Text(N_("{share} of the entries in the site's whole log could not be used and count for "
                "nothing here."), {"share": printer.with_unit(share)})
    )  # fmt: skip
