"""What a region's statement says, in the order it says it: words and printed figures."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.factors import load_factors
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Group, Row, Table, between, with_range
from divert.region.result import NONE_READ, GroupSum, RegionFigures, own_range
from divert.report.charts.drawn import Drawn, drawn, full_width_mm
from divert.report.charts.strip import strip
from divert.report.charts.strips import mass_strip
from divert.report.paper.look import Look
from divert.report.paper.pages import Frame
from divert.report.wording.dates import month_name, span
from divert.report.wording.material_names import material_name
from divert.report.wording.method_box import Note, gases, said_cautions
from divert.report.wording.released import released_sentence

MOST_NAMED = 5  # yards that could not be read, on the first page; all stand below
MOST_LISTED = 60  # yards of a table on paper; all stand in the workbook


@dataclass(frozen=True, slots=True)
class RegionView:
    """Everything a region's statement says."""

    headline: Markup
    strip: Drawn | None
    words: tuple[Markup, ...]
    tables: tuple[Table, ...]
    left_out: tuple[Markup, ...]
    notes: tuple[Note, ...]
    cautions: Markup


def region_frame(figures: RegionFigures, printer: Printer) -> Frame:
    """Return what stands around a region's statement."""
    period = figures.period
    days = span(period.start, period.end, printer.language, printer.country)
    values = {"region": figures.region, "days": days}
    return Frame(
        title=printer.plain(Text(N_("{region}: statement of all yards, {days}"), values)),
        description=printer.plain(
            Text(N_("What the yards of {region} diverted together, {days}"), values)
        ),
        site=figures.region,
        site_line=printer.plain(Text(N_("Statement of all yards"))),
        for_line=days,
        period_line=printer.plain(Text(N_("As of {day}"), {"day": figures.as_of})),
        foot=printer.plain(Text(N_("{region} · {days}"), values)),
        day=figures.as_of.isoformat(),
    )


def region_view(
    figures: RegionFigures, printer: Printer, look: Look, *, screen: bool
) -> RegionView:
    """Return a region's statement."""
    mass = printer.scale("mass", figures.mass.received.central)
    if not figures.yards:  # a nought would say that they diverted nothing
        return RegionView(
            _headline(figures, mass, printer), None, (), (), _left_out(figures, printer), (),
            said_cautions(printer),
        )  # fmt: skip
    return RegionView(
        _headline(figures, mass, printer),
        _strip(figures, mass, printer, look, screen),
        _words(figures, mass, printer),
        tuple(
            table
            for table in (
                _groups(figures, mass, printer), _months(figures, mass, printer),
                _materials(figures, mass, printer), _yards(figures, mass, printer),
            )
            if table.has_rows
        ),
        _left_out(figures, printer),
        _notes(figures, printer),
        said_cautions(printer),
    )  # fmt: skip


def _headline(figures: RegionFigures, mass: Scale, printer: Printer) -> Markup:
    if not figures.yards:
        return printer.say(NONE_READ)
    amount = with_range(printer.range("mass.diverted", figures.mass.diverted, mass), printer)
    estimated = figures.basis.get("weighed", 0.0) < 1
    values = {"yards": len(figures.yards), "amount": amount}
    if len(figures.yards) == 1:
        said = (
            N_("One yard diverted an estimated {amount}.") if estimated
            else N_("One yard diverted {amount}.")
        )  # fmt: skip
    else:
        said = (
            N_("Together {yards} yards diverted an estimated {amount}.") if estimated
            else N_("Together {yards} yards diverted {amount}.")
        )  # fmt: skip
    return printer.say(Text(said, values))


def _strip(
    figures: RegionFigures, mass: Scale, printer: Printer, look: Look, screen: bool
) -> Drawn | None:
    data = mass_strip(figures.mass, "period", mass, printer)
    if data is None:
        return None
    width = full_width_mm(look)
    return drawn(lambda chart: strip(data, chart), width, printer.language, look, screen=screen)


def _words(figures: RegionFigures, mass: Scale, printer: Printer) -> tuple[Markup, ...]:
    received = with_range(printer.range("mass.received", figures.mass.received, mass), printer)
    out = [printer.say(Text(N_("Received: {amount}."), {"amount": received}))]
    if figures.failed:  # beside the sum, and not only at the end
        names = ", ".join(one.folder for one in figures.failed[:MOST_NAMED])
        more = " …" if len(figures.failed) > MOST_NAMED else ""
        said = N_("Yards that are not in it, for they could not be read: {count} ({names}).")
        values = {"count": len(figures.failed), "names": names + more}
        out.insert(0, printer.say(Text(said, values)))
    weighed = printer.share("basis[weighed]", figures.basis.get("weighed", 0.0))
    out.append(
        printer.say(
            Text(N_("Of what was received, {share} was weighed."), {"share": printer.with_unit(weighed)})
        )
    )  # fmt: skip
    if figures.shared is not None:
        share = printer.share("shared.of_diverted_variance", figures.shared)
        out.append(
            printer.say(
                Text(
                    N_("The range is that of the sum, and not the sum of the yards' own: what each yard "
                       "errs by itself averages out, what all share does not. Of the variance, {share} "
                       "comes from what the yards share, such as published densities."),
                    {"share": printer.with_unit(share)},
                )
            )
        )  # fmt: skip
    return tuple(out)


def _groups(figures: RegionFigures, mass: Scale, printer: Printer) -> Table:
    some_failed = any(group.failed for group in figures.by_group)

    def row(place: int, group: GroupSum) -> Row:
        name = group.name or printer.plain(Text(N_("no group")))
        path = f"by_group[{place}]"
        failed = (printer.count(f"{path}.failed", group.failed),) if some_failed else ()
        counts = (printer.count(f"{path}.yards", group.yards), *failed)
        cells = tuple(Markup("{}").format(count) for count in counts)
        if not group.yards:  # a nought would say that they brought nothing
            return Row(name, (*cells, printer.say(Text(N_("none could be read"))), "", ""))
        diverted = printer.range(f"{path}.diverted", group.diverted, mass)
        received = printer.central(f"{path}.received", group.received, mass)
        masses = (Markup("{}").format(received), Markup("{}").format(diverted.central))
        return Row(name, (*cells, *masses, between(diverted, printer)))

    rows = tuple(row(place, group) for place, group in enumerate(figures.by_group))
    counted = (N_("Yards read"), N_("Not read")) if some_failed else (N_("Yards read"),)
    heads = (*_said(printer, *counted), *_masses(printer))
    caption = _caption(N_("Yards by group, {unit}"), mass, printer)
    return Table(caption, printer.plain(Text(N_("Group"))), heads, (Group("", rows),))


def _masses(printer: Printer) -> tuple[str, ...]:
    return _said(printer, N_("Received"), N_("Diverted"), N_("90 % range"))


def _said(printer: Printer, *messages: str) -> tuple[str, ...]:
    return tuple(printer.plain(Text(message)) for message in messages)


def _caption(message: str, mass: Scale, printer: Printer) -> Markup:
    return printer.say(Text(message, {"unit": printer.unit_in_full(mass.unit)}))


def _months(figures: RegionFigures, mass: Scale, printer: Printer) -> Table:
    rows = []
    for place, month in enumerate(figures.by_month):
        path = f"by_month[{place}]"
        diverted = printer.range(f"{path}.diverted", month.diverted, mass)
        before = month.same_month_last_year
        last = "" if before is None else Markup("{}").format(
            printer.central(f"{path}.same_month_last_year", before, mass)
        )  # fmt: skip
        name = f"{month_name(month.month, printer.language, 'wide')} {month.month[:4]}"
        received = printer.central(f"{path}.received", month.received, mass)
        cells = (
            Markup("{}").format(received), Markup("{}").format(diverted.central),
            between(diverted, printer), last,
        )  # fmt: skip
        rows.append(Row(name, cells))
    heads = (*_masses(printer), *_said(printer, N_("Diverted a year before")))
    caption = _caption(N_("Month by month, {unit}"), mass, printer)
    return Table(caption, printer.plain(Text(N_("Month"))), heads, (Group("", tuple(rows)),))


def _materials(figures: RegionFigures, mass: Scale, printer: Printer) -> Table:
    known = load_factors(None).materials
    rows = []
    for place, part in enumerate(figures.by_material):
        path = f"by_material[{place}]"
        name = (
            material_name(known[part.name].name, printer) if part.name in known
            else printer.plain(Text(N_("other materials")))
        )  # fmt: skip
        diverted = printer.range(f"{path}.diverted", part.diverted, mass)
        received = printer.central(f"{path}.received", part.received, mass)
        cells = (
            Markup("{}").format(received), Markup("{}").format(diverted.central),
            between(diverted, printer),
        )  # fmt: skip
        rows.append(Row(name, cells))
    caption = _caption(N_("What it was, {unit}"), mass, printer)
    return Table(
        caption, printer.plain(Text(N_("Material"))), _masses(printer), (Group("", tuple(rows)),)
    )


def _yards(figures: RegionFigures, mass: Scale, printer: Printer) -> Table:
    rows = []
    for place, yard in enumerate(figures.yards[:MOST_LISTED]):
        diverted = printer.range(f"sites[{place}].diverted", own_range(yard), mass)
        name = yard.name if yard.name == yard.folder else f"{yard.name} ({yard.folder})"
        aside = printer.count(f"sites[{place}].set_aside", yard.set_aside)
        cells = (
            Markup("{}").format(diverted.central), between(diverted, printer),
            Markup("{}").format(aside),
        )  # fmt: skip
        rows.append(Row(name, cells))
    more = len(figures.yards) - len(rows)
    if more:
        said = Text(N_("and {count} more, in the workbook"), {"count": more})
        rows.append(Row(printer.say(said), ("", "", ""), "range"))
    heads = _said(printer, N_("Diverted"), N_("Its own 90 % range"), N_("Entries set aside"))
    caption = _caption(N_("Yard by yard, {unit}"), mass, printer)
    return Table(caption, printer.plain(Text(N_("Yard"))), heads, (Group("", tuple(rows)),))


def _left_out(figures: RegionFigures, printer: Printer) -> tuple[Markup, ...]:
    out = [
        printer.say(Text(N_("{yard}: {why}"), {"yard": one.folder, "why": one.sentence}))
        for one in figures.failed
    ]
    out += [
        printer.say(
            Text(N_("{yard}: files that cannot be read, and are not in these figures: {count}."),
                 {"yard": yard.folder, "count": yard.unread})
        )
        for yard in figures.yards if yard.unread
    ]  # fmt: skip
    for reason, count in sorted(figures.aside.items(), key=lambda item: (-item[1], item[0])):
        out.append(
            printer.say(
                Text(N_("Entries set aside, “{reason}”: {count}."),
                     {"reason": Text(reason), "count": count})
            )
        )  # fmt: skip
    return tuple(out) or (
        printer.say(Text(N_("Every yard was read, with all its files; no entry was set aside."))),
    )


_ALL = Text(N_("all these yards together"))


def _notes(figures: RegionFigures, printer: Printer) -> tuple[Note, ...]:
    when = released_sentence(figures.emissions_within, "period", printer)
    return (gases(figures.emissions, figures.emissions_within, printer, when, _ALL),)
