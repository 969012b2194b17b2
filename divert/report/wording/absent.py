"""The notice of every report whose period the sum does not wholly hold."""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup

from divert.convert.bands import System, quantity
from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.figures.absent import Absent
from divert.figures.numbers.printed import Printer

_MOST = 6
_CAUSES = {
    "file gone": N_("“{file}”, which was read before, is gone"),
    "file unreadable": N_("“{file}” cannot be read"),
    "file renamed": N_("“{file}” has another name and is read otherwise"),
    "says less than before": N_("“{file}” says less than it did"),
    "near copy": N_("“{file}” says again what another file says, and is not counted"),
    "what it holds is not plain": N_("what “{file}” holds is not plain, and it is not counted"),
}
_UNNAMED = {
    "file gone": N_("a file that was read before is gone"),
    "file unreadable": N_("a file cannot be read"),
    "file renamed": N_("a file has another name and is read otherwise"),
    "says less than before": N_("a file says less than it did"),
    "near copy": N_("a file says again what another says, and is not counted"),
    "what it holds is not plain": N_("what a sheet holds is not plain, and it is not counted"),
}


def absent_notices(
    absent: Iterable[Absent], printer: Printer, system: System, *, named: bool
) -> tuple[Markup, ...]:
    """Return a sentence for each thing the sum does not hold; ``named`` tells its file's name.

    A file's name may tell a source that the reader has no business to know.
    """
    found = list(absent)
    lines = [printer.say(_sentence(one, system, named)) for one in found[:_MOST]]
    if len(found) > _MOST:
        more = Text(N_("More of the kind: {count}."), {"count": len(found) - _MOST})
        lines.append(printer.say(more))
    return tuple(lines)


def _sentence(one: Absent, system: System, named: bool) -> Text:
    file = f"{one.file}, {one.sheet}" if one.sheet else one.file
    causes = _CAUSES if named and one.file else _UNNAMED
    cause = Text(causes.get(one.what, _UNNAMED["file unreadable"]), {"file": file})
    values: dict[str, object] = {"cause": cause, "from": one.start, "to": one.end}
    if not one.mass_kg:
        return Text(N_("Not settled: {cause}. How much is missing is not known."), values)
    values["mass"] = _mass(one.mass_kg, system)
    if one.start is None:
        return Text(N_("Not settled: {cause}; {mass} hang on it."), values)
    return Text(N_("Not settled: {cause}; {mass}, from {from} to {to}, hang on it."), values)


def _mass(kg: float, system: System) -> Text:
    """Return a mass as it stands in a sentence: three digits, no trailing zero."""
    said = quantity(kg, "kg", system)
    number = said.values["number"]
    if isinstance(number, float) and number.is_integer():
        number = int(number)
    return Text(said.message, {**said.values, "number": number})


def refusal(findings: Iterable[Finding]) -> Text:
    """Return why nothing can be issued: each open question by what it is about."""
    abouts = [f.about for f in findings]
    listed = "; ".join(f'"{about}"' for about in abouts[:_MOST])
    return Text(
        N_("Nothing was issued: questions about missing, unreadable or copied input are open "
           "({count}). Settle each under [[answer]] in site.toml, or with divert answer: {listed}"),
        {"count": len(abouts), "listed": listed},
    )  # fmt: skip
