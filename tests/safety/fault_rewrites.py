"""A log that is rewritten in place while it is read: what is read is whole, or said not to be."""

from __future__ import annotations

import datetime as dt
import threading
import time
from dataclasses import dataclass
from pathlib import Path

from opening.open_all import site

from divert.ingest.read import read_folder

ROWS = 4000
HEAD = "Date,Source,Material,Weight (lb)\n"
# The two logs that are written in turn: every weight of the one is 1, of the other 2.
LOGS = [HEAD + f"2025-03-01,Quillmarsh School,food scraps,{weight}\n" * ROWS for weight in (1, 2)]


@dataclass(frozen=True)
class Told:
    """How the reads went: whole, said to be changing, and silently neither the one nor the other."""

    tries: int
    whole: int
    said: int
    silent: int


def rewritten(folder: Path, tries: int) -> Told:
    """Read a folder so many times while another thread rewrites its log, a piece at a time."""
    log, stop = folder / "log.csv", threading.Event()
    log.write_text(LOGS[0])
    writer = threading.Thread(target=_write_until, args=(log, stop), daemon=True)
    writer.start()
    whole = said = silent = 0
    try:
        for _ in range(tries):
            reading = read_folder(site(folder), dt.date(2025, 7, 1))
            told = {f.code for f in reading.findings} & {"file unreadable"}
            weights = reading.entries["mass_kg"].round(6)
            if told:
                said += 1
            elif len(weights) == ROWS and weights.nunique() == 1:
                whole += 1
            else:
                silent += 1
    finally:
        stop.set()
        writer.join()
    return Told(tries, whole, said, silent)


def _write_until(log: Path, stop: threading.Event) -> None:
    turn = 0
    while not stop.is_set():
        turn += 1
        text = LOGS[turn % 2]
        with log.open("w") as file:
            for start in range(0, len(text), 20_000):
                file.write(text[start : start + 20_000])
                file.flush()
                time.sleep(0.002)
        time.sleep(0.3)
