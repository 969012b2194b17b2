"""Tables that add up as printed: along a row, down a column, or both ways at once."""

from __future__ import annotations

from collections.abc import Sequence

from divert.figures.numbers.rounding import steps


def add_up_to(parts: Sequence[float], total_steps: int, quantum: float) -> list[int]:
    """Return the parts in rounding units, each its nearest, moved as little as makes up the total.

    Where the total is the parts' own this is the method of largest remainders; it also serves a
    total that was itself rounded together with others.
    """
    scaled = [part / quantum for part in parts]
    rounded = [steps(part, quantum) for part in parts]
    while rounded and (missing := total_steps - sum(rounded)):
        step = 1 if missing > 0 else -1
        change = [
            _strays(s, r + step) - _strays(s, r) for s, r in zip(scaled, rounded, strict=True)
        ]
        rounded[min(range(len(change)), key=lambda i: change[i])] += step
    return rounded


def add_up_both_ways(
    cells: Sequence[Sequence[float]],
    row_steps: Sequence[int],
    column_steps: Sequence[int],
    quantum: float,
) -> list[list[int]]:
    """Return the cells in rounding units so that rows and columns come to their printed totals.

    Rows are rounded first; then single units move along rows from columns that came out too large
    to columns too small, wherever that strays least from the true values. Raises ValueError where
    the totals of rows and of columns differ.
    """
    if sum(row_steps) != sum(column_steps):
        raise ValueError("the rows and the columns come to different totals")
    if not cells:
        return []
    scaled = [[value / quantum for value in row] for row in cells]
    rounded = [add_up_to(row, total, quantum) for row, total in zip(cells, row_steps, strict=True)]
    off = [sum(row[j] for row in rounded) - total for j, total in enumerate(column_steps)]
    while any(off):
        over = max(range(len(off)), key=lambda j: off[j])
        under = min(range(len(off)), key=lambda j: off[j])
        change = [
            _strays(true[over], row[over] - 1) + _strays(true[under], row[under] + 1)
            - _strays(true[over], row[over]) - _strays(true[under], row[under])
            for true, row in zip(scaled, rounded, strict=True)
        ]  # fmt: skip
        best = min(range(len(change)), key=lambda i: change[i])
        rounded[best][over] -= 1
        rounded[best][under] += 1
        off[over] -= 1
        off[under] += 1
    return rounded


def _strays(true: float, rounded: int) -> float:
    """Return how far a rounded value lies off, squared; a whole unit or more weighs heavily.

    What is exactly nothing stays nothing before anything else.
    """
    error = abs(true - rounded)
    heavy = 10_000.0 if true == 0 and rounded != 0 else 100.0 if error >= 1.0 else 0.0
    return error * error + heavy
