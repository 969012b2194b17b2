"""The views, each a small file with its own address."""

from __future__ import annotations

from flask import Flask

from divert.page.views import (
    changes,
    files,
    names,
    numbers,
    plain,
    questions,
    reports,
    sent,
    sheets,
    start,
    yard,
)


def register_views(app: Flask) -> None:
    """Give the application every view."""
    for module in (
        plain,
        start,
        files,
        yard,
        sheets,
        names,
        questions,
        numbers,
        reports,
        sent,
        changes,
    ):
        app.register_blueprint(module.blueprint)
