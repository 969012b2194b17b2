"""What `divert figures` says: the period's numbers in plain sentences, or as a flat table."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from typing import Any

from divert.cli.output.balance import balance_lines, net_avoided_line, released_line, with_ends
from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printer
from divert.site.model import Site


def figure_lines(figures: Figures, site: Site) -> Iterator[Text]:
    """Yield the main numbers as sentences, in the site's units and language."""
    printer = Printer(site.language, site.units, country=site.country, currency=site.currency)
    scale = printer.scale("mass", figures.mass.received.central)
    period = figures.period
    yield Text(
        N_("{site}, {label}, {start} to {end}{to_date}."),
        {"site": figures.site, "label": period.label, "start": period.start, "end": period.end,
         "to_date": Text(N_(", to date")) if period.to_date else Text("")},
    )  # fmt: skip
    rows = figures.rows
    yield Text(
        N_("Entries seen: {seen}; {used} used, {aside} set aside, {skipped} skipped; "
           "open questions: {queries}."),
        {"seen": rows.seen, "used": rows.used, "aside": rows.set_aside, "skipped": rows.skipped,
         "queries": rows.queries},
    )  # fmt: skip
    yield from balance_lines(figures.mass, printer, scale)
    shares = ", ".join(
        f"{printer.share(f'basis[{name}]', share).text} % {printer.plain(Text(name))}"
        for name, share in figures.basis.items()
    )
    yield Text(N_("Of what was received: {shares}."), {"shares": shares})
    yield net_avoided_line(figures.emissions, printer)
    yield from released_line(figures.emissions_within)
    sponsor = figures.sponsor or ""
    if figures.supplied is not None:
        received = with_ends("supplied.received", figures.supplied.received, printer, scale)
        diverted = with_ends("supplied.diverted", figures.supplied.diverted, printer, scale)
        yield Text(
            N_("{sponsor} supplied: {received} received, {diverted} diverted."),
            {"sponsor": sponsor, "received": received, "diverted": diverted},
        )
    if figures.supported is not None:
        diverted = with_ends("supported.diverted", figures.supported.diverted, printer, scale)
        yield Text(
            N_("{sponsor} supported: {diverted} diverted. Never add the two."),
            {"sponsor": sponsor, "diverted": diverted},
        )


def figures_csv(plain: dict[str, Any]) -> str:
    """Return the figures as two columns, path and value, in the order of the JSON."""
    return _table(("figure", "value"), _flat("", plain))


def issued_csv(told: dict[str, Any]) -> str:
    """Return what issued reports said: number, set of figures, path and value."""
    rows = (
        (one["number"], name, path, value)
        for one in told["issued"]
        for name, figures in one["figures"].items()
        for path, value in _flat("", figures)
    )
    return _table(("number", "set", "figure", "value"), rows)


def _table(heading: tuple[str, ...], rows: Iterable[tuple[Any, ...]]) -> str:
    from divert.core.safe_files import as_text_cell

    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(heading)
    for row in rows:
        writer.writerow([as_text_cell(cell) if isinstance(cell, str) else cell for cell in row])
    return out.getvalue()


def _flat(path: str, value: Any) -> Iterator[tuple[str, Any]]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _flat(f"{path}.{key}" if path else key, inner)
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _flat(f"{path}[{number}]", inner)
    else:
        yield path, "" if value is None else value
