"""What a quantity column's head says for all its cells: a source, a material, a container, a day."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from divert.ingest.cells.date import Day, weekday_words, weekdays_together
from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.problem import Problem
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.tables.columns import NAMED, Column
from divert.ingest.tables.context import Context
from divert.ingest.tables.heading_words import norm
from divert.ingest.tables.streams import says_stream
from divert.ingest.tables.table import OVER
from divert.ingest.tables.years_across import year_of


@dataclass(frozen=True)
class Label:
    """What a group's heads say for all its cells."""

    source: str = ""
    material: str = ""
    container: str = ""
    size_m3: float | None = None
    day: Day | None = None
    weekday: int | None = None
    number: int | None = None  # a day of the month that something else names
    year: int | None = None
    other: str = ""
    ambiguous: bool = False  # a day is named whose order nothing settles
    by_site: bool = False  # only site.toml settled the order of its day

    @property
    def empty(self) -> bool:
        """Return whether nothing is said."""
        return self == Label()


def label_of(column: Column, known: Known) -> Label:
    """Return what a quantity column's head says beside its field."""
    return column.cells.once((label_of, column.head, known), lambda: _label_of(column, known))


def _label_of(column: Column, known: Known) -> Label:
    heading = column.heading
    if heading.field == "fill":
        return Label(other=column.head.text)  # "Level after (m³)"
    label = Label(container=heading.container, size_m3=heading.size_m3)
    over = column.head.over.split(OVER)
    texts = [t for t in (*over, heading.label) if t]
    ticked = not column.content.filled and bool(column.cells.cells)
    content = column.content
    text = column.head.text
    amounts = content.numbers > 0.6 or (known.names(text) and content.quantities > 0.6)
    named = heading.field in NAMED and (amounts or ticked)
    if not heading.known or named:
        whole = _day_of(text) is not None or (named and not known.names(heading.label))
        own = text if whole else heading.label or text  # "École des Érables": a name none knows
        texts = [t for t in (*over, own) if t]
    if column.head.number is not None:
        texts, label = [t for t in over if t], replace(label, number=column.head.number)
    if isinstance(column.head.cell, dt.date):
        cell = column.head.cell
        return replace(label, day=Day(cell.year, cell.month, cell.day))
    for text in dict.fromkeys(texts):
        label = _read_label(text, label, known)
    return label


def _day_of(text: str) -> Day | None:
    """Return the day that a head names, by its first reading; no bare number is one."""
    read = read_date(text)
    named = not isinstance(read, Problem) and read.readings and not text.isdigit()
    return read.readings[0][1] if named and not isinstance(read, Problem) else None


def _read_label(text: str, label: Label, known: Known) -> Label:
    text = re.sub(r"\s*[(\[].*?[)\]]\s*", " ", text).strip() or text
    source, material = known.sources.find(text), known.materials.find(text)
    if source and not label.source:
        return replace(label, source=source)
    if material and not label.material:
        return replace(label, material=material)
    if _LETTERED.fullmatch(text):
        return replace(label, other=label.other or f"#{norm(text)}")
    container = known.containers.take(bare(text), 0)
    if container and container[1] == len(bare(text)) and not label.container:
        return replace(label, container=container[0])
    weekday = weekday_words().get(bare(text).strip("."))
    if weekday is not None:
        return replace(label, weekday=weekday)
    if year_of(text) is not None:
        return replace(label, year=year_of(text))
    day = _day_of(text)
    if day is not None:
        return replace(label, day=day)
    split = _split_label(text, known)
    if split is not None:
        return replace(label, source=label.source or split[0], material=label.material or split[1])
    if _says_nothing(text, known):
        return replace(label, other=label.other or f"#{norm(text)}")
    return replace(label, other=label.other or text)


_MOST_WORDS = 20  # of a name and a material together


def _split_label(text: str, known: Known) -> tuple[str, str] | None:
    """Read "School food" or "Hotel - coffee grounds": a source and a material in one head."""
    tokens = re.sub(r"[-–—:/|,]+", " ", text).split()
    if len(tokens) > _MOST_WORDS:
        return None
    return known.source_and_material(tokens)


# Possessive: what could be taken in two ways ("#", a run of digits) must not be tried in all of them.
_NOTHING = re.compile(
    r"(?i)(?:am|pm|a\.m\.|p\.m\.|morning|afternoon|evening|matin|apr[eè]s-midi|soir|load|trip|run"
    r"|chargement|voyage|pickup|weighing|pes[ée]e|batch|lot|round|tour|first|second|third|1st|2nd|3rd|1er|2e|3e|no\.?|\d|\W)++"
)


_NUMBERED = re.compile(r"([^\W\d_]+(?: [^\W\d_]+)?) ?(?:#|no\.?|n°)? ?\d{1,2}")


_LETTERED = re.compile(r"[^\W\d_]{2,} #?[A-H]")  # "Cart A"


def _says_nothing(text: str, known: Known) -> bool:
    """Return whether a head only tells loads apart: "1st", "pm", "Pail 2"; not "Plot 14", a name."""
    numbered = _NUMBERED.fullmatch(text)
    box = known.containers.take(bare(numbered[1]), 0) if numbered else None
    return _NOTHING.fullmatch(text) is not None or box is not None


def settle_labels(
    labels: dict[int, Label], columns: Sequence[Column], context: Context, kind: str, known: Known
) -> dict[int, Label]:
    """Settle whether unknown labels name sources or materials (or products, activities)."""
    labels = _by_container(_weekdays(_by_stream(labels, columns, known), columns), known)
    unknown = [i for i, one in labels.items() if one.other and not one.other.startswith("#")]
    if not unknown:
        return labels
    have = {c.field for c in columns}
    named_sources = any(one.source for one in labels.values())
    named_materials = any(one.material for one in labels.values())
    if kind in ("activity", "fuel", "residue", "disposed"):
        return labels  # what they name is no source and no material: "Overs (lb)"
    if kind in ("harvest", "sale"):
        target = "other" if have & {"product", "material"} else "material"
    elif named_sources != named_materials:
        target = "source" if named_sources else "material"
    else:
        target = _target(labels, unknown, have, context, known)
    if target == "other":
        return _one_weight(labels, unknown)
    alone = len(unknown) == 1 and all(one.empty for i, one in labels.items() if i not in unknown)
    if alone and not like_a_name(labels[unknown[0]].other):
        return labels  # "Lu sur la balance (kg)" says how it was weighed, and names nobody
    out = dict(labels)
    for index in unknown:
        one = labels[index]
        out[index] = replace(
            one,
            other="",
            source=one.source or (one.other if target == "source" else ""),
            material=one.material or (one.other if target == "material" else ""),
        )
    return out


def _target(
    labels: dict[int, Label],
    unknown: Sequence[int],
    have: set[str],
    context: Context,
    known: Known,
) -> str:
    """Return what unknown words across a table name: sources or materials, whichever nothing else tells."""
    open_source = not (have & {"source", "unit"} or context.source)
    open_material = not ("material" in have or context.material)
    if open_source and open_material:
        near = sum(known.materials.near(labels[i].other) is not None for i in unknown)
        return "material" if near > len(unknown) / 2 else "source"
    return "source" if open_source else "material" if open_material else "other"


def _one_weight(labels: dict[int, Label], unknown: Sequence[int]) -> dict[int, Label]:
    """Take "Weight on the big scale" beside a count for the weight of the same load."""
    counts = [one for i, one in labels.items() if i not in unknown]
    if len(unknown) > 1 or not counts:
        return labels
    if any(replace(one, container="", size_m3=None) != Label() for one in counts):
        return labels
    return {i: replace(one, other="") if i in unknown else one for i, one in labels.items()}


_LITTLE = frozenset(
    ("of", "the", "and", "for", "at", "in", "de", "du", "des", "la", "le", "les", "et")
)
_LONGEST = 60  # characters of a name


def like_a_name(text: str) -> bool:
    """Return whether words may be a name: each with a capital, no sentence, not many of them."""
    words: Sequence[str] = re.findall(r"[^\W\d_][\w'’.&-]*", text)
    told = [w for w in words if w.casefold() not in _LITTLE]
    short = (
        len(text) <= _LONGEST
        and 1 <= len(told) <= 6
        and not text.rstrip().endswith((".", "!", "?"))
    )
    return short and all(w[0].isupper() for w in told)


_MARCH = Day(None, 3, None)


def _weekdays(labels: dict[int, Label], columns: Sequence[Column]) -> dict[int, Label]:
    """Take "Mar" among days of the week for mardi: not for March, nor for a source's short name."""
    if sum(one.weekday is not None for one in labels.values()) < 2:
        return labels
    words = {c.index: bare(c.head.text).strip(".") for c in columns}
    days = weekdays_together()
    return {
        i: replace(one, source="", day=None, weekday=days[words[i]])
        if words.get(i) in days and (one.day in (None, _MARCH))
        else one
        for i, one in labels.items()
    }


def _by_stream(
    labels: dict[int, Label], columns: Sequence[Column], known: Known
) -> dict[int, Label]:
    """Take "Compost" beside trash or recycling for the bin's name: what was in it is not said there."""
    if not any(says_stream(c, "recycling") or says_stream(c, "trash") for c in columns):
        return labels
    return {
        i: replace(one, material="", other="#compost") if one.material in known.products else one
        for i, one in labels.items()
    }


def _by_container(labels: dict[int, Label], known: Known) -> dict[int, Label]:
    """Take "Leaf bags" for bags of leaves where the other columns are totes of this and pails of that."""
    without = [i for i, one in labels.items() if one.container and not one.material]
    if not without or len(without) == len(labels):
        return labels
    others = [one for i, one in labels.items() if i not in without]
    if not all(one.container and one.material for one in others):
        return labels
    out = dict(labels)
    for index in without:
        first = labels[index].container.split()[0]
        material = known.materials.find(first) or ""
        out[index] = replace(labels[index], material="" if material in known.products else material)
    return out
