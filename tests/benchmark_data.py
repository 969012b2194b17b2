"""Made-up years of data for tests/benchmark.py: a ledger, a workbook, a site with forty sponsors."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pandas as pd
import xlsxwriter

from divert.core.reading import Reading, reading_of
from divert.factors import load_factors
from divert.site.model import Container, Material, Site, Source, Sponsor

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
    rows: int,
    sources: int = 40,
    materials: int = 12,
    containers: int = 5,
    days: int = 3652,
    slips: float = 0.001,
) -> Reading:
    """Return intake entries in the dtypes the reader gives: a third weighed, the rest by container.

    Of the weighed ones a share of ``slips`` is as heavy as no such load can be.
    """
    draw = np.random.default_rng(7)

    def named(names: Sequence[str]) -> pd.Categorical:
        return pd.Categorical.from_codes(draw.integers(0, len(names), rows), list(names))

    boxes, kinds = list(CONTAINERS)[:containers], named([f"material {n}" for n in range(materials)])
    container, count = named(boxes), draw.integers(1, 6, rows).astype(float)
    fill = np.where(draw.random(rows) < 0.5, draw.choice([0.5, 0.75, 1.0], rows), np.nan)
    known = load_factors(None)
    usual = np.array([known.density(name).value for name in LIKE[:materials]])
    brim = np.array([CONTAINERS[name][0] for name in boxes])
    mass = usual[kinds.codes] * brim[container.codes] * count * np.where(fill > 0, fill, 0.85)
    mass *= draw.uniform(0.8, 1.2, rows) * np.where(draw.random(rows) < slips, 10, 1)
    start = np.datetime64(STARTED, "s")
    same = np.zeros(rows, "int8")
    return reading_of(
        pd.DataFrame(
            {
                "kind": pd.Categorical.from_codes(same, ["intake"]),
                "date": start + np.sort(draw.integers(0, days, rows)).astype("timedelta64[D]"),
                "source": named([f"Source {n}" for n in range(sources)]),
                "material": kinds,
                "container": container,
                "count": count,
                "fill": fill,
                "mass_kg": np.where(draw.random(rows) < 1 / 3, mass.round(1), np.nan),
                "removed_share": np.where(draw.random(rows) < 0.1, 0.03, np.nan),
                "file": pd.Categorical.from_codes(same, ["log.xlsx"]),
                "sheet": pd.Categorical.from_codes(same, ["Log"]),
                "row": np.arange(2, rows + 2, dtype="int32"),
            }
        )
    )


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


def with_issued(yard: Path, copy: Path, count: int) -> Path:
    """Return a copy of a yard in which each of its issued reports was issued again and again.

    The register gets ``count`` lines, each with its own number and snapshot; those are hard links.
    """
    import json
    import os
    import shutil

    from divert.inventory.issued_folder import LINE
    from divert.register.lines import FIRST, made_line

    shutil.copytree(yard, copy, ignore=shutil.ignore_patterns("issued", "register*"))
    says = [json.loads(line) for line in (yard / "register.jsonl").read_bytes().splitlines()]
    lines, before = [], FIRST
    for n in range(count):
        one = {
            key: value for key, value in says[n % len(says)].items() if not key.startswith("line_")
        }
        number = f"2026-{n + 1:04d}"
        shutil.copytree(
            yard / "issued" / one["number"], copy / "issued" / number, copy_function=os.link
        )
        line = made_line({**one, "number": number}, before)
        before = line.sha256
        lines.append(line.raw)
        kept = copy / "issued" / number / LINE
        if kept.exists():
            kept.unlink()
            kept.write_bytes(line.raw)
    (copy / "register.jsonl").write_bytes(b"\n".join(lines) + b"\n")
    return copy
