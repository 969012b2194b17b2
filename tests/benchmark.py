"""Prints how long each job takes beside a yardstick measured in the same run; asserts nothing.

    python tests/benchmark.py            all of it (about ten minutes on two cores)
    python tests/benchmark.py read help  only the parts named
    python tests/benchmark.py --processor csv   seconds of the processor, not of the clock

``was`` is what the same line showed before the work on it (on another, slower machine where it is a
number of the clock); what the profile said stands in DEVELOPERS.md. Each pair is measured turn by turn and the quickest of each is taken, so that a machine busy with
something else spoils both alike or neither.
"""

from __future__ import annotations

import gc
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

import benchmark_data as data  # noqa: E402 - found only now
import benchmark_inputs as inputs  # noqa: E402
import numpy as np  # noqa: E402

WITHOUT_CACHE = dict(os.environ) | {"DIVERT_CACHE": "off", "PYTHONPATH": str(HERE.parent)}


OF_PROCESSOR = "--processor" in sys.argv  # on a machine that does other things beside


def now() -> float:
    """Return the seconds of the clock, or those of this process and its children that have ended."""
    if not OF_PROCESSOR:
        return time.perf_counter()
    import resource

    both = (resource.getrusage(w) for w in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(used.ru_utime + used.ru_stime for used in both)


def timed(job: Callable[[], object]) -> float:
    gc.collect()  # what the job before has left is not to be paid for by this one
    began = now()
    job()
    return now() - began


def quickest(turns: int, *jobs: Callable[[], object]) -> list[float]:
    """Return each job's quickest time in seconds, the jobs taken in turn."""
    times = [[timed(job) for job in jobs] for _ in range(turns)]
    return [min(column) for column in zip(*times, strict=True)]


def say(what: str, ours: float, yardstick: float, limit: float, was: str = "") -> None:
    ratio = ours / yardstick
    verdict = ("" if ratio <= limit else "   OVER") + (f"   was {was}" if was else "")
    print(
        f"{what:<58}{ours:9.3f} s /{yardstick:8.3f} s = {ratio:6.2f}   at most {limit}{verdict}",
        flush=True,
    )


def python(*arguments: str, env: dict[str, str] = WITHOUT_CACHE) -> Callable[[], object]:
    def run() -> None:
        done = subprocess.run(
            [sys.executable, *arguments],
            env=env,
            capture_output=True,
            text=True,
            check=False,
        )
        if done.returncode not in (0, 1):
            raise RuntimeError(done.stderr)

    return run


def measure_help() -> None:
    ours, click = quickest(15, python("-m", "divert", "--help"), python("-c", "import click"))
    say("divert --help / import click", ours, click, 1.5)


def measure_read() -> None:
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        data.write_site(folder, 100_000)
        raw = (
            "import python_calamine as c\n"
            f"c.CalamineWorkbook.from_path({str(folder / 'log.xlsx')!r}).get_sheet_by_index(0)"
            ".to_python()\nimport pandas"
        )
        command = ("-m", "divert", "read", place, "--as-of", data.AS_OF.isoformat())
        ours, yardstick = quickest(5, python(*command), python("-c", raw))
        say("divert read of 100,000 rows / calamine and pandas", ours, yardstick, 3)
        kept = os.environ | {"DIVERT_CACHE": str(folder / "kept"), "PYTHONPATH": str(HERE.parent)}

        def again() -> None:
            subprocess.run([sys.executable, *command], env=kept, capture_output=True, check=False)

        again()
        print(f"    a second run on the same file: {quickest(3, again)[0]:.3f} s")


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


def measure_pdf() -> None:
    """One sponsor PDF, everything read and computed, beside WeasyPrint on the same finished HTML.

    As it is sent, with the evidence workbook and the record inside; and its pages alone.
    """
    from divert.inventory.open_site import open_site, period_of
    from divert.publish.job import jobs_for
    from divert.publish.make import MOST_PAGES, page_for
    from divert.publish.many import make_all
    from divert.report.paper import pdf
    from divert.report.paper.look import look_of

    with tempfile.TemporaryDirectory() as place:
        data.write_site(Path(place), 3_000, 8)
        workings = open_site(place, as_of=data.AS_OF)
        period = period_of(workings, "2025-Q3", data.AS_OF)
        look, _ = look_of(workings.site)
        (job,) = jobs_for(workings, "sponsor", period, data.AS_OF, ("Sponsor 1",))
        language = workings.site.language
        page = page_for(job, workings, look, screen=False).html

        def pages() -> None:
            drawn = page_for(job, workings, look, screen=False)
            pdf.write_pdf(drawn.html, look, language, data.AS_OF, most_pages=MOST_PAGES["sponsor"])

        def whole() -> None:
            list(make_all((job,), workings, look, ("pdf",)))

        pages_s, whole_s, same_s = quickest(
            7, pages, whole, lambda: _plain_weasyprint(page, look, language)
        )
        say("one sponsor PDF, charts drawn / WeasyPrint writing its HTML", whole_s, same_s, 1.5)
        print(
            f"    its pages, before anything is put inside: {pages_s:.3f} s = {pages_s / same_s:.2f}"
        )


def _plain_weasyprint(page: str, look: object, language: str) -> bytes:
    import weasyprint

    from divert.report.paper import pdf

    # The style sheet and fonts are loaded already in both cases.
    return bytes(
        weasyprint.HTML(string=page, url_fetcher=pdf._fetcher()).write_pdf(
            stylesheets=[pdf._style(look, language, False)],  # type: ignore[arg-type]
            font_config=pdf._fonts(False),
            pdf_variant="pdf/ua-1",
        )
    )


def measure_forty() -> None:
    """Forty sponsor PDFs in one run, beside forty runs of one (three are timed)."""
    with tempfile.TemporaryDirectory() as place:
        data.write_site(Path(place), 10_000)
        common = ("-m", "divert", "report", place, "--for", "sponsor", "--period", "2025-Q3",
                  "--as", "pdf", "--as-of", data.AS_OF.isoformat())  # fmt: skip
        all_s, one_s = quickest(2, python(*common), python(*common, "--sponsor", "Sponsor 3"))
        say("40 sponsor PDFs in one run / 40 runs of one", all_s, 40 * one_s, 0.3)


def reading(folder: Path) -> Callable[[], None]:
    return python("-m", "divert", "read", str(folder), "--as-of", data.AS_OF.isoformat())


def raw_books(folder: Path) -> Callable[[], None]:
    script = (
        "import python_calamine as c, pathlib, pandas\n"
        f"for p in pathlib.Path({str(folder)!r}).glob('*.xlsx'):\n"
        "    c.CalamineWorkbook.from_path(str(p)).get_sheet_by_index(0).to_python()"
    )
    return python("-c", script)


def measure_books() -> None:
    """Many workbooks: plain ones, messy ones, a wide one, one with a stray word far below."""
    with tempfile.TemporaryDirectory() as place:
        top = Path(place)
        inputs.clean_books(top / "clean", 60)
        ours, raw = quickest(2, reading(top / "clean"), raw_books(top / "clean"))
        say(
            "60 clean workbooks of 500 rows / calamine and pandas",
            ours,
            raw,
            4,
            "13.7, then 7.4, 4.9 and 3.8",
        )
        inputs.clean_books(top / "few", 10)
        inputs.messy_books(top / "messy", 10)
        messy, clean = quickest(2, reading(top / "messy"), reading(top / "few"))
        say("10 messy workbooks / 10 clean ones", messy, clean, 4, "6.1, then 5.9 (6.3 s)")
        for name, width in (("dense", 0), ("wide", 120)):
            inputs.log(inputs.settings(top / name) / "log.xlsx", 1000, width=width)
        wide, dense = quickest(3, reading(top / "wide"), reading(top / "dense"))
        say("a wide, mostly empty table of 1,000 rows / a dense one", wide, dense, 2, "16.5 s")
        inputs.strays(top / "stray")
        stray, raw = quickest(2, reading(top / "stray"), raw_books(top / "stray"))
        say(
            "three sheets with a word in the last row / calamine, pandas",
            stray,
            raw,
            1,
            "3.5 (22.7 s, 1.8 GB), then 1.3 and 0.9 (2.9 s)",
        )


def measure_names() -> None:
    """Names nobody has told of, and very many known sources: what four times as many cost."""
    with tempfile.TemporaryDirectory() as place:
        top = Path(place)
        for names in (4_000, 16_000):
            inputs.unknown_names(top / f"names{names}", names)
        more, few = quickest(2, reading(top / "names16000"), reading(top / "names4000"))
        say("16,000 unknown names / 4,000", more, few, 4.6, "11.7 (slope 1.77)")
        for sources in (1_000, 4_000):
            inputs.many_sources(top / f"sources{sources}", sources)
        figures = ("-m", "divert", "figures", "--period", "all", "--as-of", data.AS_OF.isoformat())
        more, few = quickest(
            2, *(python(*figures, str(top / f"sources{n}")) for n in (4_000, 1_000))
        )
        say("figures of 4,000 sources / of 1,000", more, few, 4.6, "3.0, with 2.6 GB")


def measure_csv() -> None:
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        inputs.long_csv(folder, 100_000)
        script = f"import csv, pandas\nlist(csv.reader(open({str(folder / 'log.csv')!r})))"
        ours, raw = quickest(3, reading(folder), python("-c", script))
        say("100,000 rows of CSV / csv and pandas", ours, raw, 3, "4.9, then 4.6, 3.6 and 3.3")


def measure_across() -> None:
    """Days across a heading, three sources down: what four times as many columns cost."""
    with tempfile.TemporaryDirectory() as place:
        top = Path(place)
        for days in (500, 2_000):
            inputs.days_across(top / str(days), days)
        more, few = quickest(2, reading(top / "2000"), reading(top / "500"))
        say("2,000 days across / 500", more, few, 4, "4.3")
        inputs.days_across(top / "8000", 8_000)
        script = f"import csv, pandas\nlist(csv.reader(open({str(top / '8000' / 'log.csv')!r})))"
        most, raw = quickest(2, reading(top / "8000"), python("-c", script))
        say("8,000 days across / csv and pandas", most, raw, 10, "42")
        inputs.days_across(top / "whole", 16_000, 620)
        set_aside, few = quickest(1, reading(top / "whole"), reading(top / "500"))
        say("620 x 16,000 cells, set aside / 500 days", set_aside, few, 10, "no end in 200 s")
        for columns in (100, 400):
            inputs.side_by_side(top / f"weights{columns}", columns)
        more, few = quickest(1, reading(top / "weights400"), reading(top / "weights100"))
        say("400 weights side by side / 100", more, few, 4, "47 s")


def measure_formats() -> None:
    """One sponsor's HTML, and all of its files, beside reading its site."""
    with tempfile.TemporaryDirectory() as place:
        data.write_site(Path(place), 3_000, 8)
        common = ("-m", "divert", "report", place, "--for", "sponsor", "--period", "2025-Q3",
                  "--sponsor", "Sponsor 1", "--as-of", data.AS_OF.isoformat(), "--as")  # fmt: skip
        html, whole, read = quickest(
            3, python(*common, "html"), python(*common, "pdf,html,xlsx"), reading(Path(place))
        )
        say("one sponsor's HTML / reading the site", html, read, 2, "3.4")
        say("one sponsor in all formats / reading the site", whole, read, 3, "5.3")


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


def measure_kept() -> None:
    """Commands on the sample site whose reading is kept, beside the same with nothing kept."""
    from divert.publish.demonstration import copy_sample

    with tempfile.TemporaryDirectory() as place:
        copy_sample(Path(place) / "yard")
        kept = WITHOUT_CACHE | {"DIVERT_CACHE": f"{place}/kept"}
        for command in ("read", "figures"):
            more = () if command == "read" else ("--period", "2025")
            words = ("-m", "divert", command, f"{place}/yard", *more, "--as-of", "2026-07-01")
            warm, cold = quickest(3, python(*words, env=kept), python(*words))
            say(f"divert {command} of the sample, kept / read anew", warm, cold, 0.5, "1.0, 0.57")


def measure_demo() -> None:
    """The demo, its folder new each time, beside reading the sample."""
    from divert.publish.demonstration import copy_sample

    with tempfile.TemporaryDirectory() as place:
        copy_sample(Path(place) / "yard")
        places = (str(Path(place) / f"demo{n}") for n in range(9))
        demo, read = quickest(
            2,
            lambda: python("-m", "divert", "demo", next(places), "--as-of", "2026-07-01")(),
            python("-m", "divert", "read", f"{place}/yard", "--as-of", "2026-07-01"),
        )
        say("the demo / reading the sample", demo, read, 5, "9.6 (23 s), 22 of the processor")


def measure_sponsors() -> None:
    """Two hundred sponsors in one run: what each costs, beside reading the site; and on more cores."""
    with tempfile.TemporaryDirectory() as place:
        data.write_site(Path(place), 10_000, 200)
        words = ("report", place, "--for", "sponsor", "--period", "2025-Q3", "--as", "pdf", "--as-of",
                 data.AS_OF.isoformat())  # fmt: skip
        said: list[str] = []

        def report() -> None:
            done = subprocess.run(
                [sys.executable, "-c", _IN_PARTS, *words], env=WITHOUT_CACHE, capture_output=True,
                text=True, check=False,
            )  # fmt: skip
            said.append(done.stdout.splitlines()[-1])

        every, read = quickest(1, report, reading(Path(place)))
        say("each of 200 sponsors of one run / reading the site", every / 200, read, 0.2,
            "1.0 s each of the clock, 1.25 of the processor")  # fmt: skip
        before, alone, shared = map(float, said[-1].split())
        print(f"    one core at a time: {before:.1f} s until figures are shared out, {alone:.1f} s later"
              "   was 6.5, then 19")  # fmt: skip
        serial, linear = before + alone, before + alone + shared
        for cores in (2, 4, 16):
            there = serial + shared / cores
            print(f"    on {cores} cores {there:.0f} s, {linear / cores / there:.2f} of linear")


# Seconds of the processor: of the run and its reader until work is first shared among cores, of the run
# from then on, and of the forks.
_IN_PARTS = """
import resource, sys
from divert.cli.commands import main
from divert.publish import all_cores, job, many
def used(who):
    seconds = resource.getrusage(who)
    return seconds.ru_utime + seconds.ru_stime
marks = []
shared = all_cores.on_all_cores
def noted(*what):
    marks.append((used(resource.RUSAGE_SELF), used(resource.RUSAGE_CHILDREN)))
    return shared(*what)
job.on_all_cores = many.on_all_cores = noted
sys.argv[0] = "divert"
try:
    main()
finally:
    alone, reader = marks[0]
    print(alone + reader, used(resource.RUSAGE_SELF) - alone, used(resource.RUSAGE_CHILDREN) - reader)
"""


def measure_issued() -> None:
    """A register of 2,000 reports as a run that issues ten reads it, beside one of 40."""
    import json

    from divert.publish.demonstration import copy_sample
    from divert.register.entries import read_register
    from divert.register.lines import FIRST, made_line

    with tempfile.TemporaryDirectory() as place:
        yard = Path(place) / "yard"
        copy_sample(yard)
        home = WITHOUT_CACHE | {"DIVERT_HOME": f"{place}/home"}
        python("-m", "divert", "report", str(yard), "--for", "board", "--period", "2025", "--as-of",
               "2026-07-01", "--as", "html", "--issue", env=home)()  # fmt: skip
        says = json.loads((yard / "register.jsonl").read_bytes().splitlines()[0])
        says = {key: value for key, value in says.items() if not key.startswith("line_")}
        folders = []
        for count in (2_000, 40):
            folders.append(Path(place) / str(count))
            folders[-1].mkdir()
            before, lines = FIRST, []
            for n in range(count):
                line = made_line({**says, "number": f"2026-{n + 1:04d}"}, before)
                before = line.sha256
                lines.append(line.raw)
            (folders[-1] / "register.jsonl").write_bytes(b"\n".join(lines) + b"\n")

        def thirteen(folder: Path) -> Callable[[], object]:
            return lambda: [read_register(folder) for _ in range(13)]

        many, few = quickest(2, *map(thirteen, folders))
        print(f"a register of 2,000, read by an issue of ten: {many:.2f} s more than of 40 "
              f"({few:.2f} s)   was 70 s more")  # fmt: skip


def measure_issuing() -> None:
    """A whole issue of ten reports where 2,000 were issued before, beside one where 40 were."""
    with tempfile.TemporaryDirectory() as place:
        home = WITHOUT_CACHE | {"DIVERT_HOME": f"{place}/home"}
        first = Path(place) / "first"
        data.write_site(first, 3_000, 10)

        def issue(yard: Path, quarter: str) -> Callable[[], object]:
            return python("-m", "divert", "report", str(yard), "--for", "sponsor", "--period", quarter,
                          "--as-of", data.AS_OF.isoformat(), "--as", "html", "--issue", env=home)  # fmt: skip

        issue(first, "2025-Q2")()
        took = {}
        for count in (2_000, 40):
            yard = data.with_issued(first, Path(place) / str(count), count)
            (took[count],) = quickest(1, issue(yard, "2025-Q3"))
        say("ten reports issued after 2,000 / after 40", took[2_000], took[40], 1.2, "2.7")


def measure_board() -> None:
    """The evidence workbook of a board report over 100,000 rows: its memory."""
    with tempfile.TemporaryDirectory() as place:
        data.write_site(Path(place), 100_000)
        words = ("report", place, "--for", "board", "--period", "2025", "--as", "xlsx", "--as-of",
                 data.AS_OF.isoformat())  # fmt: skip
        said = subprocess.run(
            [sys.executable, "-c", _WITH_MEMORY, *words], env=WITHOUT_CACHE, capture_output=True,
            text=True, check=False,
        ).stdout.splitlines()[-1]  # fmt: skip
        print(
            f"board workbook over 100,000 rows: {said} MB, at most 400   was 1040 to 1092, then 346"
        )


_WITH_MEMORY = """
import resource, sys
from divert.cli.commands import main
sys.argv[0] = "divert"
try:
    main()
finally:
    print(round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024))
"""


PARTS = {
    "help": measure_help,
    "read": measure_read,
    "million": measure_million,
    "ranges": measure_ranges,
    "pdf": measure_pdf,
    "forty": measure_forty,
    "books": measure_books,
    "names": measure_names,
    "csv": measure_csv,
    "across": measure_across,
    "formats": measure_formats,
    "kept": measure_kept,
    "demo": measure_demo,
    "sponsors": measure_sponsors,
    "issued": measure_issued,
    "issuing": measure_issuing,
    "board": measure_board,
    "together": measure_together,
    "page": measure_page,
    "rows": measure_rows,
}

if __name__ == "__main__":
    for part in [one for one in sys.argv[1:] if one in PARTS] or PARTS:
        PARTS[part]()
