"""The published numbers as a table to print: what, how much, and where it stands written."""

from __future__ import annotations

from dataclasses import dataclass

from divert.factors.feed import feed_values
from divert.factors.model import FactorSet, Printed


@dataclass(frozen=True, slots=True)
class SourceRow:
    """One printed number: ``end`` is low, typical or high, "" where one row speaks for all.

    ``value`` in ``unit`` (SI), beside the value as published; ``table`` the table or page.
    """

    key: str
    end: str
    value: str
    unit: str
    as_published: str
    document: str
    year: str
    table: str
    standing: str
    note: str


def sources_table(factors: FactorSet) -> list[SourceRow]:
    """Return a row for each printed number in use: factors, then bands, then screening factors.

    Ends that one document prints at one place, alike in standing and note, share a row, their values
    as ``low – typical – high``.
    """
    rows: list[SourceRow] = []
    for factor in factors.all():
        values = (factor.low, factor.value, factor.high)
        if all(_alike(end) == _alike(factor.typical_printed) for end in factor.ends):
            printed = factor.typical_printed
            span = f"{factor.low:g} – {factor.value:g} – {factor.high:g}"
            single = factor.low == factor.high
            row = _row(factor.key, "", f"{factor.value:g}" if single else span, printed)
            published = list(dict.fromkeys(e.as_published for e in factor.ends if e.as_published))
            rows.append(_with(row, factor.unit, "; ".join(published), factor.note))
            continue
        for name, value, end in zip(("low", "typical", "high"), values, factor.ends, strict=True):
            row = _row(factor.key, name, f"{value:g}", end)
            rows.append(_with(row, factor.unit, end.as_published, end.note))
    for band in factors.bands.values():
        ends = f"{_span(band.ordinary)}; {_span(band.ask)}"
        row = _row(f"band.{band.key}", "", ends, band.printed)
        rows.append(_with(row, band.unit, band.printed.as_published, band.printed.note))
    for feed in feed_values().values():
        row = _row(f"feed.{feed.key}", "", f"{feed.moisture:g}", feed.printed)
        rows.append(_with(row, "share", feed.printed.as_published, feed.printed.note))
    for screen in factors.screening:
        key = f"screening.{screen.set}.{screen.class_}"
        row = _row(key, "", f"{screen.landfilled:.4g}", screen.printed)
        rows.append(_with(row, "kg CO2e per kg", screen.landfilled_as_published, screen.gwp))
    return rows


def _alike(printed: Printed) -> tuple[str, str, str, bool]:
    return printed.citation, printed.standing, printed.note, bool(printed.as_published)


def _span(ends: tuple[float, float]) -> str:
    return f"{ends[0]:.4g} – {ends[1]:.4g}"


def _row(key: str, end: str, value: str, at: Printed) -> SourceRow:
    return SourceRow(key, end, value, "", "", at.document, at.year, at.place, at.standing, "")


def _with(row: SourceRow, unit: str, as_published: str, note: str) -> SourceRow:
    return SourceRow(
        row.key, row.end, row.value, unit, as_published,
        row.document, row.year, row.table, row.standing, note,
    )  # fmt: skip
