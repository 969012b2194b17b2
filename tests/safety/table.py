"""The table of faults: test, tries, failures. Bounded parts of it are in the suite.

``python tests/safety/table.py [registers|tampers|rewrites|fuzz|kills|changes] ...`` runs those named, else all;
kills are 200 runs of four reports and take an hour or more.
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), *(str(HERE.parent / room) for room in ("recheck", "evidence", "register")),
                str(HERE.parent), str(HERE.parents[1])]  # fmt: skip

Row = tuple[str, int, str, int]


def registers(folder: Path) -> list[Row]:
    """1,500 damages of a register, in eleven ways."""
    from fault_registers import damaged

    return [
        (f"register: {one.name}", one.tries, "silent or not mended", one.silent + one.not_mended)
        for one in damaged(folder, tries=137)
    ]


def tampers(folder: Path) -> list[Row]:
    """Every way of tampering with a report, PDFs taken apart in this process."""
    import json

    from fault_tampers import rebuilt, tampered

    from divert.recheck import child, opening, recheck

    def here(pdf: bytes, _: Path) -> dict[str, Any]:
        apart: dict[str, Any] = json.loads(json.dumps(child.apart(pdf), default=child._plain))
        return apart

    opening._apart = here
    (folder / "site").mkdir(parents=True)
    told = tampered(folder)
    forged = [rebuilt(folder, signed=signed) for signed in (True, False)]
    believed = sum(recheck(one, folder / "site").holds or recheck(one).proved is not None
                   for one in forged)  # fmt: skip
    return [
        ("report rebuilt from sevenfold weights", 2, "holds with the site, or proves", believed),
        ("report tampered with", len(told), "holds with the site", sum(one.site for one in told)),
        ("report tampered with", len(told), "holds with the key", sum(one.key for one in told)),
        ("report tampered with", len(told), "holds alone", sum(one.alone for one in told)),
    ]


def rewrites(folder: Path) -> list[Row]:
    """60 reads of a log that is rewritten in place meanwhile."""
    from fault_rewrites import rewritten

    folder.mkdir(parents=True)
    told = rewritten(folder, tries=60)
    return [("log rewritten while it is read", told.tries, "silently wrong", told.silent)]


def kills(folder: Path) -> list[Row]:
    """200 runs killed while they issue four sponsors' reports."""
    from fault_kills import killed

    told = killed(folder, tries=200)
    return [
        ("run killed while it issues", told.killed, "stuck", told.stuck),
        ("run killed while it issues", told.killed, "processes left over", told.left_over),
        ("run killed while it issues", told.killed, "register or report not whole", told.not_whole),
    ]


def changes(folder: Path) -> list[Row]:
    """45 servers of the page killed while changes of site.toml are posted to them."""
    from fault_page_kills import killed

    told = killed(folder, tries=45)
    named = f"page killed in a change ({told.written} were written)"
    return [
        (named, told.tries, "site.toml not whole", told.not_whole),
        (named, told.tries, "stuck", told.stuck),
    ]


def fuzz(folder: Path) -> list[Row]:
    """Ten minutes of processor time of files spoilt at random, each opened, read and converted."""
    from fault_fuzz import fuzzed

    told = fuzzed(folder, seconds=float(os.environ.get("DIVERT_FUZZ_SECONDS", "600")))
    return [(f"file spoilt ({told.read} of them read)", told.tries, "exception", told.failed)]


PARTS: dict[str, Callable[[Path], list[Row]]] = {
    "registers": registers, "tampers": tampers, "rewrites": rewrites, "fuzz": fuzz,
    "kills": kills, "changes": changes,
}  # fmt: skip


def main(names: list[str]) -> int:
    """Print the table; return 1 where anything failed."""
    failed = 0
    print(f"{'test':<42}{'tries':>7}  {'failures':>8}  of what")
    for name in names or list(PARTS):
        with tempfile.TemporaryDirectory() as folder:
            os.environ |= {"DIVERT_HOME": f"{folder}/own", "DIVERT_CACHE": "off"}
            for test, tries, what, failures in PARTS[name](Path(folder) / name):
                print(f"{test:<42}{tries:>7}  {failures:>8}  {what}", flush=True)
                failed += failures
    return 1 if failed else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
