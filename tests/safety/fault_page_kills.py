"""The page's server killed while changes of site.toml are posted: what stands in the folder is whole."""

from __future__ import annotations

import http.client
import random
import threading
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from benchmark_page import Opened, environment

from divert.core.findings import CannotRun
from divert.site.read import read_site

TOML = """\
# Kept by the crew; every comment stays.
[site]
name = "Yard 0"             # as it is printed
started = 2025-01-01
units = "metric"

[[source]]
name = "Mill Lane"          # since the beginning
"""
LOG = "Date,From,What,Weight (kg)\n2025-02-03,Mill Lane,leaves,10\n"
LONGEST = 0.4  # seconds from the first change that is posted to the kill


@dataclass
class Killed:
    """How often the server was killed, in which of those a change was on its way, and what was wrong."""

    tries: int = 0
    written: int = 0
    not_whole: int = 0
    stuck: int = 0


def killed(folder: Path, tries: int, seed: int = 0) -> Killed:
    """Post changes to servers of one folder, one server after the other, and kill each at some moment."""
    luck, told = random.Random(seed), Killed()
    yard = folder / "yard"
    yard.mkdir(parents=True)
    (yard / "site.toml").write_text(TOML, encoding="utf-8")
    (yard / "log.csv").write_text(LOG, encoding="utf-8")
    env = environment(folder / "kept")
    for _ in range(tries):
        before = _name_in(yard)
        opened, names = Opened(yard, env), [before]
        first = threading.Event()
        poster = threading.Thread(target=_post, args=(opened, names, first))
        poster.start()
        first.wait(60)
        threading.Event().wait(luck.uniform(0, LONGEST))
        opened.kill()
        poster.join(60)
        told.tries += 1
        told.stuck += poster.is_alive()
        told.not_whole += not _is_one_of(yard, names)
        told.written += _name_in(yard) != before
    return told


def _post(opened: Opened, names: list[str], first: threading.Event) -> None:
    """Give the yard one name after the other until nobody answers."""
    with suppress(OSError, http.client.HTTPException, AssertionError):
        while True:
            names.append(f"Yard {len(names)} of {id(names)}")
            form = opened.lines_of("/yard", {"name": names[-1]})
            first.set()
            opened.ask("POST", "/yard", form)
    first.set()


def _is_one_of(yard: Path, names: list[str]) -> bool:
    """Return whether site.toml can be read, and is to the byte what it was with one of the names."""
    text = (yard / "site.toml").read_bytes()
    return bool(_name_in(yard)) and text in {TOML.replace("Yard 0", n).encode() for n in names}


def _name_in(yard: Path) -> str:
    try:
        return read_site(yard).name
    except CannotRun:
        return ""
