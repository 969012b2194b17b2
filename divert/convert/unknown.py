"""Rows that cannot be used, and names nobody has told us about, each as a finding."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pandas as pd

from divert.convert.naming import NOT_STATED, Meaning
from divert.factors import FactorSet
from divert.findings import Finding, Where
from divert.names import NameBook
from divert.site import CLAIMED, Site
from divert.words import N_, Text

NEEDS_MASS = ("intake", "removed", "residue", "disposed")
_WHAT = {
    "material": N_("The material “{name}” is not in site.toml or the built-in list."),
    "source": N_("The source “{name}” is not in site.toml."),
    "container": N_("The container “{name}” is not in site.toml."),
}


def refusals(ledger: pd.DataFrame, site: Site, flat: list[Meaning]) -> pd.Series[str]:
    """Return the code under which each row is refused, "" where it is not."""
    kind = ledger["kind"].astype(str).to_numpy()
    mass = ledger["mass_kg"].to_numpy()
    needs = np.isin(kind, NEEDS_MASS)
    missing = np.isnan(mass) & needs
    boxes = {c.name for c in site.containers if c.volume_m3 is not None}
    strange_box = _not_among(ledger["container"], boxes) & ledger["volume_m3"].isna().to_numpy()
    known = np.array([m.known for m in flat] + [True])
    strange_material = ~known[ledger["meaning"].to_numpy()]
    no_density = missing & ledger["volume_m3"].notna().to_numpy()
    weigh_in = kind == "weigh-in"
    half = weigh_in & (ledger["net_kg"].isna() | ledger["volume_m3"].isna()).to_numpy()
    nothing = (missing & ~no_density) | half
    out = np.full(len(ledger), "", dtype=object)
    out[nothing] = "no quantity"
    out[nothing & strange_box] = "unknown container"
    out[no_density] = "unknown material"
    # A volume of a known material that no list gives a density for is as unusable as no quantity.
    out[no_density & ~strange_material] = "no quantity"
    weighed = ~np.isnan(ledger["net_kg"].to_numpy()) & (needs | weigh_in)
    out[weighed & (ledger["net_kg"].to_numpy() <= 0)] = "net mass zero or less"
    return pd.Series(out, index=ledger.index)


def _not_among(column: pd.Series[str], known: set[str]) -> np.ndarray:
    table = np.array([str(c) not in known for c in column.cat.categories] + [False])
    return np.asarray(table[column.cat.codes.to_numpy()])


_REASONS = {
    "no quantity": N_("This entry has no mass, and no volume that a known density turns into one."),
    "net mass zero or less": N_(
        "The net mass is zero or less once the empty container is taken off."
    ),
    "unknown container": N_(
        "The container “{name}” is not in site.toml, so its volume is not known."
    ),
    "unknown material": N_(
        "The material “{name}” is not known, so its density is not known either."
    ),
}


def refused_findings(
    ledger: pd.DataFrame, codes: pd.Series[str], books: Mapping[str, NameBook]
) -> list[Finding]:
    """Return one refused finding per refused row, with the nearest known name as a hint."""
    out = []
    for place, code in codes[codes != ""].items():
        row = ledger.loc[place]
        field = code.removeprefix("unknown ") if code.startswith("unknown ") else ""
        name = str(row[field]) if field else ""
        near = books[field].nearest(name) if field else None
        if near:
            hint = Text(N_("Did you mean “{near}”?"), {"near": near})
        elif field:
            hint = Text(N_("Add it to site.toml, or correct the sheet."))
        else:
            hint = Text(N_("Fill in a weight, or a count with a container, in this row."))
        out.append(
            Finding("refused", str(code), Text(_REASONS[str(code)], {"name": name} if field else {}),
                    where(row), hint, found=str(row["found"]))
        )  # fmt: skip
    return out


def where(row: pd.Series) -> Where:
    """Return the place a ledger row came from."""
    return Where(
        None if pd.isna(row["file"]) else str(row["file"]),
        None if pd.isna(row["sheet"]) else str(row["sheet"]),
        int(row["row"]),
        None if pd.isna(row["column"]) else str(row["column"]) or None,
    )


def name_books(site: Site, factors: FactorSet) -> dict[str, NameBook]:
    """Return the known names of materials, sources and containers."""
    materials = {m.name: list(m.also) for m in site.materials}
    for entry in factors.materials.values():
        materials.setdefault(entry.name, [entry.key, *entry.also])
    return {
        "material": NameBook(materials),
        "source": NameBook({s.name: s.also for s in site.sources}),
        "container": NameBook({c.name: c.also for c in site.containers}),
    }


def name_queries(
    used: pd.DataFrame, site: Site, flat: list[Meaning], books: Mapping[str, NameBook]
) -> list[Finding]:
    """Return one query per unknown name among the used rows, and per source left blank."""
    out: list[Finding] = []
    intake = used[used["kind"] == "intake"]
    strange = {m.material.name for m in flat if not m.known}
    known_by = {
        "material": lambda name: name not in strange,
        "source": lambda name: books["source"].find(name) is not None or name == NOT_RECORDED,
        "container": lambda name: books["container"].find(name) is not None,
    }
    for field, known in known_by.items():
        for name, rows in intake.groupby(field, observed=True):
            if known(str(name)):
                continue
            near = books[field].nearest(str(name))
            hint = (
                Text(N_("Did you mean “{near}”?"), {"near": near})
                if near
                else Text(N_("Add it to site.toml, or correct the sheet."))
            )
            out.append(
                Finding("query", f"unknown {field}", Text(_WHAT[field], {"name": str(name)}),
                        where(rows.iloc[0]), hint, found=str(name), rows=len(rows), name=str(name))
            )  # fmt: skip
    blank = intake[intake["source"] == NOT_RECORDED]
    if len(blank):
        out.append(
            Finding("query", "source not recorded",
                    Text(N_("{rows} entries do not say who the material came from."),
                         {"rows": len(blank)}),
                    where(blank.iloc[0]),
                    Text(N_("They are counted under “not recorded”.")),
                    rows=len(blank), name=NOT_RECORDED)
        )  # fmt: skip
    return out


NOT_RECORDED = "not recorded"


def fate_queries(used: pd.DataFrame, flat: list[Meaning], site: Site) -> list[Finding]:
    """Return one query per material that is not claimed only because nobody said where it went."""
    out = []
    said = {s.name for s in site.sources if s.before}
    intake = used[used["kind"] == "intake"]
    for number, rows in intake.groupby("meaning"):
        meaning = flat[int(str(number))] if int(str(number)) >= 0 else None
        if meaning is None or meaning.material.before or meaning.usual_fate in CLAIMED:
            continue
        rows = rows[~rows["source"].isin(list(said))]
        default = meaning.usual_fate or NOT_STATED
        rows = rows[rows["before"] == default]
        if rows.empty:
            continue
        name = meaning.material.name
        out.append(
            Finding("query", "usual fate not stated",
                    Text(N_("“{name}” is usually {fate}, so it is not claimed."),
                         {"name": name, "fate": Text(default)}),
                    where(rows.iloc[0]),
                    Text(N_("If it would have been thrown away, write before = \"landfill\" under "
                            "this material or its source in site.toml.")),
                    rows=len(rows), name=name)
        )  # fmt: skip
    return out
