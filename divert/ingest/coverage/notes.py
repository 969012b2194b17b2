"""Notes and states that may speak against the load beside them.

Whether a note undoes a load cannot be told by any list of phrases; but a note that undoes one has to
say so, and most say it with one of few words: that something was not, never, wrong, sent back, undone,
entered twice, or stands on another line. Where one of these stands, the load is set aside and asked
about. A note that says something else than how a load was is asked about as well, and its load counted.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache

import numpy as np

from divert.core.names import plain as name
from divert.core.words import N_, Text
from divert.ingest.amounts.column import VALUE
from divert.ingest.arrays import Bools
from divert.ingest.cells import mark
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.coverage.everyday import (
    denies,
    is_a_sentence,
    is_understood,
    may_deny,
    says_not,
)
from divert.ingest.coverage.said_around import tells_a_weight, tells_its_box
from divert.ingest.entries.job import row_text, text_at
from divert.ingest.entries.status import answer_of, reads_status
from divert.ingest.known import Known, row_kinds
from divert.ingest.lexicon import bare, words
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import IGNORE, Column
from divert.ingest.tables.kind_words import THROWN_OUT
from divert.ingest.work import spend


@lru_cache
def _stems() -> re.Pattern[str]:
    lists = words("against")
    begins, whole, done, copied = (
        "|".join(map(re.escape, sorted(lists[name], key=len, reverse=True)))
        for name in ("begins", "whole", "done", "copied")
    )
    denied = rf"(?:not|no|never|pas|jamais)\b(?:\W+\w+)?\W+(?:{done})\w*"
    again = rf"(?:^|is an? |this )duplic\w*|(?:duplic|double)\w* (?:{copied})|doublon\b"
    return re.compile(rf"\b(?:(?:{begins})\w*|(?:{whole})\b|{denied})|{again}")


@lru_cache
def _harmless() -> re.Pattern[str]:
    boxes = r"(?:empty )?(?:totes?|bins?|pails?|buckets?|carts?|lids?|liners?|empties|bacs?|seaux?)"
    joined = "|".join(map(re.escape, sorted(words("against")["harmless"], key=len, reverse=True)))
    returned = rf"\breturn\w*\W+(?:\w+\W+){{0,2}}?{boxes}\b|\b{boxes}\W+(?:\w+\W+)?return\w*"
    return re.compile(rf"{returned}|\b(?:{joined})\w*")


_WORD = re.compile(r"(?<!\w)\d*[^\W\d]\w*(?:['’]\w+)*")


@lru_cache(maxsize=65536)
def _may_speak(word: str) -> bool:
    """Return whether what speaks against a load may begin with a bare word: most notes hold none."""
    lists = words("against")
    if "duplic" in word or "doubl" in word:
        return True
    whole = {phrase.split()[0] for phrase in lists["whole"]}
    parts = re.split("['’]", word)
    return not whole.isdisjoint(parts) or any(
        part.startswith(tuple(lists["begins"])) or may_deny(part) for part in (word, *parts)
    )


@lru_cache(maxsize=65536)
def speaks_against(text: str) -> bool:
    """Return whether a note may say that the load beside it was none."""
    if "?" not in text and not _holds_such_a_word(text):
        return False
    plain = _harmless().sub(" ", bare(text))
    return _stems().search(plain) is not None or denies(plain)


def _less_harmless(text: str) -> str:
    """Return a note, bare and without what undoes nothing ("no trash") where there is such a thing."""
    if not _holds_such_a_word(text):
        return text
    plain = bare(text)
    less = _harmless().sub(" ", plain)
    return text if less == plain else less


@lru_cache(maxsize=65536)
def _holds_such_a_word(text: str) -> bool:
    return any(map(_may_speak, _WORD.findall(bare(text))))


def notes_against(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows beside which a note may say that they are no loads, one question for each note."""
    layout = seen.job.layout
    where_to = ("destination",) if seen.job.kind == "intake" else ()
    told = [layout.shared[f] for f in ("status", "condition", *where_to) if f in layout.shared]
    words_beside = [
        *layout.notes,
        *(c for c in layout.unread if _words(c)),
        *_crew_that_talks(seen),
    ]
    taken_back = np.logical_or.reduce([getattr(m, n) < 0 for m in seen.measured for n in _AMOUNTS])
    for column in (*words_beside, *told):
        texts = column.cells.cells
        spend(_PER_NOTE * len(texts))
        settled = _settled(column)
        here = _here(column) if column.field == "destination" else frozenset()
        said = [
            isinstance(c, str)
            and (speaks_against(c) or bool(mark.of_a_load(c)) or (bool(here) and c not in here))
            and not settled(c)
            for c in texts
        ]
        for code in np.flatnonzero(said).tolist():
            rows = (column.cells.codes == code) & seen.rows.open & ~taken_back
            if mark.of_a_load(texts[code]) == "twice":
                rows = rows & ~_repeated(seen)
            if not rows.any():
                continue
            note = text_at(column, int(np.flatnonzero(rows)[0]))
            same_day = np.isin(seen.dated.days, seen.dated.days[rows]) & seen.rows.open
            yield seen.doubt(
                note,
                N_("The note “{note}” may say that this was no load."),
                N_("Delete the row if it was none, or write the note in other words if it was one."),
                rows=rows | same_day & _of_amounts(seen, note),
                column=column,
                note=note,
            )  # fmt: skip


def _is_strange(note: str, known: Known) -> bool:
    """Return whether a note says more than how a load was, and is asked about nowhere else."""
    if speaks_against(note) or mark.of_a_load(note) or mark.read_start(note):
        return False
    if tells_its_box(note, known):
        return False
    return not is_understood(_less_harmless(note), known) or tells_a_weight(note, known)


def notes_not_understood(seen: Seen) -> Iterator[Doubt]:
    """Ask about the loads of a column whose notes say more than how a load was; they are counted."""
    job = seen.job
    if job.kind not in ("intake", "weigh-in"):
        return
    unread = [c for c in job.layout.unread if _talks(c, job.known)]
    for column in (*job.layout.notes, *unread, *_crew_that_talks(seen)):
        spend(_PER_NOTE * len(column.cells.cells))
        rows = column.cells.rows_of_texts(lambda t: _is_strange(t, job.known)) & seen.rows.open
        if not rows.any():
            continue
        texts = list(dict.fromkeys(text_at(column, r) for r in np.flatnonzero(rows).tolist()))
        more = len(texts) - _QUOTED
        quoted = _quoted([t[:_LONGEST] for t in texts[:_QUOTED]])
        yield seen.doubt(
            f"{column.letter} notes",
            N_("Does one of these notes say that its load was none: {notes}?") if more <= 0 else
            N_("Does one of these notes say that its load was none: {notes} and {more} more?"),
            N_("Where one does, write “no load” beside it, or delete the row."),
            rows=rows, column=column, counts=True, notes=quoted, more=more,
        )  # fmt: skip


def lines_against(seen: Seen) -> Iterator[Doubt]:
    """Ask about words that stand beside no amount, over, between or under loads, and may undo some.

    On a day's row "3/4 should be 45, not 54" holds back the loads that are 45 or 54. Which loads "Red: we
    did not take it" speaks of nobody can tell from the cells: all of them count, and are asked about.
    """
    job = seen.job
    if job.kind in THROWN_OUT:
        return  # there such words say what the sheet is of
    loads = np.logical_or.reduce([m.state == VALUE for m in seen.measured]) & seen.rows.open
    beside = [*job.layout.notes, *(c for c in job.layout.unread if _words(c))]
    said = list(job.table.titles)
    for row in np.flatnonzero(~loads).tolist():
        if seen.rows.reason[row] == "note":
            said.append(row_text(job, row))
        elif seen.rows.open[row]:
            words = (text_at(c, row) for c in beside)
            said += [text for text in words if any(map(str.isdigit, text))]
    for text in dict.fromkeys(t for t in said if _undoes(t) and not job.known.names(t)):
        named = _of_amounts(seen, text) & loads
        yield seen.doubt(
            text[:_LONGEST],
            N_("“{note}” may say that some of these loads were none, or other ones."),
            N_("Where one does, write “no load” beside it, or delete the row."),
            rows=named if named.any() else loads,
            counts=not named.any(),
            note=text,
        )  # fmt: skip


# In a line of its own: a number, or the day and the place of something else ("Trash day", "Slip no. 101").
_OF_OTHERS = re.compile(
    r"\bno\b\.?(?=\s*\d)|\b(?:trash|landfill|skip|poubelle|tests?|essai)\b(?!\s*:)"
)


@lru_cache(maxsize=8192)
def _undoes(text: str) -> bool:
    """Return whether a line beside no load says that some were none: to name the record is not enough."""
    if not speaks_against(text):
        return False
    plain = _OF_OTHERS.sub(" ", _harmless().sub(" ", bare(text)))
    return _stems().search(plain) is not None or says_not(plain)


def _of_amounts(seen: Seen, text: str) -> Bools:
    """Return the rows of which a text says an amount as it is written."""
    numbers = set(re.findall(r"\d+(?:[.,]\d+)?", text))
    out = np.zeros(len(seen.rows.reason), dtype=bool)
    for column in (c for g in seen.job.layout.groups for c in g.members):
        out |= column.cells.rows_where(lambda cell: as_text(cell) in numbers)
    return out


def _quoted(notes: Sequence[str]) -> Text:
    """Return notes in a row, each between the quotes of the language they are told in."""
    said = Text(N_("“{note}”"), {"note": notes[0]})
    for note in notes[1:]:
        said = Text(N_("{before}, “{note}”"), {"before": said, "note": note})
    return said


def _talks(column: Column, known: Known) -> bool:
    """Return whether a column that nobody knows holds remarks.

    They stand on some rows and not on most, or one of them is plainly a remark.
    """
    content = column.content
    named = max(content.sources, content.materials, content.units, content.dates, content.fills)
    filled = (column.cells.codes >= 0).mean() if len(column.cells.codes) else 0.0
    if not (_words(column) and named < 0.5):
        return False
    return 0 < filled < _RARE or any(_remarks(c, known) for c in column.cells.cells)


def _crew_that_talks(seen: Seen) -> list[Column]:
    """Return the column of the crew where remarks stand in it: "Said the driver"."""
    column, known = seen.job.layout.shared.get("by"), seen.job.known
    if column is None or not any(_remarks(c, known) for c in column.cells.cells):
        return []
    return [column]


def _remarks(cell: object, known: Known) -> bool:
    """Return whether a cell says in several words how a load was, or what became of it.

    They are everyday ones, a whole sentence, or none of them a name's: "other truck has it".
    """
    if not isinstance(cell, str) or " " not in cell or known.names(cell):
        return False
    several = len(cell.split()) >= _SEVERAL and cell[1:].islower()
    return several or is_a_sentence(cell) or is_understood(cell, known)


_AMOUNTS = ("mass_kg", "gross_kg", "volume_m3", "count")
_SEVERAL = 3  # words
_PER_NOTE = 40  # work to say what one is about
_RARE = 0.6  # of the rows at most bear a remark
_QUOTED = 5  # notes at most are named in one question
_LONGEST = 60  # characters of each


def _repeated(seen: Seen) -> Bools:
    """Return the rows of which another of the same day says as much of the same."""
    first, shared = seen.measured[0], seen.job.layout.shared
    named = [shared[f].cells.codes for f in ("source", "material") if f in shared]
    alike: dict[tuple[object, ...], list[int]] = {}
    for row in np.flatnonzero(seen.rows.open).tolist():
        numbers = (f"{getattr(first, n)[row]:.9g}" for n in _AMOUNTS)
        names = (codes[row] for codes in named)
        alike.setdefault((seen.dated.days[row], *numbers, *names), []).append(row)
    out = np.zeros(len(seen.rows.reason), dtype=bool)
    for rows in alike.values():
        out[rows] = len(rows) > 1
    return out


def _here(column: Column) -> frozenset[str]:
    """Return the texts of a column that say a load came to us: "Farmer Giles" among "us" is none."""
    texts = (c for c in column.cells.cells if isinstance(c, str))
    return frozenset(c for c in texts if name(c) in words("against")["here"])


def _settled(column: Column) -> Callable[[str], bool]:
    """Return what tells whether a text of a column was read for what it says of its load."""
    if column.field == "status":
        read = reads_status(column.head.text)
        return lambda text: read(text) not in ("", "twice")
    if is_answered(column):
        return lambda text: answer_of(text) is not None
    if column.field != "note":
        return lambda text: False
    return lambda text: (
        mark.of_a_load(text) not in ("", "twice") or row_kinds().get(name(text)) == "rejected"
    )


def is_answered(column: Column) -> bool:
    """Return whether a heading that nobody knows asks something of a load, and answers stand under it."""
    if column.field == IGNORE or column.content.numbers > 0.5:
        return False
    answers = [answer_of(as_text(c)) for c in column.cells.cells]
    heading = column.head.text.rstrip()
    if speaks_against(heading.rstrip(" ?")):
        return any(answers)
    return heading.endswith("?") and bool(answers) and None not in answers


def _words(column: Column) -> bool:
    return column.content.numbers < 0.5 and column.field != IGNORE
