"""Look a table through for what its plan does not explain, and set aside what hangs on it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

import numpy as np

from divert.core.findings import Finding, Where
from divert.core.words import N_, Text
from divert.ingest.amounts.column import VALUE
from divert.ingest.amounts.measured import Measured
from divert.ingest.arrays import Bools
from divert.ingest.coverage.answers import answers_no, strange_statuses
from divert.ingest.coverage.around import materials_in_a_title, names_that_disagree, untold_title
from divert.ingest.coverage.between import rows_between
from divert.ingest.coverage.counts import counts_that_name
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.coverage.kinds import kind_against_materials
from divert.ingest.coverage.lent_days import days_left_aside
from divert.ingest.coverage.marks import hidden_amounts, hidden_rows, struck_out
from divert.ingest.coverage.names import names_of_no_source, remarks_for_names
from divert.ingest.coverage.notes import lines_against, notes_against, notes_not_understood
from divert.ingest.coverage.rivals import names_against_the_lent, rivals
from divert.ingest.coverage.said_around import amounts_in_words, weighed_with_its_box
from divert.ingest.coverage.second_amounts import second_amounts
from divert.ingest.coverage.streams import parted_streams
from divert.ingest.coverage.units import units_that_contradict
from divert.ingest.coverage.unlike import sum_under_a_name, unlike_the_others
from divert.ingest.coverage.unread import unread_names
from divert.ingest.coverage.weekdays import weekdays_that_contradict
from divert.ingest.coverage.years import years_that_contradict
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob, place_in, text_at
from divert.ingest.tables.groups import Group
from divert.ingest.tables.overrides import rule_for
from divert.site.answers import compared

_Rules = tuple[Callable[[Seen], Iterable[Doubt]], ...]
_OF_ROWS: _Rules = (
    struck_out,
    hidden_rows,
    notes_against,
    notes_not_understood,
    lines_against,
    strange_statuses,
    weighed_with_its_box,
    names_of_no_source,
    years_that_contradict,
    weekdays_that_contradict,
    untold_title,
    names_that_disagree,
    materials_in_a_title,
    rows_between,
    unlike_the_others,
    sum_under_a_name,
    kind_against_materials,
)
_OF_COLUMNS: _Rules = (  # settled where a person says under [[sheet]] which column is which
    answers_no,
    hidden_amounts,
    remarks_for_names,
    amounts_in_words,
    counts_that_name,
    days_left_aside,
    parted_streams,
    second_amounts,
    unread_names,
    units_that_contradict,
    rivals,
    names_against_the_lent,
)

CODE = "not explained"
OF_NOTES = "notes not understood"


def doubts_of(seen: Seen) -> list[Doubt]:
    """Return all that a table's plan leaves unexplained."""
    if not seen.measured:
        return []
    told = rule_for(seen.job.known.site, seen.job.sheet.file, seen.job.sheet.name)
    rules = _OF_ROWS if told is not None and told.columns else (*_OF_ROWS, *_OF_COLUMNS)
    rules = (kind_against_materials,) if seen.job.kind == "activity" else rules
    found = [doubt for rule in rules for doubt in rule(seen) if doubt.rows.any()]
    told_to_count = {compared(a.about) for a in seen.job.known.site.answers if a.verdict == "count"}
    return [
        replace(
            doubt,
            counted=doubt.counts or compared(f"{CODE}: {_name(seen.job, doubt)}") in told_to_count,
        )
        for doubt in found
    ]


def _name(job: TableJob, doubt: Doubt) -> str:
    return f"{job.sheet.file}!{job.sheet.name}!{doubt.about}"


def doubted_rows(doubts: Sequence[Doubt], groups: Sequence[Group], size: int) -> list[Bools]:
    """Return the rows on which each group's loads are in doubt."""
    out = [np.zeros(size, dtype=bool) for _ in groups]
    touched = _touched(groups)
    for doubt in doubts:
        for number in () if doubt.counted else touched(doubt):
            out[number] |= doubt.rows
    return out


def _touched(groups: Sequence[Group]) -> Callable[[Doubt], Iterable[int]]:
    """Return a function that tells the numbers of the groups a doubt is about."""
    at: dict[int, list[int]] = {}
    for number, group in enumerate(groups):
        for place in group.places:
            at.setdefault(place, []).append(number)

    def touched(doubt: Doubt) -> Iterable[int]:
        if doubt.columns is None:
            return range(len(groups))
        return sorted({number for place in doubt.columns for number in at.get(place, ())})

    return touched


def say_doubts(
    job: TableJob, doubts: Sequence[Doubt], measured: Sequence[Measured], out: Gathered
) -> None:
    """Ask each question once, with the loads and the mass that hang on it."""
    touched = _touched(job.layout.groups)
    for doubt in doubts:
        rows, kg = _hanging(doubt, [measured[number] for number in touched(doubt)])
        if not rows:
            continue
        said = Text(
            N_("{question} Loads counted all the same: {rows}.")
            if doubt.counted
            else N_("{question} Loads set aside: {rows}."),
            {"question": doubt.message, "rows": rows},
        )
        if kg > 0 and not doubt.counted:
            unit, factor = ("lb", 0.45359237) if job.known.site.units == "us" else ("kg", 1.0)
            said = Text(
                N_(
                    "{question} Loads set aside: {rows}, of {mass} {unit} as far as they were weighed."
                ),
                {"question": doubt.message, "rows": rows, "mass": round(kg / factor), "unit": unit},
            )
        out.findings.append(
            Finding(
                "query" if doubt.counted else "refused", OF_NOTES if doubt.counts else CODE, said,
                _where(job, doubt), doubt.hint, _found(doubt), rows, _name(job, doubt),
                choices=doubt.choices,
            )
        )  # fmt: skip


def _hanging(doubt: Doubt, measured: Iterable[Measured]) -> tuple[int, float]:
    """Return how many loads hang on a doubt, and what they weigh; ``measured``: the groups it is about."""
    rows, kg = 0, 0.0
    for amounts in measured:
        value = doubt.rows & (amounts.state == VALUE)
        rows += int(value.sum())
        weighed = np.where(np.isnan(amounts.mass_kg), amounts.gross_kg, amounts.mass_kg)
        kg += float(np.nansum(weighed[value]))
    return rows, kg


def _where(job: TableJob, doubt: Doubt) -> Where:
    row = int(np.flatnonzero(doubt.rows)[0]) if doubt.at is None else doubt.at
    if doubt.column is None:
        return Where(job.sheet.file, job.sheet.name, row + job.table.first + 1)
    return place_in(job, row, doubt.column)


def _found(doubt: Doubt) -> str:
    row = int(np.flatnonzero(doubt.rows)[0]) if doubt.at is None else doubt.at
    return "" if doubt.column is None else text_at(doubt.column, row)
