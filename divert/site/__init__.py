"""A site: site.toml read and checked into frozen values, and a new one begun."""
