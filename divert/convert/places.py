"""Where ledger rows stand in the user's files, and findings that speak of many rows at once."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from divert.core.findings import Finding, Level, Where
from divert.core.words import N_, Text

# More rows of one cause than anybody goes through one by one: the rest is one finding.
LISTED = 1000


def places(rows: pd.DataFrame) -> list[Where]:
    """Return the place each row came from; ``rows``: file, sheet, row, column."""
    names = [_texts(rows[c]) for c in ("file", "sheet", "column")]
    numbers = rows["row"].tolist()
    return [
        Where(file, sheet, int(row), column)
        for file, sheet, row, column in zip(names[0], names[1], numbers, names[2], strict=True)
    ]


def place(ledger: pd.DataFrame, position: int) -> Where:
    """Return the place that the row at a position of the ledger came from."""
    file, sheet, column = (
        _text(ledger[name].iat[position]) for name in ("file", "sheet", "column")
    )
    return Where(file, sheet, int(ledger["row"].to_numpy()[position]), column)


def _texts(column: pd.Series[str]) -> list[str | None]:
    return [_text(value) for value in column.astype(object).tolist()]


def _text(value: object) -> str | None:
    return value if isinstance(value, str) and value else None


def each_row(
    level: Level, code: str, rows: pd.DataFrame, said: Sequence[tuple[Text, Text]]
) -> list[Finding]:
    """Return a finding per row with its (message, hint); past a thousand, one for all the rest.

    ``said`` needs no more than the first thousand.
    """
    head = rows.iloc[:LISTED]
    found = head["found"].astype(object).tolist()
    out = [
        Finding(level, code, message, where, hint, found=text if isinstance(text, str) else "")
        for where, text, (message, hint) in zip(places(head), found, said, strict=False)
    ]
    rest = len(rows) - len(head)
    if rest:
        where = place(rows, LISTED)
        message = Text(
            N_("More entries of which this holds, from {where} on: {rows}."),
            {"rows": rest, "where": str(where)},
        )
        hint = Text(N_("What is set aside is named row by row in the evidence workbook."))
        out.append(
            Finding(level, code, message, where, hint if level == "refused" else None, rows=rest)
        )
    return out
