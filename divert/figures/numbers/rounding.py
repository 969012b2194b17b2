"""Rounding once, when printed: how many digits a figure has follows from the figure alone."""

from __future__ import annotations

import math

from divert.core.range import Range

_FUZZ = 1e-9  # what summing floats may leave; far below any digit printed
_NOISE = 1e-6  # of a rounding unit: less than this is what sums of floats leave, and is zero
_DIGITS = 3  # of an estimate
_DIGITS_READ = 5  # of what a scale read: no more stands on its display
_AS_WEIGHED = 0.02  # half-width over value: a scale that errs by 1 % (sd) gives 1.645 %


def quantum_for(total: float, digits: int = _DIGITS) -> float:
    """Return the power of ten that gives ``total`` that many significant digits (1 for zero).

    >>> quantum_for(7490.3), quantum_for(61.27), quantum_for(999.6)
    (10.0, 0.1, 10.0)
    """
    if not math.isfinite(total) or abs(total) < 1e-300:
        return 1.0
    exponent = math.floor(math.log10(abs(total))) - digits + 1
    # 999.6 shows as 1,000: rounding itself may add a digit.
    if abs(round(total / 10.0**exponent)) >= 10**digits:
        exponent += 1
    return float(10.0**exponent)


def quantum_of(value: float, low: float, high: float) -> float:
    """Return the rounding unit of a figure: two digits of its half-width, three of an estimate.

    What is known as closely as a scale reads keeps more of its own digits.

    >>> quantum_of(232.0, 46.0, 517.0), quantum_of(4557.0, 4420.0, 4690.0), quantum_of(847.5, 833.6, 861.4)
    (10.0, 10.0, 1.0)
    """
    half = (high - low) / 2
    exact = half <= _AS_WEIGHED * abs(value)
    of_value = quantum_for(value, _DIGITS_READ if exact else _DIGITS) if value else 0.0
    of_range = quantum_for(half, 2) if half > 0 else 0.0
    return max(of_value, of_range)


def quantum_of_range(found: Range, factor: float) -> float:
    """Return the rounding unit of a range printed in units of ``factor``; 0 where it is zero."""
    return quantum_of(found.central / factor, found.low / factor, found.high / factor)


def steps(value: float, quantum: float) -> int:
    """Return ``value`` as a whole number of rounding units, halves away from zero."""
    scaled = value / quantum
    return int(math.copysign(math.floor(abs(scaled) + 0.5 + _FUZZ), scaled))


def is_nothing(value: float, quantum: float) -> bool:
    """Return whether a value is zero, but for what sums of floats leave."""
    return abs(value) <= _NOISE * quantum
