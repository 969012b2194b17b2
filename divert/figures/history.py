"""What was said before, as a report prints it: filled from the register, plain values only."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal, get_args

from divert.core.range import Range

ReasonForMove = Literal[
    "rows added",
    "rows changed",
    "rows removed",
    "sheets read otherwise",  # reading.toml says something else than it did
    "settings changed",
    "the site's own densities moved",
    "factors changed",
    "the calculation changed",  # only where a newer version of the tool works something out otherwise
]
REASONS: tuple[ReasonForMove, ...] = get_args(ReasonForMove)


@dataclass(frozen=True, slots=True)
class PreviouslyReported:
    """The total of the last issued statement that ended before this period, as it was issued.

    ``figures`` is the JSON object of the total set it printed (divert.figures.as_json.to_json), so a
    key ``"previous:mass.diverted.central"`` walks it like any other set.
    """

    number: str
    issued: dt.date
    label: str
    start: dt.date
    end: dt.date
    figures: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Move:
    """One reason's part of a restatement: ``amount`` in the figure's unit, ``rows`` if any."""

    reason: ReasonForMove
    amount: float
    rows: int | None = None


@dataclass(frozen=True, slots=True)
class Restatement:
    """An issued figure that has moved: ``was + sum of the parts = now`` (kg or kg CO2e).

    ``figure`` is its path in the JSON, e.g. ``"mass.diverted.central"``; ``number``, ``label`` and
    ``issued`` say which report printed it.
    """

    number: str
    issued: dt.date
    label: str
    figure: str
    was: float
    now: float
    parts: tuple[Move, ...]
    range_then: Range | None = None  # of ``was``, as it was issued: it settles the digits of both


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """An issued report that was taken back, and by which number where one replaced it."""

    number: str
    label: str
    issued: dt.date
    withdrawn: dt.date
    replaced_by: str | None = None


@dataclass(frozen=True, slots=True)
class History:
    """Everything a report says about earlier reports; empty where none was issued."""

    previously: PreviouslyReported | None = None
    restatements: tuple[Restatement, ...] = ()
    withdrawn: tuple[Withdrawn, ...] = ()
