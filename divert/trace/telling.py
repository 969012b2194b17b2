"""A trace as sentences for the screen, and as JSON."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from divert.core.findings import Where
from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.numbers.factor_words import ends_said, standing_said, unit_said
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Kind, decimals
from divert.figures.numbers.unit_words import short_name
from divert.figures.numbers.written import decimal_mark, is_one
from divert.trace.parts import TraceFactor, TraceRow
from divert.trace.walk import Trace

MOST_ROWS = 25

_KINDS: dict[str, Kind] = {"kg": "mass", "kg CO2e": "co2e", "kg CH4": "ch4", "share": "share",
                           "m3": "volume", "kg/m3": "density"}  # fmt: skip


def trace_lines(trace: Trace) -> Iterator[Text]:
    """Yield the figure, how it is made, its rows (largest first, the first 25) and its factors."""
    printer = Printer(trace.site.language, trace.site.units, country=trace.site.country)
    write = _Amounts(trace, printer)
    yield Text(
        N_("{figure}, {period}: {value}{range}"),
        {"figure": trace.figure, "period": trace.period, "value": write.figure(trace.value),
         "range": write.range(trace)},
    )  # fmt: skip
    yield trace.how
    if trace.rows:
        yield Text("")
        yield Text(N_("Rows, largest first: {count}"), {"count": len(trace.rows)})
    for row in trace.rows[:MOST_ROWS]:
        yield _row(row, write)
    rest = trace.rows[MOST_ROWS:]
    if rest:
        yield Text(
            N_("  and {count} more, together {amount} (--json lists them all)"),
            {"count": len(rest), "amount": write.row(sum(r.amount for r in rest))},
        )
    if trace.factors:
        yield Text("")
        yield Text(N_("Densities and factors:"))
    for factor in trace.factors:
        yield _factor(factor, write)


class _Amounts:
    """Writes amounts in the site's units, rows one step finer than the figure."""

    def __init__(self, trace: Trace, printer: Printer) -> None:
        self._printer = printer
        kind = _KINDS.get(trace.unit)
        self._scale = printer.scale(kind, trace.value or 1.0) if kind else None
        self._quantum = 1.0
        if self._scale is not None:
            ends = None if trace.low is None or trace.high is None else (trace.low, trace.high)
            spread = None if ends is None else Range(trace.value, *ends)
            self._quantum = self._scale.quantum_of(trace.value, spread)
            if trace.unit == "share" and spread is not None and spread.high > spread.low:
                half = (spread.high - spread.low) / 2 / self._scale.factor
                self._quantum = min(self._quantum, 10.0 ** math.floor(math.log10(half)))
        self._unit = trace.unit

    def figure(self, value: float) -> str:
        scale = self._scale
        if scale is None:
            return self._plain(value)
        return self._named(self._printer.written(value, scale, self._quantum), scale.unit)

    def row(self, value: float) -> str:
        scale = self._scale
        if scale is None:
            return self._plain(value)
        fine = self._quantum / 100
        return self._named(self._printer.number(value / scale.factor, decimals(fine)), scale.unit)

    def range(self, trace: Trace) -> str:
        if trace.low is None or trace.high is None:
            return ""
        return f" ({self.figure(trace.low)} – {self.figure(trace.high)})"

    def factor(self, factor: TraceFactor) -> dict[str, str]:
        """Return a factor's value, ends, unit, source and standing in the site's language."""
        language = self._printer.language
        standing = standing_said(factor.standing, language) if factor.standing else ""
        return {
            "value": self._digits(factor.value), "low": self._digits(factor.low),
            "high": self._digits(factor.high), "unit": unit_said(factor.unit, language),
            "source": ends_said(factor.source, language),
            "standing": f" [{standing}]" if standing else "",
        }  # fmt: skip

    def _digits(self, value: float) -> str:
        """Write six digits, as the language writes a number that is not grouped."""
        return f"{value:.6g}".replace(".", decimal_mark(self._printer.language))

    def _named(self, text: str, unit: str) -> str:
        one = is_one(text, self._printer.language)
        return f"{text} {short_name(unit, one, self._printer.language)}".strip()

    def _plain(self, value: float) -> str:
        decimals = 0 if value == int(value) else 3
        return f"{self._printer.number(value, decimals)} {self._unit}".strip()


def _row(row: TraceRow, write: _Amounts) -> Text:
    place = str(Where(row.file, row.sheet, row.row, row.column))
    about = ", ".join(p for p in (str(row.date or ""), row.source, row.material) if p)
    values = {"basis": Text(row.basis), "factor": f" {row.factor}" if row.factor else ""}
    rests = Text(" [{basis}{factor}]", values) if row.basis or row.factor else ""
    found = Text(N_(" “{found}”"), {"found": row.found}) if row.found else ""
    return Text(
        N_("  {amount}  {place}  {what}: {about}{found}{rests}"),
        {"amount": write.row(row.amount), "place": place, "what": Text(row.what), "about": about,
         "found": found, "rests": rests},
    )  # fmt: skip


def _factor(factor: TraceFactor, write: _Amounts) -> Text:
    values = {"key": factor.key, **write.factor(factor)}
    if factor.amount is None:
        return Text(N_("  {key} = {value} {unit} ({low} – {high}): {source}{standing}"), values)
    return Text(
        N_("  {amount} rests on {key} = {value} {unit} ({low} – {high}): {source}{standing}"),
        {**values, "amount": write.row(factor.amount)},
    )


def trace_json(trace: Trace) -> dict[str, Any]:
    """Return the trace as one JSON object: SI units, every row."""
    return {
        "figure": trace.figure,
        "period": trace.period,
        "sponsor": trace.sponsor,
        "value": trace.value,
        "low": trace.low,
        "high": trace.high,
        "unit": trace.unit,
        "how": str(trace.how),
        "rows": [
            {
                "amount": row.amount, "file": row.file, "sheet": row.sheet, "row": row.row,
                "column": row.column, "date": None if row.date is None else row.date.isoformat(),
                "what": row.what, "source": row.source, "material": row.material,
                "found": row.found, "mass_kg": row.mass_kg, "basis": row.basis,
                "factor": row.factor, "before": row.before,
            }
            for row in trace.rows
        ],
        "factors": [
            {
                "key": one.key, "value": one.value, "low": one.low, "high": one.high,
                "unit": one.unit, "source": one.source, "standing": one.standing,
                "amount": one.amount,
            }
            for one in trace.factors
        ],
    }  # fmt: skip
