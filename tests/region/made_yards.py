"""Made-up yards for the tests of many yards: folders with site.toml and a log, and frames in memory.

Everything follows from the number of the yard, so that any machine makes the same ones. Run as a
program it makes a region to try things on:

    python tests/region/made_yards.py FOLDER 1000 500
"""

from __future__ import annotations

import csv
import datetime as dt
import sys
from pathlib import Path

import numpy as np
import pandas as pd

STARTED, AS_OF = dt.date(2024, 1, 1), dt.date(2026, 1, 10)
DAYS = (dt.date(2025, 12, 31) - STARTED).days + 1
PLACES = ("Alder", "Birch", "Cedar", "Dogwood", "Elm", "Fern", "Gorse", "Hazel", "Iris", "Juniper")
GROUNDS = (
    "Bend",
    "Brook",
    "Corner",
    "Field",
    "Green",
    "Hollow",
    "Landing",
    "Meadow",
    "Mill",
    "Ridge",
)
GROUPS = ("North shore", "Old town", "Upper valley")
LANDFILLS = ("Saltgrass", "Quarry Hill", "Long Marsh", "")
# Our word for it in the sheets, the entry of the built-in list.
MATERIALS = (
    ("kitchen scraps", "food-scraps"),
    ("coffee grounds", "coffee-grounds"),
    ("cut flowers", "cut-flowers"),
    ("cardboard", "cardboard"),
)
# What the made-up loads weigh, kg per cubic metre; near the built-in list, and no claim about it.
USUAL_KG_M3 = {
    "kitchen scraps": 480.0,
    "coffee grounds": 400.0,
    "cut flowers": 150.0,
    "cardboard": 90.0,
}
SOURCES = ("Lantern Row Cafe", "Quillmarsh School", "Harrowgate Lane Co-op", "Tern Street Florist")
PAIL_L, PAIL_KG = 20.0, 1.0


def name_of(number: int) -> str:
    """Return a yard's name; a thousand of them have but a hundred names, as real ones do."""
    return f"{PLACES[number % 10]} {GROUNDS[number // 10 % 10]} Yard"


def site_toml(number: int) -> str:
    """Return the settings of one yard: some weigh, some state a density, one in four no landfill."""
    landfill = LANDFILLS[number % len(LANDFILLS)]
    lines = [
        f'[site]\nname = "{name_of(number)}"\nunits = "{"metric" if number % 5 == 4 else "us"}"',
        f'started = {STARTED}\ndates = "month first"\n\n[landfill]',
        f'name = "{landfill}"\n' if landfill else "",
        "gas_captured = { low = 0.2, typical = 0.4, high = 0.6 }\n",
        f'[[container]]\nname = "pail"\nvolume = "{PAIL_L:g} L"\ntare = "{PAIL_KG:g} kg"',
        "usual_fill = 0.85\n" if number % 3 else "",
    ]
    for own, like in MATERIALS:
        lines.append(f'[[material]]\nname = "{own}"\nlike = "{like}"\nbefore = "landfill"')
        if number % 7 == 3 and own == "kitchen scraps":
            lines.append('density = "550 kg/m3"')
    lines += [f'[[source]]\nname = "{source}"' for source in SOURCES]
    return "\n".join(lines) + "\n"


def loads(number: int, rows: int) -> pd.DataFrame:
    """Return a yard's loads: day, source, material, pails, fill (NaN where nobody wrote it), kg.

    Every second yard has no scale, and rests on published densities.
    """
    draw = np.random.default_rng([17, number])
    material = draw.integers(0, len(MATERIALS), rows)
    count = draw.integers(1, 6, rows).astype(float)
    fill = draw.choice([0.5, 0.75, 1.0], rows)
    usual = np.array([USUAL_KG_M3[own] for own, _ in MATERIALS])[material]
    mass = usual * count * fill * PAIL_L / 1000 * draw.normal(1, 0.1, rows).clip(0.7, 1.3)
    return pd.DataFrame(
        {
            "date": np.datetime64(STARTED, "s")
            + np.sort(draw.integers(0, DAYS, rows)).astype("timedelta64[D]"),
            "source": draw.choice(SOURCES, rows),
            "material": np.array([own for own, _ in MATERIALS])[material],
            "count": count,
            "fill": np.where(draw.random(rows) < 0.6, fill, np.nan),
            "mass_kg": np.where(draw.random(rows) < 0.2 * (number % 2), mass.round(2), np.nan),
        }
    )


def write_yard(folder: Path, number: int, rows: int) -> Path:
    """Make one yard's folder: its settings and a log with a row for each load."""
    folder.mkdir(parents=True)
    (folder / "site.toml").write_text(site_toml(number), encoding="utf-8")
    with (folder / "log.csv").open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file)
        out.writerow(["Date", "Source", "Material", "Pails", "How full", "Net weight (kg)"])
        for load in loads(number, rows).itertuples(index=False):
            fill, kg = (
                "" if value != value else f"{value:g}" for value in (load.fill, load.mass_kg)
            )
            out.writerow(
                [f"{load.date:%Y-%m-%d}", load.source, load.material, f"{load.count:g}", fill, kg]
            )
    return folder


def write_region(folder: Path, yards: int, rows: int) -> Path:
    """Make a region: a folder for each yard, and a list of them with a group for each."""
    parts = ['[region]\nname = "Saltgrass Shore yards"\nunits = "metric"\n']
    for number in range(yards):
        place = f"yard-{number:04d}"
        write_yard(folder / place, number, rows)
        parts.append(f'[[yard]]\nfolder = "{place}"\ngroup = "{GROUPS[number % len(GROUPS)]}"\n')
    (folder / "yards.toml").write_text("\n".join(parts), encoding="utf-8")
    return folder


if __name__ == "__main__":
    write_region(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
