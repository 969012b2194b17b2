"""Names in the sheets that the site's own list does not have: most are a slip of the pen."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printer
from divert.report.charts.chart import as_name
from divert.report.wording.material_names import NOT_RECORDED, material_name


def unknown_names(figures: Figures, what: str) -> frozenset[str]:
    """Return the names that the records use and the site does not list.

    ``what`` is "source" or "material". Where every name is unknown the site keeps no list, and none
    is called a stranger.
    """
    names = frozenset(f.name for f in figures.findings if f.code == f"unknown {what}" and f.name)
    parts = figures.by_source if what == "source" else figures.by_material
    here = {p.name for p in parts if p.received.central} - {NOT_RECORDED}
    return frozenset() if here and here <= names else names


def shown_material(name: str, strangers: frozenset[str], printer: Printer) -> str:
    """Return a material's name as a table prints it: the built-in list's in the report's language."""
    known = name if name in strangers else material_name(name, printer)
    return shown_name(known, strangers, printer)


def shown_name(name: str, strangers: frozenset[str], printer: Printer) -> str:
    """Return a name as a table prints it, with a word where the site's list does not have it."""
    if not name or name == NOT_RECORDED:
        return printer.plain(Text(N_("not recorded")))
    if name in strangers:
        return printer.plain(Text(N_("{name} (not in the site's list)"), {"name": as_name(name)}))
    return as_name(name)
