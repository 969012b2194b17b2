"""divert: from a compost site's intake sheets to tonnes that can be walked back to the bucket."""

__version__ = "0.1.0"
