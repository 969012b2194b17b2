"""divert: from a compost site's intake sheets to tonnes that can be walked back to the bucket.

The steps of the commands, for notebooks and other programs; each is imported when first used::

    from divert import open_site, period_of, figures_for, write_reports
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from divert.core.version import __version__

if TYPE_CHECKING:
    from divert.convert import work_out as work_out
    from divert.core.period import read_period as read_period
    from divert.core.reading import reading_of as reading_of
    from divert.factors import load_factors as load_factors
    from divert.figures.as_json import to_json as to_json
    from divert.figures.compute import figures_for as figures_for
    from divert.ingest import read_folder as read_folder
    from divert.inventory.open_site import open_site as open_site
    from divert.inventory.open_site import period_of as period_of
    from divert.publish.write import write_reports as write_reports
    from divert.recheck import recheck as recheck_report
    from divert.region.together import together as together
    from divert.site.read import read_site as read_site
    from divert.trace import trace as trace_figure

_WHERE = {
    "read_site": ("divert.site.read", "read_site"),
    "read_folder": ("divert.ingest", "read_folder"),
    "load_factors": ("divert.factors", "load_factors"),
    "work_out": ("divert.convert", "work_out"),
    "open_site": ("divert.inventory.open_site", "open_site"),
    "period_of": ("divert.inventory.open_site", "period_of"),
    "reading_of": ("divert.core.reading", "reading_of"),
    "read_period": ("divert.core.period", "read_period"),
    "figures_for": ("divert.figures.compute", "figures_for"),
    "to_json": ("divert.figures.as_json", "to_json"),
    "write_reports": ("divert.publish.write", "write_reports"),
    "together": ("divert.region.together", "together"),
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
    "together",
    "trace_figure",
    "work_out",
    "write_reports",
]


def __getattr__(name: str) -> Any:
    if name in _WHERE:
        module, attribute = _WHERE[name]
        return getattr(import_module(module), attribute)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
