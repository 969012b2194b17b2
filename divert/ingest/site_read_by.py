"""Which of a site's settings say anything to how its sheets are read."""

from __future__ import annotations

from dataclasses import replace

from divert.site.model import Landfill, Report, Site


def same_to_ingest(one: Site, other: Site) -> bool:
    """Return whether two settings of a site make of any sheet the very same entries.

    What only conversion and the reports ask (fates, fills, landfill, sponsors, grants) is
    left out of the comparison.
    """
    return _to_ingest(one) == _to_ingest(other)


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
        containers=tuple(replace(c, usual_fill=None, condition=None) for c in site.containers),
        # Where a material went before tells ingest only whether it is what the site makes itself.
        materials=tuple(
            replace(
                m, before=m.before if m.before in (None, "moved on site") else "", proof=None,
                density=None, condition=None,
            )
            for m in site.materials
        ),
        sources=tuple(replace(s, before=None, proof=None) for s in site.sources),
    )  # fmt: skip
