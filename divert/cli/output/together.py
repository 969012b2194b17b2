"""What `divert together` says: the yards' one figure in plain sentences, or a table of yards."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import Any

from divert.cli.output.balance import balance_lines, net_avoided_line, released_line
from divert.core.safe_files import as_text_cell
from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printer
from divert.region.result import NONE_READ, RegionFigures

COLUMNS = (
    "folder", "name", "group", "received_kg", "diverted_kg", "low_kg", "high_kg", "entries_used",
    "entries_set_aside", "files_unread", "failed",
)  # fmt: skip


def region_lines(figures: RegionFigures) -> Iterator[Text]:
    """Yield the main numbers as sentences, then every yard that is not in them and why."""
    printer = Printer(figures.language, figures.units, country=figures.country)
    scale = printer.scale("mass", figures.mass.received.central)
    period = figures.period
    yield Text(
        N_("{region}, {label}, up to {end}: yards read {read}, not read {failed}."),
        {"region": figures.region, "label": period.label, "end": period.end,
         "read": len(figures.yards), "failed": len(figures.failed)},
    )  # fmt: skip
    if not figures.yards:  # noughts would say that they diverted nothing
        yield NONE_READ
        yield from _left_out(figures)
        return
    yield from balance_lines(figures.mass, printer, scale)
    yield net_avoided_line(figures.emissions, printer)
    yield from released_line(figures.emissions_within)
    if figures.shared is not None:
        share = f"{round(100 * figures.shared)} %"
        yield Text(
            N_("The range is that of the sum, not the sum of the yards' ranges: {share} of its variance "
               "comes from what yards share, such as published densities."),
            {"share": share},
        )  # fmt: skip
    yield from _left_out(figures)


def _left_out(figures: RegionFigures) -> Iterator[Text]:
    aside = sum(y.set_aside for y in figures.yards)
    if aside:
        yield Text(
            N_("Entries set aside in the yards that were read, and not in these figures: {count}."),
            {"count": aside},
        )
    for yard in figures.yards:
        if yard.unread:
            yield Text(
                N_("{yard}: files that cannot be read, and are not in these figures: {count}."),
                {"yard": yard.folder, "count": yard.unread},
            )
    for one in figures.failed:
        yield Text(
            N_("Not in these figures: {yard}. {why}"), {"yard": one.folder, "why": one.sentence}
        )


def _names(*texts: str | None) -> list[str]:
    """Return texts that no spreadsheet takes for formulas."""
    return [as_text_cell(text or "") for text in texts]


def yards_csv(plain: dict[str, Any]) -> str:
    """Return a row for each yard, and one for the total with its own range, which is no sum of theirs."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for yard in plain["sites"]:
        diverted = yard["diverted"]
        writer.writerow(
            [*_names(yard["folder"], yard["name"], yard["group"]), yard["received"], diverted["central"],
             diverted["low"], diverted["high"], yard["used"], yard["set_aside"],
             yard["files_unread"], ""]
        )  # fmt: skip
    for yard in plain["failed"]:
        writer.writerow(
            [
                *_names(yard["folder"], "", yard["group"]),
                *[""] * (len(COLUMNS) - 4),
                *_names(yard["sentence"]),
            ]
        )
    mass, rows = plain["mass"], plain["rows"]
    writer.writerow(
        [*_names("", plain["region"], ""), mass["received"]["central"], mass["diverted"]["central"],
         mass["diverted"]["low"], mass["diverted"]["high"], rows["used"], rows["set_aside"],
         sum(y["files_unread"] for y in plain["sites"]), len(plain["failed"])]
    )  # fmt: skip
    return out.getvalue()
