"""Made-up years of data for tests/benchmark.py: a ledger, a workbook, a site with forty sponsors."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import numpy as np
import pandas as pd
import xlsxwriter

from divert import ledger as books
from divert.reading import SET_ASIDE_COLUMNS, SKIPPED_COLUMNS, Reading
from divert.site import Container, Material, Site, Source, Sponsor

STARTED, AS_OF = dt.date(2016, 1, 1), dt.date(2026, 1, 10)
LIKE = (
    "food-scraps", "coffee-grounds", "spent-grain", "cut-flowers", "leaves", "grass", "brush",
    "stable-manure", "cardboard", "office-paper", "wood-chips", "straw",
)  # fmt: skip
CONTAINERS = {"pail": (0.0189, 0.9), "tote": (0.242, 12.7), "bin": (0.121, 7.0), "drum": (0.208, 9.5),
              "cart": (0.36, 16.0)}  # fmt: skip


def site(folder: Path, sources: int = 40, materials: int = 12) -> Site:
    """Return a site with its sources, materials and five containers, and a sponsor per source."""
    return Site(
        folder, "Kestrel Bend Community Farm", "us", STARTED,
        containers=tuple(
            Container(name, volume_m3=volume, tare_kg=tare, usual_fill=0.85)
            for name, (volume, tare) in CONTAINERS.items()
        ),
        materials=tuple(
            Material(f"material {n}", like=LIKE[n], before="landfill") for n in range(materials)
        ),
        sources=tuple(Source(f"Source {n}") for n in range(sources)),
        sponsors=tuple(Sponsor(f"Sponsor {n}", supplies=(f"Source {n}",)) for n in range(sources)),
    )  # fmt: skip


def reading(
    rows: int, sources: int = 40, materials: int = 12, containers: int = 5, days: int = 3652
) -> Reading:
    """Return intake entries in the dtypes the reader gives: a third weighed, the rest by container."""
    draw = np.random.default_rng(7)
    weighed = draw.random(rows) < 1 / 3

    def named(prefix: str, count: int) -> pd.Categorical:
        names = [f"{prefix} {n}" for n in range(count)]
        return pd.Categorical.from_codes(draw.integers(0, count, rows), names)

    kinds = pd.Categorical.from_codes(np.zeros(rows, "int8"), ["intake"])
    boxes = pd.Categorical.from_codes(
        draw.integers(0, containers, rows), list(CONTAINERS)[:containers]
    )
    start = np.datetime64(STARTED, "s")
    frame = pd.DataFrame(
        {
            "kind": kinds,
            "date": start + np.sort(draw.integers(0, days, rows)).astype("timedelta64[D]"),
            "source": named("Source", sources),
            "material": named("material", materials),
            "container": boxes,
            "count": draw.integers(1, 6, rows).astype(float),
            "fill": np.where(draw.random(rows) < 0.5, draw.choice([0.5, 0.75, 1.0], rows), np.nan),
            "mass_kg": np.where(weighed, draw.uniform(4, 80, rows).round(1), np.nan),
            "removed_share": np.where(draw.random(rows) < 0.1, 0.03, np.nan),
            "file": pd.Categorical.from_codes(np.zeros(rows, "int8"), ["log.xlsx"]),
            "sheet": pd.Categorical.from_codes(np.zeros(rows, "int8"), ["Log"]),
            "row": np.arange(2, rows + 2, dtype="int32"),
        }
    )
    nothing = [
        pd.DataFrame({c: [] for c in columns}) for columns in (SET_ASIDE_COLUMNS, SKIPPED_COLUMNS)
    ]
    return Reading(books.tidy(frame), *nothing, ())


SITE_TOML = """[site]
name = "Kestrel Bend Community Farm"
units = "us"
started = 2016-01-01
gallon = "us"
"""


def write_site(folder: Path, rows: int, sponsors: int = 40) -> None:
    """Make a site folder with one workbook of ``rows`` rows and a sponsor for each source."""
    folder.mkdir(parents=True, exist_ok=True)
    parts = [SITE_TOML]
    for name, (volume, tare) in CONTAINERS.items():
        parts.append(f'[[container]]\nname = "{name}"\nvolume = "{volume * 1000:g} L"\n'
                     f'tare = "{tare:g} kg"\nusual_fill = 0.85\n')  # fmt: skip
    for n, like in enumerate(LIKE):
        parts.append(f'[[material]]\nname = "material {n}"\nlike = "{like}"\nbefore = "landfill"\n')
    for n in range(sponsors):
        parts.append(f'[[source]]\nname = "Source {n}"\n')
        parts.append(f'[[sponsor]]\nname = "Sponsor {n}"\nsupplies = ["Source {n}"]\n')
    (folder / "site.toml").write_text("\n".join(parts), encoding="utf-8")
    write_workbook(folder / "log.xlsx", rows, sponsors)


def write_workbook(path: Path, rows: int, sources: int = 40) -> None:
    """Write a log of ``rows`` rows over ten years in one sheet, as a crew would keep it."""
    draw = np.random.default_rng(11)
    days = np.sort(draw.integers(0, 3652, rows))
    source, material = draw.integers(0, sources, rows), draw.integers(0, len(LIKE), rows)
    boxes = draw.choice(list(CONTAINERS), rows)
    count, fill = draw.integers(1, 6, rows), draw.choice([0.5, 0.75, 1.0], rows)
    pounds = np.where(draw.random(rows) < 1 / 3, draw.uniform(10, 180, rows).round(1), np.nan)
    with xlsxwriter.Workbook(path, {"constant_memory": True}) as book:
        day = book.add_format({"num_format": "yyyy-mm-dd"})
        sheet = book.add_worksheet("Log")
        sheet.write_row(
            0, 0,
            ["Date", "Source", "Material", "Container", "Count", "How full", "Weight (lb)", "Notes"],
        )  # fmt: skip
        for r in range(rows):
            sheet.write_number(r + 1, 0, 42370 + int(days[r]), day)  # 42370 is 2016-01-01
            sheet.write_string(r + 1, 1, f"Source {source[r]}")
            sheet.write_string(r + 1, 2, f"material {material[r]}")
            sheet.write_string(r + 1, 3, str(boxes[r]))
            sheet.write_number(r + 1, 4, int(count[r]))
            sheet.write_number(r + 1, 5, float(fill[r]))
            if not np.isnan(pounds[r]):
                sheet.write_number(r + 1, 6, float(pounds[r]))
            if r % 10 == 0:
                sheet.write_string(r + 1, 7, f"route {r % 7}")
