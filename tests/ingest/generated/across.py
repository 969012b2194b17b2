"""The ways in which crews lay their loads across: sources or materials over columns, or days."""

from __future__ import annotations

import datetime as dt

from .loads import Load
from .paper import DayStyle, Paper
from .pen import Pen


def across(pen: Pen, traits: list[str]) -> Paper:
    """Return a tab with sources or materials across, and a day a row."""
    by = pen.choice(("source", "material"))
    traits.append(f"{by}s across")
    unit = pen.choice(list(pen.words.UNITS))
    names = pen.sample(
        list(pen.words.SOURCES if by == "source" else pen.words.MATERIALS), pen.randint(2, 4)
    )
    said = {
        n: pen.choice((pen.words.SOURCES if by == "source" else pen.words.MATERIALS)[n])
        for n in names
    }
    if pen.random() < 0.25:
        more = pen.choice(
            pen.words.UNKNOWN_SOURCES if by == "source" else pen.words.UNKNOWN_MATERIALS
        )
        names.append(more)
        said[more] = more
        traits.append("unknown name across")
    other = pen.choice(list(pen.words.MATERIALS if by == "source" else pen.words.SOURCES))
    lent = pen.choice((pen.words.MATERIALS if by == "source" else pen.words.SOURCES)[other])
    paper = Paper(pen.choice(pen.words.TABS))
    headed = pen.random() < 0.5
    paper.put([f"{lent} ({unit})" if not headed else lent])
    total = pen.choice(pen.words.ACROSS_TOTAL).format(u=unit) if pen.random() < 0.5 else ""
    heads = [f"{said[n]} ({unit})" if headed else said[n] for n in names]
    extra = pen.choice(pen.words.BESIDE) if pen.random() < 0.3 else None
    if extra:
        traits.append(f"beside: {extra[0]}")
    paper.put(["Date", *heads, *([total] if total else []), *([extra[0]] if extra else [])])
    days = DayStyle(pen)
    day = dt.date(2025, pen.randint(1, 9), pen.randint(1, 28))
    sums = [0.0] * len(names)
    for _ in range(pen.randint(4, 12)):
        numbers = [float(pen.randint(8, 200)) if pen.random() < 0.85 else None for _ in names]
        whole = [Load(day, n, other, kg=v * pen.words.UNITS[unit]) if by == "source"
                 else Load(day, other, n, kg=v * pen.words.UNITS[unit])
                 for n, v in zip(names, numbers, strict=True) if v is not None]  # fmt: skip
        row_sum = sum(v for v in numbers if v is not None)
        tail = [*([row_sum] if total else []), *([pen.randint(*extra[1:])] if extra else [])]
        paper.put([days.write(day), *numbers, *tail], *whole)
        sums = [s + (v or 0.0) for s, v in zip(sums, numbers, strict=True)]
        day += dt.timedelta(days=pen.randint(1, 7))
    if pen.random() < 0.4:
        paper.put([pen.choice(pen.words.TOTALS), *sums, *([sum(sums)] if total else [])])
        traits.append("totals row")
    return paper


def days_across(pen: Pen, traits: list[str]) -> Paper:
    """Return a tab with sources down and days across."""
    traits.append("days across")
    unit = pen.choice(list(pen.words.UNITS))
    what = pen.choice(list(pen.words.MATERIALS))
    paper = Paper(pen.choice(pen.words.TABS))
    paper.put([f"{pen.choice(pen.words.MATERIALS[what])} ({unit})"])
    first = dt.date(2025, pen.randint(1, 9), pen.randint(1, 28))
    run = [first + dt.timedelta(days=7 * n) for n in range(pen.randint(3, 6))]
    total = pen.random() < 0.4
    paper.put([pen.choice(pen.words.SOURCE), *run, *(["Total"] if total else [])])
    for source in pen.words.SOURCES:
        numbers = [float(pen.randint(8, 200)) if pen.random() < 0.85 else None for _ in run]
        whole = [
            Load(d, source, what, kg=v * pen.words.UNITS[unit])
            for d, v in zip(run, numbers, strict=True)
            if v is not None
        ]
        tail = [sum(v for v in numbers if v is not None)] if total else []
        paper.put([pen.choice(pen.words.SOURCES[source]), *numbers, *tail], *whole)
    return paper
