"""Who may ask the page for anything: this browser, from this page, on this computer."""

from __future__ import annotations

import hmac
from dataclasses import dataclass
from hashlib import sha256
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from flask import Flask, Response, abort, g, make_response, redirect, request

if TYPE_CHECKING:
    from werkzeug.wrappers import Response as AnyResponse

NAMES = ("127.0.0.1", "localhost")
# No inline script or style, nothing from elsewhere, and nobody may put the page into a frame.
POLICY = (
    "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; "
    "frame-ancestors 'none'"
)
_HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    # With no referrer at all a form would say that it comes from nowhere ("Origin: null").
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}


@dataclass(frozen=True, slots=True)
class Keys:
    """The secret in the first address, and what is derived from it for cookie and forms."""

    token: str
    port: int

    @property
    def cookie_name(self) -> str:
        """Return the cookie's name: cookies know no ports, so two servers need two names."""
        return f"divert-{self.port}"

    @property
    def cookie(self) -> str:
        """Return what the cookie must say."""
        return self._derived("cookie")

    @property
    def form(self) -> str:
        """Return what every form must carry."""
        return self._derived("form")

    @property
    def hosts(self) -> frozenset[str]:
        """Return the only Host headers that are answered."""
        return frozenset(f"{name}:{self.port}" for name in NAMES)

    @property
    def address(self) -> str:
        """Return the first address."""
        return f"http://127.0.0.1:{self.port}/enter/{self.token}"

    def _derived(self, what: str) -> str:
        return hmac.new(self.token.encode(), what.encode(), sha256).hexdigest()


def guard(app: Flask, keys: Keys) -> None:
    """Let an app answer nobody but the browser that came by the first address."""

    @app.before_request
    def check() -> None:
        _check_host(keys)
        if request.endpoint == "enter":
            return
        said = request.cookies.get(keys.cookie_name, "")
        if not hmac.compare_digest(said.encode(), keys.cookie.encode()):
            abort(403)
        if request.method not in ("GET", "HEAD"):
            _check_change(keys)
        g.form_token = keys.form

    @app.get("/enter/<token>", endpoint="enter")
    def enter(token: str) -> AnyResponse:
        if not hmac.compare_digest(token.encode(), keys.token.encode()):
            abort(403)
        answer = make_response(redirect("/"))
        answer.set_cookie(keys.cookie_name, keys.cookie, httponly=True, samesite="Strict")
        return answer

    @app.after_request
    def headers(answer: Response) -> Response:
        for name, value in _HEADERS.items():
            answer.headers.setdefault(name, value)
        return answer


def _check_host(keys: Keys) -> None:
    # A name that was made to lead to this machine (DNS rebinding) shows in the Host header.
    if request.headers.get("Host", "").lower() not in keys.hosts:
        abort(403)
    origin = request.headers.get("Origin")
    if origin is not None and not _is_ours(origin, keys):
        abort(403)
    if request.headers.get("Sec-Fetch-Site", "none") not in ("same-origin", "none"):
        abort(403)


def _check_change(keys: Keys) -> None:
    if not _is_ours(request.headers.get("Origin", ""), keys):
        abort(403)
    said = request.form.get("form_token", "")
    if not hmac.compare_digest(said.encode(), keys.form.encode()):
        abort(403)


def _is_ours(origin: str, keys: Keys) -> bool:
    parts = urlsplit(origin)
    return parts.scheme == "http" and parts.netloc.lower() in keys.hosts
