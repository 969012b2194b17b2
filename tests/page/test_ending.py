"""The page ends when it is closed, by Ctrl-C, or an hour after the last page was open; never before."""

from __future__ import annotations

import http.client
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from told import tells

from divert.page.serve import serve

HOUR = 3600.0
PATIENCE = 30.0  # seconds that a busy machine may take


class Served:
    """A server in a thread, with a clock that only the test moves."""

    def __init__(self) -> None:
        self.now, self.address, self.ended = 0.0, "", ""
        self._up = threading.Event()
        self._thread = threading.Thread(target=self._serve, daemon=True)
        self._thread.start()
        assert self._up.wait(PATIENCE)

    def _serve(self) -> None:
        def heard(address: str) -> None:
            self.address = address
            self._up.set()

        self.ended = str(serve(None, said=heard, clock=lambda: self.now, looks_every=0.01))

    def is_over(self, seconds: float) -> bool:
        self._thread.join(seconds)
        return not self._thread.is_alive()


def test_it_stays_for_an_hour_after_the_last_page_and_then_ends() -> None:
    served = Served()
    served.now = HOUR - 1
    assert not served.is_over(0.2)
    where = urlsplit(served.address)
    asked = http.client.HTTPConnection(where.netloc)
    asked.request("GET", where.path)  # somebody looks
    assert asked.getresponse().status == 302
    served.now += HOUR - 1
    assert not served.is_over(0.2)
    served.now += 2
    assert served.is_over(PATIENCE)
    assert tells(served.ended, "hour|divert is closed")


@pytest.fixture
def opened(tmp_path: Path):  # type: ignore[no-untyped-def]
    running: list[subprocess.Popen[str]] = []

    def start() -> subprocess.Popen[str]:
        made = subprocess.Popen(
            [sys.executable, "-P", "-m", "divert", "open", "--no-browser", str(tmp_path)],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
            env=os.environ | {"DIVERT_YARDS": "off", "PYTHONPATH": os.pathsep.join(p for p in sys.path if p)},
        )  # fmt: skip
        running.append(made)
        return made

    yield start
    for one in running:
        if one.poll() is None:
            one.kill()
        one.wait()


@pytest.mark.skipif(os.name == "nt", reason="no signals there")
def test_ctrl_c_closes_it_with_one_sentence(
    opened: Callable[[], subprocess.Popen[str]],
) -> None:
    server = opened()
    assert server.stdout is not None
    assert server.stdout.readline().startswith("http://127.0.0.1:")
    server.send_signal(signal.SIGINT)
    _, said = server.communicate(timeout=PATIENCE)
    assert tells(said, "divert is closed|in the folder") and said.count("\n") == 1
    assert server.returncode == 0
