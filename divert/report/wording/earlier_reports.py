"""What earlier reports said and this one changes: moved figures, reports taken back."""

from __future__ import annotations

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.history import History, Restatement
from divert.figures.numbers.printed import THIN, Printer
from divert.figures.numbers.rounding import steps
from divert.figures.numbers.scales import Kind, Scale
from divert.report.wording.method_box import Note, lead

_MOVED = {
    "mass.diverted.central": N_(
        "Report {number} ({label}) said {was} diverted by the whole site; it is now {now}. Why: "
        "{reasons}."
    ),
    "supplied.diverted.central": N_(
        "Report {number} ({label}) said {was} diverted from your material; it is now {now}. Why: "
        "{reasons}."
    ),
    "supported.diverted.central": N_(
        "Report {number} ({label}) said {was} diverted through your support; it is now {now}. Why: "
        "{reasons}."
    ),
    "mass.received.central": N_(
        "Report {number} ({label}) said {was} received by the whole site; it is now {now}. Why: "
        "{reasons}."
    ),
    "supplied.received.central": N_(
        "Report {number} ({label}) said {was} received from you; it is now {now}. Why: {reasons}."
    ),
    "emissions.net_avoided.central": N_(
        "Report {number} ({label}) said {was} avoided by the whole site, net; it is now {now}. Why: "
        "{reasons}."
    ),
    "supplied.net_avoided.central": N_(
        "Report {number} ({label}) said {was} avoided with your material, net; it is now {now}. Why: "
        "{reasons}."
    ),
    "supported.net_avoided.central": N_(
        "Report {number} ({label}) said {was} avoided through your support, net; it is now {now}. "
        "Why: {reasons}."
    ),
}
# Told only where what says the same more nearly has not moved.
_ELSE = {
    "mass.received.central": ("mass.diverted.central",),
    "supplied.received.central": ("supplied.diverted.central",),
    "emissions.net_avoided.central": (
        "supplied.net_avoided.central", "supported.net_avoided.central",
    ),
}  # fmt: skip
_REASONS = {
    "rows added": N_("rows added {amount}"),
    "rows changed": N_("rows changed {amount}"),
    "rows removed": N_("rows removed {amount}"),
    "sheets read otherwise": N_("sheets read otherwise {amount}"),
    "settings changed": N_("settings changed {amount}"),
    "the site's own densities moved": N_("the site's own densities moved {amount}"),
    "factors changed": N_("factors changed {amount}"),
    "the calculation changed": N_("the calculation changed {amount}"),
}


def earlier_reports(history: History, printer: Printer) -> tuple[Note, ...]:
    """Return what has moved since a report was issued, and what was taken back."""
    notes = [
        Note(lead(printer, N_("Restated.")), _restated(moved, printer)) for moved in _told(history)
    ]
    for taken in history.withdrawn:
        text = (
            Text(N_("Report {number} ({label}) was withdrawn; {by} replaces it."),
                 {"number": taken.number, "label": taken.label, "by": taken.replaced_by})
            if taken.replaced_by
            else Text(N_("Report {number} ({label}) was withdrawn."),
                      {"number": taken.number, "label": taken.label})
        )  # fmt: skip
        notes.append(Note(lead(printer, N_("Withdrawn.")), printer.say(text)))
    return tuple(notes)


def changed_reports(history: History) -> tuple[str, ...]:
    """Return the numbers of the issued reports that this one restates or replaces."""
    moved = [m.number for m in _told(history)]
    return tuple(dict.fromkeys([*moved, *(taken.number for taken in history.withdrawn)]))


def _told(history: History) -> list[Restatement]:
    """Return the moved figures that are told one by one."""
    moved = {(m.number, m.label, m.figure) for m in history.restatements}
    return [
        m
        for m in history.restatements
        if m.figure in _MOVED
        and not any((m.number, m.label, near) in moved for near in _ELSE.get(m.figure, ()))
    ]


def _restated(moved: Restatement, printer: Printer) -> Markup:
    """Return a moved figure with its reasons, each rounded by itself as the figure is."""
    kind: Kind = "co2e" if "net_avoided" in moved.figure else "mass"
    scale = printer.scale(kind, max(abs(moved.was), abs(moved.now)))
    quantum = scale.quantum_of(moved.was, moved.range_then)
    reasons = [
        printer.plain(
            Text(
                _REASONS[part.reason],
                {"amount": printer.written(part.amount, scale, quantum, signed=True)},
            )
        )
        for part in moved.parts
        if steps(part.amount / scale.factor, quantum)
    ]
    values = {
        "number": moved.number,
        "label": moved.label,
        "was": _with_unit(moved.was, scale, quantum, printer),
        "now": _with_unit(moved.now, scale, quantum, printer),
        "reasons": printer.names(reasons),
    }
    return printer.say(Text(_MOVED[moved.figure], values))


def _with_unit(value: float, scale: Scale, quantum: float, printer: Printer) -> str:
    text = printer.written(value, scale, quantum)
    return f"{text}{THIN}{printer.unit(scale.unit, text)}"
