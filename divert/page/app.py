"""The page as one Flask application: the guard, the views, and what the views are dressed in."""

from __future__ import annotations

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException

from divert.core.findings import CannotRun
from divert.core.shipped import templates_folder
from divert.page.guard import guard
from divert.page.house import House
from divert.page.screen import said, screen
from divert.page.views import register_views
from divert.sandbox import limits

_FORMS = 2_000_000  # bytes of a form beside its files


def make_app(of: House) -> Flask:
    """Return the application for one house."""
    app = Flask(
        "divert.page", static_folder=str(templates_folder() / "page" / "static"),
        static_url_path="/static",
    )  # fmt: skip
    app.extensions["divert"] = of
    app.config["MAX_CONTENT_LENGTH"] = 4 * limits.FILE_BYTES + _FORMS
    app.config["MAX_FORM_MEMORY_SIZE"] = _FORMS
    app.config["MAX_FORM_PARTS"] = 20_000
    guard(app, of.keys)

    @app.before_request
    def hear() -> None:
        of.hear()

    @app.errorhandler(HTTPException)
    def plainly(problem: HTTPException) -> tuple[str, int] | tuple[Response, int]:
        code = problem.code or 500
        if code == 403:
            return Response(said(code).say("en"), mimetype="text/plain"), code
        return screen("oops.html", said=said(code), detail=""), code

    @app.errorhandler(CannotRun)
    def cannot(problem: CannotRun) -> tuple[str, int]:
        return screen("oops.html", said=problem.message, detail=""), 409

    @app.errorhandler(Exception)
    def unforeseen(problem: Exception) -> tuple[str, int]:
        app.logger.exception("%s", request.path)
        return screen("oops.html", said=said(500), detail=repr(problem)), 500

    register_views(app)
    return app
