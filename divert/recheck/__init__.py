"""A finished report checked from what it carries: pages, record and evidence must agree."""

from divert.recheck.check import Recheck, recheck
from divert.recheck.figures import FigureCheck
from divert.recheck.telling import recheck_json, recheck_lines

__all__ = ["FigureCheck", "Recheck", "recheck", "recheck_json", "recheck_lines"]
