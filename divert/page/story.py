"""How the mass of one row came about, step by step, and which reports it is in."""

from __future__ import annotations

import datetime as dt
from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from divert.core.ledger import whole_containers
from divert.core.period import quarter_of, reporting_year
from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Kind
from divert.page.amounts import Amounts
from divert.page.grid import rows_of
from divert.report.wording.dates import span
from divert.site.model import CLAIMED, in_force

if TYPE_CHECKING:
    from divert.convert import Workings


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the story: what was done, and what it came to."""

    what: Text
    comes_to: str


@dataclass(frozen=True, slots=True)
class Story:
    """The entries of one row: what it counts, its range, the steps, and where it goes.

    ``weighed``: all of it was weighed, so that it is said as it was written.
    """

    row: int
    mass: Range | None
    weighed: bool
    steps: tuple[Step, ...]
    goes_into: tuple[Text, ...]


def story(workings: Workings, printer: Printer, file: str, sheet: str, row: int) -> Story | None:
    """Return the story of a row; None where no entry stands in it."""
    from divert.page.questions.totals import mass_of

    entries = rows_of(workings.ledger, file, sheet, row, row)
    if entries.empty:
        return None
    steps: list[Step] = []
    for place in range(len(entries)):
        entry = entries.iloc[place].to_dict()
        steps += _steps(workings, printer, entry)
    intake = entries[entries["kind"] == "intake"]
    mass = None
    if len(intake):
        alone = replace(workings, ledger=intake, charges=workings.charges.iloc[:0])
        found = mass_of(alone)
        mass = found.received if found is not None else None
    into = tuple(_reports(workings, printer, intake.iloc[0].to_dict())) if len(intake) else ()
    weighed = bool((intake["basis"] == "weighed").all())
    return Story(row, mass, weighed, tuple(steps), into)


def _steps(workings: Workings, printer: Printer, entry: Mapping[Hashable, Any]) -> Iterator[Step]:
    name = str(entry["material"]) if _there(entry["material"]) else ""
    box = str(entry["container"]) if _there(entry["container"]) else ""
    count, brim = entry["count"], entry["container_m3"]
    weighed = str(entry["basis"]) == "weighed"

    def as_written(kind: Kind, value: float) -> str:
        return Amounts(printer).one(kind, float(value), exact=True)

    if _there(count) and box and _there(brim) and not weighed:
        said = Text(N_("{count} × {container}, brim-full"),
                    {"count": _number(printer, float(count)), "container": box})  # fmt: skip
        yield Step(said, as_written("volume", float(count) * float(brim)))
        fill = entry["fill_used"]
        if _there(fill) and abs(float(fill) - 1) > 1e-9:
            written = _there(entry.get("fill"))
            said = Text(N_("{share} full, as written") if written else
                        N_("{share} full, as is usual: nobody wrote it"),
                        {"share": _percent(printer, float(fill))})  # fmt: skip
            yield Step(said, as_written("volume", entry["volume_m3"]))
    elif _there(entry.get("volume_m3")) and not weighed:
        yield Step(Text(N_("volume, as written")), as_written("volume", entry["volume_m3"]))
    if weighed:
        gross, tare = entry["gross_kg"], entry["tare_kg"]
        if _there(gross):
            yield Step(Text(N_("weighed with its container")), as_written("mass", gross))
            if _there(tare) and _there(count):
                empty = float(tare) * float(whole_containers(count))
                yield Step(Text(N_("less the empty container")), as_written("mass", -empty))
        else:
            yield Step(Text(N_("weighed, as written")), as_written("mass", entry["mass_kg"]))
    elif _there(entry.get("density_kg_m3")):
        yield Step(
            _density(workings, entry, name), _amount(printer, "density", entry["density_kg_m3"])
        )
    if _there(entry.get("mass_kg")):
        yield Step(Text(N_("weight: {material}"), {"material": name}) if name else
                   Text(N_("weight")),
                   Amounts(printer).mass(entry["mass_kg"], exact=weighed))  # fmt: skip
    if _there(entry.get("removed_kg")) and float(entry["removed_kg"]):
        yield Step(Text(N_("thrown away of it")), as_written("mass", entry["removed_kg"]))
    if str(entry["kind"]) == "intake" and _there(entry.get("before")):
        before = str(entry["before"])
        claimed = Text(N_("claimed")) if before in CLAIMED else Text(N_("not claimed"))
        yield Step(Text(N_("went before to: {before}"), {"before": Text(before)}),
                   printer.plain(claimed))  # fmt: skip


def _density(workings: Workings, entry: Mapping[Hashable, Any], name: str) -> Text:
    basis = str(entry["basis"])
    known = next(
        (d for d in workings.densities
         if d.material == name and d.condition == str(entry["condition"]) and d.basis == basis), None
    )  # fmt: skip
    if basis == "measured density" and known is not None:
        return Text(N_("{material}, weighed here {count} times"),
                    {"material": name, "count": known.weigh_ins})  # fmt: skip
    if basis == "stated density":
        return Text(N_("{material}, as site.toml states"), {"material": name})
    return Text(N_("{material}, published density"), {"material": name})


def _reports(workings: Workings, printer: Printer, entry: Mapping[Hashable, Any]) -> Iterator[Text]:
    site, day = workings.site, entry["date"].date()
    source = str(entry["source"]) if _there(entry["source"]) else ""
    whole = quarter_of(day, site.year_starts)
    quarter = span(whole.start, whole.end, printer.language, printer.country)
    for name in dict.fromkeys(s.name for s in site.sponsors):
        sponsor = in_force([s for s in site.sponsors if s.name == name], day)
        if sponsor is not None and (source in sponsor.supplies or sponsor.funds):
            yield Text(N_("sponsor report of {name}, {period}"), {"name": name, "period": quarter})
    for grant in site.grants:
        if (grant.start or dt.date.min) <= day <= (grant.end or dt.date.max):
            yield Text(N_("grant statement of {name}"), {"name": grant.name})
    yield Text(N_("board report of {year}"), {"year": str(reporting_year(day, site.year_starts))})


def _there(value: Any) -> bool:
    if value is None or value != value:
        return False
    return not (isinstance(value, str) and not value)


def _amount(printer: Printer, kind: Kind, value: float) -> str:
    return Amounts(printer).one(kind, float(value))


def _number(printer: Printer, value: float) -> str:
    return printer.number(value, 0 if value == int(value) else 2)


def _percent(printer: Printer, share: float) -> str:
    eighths = share * 8
    if abs(eighths - round(eighths)) < 1e-6 and 0 < eighths < 8:
        top, bottom = round(eighths), 8
        while top % 2 == 0 and bottom > 1:
            top, bottom = top // 2, bottom // 2
        return f"{top}/{bottom}"
    return f"{printer.number(100 * share, 0 if np.isclose(share * 100 % 1, 0) else 1)}\u202f%"
