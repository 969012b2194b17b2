"""Which of a site's settings say anything to how its sheets are read."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from divert.ingest.known import products
from divert.ingest.lexicon import bare
from divert.site.model import Container, Landfill, Material, Report, Site, Source


def same_to_ingest(one: Site, other: Site) -> bool:
    """Return whether two settings of a site make of any sheet the very same entries.

    What only conversion and the reports ask (fates, fills, landfill, sponsors, grants) is left out
    of the comparison.
    """
    return one.name == other.name and same_but_for_name(one, other)


def same_but_for_name(one: Site, other: Site) -> bool:
    """Return whether two settings make the very same entries of any sheet that does not say its name."""
    return _to_ingest(one) == _to_ingest(other) and products(one) == products(other)


def may_say(texts: Iterable[str], names: Iterable[str]) -> bool:
    """Return whether one of a site's names may stand in some of a sheet's texts, or in a part of one."""
    looked_for = {bare(name) for name in names}
    if not all(any(c.isalpha() for c in name) for name in looked_for):
        return True  # a number would have to be looked for among numbers
    return any(name in said for said in map(bare, texts) for name in looked_for)


def read_by(site: Site) -> Site:
    """Return the settings that every sheet is read by: without names, the site's own among them, and
    without what is said of one sheet."""
    return replace(_to_ingest(site), materials=(), sources=(), sheets=(), answers=())


def _to_ingest(site: Site) -> Site:
    return replace(
        site,
        name="",
        landfills=(Landfill(),),
        sponsors=(),
        # An answer that only gives a reason settles a question; one with a verdict moves entries.
        answers=tuple(a for a in site.answers if a.verdict),
        beds=(),
        grants=(),
        targets_kg=(),
        logo=None,
        colour="",
        scale_accuracy=0.0,
        toml="",
        report=Report(activities=site.report.activities),
        containers=tuple(
            Container(c.name, c.also, c.volume_m3, c.tare_kg, since=c.since)
            for c in site.containers
        ),
        materials=tuple(Material(m.name, m.also, m.like) for m in site.materials),
        sources=tuple(Source(s.name, s.also) for s in site.sources),
    )
