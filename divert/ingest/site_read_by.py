"""Which of a site's settings say anything to how its sheets are read."""

from __future__ import annotations

from dataclasses import replace

from divert.ingest.known import products
from divert.site.model import Container, Landfill, Material, Report, Site, Source


def same_to_ingest(one: Site, other: Site) -> bool:
    """Return whether two settings of a site make of any sheet the very same entries.

    What only conversion and the reports ask (fates, fills, landfill, sponsors, grants) is left out
    of the comparison.
    """
    return _to_ingest(one) == _to_ingest(other) and products(one) == products(other)


def read_by(site: Site) -> Site:
    """Return the settings that every sheet is read by: without names, and what is said of one sheet."""
    return replace(_to_ingest(site), materials=(), sources=(), sheets=(), answers=())


def _to_ingest(site: Site) -> Site:
    return replace(
        site,
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
