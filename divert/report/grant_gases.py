"""A grant's greenhouse gases: what the headline rests on, and the methane year by year."""

from __future__ import annotations

from itertools import accumulate

from divert.figures import Figures
from divert.report.charts.methane import Methane
from divert.report.printed import Printer
from divert.report.scales import Scale
from divert.report.tables import Cell, Group, Row, Table, between, marked
from divert.words import N_, Text

SETS = {"us-2026": N_("United States, 2026"), "uk-2024": N_("United Kingdom, 2024")}
CLASSES = {
    "food": N_("food waste"),
    "garden": N_("garden waste"),
    "grass": N_("grass"),
    "leaves": N_("leaves"),
    "branches": N_("branches"),
    "mixed organics": N_("mixed organics"),
    "cardboard": N_("cardboard"),
    "newspaper": N_("newspaper"),
    "office paper": N_("office paper"),
    "paper": N_("paper and card"),
    "wood": N_("wood"),
    "wood_straw": N_("wood and straw"),
}
_BLOCKS = 5  # the yearly table stands in as many columns


def sensitivity_table(total: Figures, printer: Printer) -> Table | None:
    """Return landfill methane avoided under other choices, and by the cross-check sets.

    None where nothing was bound for a landfill.
    """
    headline = total.emissions.landfill_avoided
    if headline.central == 0:
        return None
    higher = total.sensitivity.get("landfill_avoided")
    scale = printer.scale("co2e", headline.central)
    central = printer.range("total:emissions.landfill_avoided", headline, scale)
    rows = [
        Row(printer.say(Text(N_("As reported: within 100 years"))),
            (marked(central), between(central, printer)), "total")
    ]  # fmt: skip
    twenty = total.emissions_within.get("20")
    if twenty is not None:
        within = printer.range("total:emissions_within.20", twenty, scale)
        rows.append(
            Row(printer.say(Text(N_("Within 20 years, at the same 100-year warming (GWP-100)"))),
                (marked(within), between(within, printer)))
        )  # fmt: skip
    if higher is not None:
        more = printer.one("total:sensitivity.landfill_avoided", higher, scale)
        rows.append(
            Row(printer.say(Text(N_("With the higher of the two published shares that decay (DOCf)"))),
                (marked(more), ""))
        )  # fmt: skip
    checks = [
        Row(
            printer.say(
                Text(N_("Cross-check {set}, {class_}; ours for the same: {ours}"),
                     {"set": Text(SETS.get(s.set, s.set)), "class_": Text(CLASSES.get(s.class_, s.class_)),
                      "ours": printer.one(f"total:screening[{i}].ours", s.ours, scale)})
            ),
            (marked(printer.one(f"total:screening[{i}].landfill_avoided", s.landfill_avoided,
                                scale)), ""),
        )
        for i, s in enumerate(total.screening)
    ]  # fmt: skip
    groups = [Group("", tuple(rows))]
    if checks:
        groups.append(
            Group(
                printer.say(Text(N_("By published screening factors: landfill against landfill, other "
                                    "boundaries, not to be added"))),
                tuple(checks),
            )
        )  # fmt: skip
    return Table(
        caption=printer.say(
            Text(N_("Landfill methane avoided under other choices, {unit}"),
                 {"unit": printer.unit_in_full(scale.unit)})
        ),
        stub="",
        heads=(printer.say(Text(N_("Total"))), printer.say(Text(N_("90\u202f% range")))),
        groups=tuple(groups),
    )  # fmt: skip


def methane_scale(total: Figures, printer: Printer) -> Scale:
    """Return the scale of the yearly methane: a digit more than its sum needs, for the late years."""
    found = printer.scale("ch4", sum(y.kg_ch4 for y in total.methane_by_year))
    return Scale(found.unit, found.quantum / 10)


def methane_tables(total: Figures, printer: Printer) -> tuple[Table, ...]:
    """Return the years side by side in a few short tables; empty where no methane is avoided.

    The tail that holds the last hundredth stands in one row.
    """
    years = total.methane_by_year
    whole = sum(y.kg_ch4 for y in years)
    if whole <= 0:
        return ()
    so_far = list(accumulate(y.kg_ch4 for y in years))
    tail = next(i for i, kg in enumerate(so_far) if kg >= 0.99 * whole) + 1
    spans = [(i, i + 1) for i in range(tail)]
    if tail < len(years):
        spans.append((tail, len(years)))
    scale = methane_scale(total, printer)
    printed = printer.parts(
        ["+".join(f"total:methane_by_year[{i}].kg_ch4" for i in range(*span)) for span in spans],
        [sum(y.kg_ch4 for y in years[first:end]) for first, end in spans],
        scale, whole, "methane",
    )  # fmt: skip
    rows = [
        Row(_years(years[first].year, years[end - 1].year, printer), (marked(figure),))
        for (first, end), figure in zip(spans, printed, strict=True)
    ]
    length = -(-len(rows) // _BLOCKS)
    return tuple(
        Table(
            caption=_years(years[start].year, years[_last(spans, start + length)].year, printer),
            stub=printer.say(Text(N_("Year"))),
            heads=(printer.say(Text(N_("kg CH₄"))),),
            groups=(Group("", tuple(rows[start : start + length])),),
        )
        for start in range(0, len(rows), length)
    )


def _last(spans: list[tuple[int, int]], end: int) -> int:
    return spans[min(end, len(spans)) - 1][1] - 1


def _years(first: int, last: int, printer: Printer) -> Cell:
    if first == last:
        return str(first)
    return printer.say(Text(N_("{first} to {last}"), {"first": str(first), "last": str(last)}))


def methane_course(total: Figures, printer: Printer) -> Methane | None:
    """Return the years for the chart, cut where under a hundredth of the largest is left."""
    years = total.methane_by_year
    if not years or max(y.kg_ch4 for y in years) <= 0:
        return None
    scale = methane_scale(total, printer)
    largest = max(range(len(years)), key=lambda i: years[i].kg_ch4)
    last = max(i for i, y in enumerate(years) if y.kg_ch4 >= years[largest].kg_ch4 / 100)
    figure = printer.one(f"total:methane_by_year[{largest}].kg_ch4", years[largest].kg_ch4, scale,
                         "methane")  # fmt: skip
    return Methane(
        years=tuple((y.year, y.kg_ch4) for y in years[: last + 1]),
        largest_text=figure.text,
        now=total.period.end.year,
        unit=printer.unit_in_full("kg CH4"),
    )
