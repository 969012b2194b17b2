"""What stands around a table: titles that name nothing among others that do, names that disagree."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from divert.core.words import N_
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.entries.job import TableJob
from divert.ingest.sheet import as_text
from divert.ingest.tables.around import file_context
from divert.ingest.tables.context import Context, gather, read_name
from divert.ingest.tables.crew import names_the_crew

_LENT = ("source", "material")  # what a title may say for all loads under it


def with_untold_titles(jobs: Sequence[TableJob]) -> list[TableJob]:
    """Return the jobs of a sheet, those marked whose title names nothing where their sisters' do.

    Sisters are tables with the same headings, one under the other, each under a title of its own.
    """
    alike: dict[tuple[str, ...], list[int]] = {}
    for place, job in enumerate(jobs):
        heads = tuple(h.text for h in job.table.heads)
        alike.setdefault((job.sheet.name, *heads), []).append(place)
    out = list(jobs)
    for places in alike.values():
        said = {p: gather(jobs[p].table.titles[:1], jobs[p].known) for p in places}
        open_ = [f for f in _LENT if any(getattr(one, f) for one in said.values())]
        if len(places) < 2 or not open_:
            continue
        for place in places:
            job = jobs[place]
            text = job.table.titles[0] if job.table.titles else _above(job)
            lacks = any(not getattr(said[place], f) and not _told_itself(job, f) for f in open_)
            same = job.sheet is jobs[places[0]].sheet
            if text and lacks and same and not said[place].month and not said[place].years:
                out[place] = replace(job, untold=text)
    return out


def _above(job: TableJob) -> str:
    """Return the one text that stands right over a table's heading."""
    row = job.table.heading_rows[0] - 1 if job.table.heading_rows else -1
    cells = [c for c in job.sheet.row(row) if c is not None] if row >= 0 else []
    return as_text(cells[0]) if len(cells) == 1 else ""


def _told_itself(job: TableJob, field: str) -> bool:
    """Return whether a table's own columns say what the titles of its sisters say."""
    column = job.layout.shared.get(field)
    if column is None:
        return any(getattr(g.label, field) for g in job.layout.groups)
    return field != "source" or not names_the_crew(column)


def untold_title(seen: Seen) -> Iterator[Doubt]:
    """Doubt the loads under a title that names nothing known, among tables whose titles do."""
    if seen.job.untold:
        yield seen.doubt(
            seen.job.untold[:60],
            N_("“{text}” stands alone over these loads: it may say whose they are, or what, or when."),
            N_("If it names a source or a material, add it to site.toml."),
            text=seen.job.untold,
        )  # fmt: skip


def names_that_disagree(seen: Seen) -> Iterator[Doubt]:
    """Doubt the loads of a table whose title says another thing than its sheet's name, or its file's.

    A file's name is heard where the sheet has no name, or says nothing of it.
    """
    job = seen.job
    if not job.table.titles:
        return
    title, tab = gather(job.table.titles, job.known), read_name(job.sheet.name, job.known)
    file = file_context(job.sheet.file, job.known)
    for field in _LENT:
        one, other = getattr(title, field), getattr(tab, field)
        question = N_("The title over this table says {one}, and the name of its sheet {other}.")
        if not other:
            other = getattr(file, field)
            question = N_("The title over this table says {one}, and the name of its file {other}.")
        if (
            one
            and other
            and one != other
            and not _told(seen, field)
            and _lent(job.context, field, one, other)
        ):
            yield seen.doubt(
                f"{field} around",
                question,
                N_("Take one of the two names away, or add a column that says it for each load."),
                one=one,
                other=other,
            )  # fmt: skip


_PARTS = re.compile(r"[,;/&+=:]|\s[-–—]\s|\b(?:and|et)\b")


def materials_in_a_title(seen: Seen) -> Iterator[Doubt]:
    """Doubt the loads under a title that names several materials, of which nothing tells whose is which."""
    job = seen.job
    for text in job.table.titles if job.context.material and not _told(seen, "material") else ():
        plain = re.sub(r"\([^)]*\)", " ", text)
        parts = [part.strip(" .()") for part in _PARTS.split(plain)]
        found = [job.known.materials.find(p) for p in parts if not job.known.sources.find(p)]
        names = list(dict.fromkeys(name for name in found if name))
        if len(names) > 1 and job.context.material in names:
            yield seen.doubt(
                "materials in a title",
                N_("“{text}” names several materials, and no column says which each load was of."),
                N_("Take one of the two names away, or add a column that says it for each load."),
                text=text,
            )  # fmt: skip
            return


def _told(seen: Seen, field: str) -> bool:
    layout = seen.job.layout
    if field in layout.shared or any(getattr(g.label, field) for g in layout.groups):
        return True
    return bool(seen.rows.sources if field == "source" else seen.rows.materials)


def _lent(context: Context, field: str, one: str, other: str) -> bool:
    return getattr(context, field) in (one, other)
