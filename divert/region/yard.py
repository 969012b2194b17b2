"""One yard on its way into a sum: read, converted, reduced to its addend; or named as failed."""

from __future__ import annotations

from collections import Counter

from divert.convert.workings import Workings
from divert.core.findings import CannotRun
from divert.core.period import Period
from divert.core.range import Range
from divert.core.words import N_, Text
from divert.ingest.reader import Reader
from divert.inventory.open_site import open_site
from divert.region.addend import Addend, YardFailed, YardSum
from divert.region.figures_of_yard import PARTS, YardFigures, figures_of_yard
from divert.region.listing import Yard
from divert.region.stamp import Stamp
from divert.region.whole import Whole, milligrams


def addend_of(yard: Yard, period: Period, stamp: Stamp, reader: Reader | None = None) -> Addend:
    """Return what a yard adds; one that cannot be read adds nothing and is named with the reason.

    ``reader``: one that is used for yard after yard.
    """
    refused = _refused(yard)
    if refused is None:
        try:
            workings = open_site(yard.folder, as_of=stamp.as_of, reader=reader)
            return _added_up(yard, workings, figures_of_yard(workings, period), stamp)
        except CannotRun as problem:
            _end(reader)
            refused = problem.message
        except Exception as problem:  # whatever it is, the other yards' sum must not be lost
            _end(reader)
            refused = Text(
                N_("something went wrong that was not foreseen ({problem}); divert read {folder} "
                   "--debug shows where"),
                {"problem": repr(problem)[:200], "folder": yard.shown},
            )  # fmt: skip
    return failed(yard, refused, stamp)


def _end(reader: Reader | None) -> None:
    """End a child that may be in the middle of an answer nobody wants any more."""
    if reader is not None:
        reader.close()


def failed(yard: Yard, sentence: Text, stamp: Stamp) -> Addend:
    """Return the addend of a yard that could not be read."""
    return Addend(stamp, failed=(YardFailed(yard.place, yard.shown, yard.group, sentence),))


def _refused(yard: Yard) -> Text | None:
    """Return why a yard is not to be counted whatever it holds, or None."""
    if yard.inside:
        return Text(
            N_("This folder lies inside the yard {yard}, which is read with all folders in it. Move it "
               "out, so that its loads are not counted with that yard's."),
            {"yard": yard.inside},
        )  # fmt: skip
    if yard.copy_of:
        return Text(
            N_("This folder has the same site-id.txt as {yard}, as a copy of it would, so it is not "
               "counted. If it is a yard of its own, delete that file here and run this again."),
            {"yard": yard.copy_of},
        )  # fmt: skip
    return None


def _added_up(yard: Yard, workings: Workings, found: YardFigures, stamp: Stamp) -> Addend:
    site = workings.site
    rows = workings.rows(workings.findings)
    received = _sum([found.figures[f"mass.{what}"] for what in PARTS])
    diverted = found.figures["mass.diverted"]
    own = YardSum(
        yard.place, yard.shown, site.name, yard.group, received.central, _ends(diverted.range()),
        rows.used, rows.set_aside, rows.skipped, rows.queries,
        sum(f.code == "file unreadable" for f in workings.findings),
    )  # fmt: skip
    return Addend(
        stamp,
        (own,),
        figures=found.figures,
        months=found.months,
        materials=found.materials,
        groups={(yard.group, "received"): received, (yard.group, "diverted"): diverted},
        bases=found.bases,
        aside=Counter(workings.set_aside["code"].astype(str)),
        units={site.units: 1},
        languages={site.language: 1},
        countries={site.country: 1},
    )


def _sum(parts: list[Whole]) -> Whole:
    first, *others = parts
    for part in others:
        first = first.plus(part)
    return first


def _ends(value: Range) -> tuple[int, int, int]:
    return milligrams(value.central), milligrams(value.low), milligrams(value.high)
