"""The ways in which crews lay their loads out: a row each, under sections, across, a tab each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from itertools import groupby
from typing import Any

from .amounts import Amounts, amounts_of
from .loads import Written, loads
from .paper import DayStyle, Paper
from .pen import Pen

Column = tuple[str, Callable[[Written, int], Any]]


def tall(pen: Pen, name: str, traits: list[str], lacks: str = "", lent: str = "") -> Paper:
    """Return a tab with a load a row. ``lacks`` is the field that ``lent`` says for all of it."""
    paper = Paper(name)
    what = pen.choice(list(pen.words.MATERIALS)) if lacks != "material" else lent
    amounts = amounts_of(pen, traits, pen.words.MATERIALS[what][0])
    told = loads(pen, 4, 16)
    lacking = {lacks} | ({"material"} if amounts.material or lacks == "material" else set())
    told = [_lent(w, lacks, lent, what if amounts.material else "") for w in told]
    columns, days = _columns(pen, traits, lacking)
    _title(paper, pen, traits)
    _table(paper, pen, traits, columns, amounts, told, days)
    if pen.random() < 0.25:
        paper.put([])
        paper.put([pen.choice(pen.words.FOOTERS)])
        traits.append("footer")
    return paper


def sections(pen: Pen, traits: list[str]) -> Paper:
    """Return a tab whose sources, materials or days stand in rows of their own over their loads."""
    by = pen.choice(("source", "source", "material", "day"))
    traits.append(f"sections by {by}")
    paper = Paper(pen.choice(pen.words.TABS))
    amounts = amounts_of(pen, traits, pen.words.MATERIALS[pen.words.FOOD][0], plain=True)
    if by == "material" and amounts.material:
        by = "source"
    lacking = {by if by != "day" else "date"} | ({"material"} if amounts.material else set())
    columns, days = _columns(pen, traits, lacking)
    told = [_lent(w, "", "", pen.words.FOOD if amounts.material else "") for w in loads(pen, 6, 16)]
    key = {
        "source": lambda w: w.source,
        "material": lambda w: w.material,
        "day": lambda w: w.day.toordinal(),
    }[by]
    heading = [*(c[0] for c in columns), *amounts.heads]
    dressed = pen.choice(pen.words.DRESSED)
    loud = pen.random() < 0.4
    again = pen.random() < 0.3
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
        if said is None and pen.random() < 0.3:
            text = f"{days.slashed(first.day)} - {pen.said('REMARKS').lower()}"
            traits.append("words behind a day")
        row = paper.put([text])
        if pen.random() < 0.3:
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
            cells, load = amounts.write(one, pen)
            paper.put([*(c[1](one, place) for c in columns), *cells], load)
        if pen.random() < 0.3:
            paper.put([])
    return paper


def _lent(one: Written, lacks: str, lent: str, what: str) -> Written:
    source = lent if lacks == "source" else one.source
    material = lent if lacks == "material" else what or one.material
    return Written(one.day, source, one.source_said, material, one.material_said, one.number)


def _columns(pen: Pen, traits: list[str], lacking: set[str]) -> tuple[list[Column], DayStyle]:
    """Return the columns beside the amounts: what their heads say, and how a load fills them."""
    days = DayStyle(pen)
    out: list[Column] = []
    if "date" not in lacking:
        out.append((pen.choice(pen.words.DATE), lambda w, _: days.write(w.day)))
        traits.append(f"days as {days.how}")
    if "source" not in lacking:
        out.append((pen.choice(pen.words.SOURCE), lambda w, _: w.source_said))
    if "material" not in lacking:
        out.append((pen.choice(pen.words.MATERIAL), lambda w, _: w.material_said))
    if pen.random() < 0.25:
        crew = pen.choice(pen.words.CREW)
        out.append((crew, lambda w, n: pen.words.INITIALS[n % 3]))
    if pen.random() < 0.2:
        head, number = _numbered(pen)
        out.append((head, number))
        traits.append(f"numbered: {head}")
    if pen.random() < 0.2:
        name, low, high = pen.choice(pen.words.BESIDE)
        out.append((name, lambda w, n: low + (w.day.toordinal() * 7 + n * 3) % (high - low + 1)))
        traits.append(f"beside: {name}")
    return out, days


def _numbered(pen: Pen) -> Column:
    """Return a column of numbers that name the rows: those of the sheet, or of each day's own."""
    head, first = pen.choice(pen.words.NUMBERED), pen.choice((1, 1, 101, 4403))
    if first > 1 or pen.random() < 0.5:
        return head, lambda w, n: first + n
    seen: Counter[Any] = Counter()

    def of_its_day(w: Written, _: int) -> int:
        seen[w.day] += 1
        return seen[w.day]

    return head, of_its_day


def _title(paper: Paper, pen: Pen, traits: list[str]) -> None:
    for _ in range(pen.choice((0, 0, 0, 1, 1, 2))):
        paper.put([pen.choice(pen.words.TITLES)])
        traits.append("title")


def _table(
    paper: Paper, pen: Pen, traits: list[str], columns: list[Column], amounts: Amounts,
    told: list[Written], days: DayStyle,
) -> None:  # fmt: skip
    """Write the heading and the loads, with what crews write between and beside them."""
    noted = pen.random() < 0.5
    often = pen.choice((0.3, 0.3, 0.8))
    note = pen.choice(pen.words.NOTE) if noted else ""
    heading = [*(c[0] for c in columns), *amounts.heads, *([note] if note else [])]
    if amounts.over:
        paper.put([amounts.over])
    paper.put(heading)
    paper.unseen |= {len(columns) + 1 + n for n in amounts.hidden}
    width, at = len(columns), len(columns)
    dated = any(c[0] in pen.words.DATE for c in columns[:1])
    if pen.random() < 0.08:
        blank: list[Any] = [None] * width
        place = pen.choice((0, 0, len(blank) - 1)) if blank else 0
        blank[place : place + 1] = [pen.said("CARRIED")]
        if place and dated:
            blank[0] = days.write(told[0].day)
        paper.put([*blank, *amounts.carried(pen)])
        traits.append(f"carried: {blank[place]}")
    against = pen.random() < 0.12
    strike = pen.random() < 0.06
    remarks = pen.random() < 0.12
    unseen = pen.random() < 0.05
    sums = pen.random() < 0.2
    for place, one in enumerate(told):
        cells, load = amounts.write(one, pen)
        said: list[Any] = []
        bad = against and place == len(told) // 2
        if note:
            text = pen.choice(pen.words.HARMLESS) if pen.random() < often else None
            if bad:
                text = pen.said("AGAINST")
                traits.append(f"against: {text}")
            said = [text]
        struck = strike and place == len(told) // 3
        none = (bad and bool(note)) or struck
        row = paper.put(
            [*(c[1](one, place) for c in columns), *cells, *said], *([] if none else [load])
        )
        if struck:
            paper.struck[row] = load
            traits.append("struck through")
        if unseen and place in (len(told) // 4, len(told) // 4 + 1):
            paper.hidden.add(row)
            traits.append("hidden row")
        if remarks and place == len(told) // 2:
            paper.put([pen.said("REMARKS")])
            traits.append(f"remark: {paper.rows[-1][0]}")
        if pen.random() < 0.03:
            paper.put([])
    if sums and amounts.summed:
        label: list[Any] = [None] * at
        if label and pen.random() < 0.8:
            label[0] = pen.choice(pen.words.TOTALS)
        traits.append(f"total row: {label[0] if label else None}, {'dated' if dated else ''}")
        paper.put([*label, *amounts.sums(told)])


def monthly(pen: Pen, traits: list[str]) -> list[Paper]:
    """Return a tab for each month of one log, and perhaps one that sums them."""
    amounts = amounts_of(pen, traits, pen.words.MATERIALS[pen.words.FOOD][0], plain=True)
    lacking = {"material"} if amounts.material else set()
    told = [
        _lent(w, "", "", pen.words.FOOD if amounts.material else "")
        for w in loads(pen, *pen.choice(((14, 30), (14, 30), (3, 7))))
    ]
    columns, days = _columns(pen, traits, lacking)
    numbered = pen.random() < 0.25
    if numbered:
        columns[0] = (columns[0][0], lambda w, _: w.day.day)
        traits.append("days by their number")
    name = pen.choice(pen.words.MONTH_FILES)
    papers: list[Paper] = []
    sums: list[tuple[str, float]] = []
    for month, group in groupby(told, key=lambda w: w.day.replace(day=1)):
        members = list(group)
        paper = Paper(name.format(m=pen.month(month), n=month.month))
        _title(paper, pen, traits)
        _table(paper, pen, traits, columns, amounts, members, days)
        papers.append(paper)
        sums.append((pen.month(month), sum(w.number for w in members)))
    if amounts.summed and pen.random() < 0.5:
        papers.append(_summary(pen, sums, amounts))
        traits.append(f"tab of sums: {papers[-1].name}")
    return papers


def _summary(pen: Pen, sums: list[tuple[str, float]], amounts: Amounts) -> Paper:
    paper = Paper(pen.choice(pen.words.SUMMARY))
    paper.put([pen.choice(("Month", "")) if not pen.french else "Mois", *amounts.heads])
    for month, value in sums:
        paper.put([month, value])
    paper.put([pen.choice(pen.words.TOTALS), sum(v for _, v in sums)])
    return paper
