"""``site.toml`` -> :class:`divert.site.model.Site`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.names import plain
from divert.core.words import N_, Text
from divert.site import checks
from divert.site.document import FILE_NAME, load
from divert.site.identity import site_id
from divert.site.keys import KEYS
from divert.site.landfill import landfills
from divert.site.model import Site
from divert.site.settings import settings
from divert.site.sheet_rules import sheet_rules
from divert.site.small_tables import answers, closed, report, targets
from divert.site.table import Table
from divert.site.things import beds, containers, grants, materials, sources, sponsors


def site_language(folder: Path) -> str:
    """Return the site's language, English where site.toml cannot be read: what was asked goes on."""
    try:
        return read_site(folder).language
    except CannotRun:
        return "en"


def read_site(folder: Path, text: str | None = None) -> Site:
    """Return the site that ``folder/site.toml`` describes.

    ``text``: what site.toml would say, to look at it before it is written.
    Masses in kg, volumes in m³, densities in kg/m³. Raises CannotRun, with the line, the table, the
    key, the value and what would be accepted, for the first mistake met.
    """
    text, found = load(folder, text)
    for name, tables in found.items():
        if name != "target":
            for table in tables:
                table.check_keys(KEYS[name], KEYS)

    def of(name: str) -> Sequence[Table]:
        return found.get(name, ())

    own = settings(_site_table(folder, found))
    words = own.words
    site = Site(
        folder=folder,
        **asdict(own),
        landfills=landfills(of("landfill"), words, own.currency),
        containers=(boxes := containers(of("container"), words)),
        materials=materials(of("material"), words),
        sources=(known_sources := sources(of("source"))),
        sponsors=sponsors(of("sponsor"), known_sources),
        beds=beds(of("bed")),
        grants=grants(of("grant")),
        targets_kg=targets(of("target"), words),
        report=report(of("report")),
        closed=closed(of("closed")),
        answers=answers(of("answer")),
        sheets=sheet_rules(
            of("sheet"), words, {plain(n) for box in boxes for n in (box.name, *box.also)}
        ),
        toml=text,
        id=site_id(folder),
    )
    checks.spelled_apart(site.containers, of("container"))
    checks.spelled_apart(site.materials, of("material"))
    checks.spelled_apart(site.sources, of("source"))
    checks.once(of("bed"))
    checks.once(of("grant"))
    checks.shares_at_most_one(site.sponsors, site.grants, [*of("sponsor"), *of("grant")])
    checks.one_supplier_each(site.sponsors, of("sponsor"))
    return site


def _site_table(folder: Path, found: Mapping[str, Sequence[Table]]) -> Table:
    if "site" not in found:
        raise CannotRun(
            Text(
                N_("{file} has no [site] table. It needs one with name, units and started."),
                {"file": str(folder / FILE_NAME)},
            )
        )
    return found["site"][0]
