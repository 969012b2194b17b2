"""A server of the page in a process of its own, and Debian's Chromium to look at it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

# DIVERT_NO_BROWSER leaves out what needs one: the checks with other versions do without.
_NAMES = () if os.environ.get("DIVERT_NO_BROWSER") else ("chromium", "chromium-browser")
CHROMIUM = next(filter(None, map(shutil.which, _NAMES)), None)
needs_chromium = pytest.mark.skipif(CHROMIUM is None, reason="Debian's chromium is not installed")
SECONDS = 60_000  # milliseconds that one step may take on a busy machine

Serve = Callable[..., str]


@pytest.fixture
def serve(tmp_path: Path) -> Iterator[Serve]:
    """Start the page for a folder; return its first address."""
    yield from _serving(tmp_path)


@pytest.fixture(scope="module")
def serve_all(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serve]:
    """As :func:`serve`, for tests of one module that look at one folder and change nothing in it."""
    yield from _serving(tmp_path_factory.mktemp("served"))


def _serving(home: Path) -> Iterator[Serve]:
    running: list[subprocess.Popen[str]] = []

    def start(*words: str) -> str:
        server = subprocess.Popen(
            [sys.executable, "-P", "-m", "divert", "open", "--no-browser", *words],
            stdout=subprocess.PIPE, text=True,
            env=os.environ | {"DIVERT_YARDS": str(home / "yards.json"), "HOME": str(home),
                              "PYTHONPATH": os.pathsep.join(p for p in sys.path if p)},
        )  # fmt: skip
        running.append(server)
        assert server.stdout is not None
        return server.stdout.readline().strip()

    yield start
    for server in running:
        server.terminate()
        server.wait(timeout=30)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """Return the browser that the machine has; none is ever downloaded."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture
def page(chromium: Browser) -> Iterator[Page]:
    """Return a page that fails where it asks for anything but this server, or a script fails."""
    context = chromium.new_context(viewport={"width": 1280, "height": 850}, locale="en-US")
    context.set_default_timeout(SECONDS)
    made = context.new_page()
    yield made
    context.close()
