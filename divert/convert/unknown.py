"""Rows that cannot be used, and names nobody has told us about, each as a finding."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np
import pandas as pd

from divert.convert.columns import of_names
from divert.convert.naming import NOT_STATED, Meaning
from divert.convert.places import each_row, place, places
from divert.core.findings import Finding, Where
from divert.core.names import NameBook
from divert.core.words import N_, Text
from divert.factors import FactorSet
from divert.site.model import CLAIMED, Site

NEEDS_MASS = ("intake", "removed", "residue", "disposed")
_WHAT = {
    "material": N_("The material “{name}” is not in site.toml or the built-in list."),
    "source": N_("The source “{name}” is not in site.toml."),
    "container": N_("The container “{name}” is not in site.toml."),
}
_UNCLAIMED = N_(
    "The material “{name}” is not in site.toml or the built-in list, so it is not claimed."
)
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


def refusals(ledger: pd.DataFrame, site: Site, flat: list[Meaning]) -> dict[str, np.ndarray]:
    """Return the places in the ledger of the rows that cannot be used, by the code of the reason."""
    net = ledger["net_kg"].to_numpy()
    no_volume = np.isnan(ledger["volume_m3"].to_numpy())
    needs = of_names(ledger["kind"], NEEDS_MASS)
    weigh_in = of_names(ledger["kind"], ("weigh-in",))
    missing = needs & np.isnan(ledger["mass_kg"].to_numpy())
    half = weigh_in & (np.isnan(net) | no_volume)
    none_removed = of_names(ledger["kind"], ("removed", "residue")) & (net == 0)  # a fact, no slip
    zero = (needs | weigh_in) & (net <= 0) & ~none_removed
    known = np.array([m.known for m in flat] + [True])
    strange = missing & ~no_volume & ~known[ledger["meaning"].to_numpy()]
    # A volume of a known material that no list gives a density for is as unusable as no quantity.
    # Product needs no density, but ten bags of nobody knows what size are no harvest that counts.
    unmeasured = of_names(ledger["kind"], ("harvest",)) & np.isnan(net) & no_volume
    nothing = (missing | half | unmeasured) & ~strange & ~zero
    boxes = [c.name for c in site.containers if c.volume_m3 is not None]
    named = np.array([str(c) not in boxes for c in ledger["container"].cat.categories] + [False])
    box = np.zeros(len(ledger), dtype=bool)
    some = np.flatnonzero(nothing & no_volume)
    box[some] = named[ledger["container"].cat.codes.to_numpy()[some]]
    found = {
        "no quantity": nothing & ~box,
        "unknown container": box,
        "unknown material": strange & ~zero,
        "net mass zero or less": zero,
    }
    return {code: np.flatnonzero(mask) for code, mask in found.items() if mask.any()}


def refused_findings(rows: pd.DataFrame, code: str, books: Mapping[str, NameBook]) -> list[Finding]:
    """Return the findings of rows refused for one reason, with the nearest known name as a hint."""
    field = code.removeprefix("unknown ") if code.startswith("unknown ") else ""
    names = rows[field].astype(object).tolist() if field else [""] * len(rows)
    said: dict[str, tuple[Text, Text]] = {}
    for name in dict.fromkeys(names):
        hint = Text(N_("Fill in a weight, or a count with a container, in this row."))
        if code == "no quantity" and rows["volume_m3"].notna().all():
            hint = Text(N_("No density is known for it: fill in a weight, or state a density "
                           "under [[material]] in site.toml."))  # fmt: skip
        if field:
            hint = _nearest_of(books[field], str(name))
        said[name] = (Text(_REASONS[code], {"name": str(name)} if field else {}), hint)
    return each_row("refused", code, rows, [said[name] for name in names])


def _nearest_of(book: NameBook, name: str) -> Text:
    near = book.nearest(name)
    if near:
        return Text(N_("Did you mean “{near}”?"), {"near": near})
    return Text(N_("Add it to site.toml, or correct the sheet."))


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
    is_intake = of_names(used["kind"], ("intake",))
    strange = {m.material.name for m in flat if not m.known}
    known_by: dict[str, Callable[[str], bool]] = {
        "material": lambda name: name not in strange,
        "source": lambda name: books["source"].find(name) is not None or name == NOT_RECORDED,
        "container": lambda name: books["container"].find(name) is not None,
    }
    for field, known in known_by.items():
        first = _first(used, field, is_intake)
        for name, count in _met(used, field, is_intake):
            if known(name):
                continue
            said = _UNCLAIMED if field == "material" and _unclaimed(used, name) else _WHAT[field]
            out.append(
                Finding("query", f"unknown {field}", Text(said, {"name": name}),
                        first[name], _nearest_of(books[field], name),
                        found=name, rows=count, name=name)
            )  # fmt: skip
    for name, count in _met(used, "source", is_intake):
        if name == NOT_RECORDED:
            out.append(
                Finding("query", "source not recorded",
                        Text(N_("Entries that do not say who the material came from: {rows}."),
                             {"rows": count}),
                        _first(used, "source", is_intake)[name],
                        Text(N_("They are counted under “not recorded”.")),
                        rows=count, name=NOT_RECORDED)
            )  # fmt: skip
    return out


def _unclaimed(used: pd.DataFrame, name: str) -> bool:
    """Return whether a material is received of which nobody says where it went before."""
    rows = of_names(used["material"], (name,)) & of_names(used["kind"], ("intake",))
    return bool((rows & of_names(used["before"], (NOT_STATED,))).any())


def _met(used: pd.DataFrame, field: str, mask: np.ndarray) -> list[tuple[str, int]]:
    """Return each name of a text column among the masked rows and how many rows have it."""
    names = used[field].cat.categories
    codes = used[field].cat.codes.to_numpy()
    counts = np.bincount(
        (codes if mask.all() else codes[mask]) + np.int64(1), minlength=len(names) + 1
    )[1:]
    return [(str(name), int(n)) for name, n in zip(names, counts, strict=True) if n]


def _first(used: pd.DataFrame, field: str, mask: np.ndarray) -> dict[str, Where]:
    """Return the place of the first masked row of each name of a text column."""
    column = used[field].cat
    rows = np.flatnonzero(mask)
    codes, first = np.unique(column.codes.to_numpy()[rows], return_index=True)
    names = [str(column.categories[code]) if code >= 0 else "" for code in codes.tolist()]
    where = places(used[["file", "sheet", "row", "column"]].iloc[rows[first]])
    return dict(zip(names, where, strict=True))


NOT_RECORDED = "not recorded"


def fate_queries(used: pd.DataFrame, flat: list[Meaning]) -> list[Finding]:
    """Return one query per material whose fate is the list's usual one, for nobody has said it.

    Until then it counts by that: claimed where it is a disposal, not claimed where it is none.
    """
    meaning_of, mass = used["meaning"].to_numpy(), used["mass_kg"].to_numpy()
    assumed = of_names(used["kind"], ("intake",)) & used["fate_assumed"].to_numpy(dtype=bool)
    out: list[Finding] = []
    for number, meaning in enumerate(flat):
        here = assumed & (meaning_of == number)
        if not meaning.known or not here.any():  # an unknown name is asked about as such, once
            continue
        claimed = meaning.usual_fate in CLAIMED
        said = N_("Nobody has said where “{name}” went before; its usual fate is {fate}, so it is not "
                  "claimed.")  # fmt: skip
        if not meaning.usual_fate:
            said = N_("Nobody has said where “{name}” went before, so it is not claimed.")
        if claimed:
            said = N_("Nobody has said where “{name}” went before; its usual fate is {fate}, so it is "
                      "claimed, as resting on an assumed fate.")  # fmt: skip
        hint = N_("Write before = \"landfill\", or where it truly went, under this material or its "
                  "source in site.toml.")  # fmt: skip
        name = meaning.material.name
        out.append(
            Finding("query", "usual fate not stated",
                    Text(said, {"name": name, "fate": Text(meaning.usual_fate or NOT_STATED)}),
                    place(used, int(np.argmax(here))), Text(hint), rows=int(here.sum()), name=name,
                    mass_kg=float(np.nansum(mass[here])))
        )  # fmt: skip
    return out
