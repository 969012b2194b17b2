"""The fixtures of the page's tests, which stand in a module of a name of its own (served.py)."""

from served import chromium, page, serve, serve_all

__all__ = ["chromium", "page", "serve", "serve_all"]
