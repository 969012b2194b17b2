"""What reading costs: long sheets, many, messy, wide and far ones, and what was read before."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import benchmark_data as data
import benchmark_inputs as inputs
from benchmark_measure import WITHOUT_CACHE, python, quickest, say


def reading(folder: Path) -> Callable[[], None]:
    return python("-m", "divert", "read", str(folder), "--as-of", data.AS_OF.isoformat())


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
        kept = WITHOUT_CACHE | {"DIVERT_CACHE": str(folder / "kept")}

        def again() -> None:
            subprocess.run([sys.executable, *command], env=kept, capture_output=True, check=False)

        again()
        print(f"    a second run on the same file: {quickest(3, again)[0]:.3f} s")


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
        inputs.clean_books(top / "clean", 200)
        ours, raw = quickest(2, reading(top / "clean"), raw_books(top / "clean"))
        say(
            "200 clean workbooks of 500 rows / calamine and pandas",
            ours,
            raw,
            4,
            "of 60 13.7, then 7.4, 4.9 and 3.8",
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


PARTS = {
    "read": measure_read,
    "books": measure_books,
    "names": measure_names,
    "csv": measure_csv,
    "across": measure_across,
    "kept": measure_kept,
}
