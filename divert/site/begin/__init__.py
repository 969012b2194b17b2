"""A new site: a commented site.toml and a starter workbook with drop-down lists."""

from divert.site.begin.start import begin_site

__all__ = ["begin_site"]
