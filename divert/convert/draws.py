"""Random draws that any machine repeats: each generator is seeded by its parameter's own name.

Ranges follow the second approach (simulation) of the IPCC 2006 Guidelines, Volume 1, Chapter 3: what
is shared is drawn once, what is separate averages out.
"""

from __future__ import annotations

import hashlib
import math
from functools import lru_cache

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
DRAWS = 10_000
POOL = 1 << 15  # normals in the common pool; every cell reads its own window of it
KEPT = 256  # draws of parameters kept at hand: every report of a run asks for the same ones
ENDS = (0.05, 0.95)
SAMPLED = 16  # every so manieth draw is looked at to see about where a percentile lies
AT_ONCE = 8  # sums transformed together: what a processor's own memory holds


def generator(name: str) -> np.random.Generator:
    """Return the generator of a parameter: the same name gives the same draws anywhere."""
    seed = int.from_bytes(hashlib.sha256(name.encode()).digest()[:16], "big")
    return np.random.Generator(np.random.PCG64(seed))


def _fixed(values: Floats) -> Floats:
    values.setflags(write=False)
    return values


@lru_cache(maxsize=KEPT)
def triangular(name: str, low: float, typical: float, high: float) -> Floats:
    """Return draws of a triangular distribution by its inverse; constant where low equals high."""
    if not low <= typical <= high:
        raise ValueError(f"{name}: {low} <= {typical} <= {high} does not hold")
    if low == high:
        return _fixed(np.full(DRAWS, typical))
    u = generator(name).random(DRAWS)
    split = (typical - low) / (high - low)
    rising = low + np.sqrt(u * (high - low) * (typical - low))
    falling = high - np.sqrt((1 - u) * (high - low) * (high - typical))
    return _fixed(np.where(u < split, rising, falling))


@lru_cache(maxsize=KEPT)
def uniform(name: str, low: float, high: float) -> Floats:
    """Return draws spread evenly between two ends."""
    return _fixed(low + (high - low) * generator(name).random(DRAWS))


@lru_cache(maxsize=KEPT)
def normal(name: str, mean: float, sd: float) -> Floats:
    """Return normal draws."""
    return _fixed(mean + sd * generator(name).standard_normal(DRAWS))


@lru_cache(maxsize=KEPT)
def student(name: str, centre: float, scale: float, degrees: int) -> Floats:
    """Return draws of a scaled Student t."""
    return _fixed(centre + scale * generator(name).standard_t(degrees, DRAWS))


@lru_cache
def pool() -> Floats:
    """Return the common pool of standard normals, set to mean 0 and variance 1 exactly."""
    values = generator("independent errors").standard_normal(POOL)
    return np.asarray((values - values.mean()) / values.std())


@lru_cache
def _pool_spectrum() -> npt.NDArray[np.complex128]:
    return np.asarray(np.fft.rfft(pool()))


def own_place(names: npt.NDArray[np.uint64]) -> tuple[npt.NDArray[np.int64], Floats]:
    """Return where each cell's window starts in the pool and its sign, from a hash of its name."""
    return (names % np.uint64(POOL)).astype(np.int64), np.where(names >> np.uint64(63), 1.0, -1.0)


def independent(weights: Floats) -> Floats:
    """Return draws of sums of independent standard normals.

    ``weights``: shape (sums, POOL), entry (i, p) the summed signed standard deviations of the cells
    of sum i whose window starts at p. Returns shape (sums, DRAWS). Cell c contributes
    ``sd_c * sign_c * pool[(p_c + d) % POOL]`` to draw d, so a cell has one and the same draw in every
    sum it enters, and a sum over many cells costs one fast Fourier transform.
    """
    out = np.empty((len(weights), DRAWS))
    for start in range(0, len(weights), AT_ONCE):
        block = np.fft.rfft(weights[start : start + AT_ONCE], axis=1)
        np.conj(block, out=block)
        block *= _pool_spectrum()
        out[start : start + AT_ONCE] = np.fft.irfft(block, n=POOL, axis=1)[:, :DRAWS]
    return out


def interval(draws: Floats) -> tuple[Floats, Floats]:
    """Return the 5th and 95th percentiles along the last axis, as numpy.quantile does."""
    count = draws.shape[-1]
    rows = draws.reshape(-1, count)
    some = np.sort(rows[:, ::SAMPLED], axis=-1)
    ends = []
    for share in ENDS:
        at = share * (count - 1)
        below, part = int(at), at - int(at)
        beside = [_beside(row, below, of_row) for row, of_row in zip(rows, some, strict=True)]
        lower, upper = np.array(beside, dtype=np.float64).reshape(*draws.shape[:-1], 2).T
        lower, upper = lower.T, upper.T
        step = upper - lower
        ends.append(lower + step * part if part < 0.5 else upper - step * (1 - part))
    return ends[0], ends[1]


def _beside(row: Floats, below: int, some: Floats) -> tuple[float, float]:
    """Return what stands at two places, ``below`` and the next, of a row that is put in order.

    ``some`` of its values, in order, tell within which bounds those two lie: only what lies beyond
    such a bound is put in order then, a tenth of all. Where they mislead, the whole row is.
    """
    if some[0] == some[-1] and row.min() == row.max():
        return float(row[0]), float(row[0])
    share, count = below / len(row), len(some)
    wide = 3 * math.sqrt(share * (1 - share) * count) + 2
    if share < 0.5:
        bound = min(math.ceil(share * count + wide), count - 1)
        near = row[row < some[bound]]
        place = below
    else:
        bound = max(math.floor(share * count - wide), 0)
        near = row[~(row <= some[bound])]
        place = below - (len(row) - len(near))
    if not 0 <= place < len(near) - 1:
        near, place = row, below
    ordered = np.partition(near, place + 1)
    return float(ordered[: place + 1].max()), float(ordered[place + 1])
