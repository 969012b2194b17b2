"""Which of a site's settings say anything to what its entries come to."""

from __future__ import annotations

from dataclasses import replace

from divert.site.model import Site


def same_to_convert(one: Site, other: Site) -> bool:
    """Return whether the same entries become the same masses, charges and questions under two settings.

    What only reports ask, the site's name and the answers to questions are left out of the comparison;
    a site without an id is seeded by its name (divert.site.identity).
    """
    return one.seed == other.seed and _to_convert(one) == _to_convert(other)


def _to_convert(site: Site) -> Site:
    return replace(
        site, name="", id="", sponsors=(), grants=(), targets_kg=(), logo=None, colour="",
        answers=(), toml="",
    )  # fmt: skip
