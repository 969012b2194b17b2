"""Rounding once, when printed: three significant digits of the total, parts that add up to it."""

from __future__ import annotations

import math
from collections.abc import Sequence

_FUZZ = 1e-9  # what summing floats may leave; far below any digit printed


def quantum_for(total: float, digits: int = 3) -> float:
    """Return the power of ten that gives ``total`` that many significant digits (1 for zero).

    >>> quantum_for(7490.3), quantum_for(61.27), quantum_for(999.6)
    (10.0, 0.1, 10.0)
    """
    if not math.isfinite(total) or total == 0:
        return 1.0
    exponent = math.floor(math.log10(abs(total))) - digits + 1
    # 999.6 shows as 1,000: rounding itself may add a digit.
    if abs(round(total / 10.0**exponent)) >= 10**digits:
        exponent += 1
    return float(10.0**exponent)


def steps(value: float, quantum: float) -> int:
    """Return ``value`` as a whole number of rounding units, halves away from zero."""
    scaled = value / quantum
    return int(math.copysign(math.floor(abs(scaled) + 0.5 + _FUZZ), scaled))


def add_up(parts: Sequence[float], total_steps: int, quantum: float) -> list[int]:
    """Return the parts in rounding units so that they sum to ``total_steps`` (largest remainder).

    The parts whose cut-off remainder is largest gain one unit each; equal remainders in the order
    given. No part moves by a whole unit or more. Raises ValueError where the parts, unrounded, do
    not come to the total.
    """
    scaled = [part / quantum for part in parts]
    floors = [math.floor(value + _FUZZ) for value in scaled]
    missing = total_steps - sum(floors)
    if not 0 <= missing <= len(parts):
        raise ValueError(
            f"parts come to {sum(scaled):g} rounding units, the total is {total_steps}"
        )
    by_remainder = sorted(range(len(parts)), key=lambda i: floors[i] - scaled[i])
    for i in by_remainder[:missing]:
        floors[i] += 1
    return floors
