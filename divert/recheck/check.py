"""A report against itself: every printed figure from the evidence inside it, page and record too."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from divert.core.findings import CannotRun
from divert.core.words import N_, Text, languages
from divert.evidence.page_text import even
from divert.evidence.record import seal
from divert.recheck.figures import Evidence, FigureCheck, check_figure
from divert.recheck.inputs import Inputs, NoInputs, inputs_of
from divert.recheck.maker import Maker, known_by_the_site, maker_of, remember
from divert.recheck.opening import Opened, open_report
from divert.recheck.pages import by_figure, changes, drawn_otherwise, matched, not_there
from divert.recheck.record_rules import broken_rules
from divert.recheck.register import RegisterCheck, compare_register
from divert.site.document import there_is_a_folder


@dataclass(frozen=True, slots=True)
class Recheck:
    """What was found: each printed figure, what else disagrees, and what the register says.

    ``holds`` is true only where every figure holds and nothing disagrees; ``language`` is the
    report's.
    """

    file: str
    number: str | None
    site: str
    figures: tuple[FigureCheck, ...]
    complaints: tuple[Text, ...]
    register: RegisterCheck | None = None
    language: str = "en"
    maker: Maker = field(default_factory=Maker)

    @property
    def withdrawn(self) -> bool:
        """Return whether the site has taken the report back."""
        return self.register is not None and self.register.withdrawn

    @property
    def proved(self) -> str | None:
        """Return what shows who made the report: "site", "key", or None where nothing does."""
        if self.register is not None and self.register.agrees:
            return "site"
        return "key" if self.maker.proved else None

    @property
    def holds(self) -> bool:
        """Return whether the whole report holds."""
        return (
            all(one.holds for one in self.figures)
            and not self.complaints
            and not self.maker.wrong
            and (self.register is None or self.register.agrees)
            and not self.withdrawn
        )


def recheck(path: str | Path, site: str | Path | None = None, key: str | None = None) -> Recheck:
    """Recompute a report from the evidence inside it, and compare with the register of ``site``.

    ``key``: the fingerprint of the key that should have signed it, or a file that holds it (default:
    that of the first report of the same site that was checked here).

    Raises CannotRun, with one line, where the file is no PDF, is damaged or carries no evidence, or
    where there is no folder ``site``.
    """
    if site is not None:
        there_is_a_folder(Path(site))
    opened = open_report(Path(path))
    record = opened.record
    complaints = _seals(opened)
    inputs, problem = _inputs(opened)
    complaints += problem
    try:
        report = dict(record["report"])
        sets = {name: dict(one) for name, one in record["figures"].items()}
        language = str(report.get("language"))
        if language not in languages():  # what a record names may be anything
            language = "en"
        figures, rest = _figures(opened, inputs, sets, language)
        rest += broken_rules(opened, [even(str(page)) for page in record["pages"]])
        maker = maker_of(record, seal(record), opened.pages, key)
    except (AttributeError, LookupError, TypeError, ValueError) as error:
        raise CannotRun(
            Text(N_("{file}: the record inside is not as this tool writes it, so there is nothing "
                    "to check against."), {"file": str(path)})
        ) from error  # fmt: skip
    complaints += _factors(inputs, sets) + _shown(inputs) + rest
    number = report.get("number")
    register = None
    if site is not None:
        register = compare_register(Path(site), opened, str(number) if number else None)
        if register.agrees:
            maker = known_by_the_site(maker)
    found = Recheck(
        str(path), str(number) if number else None, str(report.get("site", "")),
        figures, tuple(complaints), register, language, maker,
    )  # fmt: skip
    if found.holds:
        remember(record, maker, sure=found.proved == "site" or (maker.proved and key is not None))
    return found


def _seals(opened: Opened) -> list[Text]:
    told = []
    if seal(opened.record) != opened.record.get("seal"):
        told.append(Text(N_("The record inside was changed after it was written.")))
    if opened.record.get("evidence_sha256") != opened.evidence_sha256:
        told.append(Text(N_("The evidence workbook is not the one the record speaks of.")))
    return told


def _inputs(opened: Opened) -> tuple[Inputs | None, list[Text]]:
    if opened.evidence is not None:
        try:
            return inputs_of(opened.evidence), []
        except NoInputs:
            pass
    return None, [Text(N_("The evidence workbook cannot be computed from: it is damaged."))]


def _figures(
    opened: Opened, inputs: Inputs | None, sets: Mapping[str, Mapping[str, Any]], language: str
) -> tuple[tuple[FigureCheck, ...], list[Text]]:
    record = opened.record
    printed = record["printed"]
    pages = [str(page) for page in record["pages"]]
    which = matched(pages, opened.pages)
    on_page, rest = by_figure(printed, changes(pages, opened.pages, which))
    gone, moved = not_there(printed, which)
    on_page |= gone
    evidence = Evidence(inputs, sets)
    checked = tuple(
        check_figure(one, evidence, sets, language, on_page.get(n)) for n, one in enumerate(printed)
    )
    rest += _summary(evidence, inputs)
    reworded = {int(one["page"]) for n, one in enumerate(printed) if n in on_page}
    if not rest:
        rest += [
            Text(N_("Page {page} is drawn otherwise than when the report was made."), {"page": n})
            for n in drawn_otherwise(record["drawings"], opened.drawings, which)
            if n not in reworded
        ]
    return checked, moved + rest


def _summary(evidence: Evidence, inputs: Inputs | None) -> list[Text]:
    """Return what the sheet of every figure shows, printed or not, that its formula denies."""
    wrong = [
        path
        for of_set, path in (inputs.standing if inputs else ())
        for whole in (f"{path}.central", path)
        if (found := evidence.find(of_set, whole)) is not None and not found.shown
    ]
    if not wrong:
        return []
    return [Text(N_("The sheet of every figure shows {count} results that its formulas do not "
                    "give, the first for {figure}."),
                 {"count": len(wrong), "figure": wrong[0]})]  # fmt: skip


def _shown(inputs: Inputs | None) -> list[Text]:
    """Return the columns of the evidence that show what their formulas do not give."""
    return [
        Text(N_("The column {key} of the ledger in the evidence shows results that its formulas do "
                "not give."), {"key": key})
        for key in (inputs.shown_otherwise if inputs else ())
    ]  # fmt: skip


def _factors(inputs: Inputs | None, sets: Mapping[str, Mapping[str, Any]]) -> list[Text]:
    """Return the factors that the evidence has otherwise than the record's figures."""
    if inputs is None:
        return []
    told = {}
    for name, figures in sets.items():
        if name == "previous":
            continue
        for factor in figures.get("factors") or ():
            key, value = str(factor["key"]), float(factor["value"])
            other = inputs.book.values.get(key)
            if other is not None and abs(other - value) > 1e-9 * max(abs(value), abs(other)):
                told[key] = Text(
                    N_("The factor {key} is {other} in the evidence and {value} in the record."),
                    {"key": key, "other": f"{other:g}", "value": f"{value:g}"},
                )
    return list(told.values())
