"""Prints how long each job takes beside a yardstick of the same run or what was asked; asserts nothing.

    python tests/benchmark.py            all of it (about ten minutes on two cores)
    python tests/benchmark.py read help  only the parts named
    python tests/benchmark.py --processor csv   seconds of the processor, not of the clock

``was`` is what the same line showed before the work on it (on another, slower machine where it is a
number of the clock); what the profile said stands in DEVELOPERS.md. Each pair is measured turn by turn and
the quickest of each is taken, so that a machine busy with something else spoils both alike or neither.
Where seconds were asked for and no ratio, those of the processor stand beside them.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

import benchmark_data as data  # noqa: E402 - found only now
import benchmark_reading  # noqa: E402
import benchmark_reports  # noqa: E402
import numpy as np  # noqa: E402
from benchmark_measure import python, quickest, say, timed  # noqa: E402


def measure_help() -> None:
    ours, click = quickest(15, python("-m", "divert", "--help"), python("-c", "import click"))
    say("divert --help / import click", ours, click, 1.5)


def measure_million() -> None:
    """A million rows: masses, balance, ranges and emissions; and every figure there is; and memory."""
    import resource

    from divert.convert import Workings, work_out
    from divert.core.period import read_period
    from divert.factors import load_factors
    from divert.figures import emissions
    from divert.figures.compute import figures_for
    from divert.figures.masses import balance

    site, factors = data.site(Path("nowhere")), load_factors(None)
    entries = data.reading(1_000_000)
    period = read_period("all", as_of=data.AS_OF, started=site.started, year_starts=1)

    def masses() -> Workings:
        return work_out(site, entries, factors)

    def balanced() -> None:
        cells = masses().cells()
        parts = emissions.fates(cells, site, np.ones(len(cells.mass_kg), dtype=bool))
        balance(parts)
        landfill = emissions.landfill_avoided(
            emissions.landfilled(parts, cells, site), site, factors
        )
        emissions.summed(
            landfill, emissions.process(parts, cells, site, factors), emissions.NOTHING
        )

    def every_figure() -> None:
        figures_for(masses(), period, data.AS_OF)

    frame = entries.entries

    def yardstick() -> None:
        months = frame["date"].dt.to_period("M")
        frame.groupby(["material", "source", months], observed=True)["mass_kg"].sum()

    some_s, all_s, masses_s, yard_s = quickest(5, balanced, every_figure, masses, yardstick)
    say("masses, balance, ranges, emissions of 1,000,000 rows", some_s, yard_s, 8)
    print(f"    with every other figure of ten years: {all_s:.3f} s = {all_s / yard_s:.2f}")
    print(f"    masses alone: {masses_s:.3f} s; the yardstick is a groupby-sum")
    unit = 1 if sys.platform == "darwin" else 1024
    print(f"    most memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * unit / 1e9:.2f} GB, "
          "at most 1.5")  # fmt: skip


def measure_ranges() -> None:
    """Ranges alone: 10,000 and 1,000,000 rows in the same 288 cells (and their two bases)."""
    from divert.convert import work_out
    from divert.factors import load_factors
    from divert.figures import emissions
    from divert.figures.masses import balance, by_level, by_source
    from divert.figures.stretches import inside
    from divert.figures.timeline import timeline

    shape = {"sources": 6, "materials": 4, "containers": 2, "days": 182}
    site, factors = data.site(Path("nowhere"), 6, 4), load_factors(None)
    cut = []
    for rows in (10_000, 1_000_000):
        cut.append(work_out(site, data.reading(rows, **shape), factors).cells())

    def ranges_of(number: int) -> Callable[[], None]:
        def run() -> None:
            cells = cut[number]
            here = inside(cells, data.STARTED, data.AS_OF)
            parts = emissions.fates(cells, site, here)
            balance(parts)
            by_level(parts, "material", cells.materials)
            by_source(cells, here)
            timeline(cells)
            emissions.landfill_avoided(emissions.landfilled(parts, cells, site), site, factors)
            emissions.process(parts, cells, site, factors)

        return run

    small, large = quickest(7, ranges_of(0), ranges_of(1))
    say("ranges of 100x the rows / of the rows", large, small, 1.5)
    print(f"    elements: {len(cut[0].mass_kg)} and {len(cut[1].mass_kg)}")


def measure_together() -> None:
    """Yards added up: what twice as many cost in one process."""
    sys.path.insert(0, str(HERE / "region"))
    import made_yards

    with tempfile.TemporaryDirectory() as place:
        top = Path(place)
        for yards in (4, 8):
            made_yards.write_region(top / str(yards), yards, 500)
        script = (
            "import datetime as dt, sys; sys.modules['distributed'] = None\n"
            "from divert import together\n"
            "together(sys.argv[1], '2025', dt.date(2026, 1, 10))"
        )
        eight, four = quickest(2, *(python("-c", script, str(top / n)) for n in ("8", "4")))
        say("8 yards of 500 rows together / 4", eight, four, 2.1)
        print(f"    a yard more: {(eight - four) / 4:.3f} s")


def measure_page() -> None:
    """The page on the sample: its first view, and choices until their figures are shown."""
    import benchmark_page as page

    from divert.publish.demonstration import copy_sample

    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "sample"
        copy_sample(folder)
        env = page.environment(Path(place) / "kept")
        command = [sys.executable, "-m", "divert", "read", str(folder), "--as-of", page.TODAY]

        def read() -> None:
            subprocess.run(command, env=env, capture_output=True, check=False)

        read()
        first, yardstick = quickest(3, lambda: page.Opened(folder, env).close(), read)
        say("first view of the page / divert read", first, yardstick, 1.3)
        opened = page.Opened(folder, env)
        crew = {"file": "Crew log 2024-25.xlsx", "sheet": "Nov 24"}
        same = {"name-m": "kichen scarps", "kind-m": "material", "what-m": "same: kitchen scraps"}
        choices: dict[str, tuple[Callable[[], str], dict[str, str], str]] = {
            "where it went before": (lambda: page.question(opened, "stable manure"),
                                     {"choice": "was-landfill", "proof": ""}, "/questions"),
            "an answer": (lambda: page.question(opened, "written twice"),
                          {"choice": "right", "reason": "so"}, "/questions"),
            "a name": (lambda: "/names", same, "/names"),
            "a column's word": (lambda: "/sheets", {**crew, "column": "I", "field": "note"}, "/sheets"),
            "a sheet's kind": (lambda: "/sheets", {"file": "Yard book.xlsx", "sheet": "Fuel",
                                                   "holds": "nothing"}, "/sheets"),
            "the site's name": (lambda: "/yard", {"name": "Otter Bend"}, "/yard"),
        }  # fmt: skip
        # Processor time over that of a warm reading, in one run beside the version before.
        was = dict(zip(choices, ("0.34", "0.42", "0.45", "0.46", "0.34", "1.77"), strict=True))
        try:
            for what, (path_of, form, view) in choices.items():
                opened.settle()
                path = path_of()
                writes = opened.lines_of(path, form)
                before = page.reading_of(opened.ask("GET", view))
                took = timed(lambda: opened.write(path, writes, view, before))  # noqa: B023 - at once
                say(f"the page: {what} / divert read", took, yardstick, 0.2, was[what])
        finally:
            opened.close()


def measure_rows() -> None:
    """A window of a sheet of 100,000 rows beside one of 1,000: its time, and how much is sent."""
    import benchmark_page as page

    took = {}
    for rows in (1_000, 100_000):
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place) / "yard"
            folder.mkdir()
            data.write_site(folder, rows)
            opened = page.Opened(folder, page.environment(Path(place) / "kept"))
            try:
                opened.settle()
                address = f"/sheets/rows?file=log.xlsx&from={rows // 2}"
                size = len(opened.ask("GET", address))
                took[rows] = min(timed(lambda: opened.ask("GET", address)) for _ in range(5))  # noqa: B023
            finally:
                opened.close()
        print(f"    a window of {rows:,} rows: {size / 1000:.0f} kB")
    say("rows of a window, of 100,000 / of 1,000", took[100_000], took[1_000], 3)


PARTS = {
    "help": measure_help,
    "million": measure_million,
    "ranges": measure_ranges,
    "together": measure_together,
    "page": measure_page,
    "rows": measure_rows,
    **benchmark_reading.PARTS,
    **benchmark_reports.PARTS,
}

if __name__ == "__main__":
    for part in [one for one in sys.argv[1:] if one in PARTS] or PARTS:
        PARTS[part]()
