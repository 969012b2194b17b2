"""Where the templates and the sample site lie, in a checkout and in an installed copy alike."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).parents[1]


def templates_folder() -> Path:
    """Return the folder of the report templates."""
    return _found("report_templates")


def sample_folder() -> Path:
    """Return the folder of the sample site."""
    return _found("sample_data")


def _found(name: str) -> Path:
    """Return a shipped folder; a wheel carries it inside the package, a checkout beside it."""
    installed = _PACKAGE / "_shipped" / name
    return installed if installed.is_dir() else _PACKAGE.parent / name
