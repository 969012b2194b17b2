"""Rows that cannot be used, and names nobody has told us about, each as a finding."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

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
    refused = codes != ""
    for (_, row), code in zip(ledger[refused].iterrows(), codes[refused], strict=True):
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


def where(row: pd.Series[Any]) -> Where:
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
    is_intake = (used["kind"] == "intake").to_numpy()
    strange = {m.material.name for m in flat if not m.known}
    known_by: dict[str, Callable[[str], bool]] = {
        "material": lambda name: name not in strange,
        "source": lambda name: books["source"].find(name) is not None or name == NOT_RECORDED,
        "container": lambda name: books["container"].find(name) is not None,
    }
    for field, known in known_by.items():
        for name, count, first in _met(used, field, is_intake):
            if known(name):
                continue
            near = books[field].nearest(name)
            hint = (
                Text(N_("Did you mean “{near}”?"), {"near": near})
                if near
                else Text(N_("Add it to site.toml, or correct the sheet."))
            )
            out.append(
                Finding("query", f"unknown {field}", Text(_WHAT[field], {"name": name}),
                        where(first), hint, found=name, rows=count, name=name)
            )  # fmt: skip
    for name, count, first in _met(used, "source", is_intake):
        if name == NOT_RECORDED:
            out.append(
                Finding("query", "source not recorded",
                        Text(N_("{rows} entries do not say who the material came from."),
                             {"rows": count}),
                        where(first),
                        Text(N_("They are counted under “not recorded”.")),
                        rows=count, name=NOT_RECORDED)
            )  # fmt: skip
    return out


def _met(used: pd.DataFrame, field: str, mask: np.ndarray) -> list[tuple[str, int, pd.Series[Any]]]:
    """Return each name of a text column among the masked rows, its count and its first row."""
    codes = np.where(mask, used[field].cat.codes.to_numpy(), -1)
    counts = np.bincount(codes + 1, minlength=len(used[field].cat.categories) + 1)[1:]
    return [
        (str(name), int(count), used.iloc[int(np.argmax(codes == code))])
        for code, (name, count) in enumerate(zip(used[field].cat.categories, counts, strict=True))
        if count
    ]


NOT_RECORDED = "not recorded"


def fate_queries(used: pd.DataFrame, flat: list[Meaning], site: Site) -> list[Finding]:
    """Return one query per material that is not claimed only because nobody said where it went."""
    out = []
    told = {s.name for s in site.sources if s.before}
    told_source = np.array([str(c) in told for c in used["source"].cat.categories] + [False])
    open_rows = (used["kind"] == "intake").to_numpy() & ~told_source[used["source"].cat.codes]
    meaning_of = used["meaning"].to_numpy()
    for number, meaning in enumerate(flat):
        if meaning.material.before or meaning.usual_fate in CLAIMED:
            continue
        default = meaning.usual_fate or NOT_STATED
        here = open_rows & (meaning_of == number) & (used["before"] == default).to_numpy()
        if not here.any():
            continue
        name = meaning.material.name
        said = N_("“{name}” is usually {fate}, so it is not claimed.")
        if not meaning.usual_fate:
            said = N_("Nobody has said where “{name}” went before, so it is not claimed.")
        out.append(
            Finding("query", "usual fate not stated",
                    Text(said, {"name": name, "fate": Text(default)}),
                    where(used.iloc[int(np.argmax(here))]),
                    Text(N_("If it would have been thrown away, write before = \"landfill\" under "
                            "this material or its source in site.toml.")),
                    rows=int(here.sum()), name=name)
        )  # fmt: skip
    return out
