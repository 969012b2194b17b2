"""The ways in which crews lay their loads out: a row each, under sections, across, a tab each."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from itertools import groupby
from random import Random
from typing import Any

from . import wording
from .amounts import Amounts, amounts_of
from .loads import MATERIALS, SOURCES, Load, Written, loads
from .paper import DayStyle, Paper

Column = tuple[str, Callable[[Written, int], Any]]


def tall(random: Random, name: str, traits: list[str], lacks: str = "", lent: str = "") -> Paper:
    """Return a tab with a load a row. ``lacks`` is the field that ``lent`` says for all of it."""
    paper = Paper(name)
    what = random.choice(list(MATERIALS)) if lacks != "material" else lent
    amounts = amounts_of(random, traits, MATERIALS[what][0])
    told = loads(random, 4, 16)
    lacking = {lacks} | ({"material"} if amounts.material or lacks == "material" else set())
    told = [_lent(w, lacks, lent, what if amounts.material else "") for w in told]
    columns, days = _columns(random, traits, lacking)
    _title(paper, random, traits)
    _table(paper, random, traits, columns, amounts, told, days)
    if random.random() < 0.25:
        paper.put([])
        paper.put([random.choice(wording.FOOTERS)])
        traits.append("footer")
    return paper


def sections(random: Random, traits: list[str]) -> Paper:
    """Return a tab whose sources, materials or days stand in rows of their own over their loads."""
    by = random.choice(("source", "source", "material", "day"))
    traits.append(f"sections by {by}")
    paper = Paper(random.choice(("Log", "Sheet1", "2025")))
    amounts = amounts_of(random, traits, "food scraps", plain=True)
    if by == "material" and amounts.material:
        by = "source"
    lacking = {by if by != "day" else "date"} | ({"material"} if amounts.material else set())
    columns, days = _columns(random, traits, lacking)
    told = [
        _lent(w, "", "", "kitchen scraps" if amounts.material else "") for w in loads(random, 6, 16)
    ]
    key = {
        "source": lambda w: w.source,
        "material": lambda w: w.material,
        "day": lambda w: w.day.toordinal(),
    }[by]
    heading = [*(c[0] for c in columns), *amounts.heads]
    dressed = random.choice(("{}", "{}", "{}:", "** {} **", "{} (weekly)", "{} - spring"))
    loud = random.random() < 0.4
    again = random.random() < 0.3
    if not again:
        paper.put(heading)
    for _, group in groupby(sorted(told, key=lambda w: (str(key(w)).zfill(9), w.day)), key=key):  # type: ignore[no-any-return]
        members = list(group)
        first = members[0]
        said = {"source": first.source_said, "material": first.material_said}.get(by)
        text = (
            days.write(first.day)
            if said is None
            else dressed.format(said.upper() if loud else said)
        )
        if said is None and random.random() < 0.3:
            text = f"{first.day.month}/{first.day.day}/{first.day.year} - {random.choice(wording.REMARKS).lower()}"
            traits.append("words behind a day")
        row = paper.put([text])
        if random.random() < 0.3:
            paper.merged.append((row, 1, row, len(heading)))
        if again:
            paper.put(heading)
        if by == "source":
            members = [
                Written(w.day, first.source, w.source_said, w.material, w.material_said, w.number)
                for w in members
            ]
        if by == "material":
            members = [
                Written(w.day, w.source, w.source_said, first.material, w.material_said, w.number)
                for w in members
            ]
        for place, one in enumerate(members):
            cells, load = amounts.write(one, random)
            paper.put([*(c[1](one, place) for c in columns), *cells], load)
        if random.random() < 0.3:
            paper.put([])
    return paper


def across(random: Random, traits: list[str]) -> Paper:
    """Return a tab with sources or materials across, and a day a row."""
    by = random.choice(("source", "material"))
    traits.append(f"{by}s across")
    unit = random.choice(list(wording.UNITS))
    names = random.sample(list(SOURCES if by == "source" else MATERIALS), random.randint(2, 4))
    said = {n: random.choice((SOURCES if by == "source" else MATERIALS)[n]) for n in names}
    if random.random() < 0.25:
        more = random.choice(
            wording.UNKNOWN_SOURCES if by == "source" else wording.UNKNOWN_MATERIALS
        )
        names.append(more)
        said[more] = more
        traits.append("unknown name across")
    other = random.choice(list(MATERIALS if by == "source" else SOURCES))
    lent = random.choice((MATERIALS if by == "source" else SOURCES)[other])
    paper = Paper(random.choice(("Log", "Sheet1", "2025")))
    headed = random.random() < 0.5
    paper.put([f"{lent} ({unit})" if not headed else lent])
    total = random.choice(wording.ACROSS_TOTAL).format(u=unit) if random.random() < 0.5 else ""
    heads = [f"{said[n]} ({unit})" if headed else said[n] for n in names]
    extra = random.choice(wording.BESIDE) if random.random() < 0.3 else None
    if extra:
        traits.append(f"beside: {extra[0]}")
    paper.put(["Date", *heads, *([total] if total else []), *([extra[0]] if extra else [])])
    days = DayStyle(random)
    day = dt.date(2025, random.randint(1, 9), random.randint(1, 28))
    sums = [0.0] * len(names)
    for _ in range(random.randint(4, 12)):
        numbers = [float(random.randint(8, 200)) if random.random() < 0.85 else None for _ in names]
        whole = [Load(day, n, other, kg=v * wording.UNITS[unit]) if by == "source"
                 else Load(day, other, n, kg=v * wording.UNITS[unit])
                 for n, v in zip(names, numbers, strict=True) if v is not None]  # fmt: skip
        row_sum = sum(v for v in numbers if v is not None)
        tail = [*([row_sum] if total else []), *([random.randint(*extra[1:])] if extra else [])]
        paper.put([days.write(day), *numbers, *tail], *whole)
        sums = [s + (v or 0.0) for s, v in zip(sums, numbers, strict=True)]
        day += dt.timedelta(days=random.randint(1, 7))
    if random.random() < 0.4:
        paper.put([random.choice(wording.TOTALS), *sums, *([sum(sums)] if total else [])])
        traits.append("totals row")
    return paper


def days_across(random: Random, traits: list[str]) -> Paper:
    """Return a tab with sources down and days across."""
    traits.append("days across")
    unit = random.choice(list(wording.UNITS))
    what = random.choice(list(MATERIALS))
    paper = Paper(random.choice(("Log", "Sheet1", "2025")))
    paper.put([f"{random.choice(MATERIALS[what])} ({unit})"])
    first = dt.date(2025, random.randint(1, 9), random.randint(1, 28))
    run = [first + dt.timedelta(days=7 * n) for n in range(random.randint(3, 6))]
    total = random.random() < 0.4
    paper.put([random.choice(wording.SOURCE), *run, *(["Total"] if total else [])])
    for source in SOURCES:
        numbers = [float(random.randint(8, 200)) if random.random() < 0.85 else None for _ in run]
        whole = [
            Load(d, source, what, kg=v * wording.UNITS[unit])
            for d, v in zip(run, numbers, strict=True)
            if v is not None
        ]
        tail = [sum(v for v in numbers if v is not None)] if total else []
        paper.put([random.choice(SOURCES[source]), *numbers, *tail], *whole)
    return paper


def _lent(one: Written, lacks: str, lent: str, what: str) -> Written:
    source = lent if lacks == "source" else one.source
    material = lent if lacks == "material" else what or one.material
    return Written(one.day, source, one.source_said, material, one.material_said, one.number)


def _columns(random: Random, traits: list[str], lacking: set[str]) -> tuple[list[Column], DayStyle]:
    """Return the columns beside the amounts: what their heads say, and how a load fills them."""
    days = DayStyle(random)
    out: list[Column] = []
    if "date" not in lacking:
        out.append((random.choice(wording.DATE), lambda w, _: days.write(w.day)))
        traits.append(f"days as {days.how}")
    if "source" not in lacking:
        out.append((random.choice(wording.SOURCE), lambda w, _: w.source_said))
    if "material" not in lacking:
        out.append((random.choice(wording.MATERIAL), lambda w, _: w.material_said))
    if random.random() < 0.25:
        crew = random.choice(wording.CREW)
        out.append((crew, lambda w, n: ("RT", "Ana", "JB")[n % 3]))
    if random.random() < 0.2:
        head, first = random.choice(wording.NUMBERED), random.choice((1, 101, 4403))
        out.append((head, lambda w, n: first + n))
        traits.append(f"numbered: {head}")
    if random.random() < 0.2:
        name, low, high = random.choice(wording.BESIDE)
        out.append((name, lambda w, n: low + (w.day.toordinal() * 7 + n * 3) % (high - low + 1)))
        traits.append(f"beside: {name}")
    return out, days


def _title(paper: Paper, random: Random, traits: list[str]) -> None:
    for _ in range(random.choice((0, 0, 0, 1, 1, 2))):
        paper.put([random.choice(wording.TITLES)])
        traits.append("title")


def _table(
    paper: Paper, random: Random, traits: list[str], columns: list[Column], amounts: Amounts,
    told: list[Written], days: DayStyle,
) -> None:  # fmt: skip
    """Write the heading and the loads, with what crews write between and beside them."""
    noted = random.random() < 0.5
    note = random.choice(wording.NOTE) if noted else ""
    heading = [*(c[0] for c in columns), *amounts.heads, *([note] if note else [])]
    paper.put(heading)
    width, at = len(columns), len(columns)
    dated = any(c[0] in wording.DATE for c in columns[:1])
    if random.random() < 0.08:
        blank: list[Any] = [None] * width
        blank[0] = random.choice(wording.CARRIED)
        paper.put([*blank, *amounts.carried(random)])
        traits.append(f"carried: {blank[0]}")
    against = random.random() < 0.12
    strike = random.random() < 0.06
    remarks = random.random() < 0.12
    sums = random.random() < 0.2
    for place, one in enumerate(told):
        cells, load = amounts.write(one, random)
        said: list[Any] = []
        bad = against and place == len(told) // 2
        if note:
            text = random.choice(wording.HARMLESS) if random.random() < 0.3 else None
            if bad:
                text = random.choice(wording.AGAINST)
                traits.append(f"against: {text}")
            said = [text]
        struck = strike and place == len(told) // 3
        none = (bad and bool(note)) or struck
        row = paper.put(
            [*(c[1](one, place) for c in columns), *cells, *said], *([] if none else [load])
        )
        if struck:
            paper.struck.add(row)
            traits.append("struck through")
        if remarks and place == len(told) // 2:
            paper.put([random.choice(wording.REMARKS)])
            traits.append(f"remark: {paper.rows[-1][0]}")
        if random.random() < 0.03:
            paper.put([])
    if sums and amounts.summed:
        label: list[Any] = [None] * at
        if label and random.random() < 0.8:
            label[0] = random.choice(wording.TOTALS)
        traits.append(f"total row: {label[0] if label else None}, {'dated' if dated else ''}")
        paper.put([*label, *amounts.sums(told)])
