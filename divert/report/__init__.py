"""Figures to reports: pages, PDFs, workbooks and mail drafts."""

from __future__ import annotations

from typing import Any


def __getattr__(name: str) -> Any:
    # Loaded when asked for: the parts of a report are used without the whole of it.
    if name == "write_reports":
        from divert.report.write import write_reports

        return write_reports
    raise AttributeError(name)
