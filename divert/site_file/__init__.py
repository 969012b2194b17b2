"""site.toml -> Site: every key read, every mistake one clear message."""

from divert.site_file.read import read_site

__all__ = ["read_site"]
