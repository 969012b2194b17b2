"""divert: from a compost site's intake sheets to tonnes that can be walked back to the bucket.

The steps of the commands, for notebooks and other programs; each is imported when first used::

    from divert import open_site, period_of, figures_for, write_reports
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from divert.convert import work_out as work_out
    from divert.factors import load_factors as load_factors
    from divert.figures import to_json as to_json
    from divert.ingest import read_folder as read_folder
    from divert.period import read_period as read_period
    from divert.reading import reading_of as reading_of
    from divert.recheck import recheck as recheck_report
    from divert.report import write_reports as write_reports
    from divert.site_file import read_site as read_site
    from divert.steps import open_site as open_site
    from divert.steps import period_of as period_of
    from divert.tally import figures_for as figures_for
    from divert.trace import trace as trace_figure

__version__ = "0.1.0"

_WHERE = {
    "read_site": ("divert.site_file", "read_site"),
    "read_folder": ("divert.ingest", "read_folder"),
    "load_factors": ("divert.factors", "load_factors"),
    "work_out": ("divert.convert", "work_out"),
    "open_site": ("divert.steps", "open_site"),
    "period_of": ("divert.steps", "period_of"),
    "reading_of": ("divert.reading", "reading_of"),
    "read_period": ("divert.period", "read_period"),
    "figures_for": ("divert.tally", "figures_for"),
    "to_json": ("divert.figures", "to_json"),
    "write_reports": ("divert.report", "write_reports"),
    "recheck_report": ("divert.recheck", "recheck"),
    "trace_figure": ("divert.trace", "trace"),
}
__all__ = [
    "__version__",
    "figures_for",
    "load_factors",
    "open_site",
    "period_of",
    "read_folder",
    "read_period",
    "read_site",
    "reading_of",
    "recheck_report",
    "to_json",
    "trace_figure",
    "work_out",
    "write_reports",
]


def __getattr__(name: str) -> Any:
    if name in _WHERE:
        module, attribute = _WHERE[name]
        return getattr(import_module(module), attribute)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
