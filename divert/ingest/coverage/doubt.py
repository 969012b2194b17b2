"""What a table leaves unexplained, and the question that comes of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from divert.core.findings import Choice
from divert.core.words import Text
from divert.ingest.amounts.measured import Measured
from divert.ingest.arrays import Bools
from divert.ingest.days.dated_rows import When
from divert.ingest.entries.job import TableJob
from divert.ingest.tables.columns import Column
from divert.ingest.tables.rows import Rows


@dataclass(frozen=True)
class Doubt:
    """A question about some rows of a table, whose loads are set aside until it is answered.

    ``rows``: which of the table's rows; ``columns``: only the loads whose amounts stand in these, all
    of a row where None. ``at`` is the row that the question points at, ``column`` its cell there, and
    ``about`` what tells this question from the table's others; ``counted`` where an answer of the site
    says that the loads count as they stand. ``counts``: they count in any case, and the question only asks.
    ``choices``: answers that are lines of site.toml.
    """

    rows: Bools
    about: str
    message: Text
    hint: Text
    column: Column | None = None
    at: int | None = None
    columns: frozenset[int] | None = None
    counted: bool = False
    counts: bool = False
    choices: tuple[Choice, ...] = ()

    __hash__ = object.__hash__


@dataclass(frozen=True)
class Seen:
    """A table as it was read, before its loads are counted."""

    job: TableJob
    rows: Rows
    dated: When
    measured: Sequence[Measured]

    __hash__ = object.__hash__

    def doubt(
        self,
        about: str,
        message: str,
        hint: str,
        *,
        rows: Bools | None = None,
        column: Column | None = None,
        at: int | None = None,
        columns: frozenset[int] | None = None,
        counts: bool = False,
        choices: tuple[Choice, ...] = (),
        **values: object,
    ) -> Doubt:
        """Return a doubt about the loads of ``rows``, else of all where ``column`` is filled.

        ``message``, ``hint``: ids of messages, with ``values`` and the heading and letter of ``column``.
        """
        if column is not None:
            rows = column.cells.codes >= 0 if rows is None else rows
            values = {"heading": column.head.text, "letter": column.letter, **values}
        hanging = self.rows.open if rows is None else rows & self.rows.open
        said, do = (
            Text(one, {k: v for k, v in values.items() if f"{{{k}}}" in one})
            for one in (message, hint)
        )
        return Doubt(
            np.asarray(hanging),
            about,
            said,
            do,
            column,
            at,
            columns,
            counts=counts,
            choices=choices,
        )
