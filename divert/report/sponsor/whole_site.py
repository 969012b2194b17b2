"""The whole site in a few sentences, for a reader of one part of it."""

from __future__ import annotations

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.tables import with_range
from divert.report.sponsor.scope import Scope
from divert.report.wording.dates import this_period
from divert.report.wording.material_names import NOT_RECORDED
from divert.report.wording.unknown_names import unknown_names


def site_in_words(figures: Figures, whole: Scope, printer: Printer) -> Markup:
    """Return what the site took in and diverted, a year earlier and since its start."""
    received, diverted = whole.received(printer), whole.diverted(printer)
    period = printer.plain(this_period(figures.period))
    strangers = unknown_names(figures, "source") | {NOT_RECORDED}
    met = [p.name for p in figures.by_source if p.received.central]
    listed = [name for name in met if name not in strangers]
    values = {
        "period": period[:1].upper() + period[1:],
        "received": printer.with_unit(received), "diverted": with_range(diverted, printer),
        "sources": len(listed),
        "others": len(met) - len(listed),
    }  # fmt: skip
    said = [printer.say(Text(_took_in(figures, len(listed), len(met) - len(listed)), values))]
    first = figures.previous is None or figures.previous.diverted is None
    if first and figures.period.kind in ("month", "quarter", "year", "range"):
        said.append(printer.say(Text(N_("This is the first period on record."))))
    since = figures.cumulative
    total = printer.scale("mass", since.diverted.central)
    ever = printer.central("cumulative.diverted", since.diverted, total)
    amount = Markup("{}\u202f{}").format(ever, printer.unit_in_full(total.unit, ever.text))
    said.append(
        printer.say(
            Text(N_("Since {day} the site has diverted {amount}."),
                 {"day": printer.date(since.since), "amount": amount})
        )
    )  # fmt: skip
    return Markup(" ").join(said)


def _took_in(figures: Figures, listed: int, others: int) -> str:
    if not figures.mass.received.central and not figures.mass.diverted.central:
        return (
            N_("{period} nothing was received.") if figures.weeks.logged
            else N_("{period} no delivery was written down.")
        )  # fmt: skip
    if figures.mass.diverted.central < 0:
        return N_("{period} the site took in {received}; after what was thrown away the balance is "
                  "{diverted}.")  # fmt: skip
    if not listed:
        return N_("{period} the site took in {received} and diverted {diverted}.")
    if others:
        return N_("{period} the site took in {received}, from sources on its list: {sources}, and under "
                  "names that are not: {others}. It diverted {diverted}.")  # fmt: skip
    return (
        N_("{period} the site took in {received}, from one source, and diverted {diverted}.")
        if listed == 1
        else N_("{period} the site took in {received}, from {sources} sources, and diverted "
                "{diverted}.")
    )  # fmt: skip
