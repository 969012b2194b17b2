"""One sentence on how a period compares with the same one a year earlier, said alike everywhere."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.compare import Verdict, verdict
from divert.figures.contract import Compared, PeriodShown, Weeks
from divert.figures.numbers.printed import Printed, Printer
from divert.figures.numbers.scales import FACTOR, Scale

_UNLIKE = 0.1  # of the weeks: more of them missing in one than in the other forbid to compare


@dataclass(frozen=True, slots=True)
class Against:
    """What was diverted now and a year earlier, as printed, and how the one compares with the other."""

    now: Printed
    then: Printed
    than_then: Verdict


def alike(now: Weeks, then: Weeks) -> bool:
    """Return whether two times have about as many weeks without entries: what is missing is not less."""
    return abs(_missing(now) - _missing(then)) <= _UNLIKE


def _missing(weeks: Weeks) -> float:
    return weeks.missing / weeks.in_period if weeks.in_period else 0.0


def against_last_year(
    then: Compared | None, path: str, now: Printed, scale: Scale, printer: Printer,
    weeks: Weeks | None = None, weeks_then: Weeks | None = None,
) -> Against | None:  # fmt: skip
    """Return the comparison; None where a year earlier nothing was recorded, or nothing comparable.

    ``path`` is that of ``then`` in the figures. A time before the site began, or with clearly more
    weeks missing, is no like of this one.
    """
    if then is None or then.change is None or then.diverted is None or then.received is None:
        return None
    if not then.received.central and not then.diverted.central:
        return None
    written = weeks_then or then.weeks
    if weeks is not None and written is not None and not alike(weeks, written):
        return None
    before = printer.central(f"{path}.diverted", then.diverted, scale, within=then.received)
    return Against(now, before, verdict(then.change, now, before))


def sentence(found: Against, period: PeriodShown, then: Compared, printer: Printer) -> Markup:
    """Return the comparison in words: "8 % more than a year earlier (4,560 against 4,220 lb)."."""
    unit = printer.unit(found.then.unit, found.then.text)
    values: dict[str, object] = {
        "now": found.now,
        "then": Markup("{}\u202f{}").format(found.then, unit),
        "day": then.end,
    }
    if found.than_then == "about the same":
        message = (
            N_("About the same as a year earlier up to {day} ({now} against {then}).")
            if period.to_date
            else N_("About the same as a year earlier ({now} against {then}).")
        )
        return printer.say(Text(message, values))
    more = found.than_then == "more"
    if found.then.value < found.then.quantum * FACTOR[found.then.unit]:
        return printer.say(Text(_WITHOUT_A_SHARE[more], values))
    values["share"] = printer.with_unit(_share(found, printer))
    return printer.say(Text(_BY_A_SHARE[more, period.to_date], values))


def _share(found: Against, printer: Printer) -> Printed:
    now, then = found.now.key, found.then.key
    change = found.now.value / found.then.value - 1
    key = f"{now}/{then}+-{then}/{then}" if change > 0 else f"{then}/{then}+-{now}/{then}"
    return printer.share(key, abs(change))


_WITHOUT_A_SHARE = {
    True: N_("More than a year earlier ({now} against {then})."),
    False: N_("Less than a year earlier ({now} against {then})."),
}
# (whether more, whether the period is still running)
_BY_A_SHARE = {
    (True, False): N_("{share} more than a year earlier ({now} against {then})."),
    (False, False): N_("{share} less than a year earlier ({now} against {then})."),
    (True, True): N_("{share} more than a year earlier up to {day} ({now} against {then})."),
    (False, True): N_("{share} less than a year earlier up to {day} ({now} against {then})."),
}


def not_compared(then: Compared | None, printer: Printer) -> Markup | None:
    """Return why there is nothing to compare with, where a reader would look for it."""
    if then is None or then.received is None or then.diverted is None:
        return None
    if not then.received.central and not then.diverted.central:
        return printer.say(Text(N_("A year earlier: not recorded.")))
    return None
