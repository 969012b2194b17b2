"""What reports cost: one and many, in each format, and after many that were issued."""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import benchmark_data as data
from benchmark_measure import WITHOUT_CACHE, python, quickest, say, say_used, timed, used


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


def measure_formats() -> None:
    """One sponsor's HTML, and all of its files, in seconds of the processor."""
    with tempfile.TemporaryDirectory() as place:
        data.write_site(Path(place), 3_000, 8)
        common = ("-m", "divert", "report", place, "--for", "sponsor", "--period", "2025-Q3",
                  "--sponsor", "Sponsor 1", "--as-of", data.AS_OF.isoformat(), "--as")  # fmt: skip
        for what, formats, asked in (
            ("as HTML", "html", 2.5),
            ("in all formats", "pdf,html,xlsx", 4),
        ):
            report = python(*common, formats)
            say_used(f"one sponsor {what}", min(timed(report, used) for _ in range(3)), asked)


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
    """Two hundred sponsors in one run: what each costs in seconds of the clock; and on more cores.

    By the clock, for what was asked of it was seen by the clock, on two cores.
    """
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

        began = used()
        clock = timed(report, time.perf_counter) / 200
        say_used("each of 200 sponsors of one run", clock, 0.5, "1.0", of="the clock")
        print(f"    {(used() - began) / 200:.2f} s of the processor each   was 1.25")
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
    "pdf": measure_pdf,
    "forty": measure_forty,
    "formats": measure_formats,
    "demo": measure_demo,
    "sponsors": measure_sponsors,
    "issued": measure_issued,
    "issuing": measure_issuing,
    "board": measure_board,
}
