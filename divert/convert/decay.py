"""First-order decay of waste in a landfill: methane by year.

IPCC 2006 Guidelines, Volume 5, Chapter 3, equations 3.1 to 3.6 and Annex 3A.1; without delay, the
convention of the UNFCCC CDM methodological tool "Emissions from solid waste disposal sites".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Value = float | Floats  # one number, or one per draw
Delay = Literal["six months", "none"]

CARBON_TO_METHANE = 16 / 12  # molecular mass of CH4 over the atomic mass of C


@dataclass(frozen=True, slots=True)
class DecayClass:
    """One class of waste: mass deposited in each year, and how it decays.

    ``mass``: shape (deposit years,), or (draws, deposit years); kg, or any unit of mass, which the
    result then has too. ``doc``: degradable organic carbon, share of wet mass; ``k``: decay rate,
    1/yr. ``docf`` and ``gas_captured`` overrule, where given, what :func:`methane` is called with.
    All but ``mass`` may be one number or one per draw.
    """

    name: str
    mass: Sequence[float] | Floats
    doc: Value
    k: Value
    docf: Value | None = None
    gas_captured: Value | None = None


@dataclass(frozen=True, slots=True)
class Methane:
    """Yearly methane, shape (years,) or (draws, years), in the unit of mass that was put in.

    ``generated`` in the waste; ``released`` to the air after capture and oxidation; ``co2e`` is
    released times the warming potential. The first year is the first year of deposit.
    """

    generated: Floats
    released: Floats
    co2e: Floats


def methane(
    classes: Sequence[DecayClass],
    *,
    years: int,
    docf: Value = 0.5,
    mcf: Value = 1.0,
    methane_share: Value = 0.5,
    oxidation: Value = 0.0,
    gas_captured: Value = 0.0,
    gwp: float = 1.0,
    delay: Delay = "six months",
    correction: Value = 1.0,
) -> Methane:
    """Return the methane of waste deposited over some years, for ``years`` years from the first.

    With the six-month delay nothing is generated in the year of deposit and the series starts on
    1 January after it; with none the same series starts in the deposit year. ``gas_captured`` and
    ``oxidation`` are shares 0-1, oxidation acting on what capture leaves. ``correction`` is a model
    correction factor on everything released (the CDM tool's phi). Raises ValueError for a share
    outside 0-1 or a negative mass, rate or factor.
    """
    _check(classes, docf, mcf, methane_share, oxidation, gas_captured, gwp, correction)
    if years < 1:
        raise ValueError(f"years is {years}; at least 1 is needed")
    if delay not in ("six months", "none"):
        raise ValueError(f'delay is "{delay}"; it must be "six months" or "none"')
    lag = 1 if delay == "six months" else 0
    generated = np.zeros(years)
    released = np.zeros(years)
    for part in classes:
        part_docf = docf if part.docf is None else part.docf
        captured = gas_captured if part.gas_captured is None else part.gas_captured
        per_mass = potential(part.doc, part_docf, mcf, methane_share)
        made = _by_year(np.asarray(part.mass, dtype=float), per_mass, part.k, years, lag)
        generated = generated + made
        kept = (1 - _column(captured)) * (1 - _column(oxidation)) * _column(correction)
        released = released + made * kept
    return Methane(generated, released, released * gwp)


def potential(doc: Value, docf: Value, mcf: Value, methane_share: Value) -> Value:
    """Return L0, the methane that one unit of wet waste makes in the end (equations 3.2 and 3.3).

    Shares in, kg CH4 per kg wet waste out.
    """
    return doc * docf * mcf * methane_share * CARBON_TO_METHANE


def within(horizon: float, k: Value) -> Value:
    """Return the share of L0 generated in the first ``horizon`` years of decay, 1 - exp(-k H)."""
    share = -np.expm1(-np.asarray(k, dtype=float) * horizon)
    return float(share) if share.ndim == 0 else share


def in_year(n: int | Ints, k: Value) -> Value:
    """Return the share of L0 generated in the n-th year of decay, n = 1, 2, ...; one year or many."""
    rate = np.asarray(k, dtype=float)
    share = np.exp(-rate * (n - 1)) * -np.expm1(-rate)
    return float(share) if share.ndim == 0 else share


def _by_year(mass: Floats, per_mass: Value, k: Value, years: int, lag: int) -> Floats:
    share = np.asarray(in_year(np.arange(1, years + 1), _column(k)))  # (years,) or (draws, years)
    decayed = np.zeros((*np.broadcast_shapes(mass.shape[:-1], share.shape[:-1]), years))
    for deposited in range(min(mass.shape[-1], years - lag)):
        first = deposited + lag
        decayed[..., first:] += mass[..., deposited, None] * share[..., : years - first]
    return np.asarray(decayed * _column(per_mass))


def _column(value: Value) -> Floats:
    """Stand values that are one per draw on end, so that years run along the last axis."""
    array = np.asarray(value, dtype=float)
    return array[..., None] if array.ndim else array


def _check(
    classes: Sequence[DecayClass],
    docf: Value,
    mcf: Value,
    methane_share: Value,
    oxidation: Value,
    gas_captured: Value,
    gwp: Value,
    correction: Value,
) -> None:
    shares: list[tuple[str, Value | None]] = [
        ("docf", docf),
        ("mcf", mcf),
        ("methane_share", methane_share),
        ("oxidation", oxidation),
        ("gas_captured", gas_captured),
    ]
    amounts: list[tuple[str, object]] = [("gwp", gwp), ("correction", correction)]
    for part in classes:
        shares += [(f"doc of {part.name}", part.doc), (f"docf of {part.name}", part.docf)]
        shares.append((f"gas_captured of {part.name}", part.gas_captured))
        amounts += [(f"k of {part.name}", part.k), (f"mass of {part.name}", part.mass)]
    for name, share in shares:
        if share is not None and not np.all((np.asarray(share) >= 0) & (np.asarray(share) <= 1)):
            raise ValueError(f"{name} is {share}; it must lie between 0 and 1")
    for name, amount in amounts:
        if not np.all(np.asarray(amount, dtype=float) >= 0):
            raise ValueError(f"{name} is {amount}; it must not be negative")
