"""A browser's part in the benchmark of the page: asks, answers forms, and tells when what is new is shown."""

from __future__ import annotations

import http.client
import json
import os
import re
import subprocess
import sys
import time
from pathlib import Path
from urllib.parse import urlencode, urlsplit

TODAY = "2026-07-01"
LOOK = 0.01  # seconds between two looks


class Opened:
    """The page of one folder, opened as by pressing Enter after `divert open FOLDER`."""

    def __init__(self, folder: Path, env: dict[str, str]) -> None:
        self._server = subprocess.Popen(
            [sys.executable, "-P", "-m", "divert", "open", "--no-browser", "--as-of", TODAY, str(folder)],
            stdout=subprocess.PIPE, text=True, env=env | {"DIVERT_YARDS": "off"},
        )  # fmt: skip
        assert self._server.stdout is not None
        where = urlsplit(self._server.stdout.readline().strip())
        self._host, self._cookie = where.netloc, ""
        self._line = http.client.HTTPConnection(where.netloc)
        self.first = self.ask("GET", where.path)
        while not reading_of(self.first):
            while not json.loads(self.ask("GET", "/state"))["reading"]:
                time.sleep(LOOK)
            self.first = self.ask("GET", "/")

    def ask(self, method: str, path: str, form: dict[str, str] | None = None) -> str:
        """Ask for a view and follow where it leads; return its HTML."""
        headers = {"Host": self._host, "Cookie": self._cookie, "Origin": f"http://{self._host}",
                   "Content-Type": "application/x-www-form-urlencoded"}  # fmt: skip
        self._line.request(method, path, urlencode(form) if form is not None else None, headers)
        answer = self._line.getresponse()
        page = answer.read().decode()
        if cookie := answer.getheader("Set-Cookie"):
            self._cookie = cookie.split(";")[0]
        led = answer.getheader("Location")
        return self.ask("GET", led) if led else page

    def settle(self) -> None:
        """Wait until nothing is worked out any more."""
        while not json.loads(self.ask("GET", "/state"))["weighed"]:
            time.sleep(0.1)
        time.sleep(1.5)

    def lines_of(self, path: str, form: dict[str, str]) -> dict[str, str]:
        """Return the form that writes the lines of a choice, once they were looked at."""
        token = re.search(r'data-form="([^"]+)"', self.ask("GET", "/questions"))
        assert token is not None
        said = {**form, "form_token": token[1]}
        stamp = re.search(r'name="stamp" value="([^"]+)"', self.ask("POST", path, said))
        assert stamp is not None, f"{path} {form} writes nothing"
        return {**said, "stamp": stamp[1], "write": "1"}

    def write(self, path: str, form: dict[str, str], view: str, before: int) -> None:
        """Write a choice, and wait until a view shows the reading with it."""
        shown = self.ask("POST", path, form)
        while reading_of(shown) == before:
            while json.loads(self.ask("GET", "/state"))["reading"] == before:
                time.sleep(LOOK)
            shown = self.ask("GET", view)

    def kill(self) -> None:
        """End the server as a power cut would."""
        self._server.kill()
        self._server.wait()

    def close(self) -> None:
        """End the server."""
        self._server.terminate()
        self._server.wait()


def reading_of(page: str) -> int:
    """Return the number of the reading that a view shows."""
    found = re.search(r'data-reading="(\d+)"', page)
    return int(found[1]) if found else 0


def question(opened: Opened, title: str) -> str:
    """Return the address of the first open question whose title holds some words."""
    for start in (0, 6, 12):
        page = opened.ask("GET", f"/questions?from={start}")
        for key, said in re.findall(r'<h2 id="t-([0-9a-f]+)">(.*?)</h2>', page):
            if title in said:
                return f"/questions/{key}"
    raise LookupError(title)


def environment(cache: Path) -> dict[str, str]:
    """Return an environment in which readings are kept in a folder of their own."""
    here = str(Path(__file__).parent.parent)
    return os.environ | {"DIVERT_CACHE": str(cache), "PYTHONPATH": here}
