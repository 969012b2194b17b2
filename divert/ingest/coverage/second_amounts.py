"""Second amounts of one load: two weighings, a whole and its part, what was bought and what was wasted.

A column of amounts is explained where its head names a source, a material, a container or a day that
is known, where a total adds it to the others on every row, or where it is the same load again. What
is left may be the load itself, or a part of it, or hold it: then the loads of the row are asked about.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from divert.core.words import N_
from divert.ingest.arrays import Bools
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.coverage.meters import meter_of, so_far, unsaid
from divert.ingest.coverage.other_amounts import (
    box_within,
    holds,
    in_parts,
    measured_beside,
    put_right,
)
from divert.ingest.entries.job import TableJob
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import IGNORE, Column
from divert.ingest.tables.double_amounts import is_estimate
from divert.ingest.tables.groups import Group
from divert.ingest.tables.labels import Label
from divert.ingest.tables.numbers import Numbers, Sums, above, equal, numbers_of
from divert.ingest.tables.opposed import nets

_MASSES = ("weight", "gross", "quantity", "volume", "each")
_LEAST = 2  # rows on which one amount lies above another
_MOST = 0.75  # of the rows on which two weights are about the same


def second_amounts(seen: Seen) -> Iterator[Doubt]:
    """Doubt the loads of a table beside which amounts stand that nothing explains."""
    job = seen.job
    if job.kind not in ("intake", "weigh-in", "harvest", "moved", "removed"):
        return
    if not job.table.heads and (other := _amount_without_head(job)) is not None:
        over = as_text(job.sheet.columns[other.index].at(job.table.first - 1) or other.letter)
        yield seen.doubt(
            f"{other.letter} amounts", _STRANGE, _NAME_IT,
            rows=seen.rows.open, column=other, heading=over,
        )  # fmt: skip
        return
    strange = [g for g in job.layout.groups if _strange(g, job)]
    summed = [c for c in job.layout.totals if not c.says_total]
    if not strange and summed and any(_weighs(c) for c in job.layout.unread):
        strange = list(
            job.layout.groups
        )  # a sum by numbers alone, of what was read and what was not
    if strange and (doubt := _strange_groups(seen, strange)):
        yield doubt
        return
    if len(job.layout.groups) == 1 and (meter := meter_of(job.layout.groups[0], job.table.titles)):
        yield so_far(seen, meter)
        return
    if (named := _weight_that_names(job)) and job.layout.groups:
        yield _part(seen, job.layout.groups[0].first, named)
        return
    unread = _unread_amounts(job)
    for group in job.layout.groups:
        if (made := _made_of_it(group, job)) is not None:
            both = frozenset((group.first.index, made.index))
            yield replace(_of_two(seen, "made", _TWO, group.first, made), columns=both)
            continue
        other = box_within(group, job.layout)
        other = other or measured_beside(group, job.layout, job.context.unit is not None)
        if other is not None:
            yield _part(seen, group.first, other)
            continue
        if unread and (doubt := _beside(seen, group, unread)):
            yield doubt
        elif in_parts(group, job, unread):
            yield _of_two(seen, "parts", _PARTS, group.first, unread[0][0])
        elif (column := put_right(group, (c for c, _ in unread))) is not None:
            yield _of_two(
                seen, f"{column.letter} put right", _PUT_RIGHT, group.first, column, some=True
            )


def _amount_without_head(job: TableJob) -> Column | None:
    """Return another column that may say how much came, where no heading tells which of them does."""
    counted = next((g.first for g in job.layout.groups), None)
    if counted is None or not job.table.first:
        return None
    told = counted.content.quantities > 0.5  # with its unit, where the others are bare numbers
    for column in (*job.layout.unread, *job.layout.notes):
        many = column.content.of("quantity") > 0.6
        if many and (not told or column.content.quantities > 0.5):
            return column
    return None


def _strange(group: Group, job: TableJob) -> bool:
    """Return whether a group's heads say words that name nothing the site knows."""
    label, known = group.label, job.known
    unknown = (label.source and not known.sources.find(label.source)) or (
        label.material and not known.materials.find(label.material)
    )
    return bool(unknown or unsaid(group) or _boxed(group, job))


def _boxed(group: Group, job: TableJob) -> bool:
    """Return whether a weight stands under a box that is none of the site's: "Cans (lb)" are cans."""
    box, own = group.label.container, job.known.containers
    weighed = group.first.field == "weight" and "count" not in group.columns
    return bool(box) and weighed and not own.is_own(box)


def _strange_groups(seen: Seen, strange: Sequence[Group]) -> Doubt | None:
    job = seen.job
    groups = job.layout.groups
    beside = [c for c in job.layout.unread if _weighs(c)]
    summed = [c for c in job.layout.totals if not c.says_total]
    if len(groups) + len(beside) + len(summed) < 2 or (
        job.layout.added_up and not _streams(strange, job)
    ):
        return None
    told = {"source", "material"} <= set(job.layout.shared)
    amounts = [*(g.first for g in groups), *beside, *summed]
    named = [g for g in groups if g not in strange and _names(g.label)]
    nameless = any(unsaid(g) for g in strange)  # "Wet | Dry", "Low | Best": no name is asked about
    if not (told or named or summed or nameless or _related(amounts)):
        return None  # names that site.toml does not list yet: each is asked about by itself
    strange = [g for g in strange if not any(_mirrors(g, other) for other in named)]
    if not strange:
        return None
    over = job.context.material  # "Cafe" under "food scraps" may be a kitchen, and no coffee
    other = any(over and g.label.material and g.label.material != over for g in named)
    apart = named and not (told or summed or nameless or other)
    in_doubt = list(strange) if apart else list(groups)
    first = strange[0].first
    return seen.doubt(
        f"{first.letter} amounts",
        _STRANGE,
        _NAME_IT,
        rows=_filled(seen, in_doubt),
        column=first,
        columns=frozenset().union(*(g.places for g in in_doubt)),
    )  # fmt: skip


def _streams(strange: Sequence[Group], job: TableJob) -> bool:
    """Return whether unknown heads name what else a source threw away: a total adds that as well."""
    whose = "source" in job.layout.shared or job.context.source
    kinds = any(g.label.material for g in job.layout.groups if g not in strange)
    meals = job.context.material and not kinds  # all of it is that: breakfast, lunch and dinner
    return bool(whose) and not meals and not any(g.label.source for g in strange)


def _mirrors(group: Group, other: Group) -> bool:
    """Return whether a group has the same columns as that of a known name: "pails | lb" under each."""
    one, two = (
        [(c.field, c.heading.unit, c.heading.container) for c in g.members] for g in (group, other)
    )
    return len(one) > 1 and one == two


def _weighs(column: Column) -> bool:
    return _massive(column) and column.field not in ("running", "price")


def _names(label: Label) -> bool:
    return bool(label.source or label.material)


def _filled(seen: Seen, groups: Sequence[Group]) -> Bools:
    filled = np.zeros(len(seen.rows.reason), dtype=bool)
    for group in groups:
        filled |= group.first.cells.codes >= 0
    return np.asarray(filled & seen.rows.open)


def _related(columns: Sequence[Column]) -> bool:
    """Return whether one amount is always above another, or the sum or the difference of two."""
    numbers = [numbers_of(c) for c in columns if c.field in _MASSES and c.content.numbers > 0.5]
    if len(numbers) < 2:
        return False
    every = Sums().of(numbers)
    if len(numbers) > 2 and any(equal(one, np.asarray(every.less(one).sum)) for one in numbers):
        return True
    return any(above(one, other, 3) for one in numbers for other in numbers if one is not other)


def _weight_that_names(job: TableJob) -> Column | None:
    """Return a column of weights that is taken for numbers of tickets: "Ticket lb", but no "Ticket #"."""
    column = job.layout.shared.get("id")
    if column is None or column.heading.unit_text == "#":
        return None
    weighed = any(g.columns.get(f) for g in job.layout.groups for f in _MASSES)
    told = any(g.columns.get("gross") for g in job.layout.groups)
    return column if weighed and not told and _massive(column) else None


def _unread_amounts(job: TableJob) -> list[tuple[Column, Numbers]]:
    """Return the columns of numbers that stand beside the loads and are none of theirs."""
    used = {place for g in job.layout.groups for place in g.places}
    used |= {c.index for c in (*job.layout.shared.values(), *job.layout.totals)}
    left = [c for c in job.layout.unread if c.index not in used and (_weighs(c) or _plain(c))]
    return [(c, numbers_of(c)) for c in left]


def _beside(seen: Seen, group: Group, unread: Sequence[tuple[Column, Numbers]]) -> Doubt | None:
    """Doubt a group beside which an unread weight stands that is always less: its part, or its box."""
    job = seen.job
    counted = group.columns.get("weight") or group.columns.get("quantity")
    if not counted or group.columns.get("gross") or nets(counted):
        return None
    own = numbers_of(counted[0])
    for column, other in unread:
        if _shadows(column, own, other):
            return _part(seen, counted[0], column)
        if not _weighs(column):
            continue
        if _settled_by_total(job, own, column):
            continue
        if holds(own, other) or _near(column, own, other):
            return _part(seen, counted[0], column)
        if above(other, own, _LEAST):
            return _within(seen, counted[0], column)
    return None


def _near(column: Column, own: Numbers, other: Numbers) -> bool:
    """Return whether another weight, which is no guess, says about as much: the load on another scale."""
    both = ~np.isnan(own) & ~np.isnan(other) & (own > 0) & (other > 0)
    share = other[both] / own[both]
    about = (share > 0.5) & (share < 2)  # 5 and 10 are as near as 105 and 110
    return bool(len(share) >= _LEAST and not is_estimate(column) and about.mean() >= _MOST)


def _plain(column: Column) -> bool:
    """Return whether a column holds numbers of which nothing says what they count."""
    heading = column.heading
    told = heading.unit is not None or heading.percent or heading.money is not None
    return column.field in ("", "other", "quantity") and not told and column.content.numbers > 0.5


def _shadows(column: Column, own: Numbers, other: Numbers) -> bool:
    """Return whether numbers without a unit follow an amount: the same on some rows, a part on others.

    "lb | Kept", "Weighed | Paid for": too near, on too many rows, to be of something else.
    """
    if not _plain(column):
        return False
    both = ~np.isnan(own) & ~np.isnan(other) & (own > 0)
    share = other[both] / own[both]
    same = np.isclose(share, 1.0)
    return bool(same.any() and not same.all() and (share >= 0.5).all() and (share <= 1.0001).all())


def _settled_by_total(job: TableJob, own: Numbers, column: Column) -> bool:
    """Return whether a total adds the two, or all weights there are: then neither is a part."""
    if not job.layout.totals:
        return False
    other = numbers_of(column)
    running = job.layout.shared.get("running")
    beside = [*job.layout.unread, *([running] if running is not None else [])]
    every = [numbers_of(c) for c in beside if _massive(c)]
    whole = own + Sums().of(every).sum
    return any(equal(numbers_of(t), s) for t in job.layout.totals for s in (own + other, whole))


def _massive(column: Column) -> bool:
    unit = column.heading.unit
    massive = unit is not None and unit.dimension == "mass" and column.content.numbers > 0.5
    return massive and column.field != IGNORE


def _within(seen: Seen, counted: Column, column: Column) -> Doubt:
    """Doubt amounts that are never more than another, unread one: what came may be that, or the rest."""
    text = N_("“{other}” is never more than “{heading}”: a part of it, or what was left of it.")
    return _of_two(seen, f"{column.letter} whole", text, counted, column)


def _made_of_it(group: Group, job: TableJob) -> Column | None:
    """Return a weight called compost that is about as large as the load's: its scale may be called so."""
    made = [g.first for g in job.layout.groups if g.label.material in job.known.products]
    own, unit = group.first, group.first.heading.unit
    if job.kind != "intake" or unit is None or own in made:
        return None
    like = (c for c in made if c.heading.unit == unit)
    return next((c for c in like if _near(c, numbers_of(own), numbers_of(c))), None)


def _part(seen: Seen, counted: Column, column: Column) -> Doubt:
    never_more = not (numbers_of(column) > numbers_of(counted)).any()
    text = (
        N_("“{heading}” is never more than “{other}”: a part of it, its empty box, or what came.")
        if never_more
        else _TWO
    )
    return _of_two(seen, f"{column.letter} part", text, counted, column)


_STRANGE = N_("I do not know what “{heading}” is: a load of its own, a part of another, or none.")
_NAME_IT = N_(
    "If it names a source or a material, add it to site.toml. Else say under [[sheet]] there "
    "which columns hold what came."
)
_TWO = N_("“{heading}” and “{other}” may be two amounts of one load: which of them counts?")
_PARTS = N_("“{heading}” and what stands beside it add up to “{other}”: they may say whose it was.")
_PUT_RIGHT = N_(
    "“{heading}” stands beside some of the loads only: it may put right what “{other}” says."
)


def _of_two(
    seen: Seen, name: str, message: str, counted: Column, column: Column, some: bool = False
) -> Doubt:
    """Ask which of two columns holds what came: the one that is counted, or the one beside it.

    ``some``: of the loads beside which the other one says anything.
    """
    filled = column.cells.codes >= 0
    filled = filled if some else filled | (counted.cells.codes >= 0)
    return seen.doubt(
        name,
        message,
        N_("Say in the headings which is gross, tare or net, or under [[sheet]] in site.toml which "
               "column holds what came."),
        rows=filled,
        column=column,
        columns=frozenset((counted.index,)),
        other=counted.head.text,
    )  # fmt: skip
