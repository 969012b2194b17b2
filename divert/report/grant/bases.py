"""How well a grant's masses are known: the share on each basis, and the weeks with entries."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.tables import Cell, Group, Row, Table, marked

_BASES = (
    ("weighed", N_("Weighed")),
    ("measured density", N_("Volume times a density this site measured")),
    ("stated density", N_("Volume times a density the site states")),
    ("published density", N_("Volume times a published density")),
)
_WEEKS = (
    ("in_period", N_("Weeks in all")),
    ("logged", N_("Weeks with entries")),
    ("closed", N_("Weeks closed")),
    ("missing", N_("Weeks missing")),
)


def known_table(period: Figures, total: Figures, printer: Printer) -> Table:
    """Return shares of received mass by basis, and coverage, for the period and the total."""
    sets = (("period", period), ("total", total))
    shares = [
        [printer.share(f"{name}:basis.{basis}", figures.basis.get(basis, 0.0))
         for basis, _ in _BASES]
        if sum(figures.basis.values()) > 0.5 else None
        for name, figures in sets
    ]  # fmt: skip
    rows = []
    for i, (_, message) in enumerate(_BASES):
        cells: tuple[Cell, ...] = tuple(
            "–" if of_set is None else printer.with_unit(of_set[i]) for of_set in shares
        )
        rows.append(Row(printer.say(Text(message)), cells))
    weeks = [
        Row(printer.say(Text(message)),
            tuple(marked(printer.count(f"{name}:weeks.{field}", getattr(figures.weeks, field)))
                  for name, figures in sets))
        for field, message in _WEEKS
    ]  # fmt: skip
    return Table(
        caption=printer.say(Text(N_("How well it is known"))),
        stub="",
        heads=(printer.say(Text(N_("This period"))), printer.say(Text(N_("Total")))),
        groups=(
            Group(printer.say(Text(N_("Share of received mass"))), tuple(rows)),
            Group(printer.say(Text(N_("Coverage (blank is not zero, nothing was filled in)"))),
                  tuple(weeks)),
        ),
    )  # fmt: skip
