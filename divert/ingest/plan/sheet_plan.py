"""What a sheet is taken for, as one frozen value: its tables, their columns, which make one load.

A plan holds texts and numbers only, so that it can be written down, shown, changed and applied again.
Rows count from 1 and columns are letters, as the user sees them.
"""

from __future__ import annotations

from dataclasses import dataclass

from divert.ingest.cells.date import Day, Order
from divert.ingest.turned.ways import AS_IT_STANDS, TURNED

NOTHING = "nothing"
LIES = (AS_IT_STANDS, *TURNED, NOTHING)
LIST = "list"  # what a table holds that lists things and logs none


@dataclass(frozen=True, slots=True)
class ColumnPlan:
    """One column: where it stands, what its heading says, and what it is taken for.

    ``role`` is a field ("weight"), "" where nothing explains the column, "ignore"
    where a person said that it is nothing. ``size_m3`` is the
    volume of the container the heading names, ``fill`` how full (0 to 1.5) it says each was.
    ``by_sum``: a total that its sums alone told, and no word of its heading.
    """

    at: str
    over: str = ""
    heading: str = ""
    role: str = ""
    unit: str = ""
    percent: bool = False
    money: str = ""
    label: str = ""
    container: str = ""
    size_m3: float | None = None
    fill: float | None = None
    unsized: bool = False
    by_sum: bool = False


@dataclass(frozen=True, slots=True)
class LoadPlan:
    """The columns that make one load of a row, and what their heads say of all its loads.

    ``columns``: their letters; of two in one role the first counts. ``only_where_blank``: letters of
    columns that must be empty for it to count.
    """

    columns: tuple[str, ...]
    only_where_blank: tuple[str, ...] = ()
    source: str = ""
    material: str = ""
    container: str = ""
    size_m3: float | None = None
    day: Day | None = None
    weekday: int | None = None
    number: int | None = None
    year: int | None = None
    other: str = ""
    ambiguous: bool = False
    by_site: bool = False


@dataclass(frozen=True, slots=True)
class Says:
    """What is said once for all entries of a table: by its titles, its sheet, its file, or a person."""

    source: str = ""
    material: str = ""
    container: str = ""
    unit: str = ""
    years: tuple[int, ...] = ()
    month: int | None = None
    day: int | None = None
    span: tuple[Day, Day] | None = None


@dataclass(frozen=True, slots=True)
class TablePlan:
    """One table: what it holds, where it lies, what its columns are, which of them make one load.

    ``last`` None: to the end of the sheet, however far it has grown. ``dates``: the order that text
    dates such as 03/04/2025 follow. ``doubted``: its sheet's name says that it holds no loads; it
    counts only where none of what it tells stands elsewhere.
    """

    holds: str
    first: int
    last: int | None
    left: str
    right: str
    headings: tuple[int, ...] = ()
    repeats: tuple[int, ...] = ()
    titles: tuple[str, ...] = ()
    says: Says = Says()
    dates: Order | None = None
    columns: tuple[ColumnPlan, ...] = ()
    loads: tuple[LoadPlan, ...] = ()
    doubted: bool = False


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """What one sheet of one file is taken for: how it lies, and its tables from the top.

    Tables of a sheet that does not lie as it stands are those of the sheet turned so that it does.
    ``ruled``: the fingerprint of the [[sheet]] of site.toml that was followed, "" where there was none.
    """

    file: str
    sheet: str
    lies: str
    ruled: str = ""
    tables: tuple[TablePlan, ...] = ()
