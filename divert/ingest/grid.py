"""What comes out of a file before anyone has asked what it means: cells in their places."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import TYPE_CHECKING

if (
    TYPE_CHECKING
):  # divert.core.reading brings pandas, which a run that only opens files need not wait for
    from divert.core.findings import Finding
    from divert.core.reading import InputFile

Cell = None | str | float | int | bool | dt.date | dt.datetime | dt.time | dt.timedelta


@dataclass(frozen=True, slots=True)
class Grid:
    """One sheet: ``rows[0]`` is the sheet's row 1 and ``rows[i][0]`` its column A.

    An empty cell is None. Rows may differ in length: empty cells after a row's last filled one, and
    empty rows after the sheet's last filled one, are left off. ``file`` is the path below the site
    folder with forward slashes; ``sheet`` is "" for a CSV or TSV file. ``merged`` holds 1-based
    (first row, first column, last row, last column), ``struck`` the 1-based rows whose cells are all
    struck through, ``hidden_rows`` and ``hidden_columns`` those that nobody sees. Cells of a CSV file
    are always text; a formula is the value last calculated for it.
    """

    file: str
    sheet: str
    rows: list[list[Cell]]
    hidden: bool = False
    merged: tuple[tuple[int, int, int, int], ...] = ()
    struck: frozenset[int] = frozenset()
    hidden_rows: frozenset[int] = frozenset()
    hidden_columns: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Opened:
    """One file of the folder: its sheets in order, or the finding that says why there are none.

    ``ours`` marks a file that this tool wrote, which is never read as data (``grids`` is empty);
    ``ended`` one whose reader had to be ended or died.
    """

    input: InputFile
    grids: tuple[Grid, ...] = ()
    findings: tuple[Finding, ...] = ()
    ours: bool = False
    ended: bool = False
