"""The lines of evidence: every entry behind a report as inputs only, nothing worked out yet."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert import Workings
from divert.convert.density import weigh_ins
from divert.convert.naming import NOT_STATED, meanings
from divert.convert.unknown import NOT_RECORDED
from divert.core.names import plain
from divert.figures.extras import SPENT
from divert.site.model import DONATED, Landfill, Site, Sponsor

TEXT = (
    "kind", "source", "material", "condition", "container", "found", "file", "sheet", "column",
    "basis", "factor", "before", "decay_class", "own", "teaches", "name", "unit", "currency",
    "destination", "note", "screening", "spread", "assumed", "bulk", "bulk_out",
)  # fmt: skip
NUMBER = (
    "line", "row", "rows", "count", "container_m3", "fill", "given_m3", "weighed_kg", "gross_kg",
    "tare_kg", "removed_given_kg", "removed_share", "from_line", "share", "landfill", "funded",
    "amount",
)  # fmt: skip
COLUMNS = ("date", *TEXT, *NUMBER)
REMOVED, RESIDUE = "removed, charged", "residue, charged"
CHARGED = (REMOVED, RESIDUE)
_AS_ENTERED = (
    "source", "material", "condition", "container", "found", "file", "sheet", "column", "basis",
    "factor", "before", "decay_class", "name", "unit", "currency", "note",
)  # fmt: skip
SPENDING = "spending"  # an activity that is money spent


def lines_of(workings: Workings, until: dt.date, sponsor: str | None = None) -> pd.DataFrame:
    """Return one line per entry up to a day, then one per charge of removed and residue.

    Columns :data:`COLUMNS`: text (missing: ""), numbers (missing: NaN), ``date`` datetime64. ``line``
    counts from 1 and ``from_line`` is the line of the row that a charge comes from. ``teaches`` is
    the key of the measured density a weigh-in counts for: a later one is listed as a weigh-in, for
    the density rests on it. ``bulk`` is the key of the density that gives a load which was only
    weighed its volume, ``bulk_out`` that of a harvest. ``share`` is what the calculation charged to a
    line (``spread`` is left empty: divert.evidence.spreading). ``landfill`` counts the versions of
    [[landfill]] from 1.
    Masses kg, volumes m³.
    """
    everyone = lines_of_all(workings, until, bulk=sponsor is None)
    return everyone if sponsor is None else with_sponsor(everyone, workings.site, sponsor)


def lines_of_all(workings: Workings, until: dt.date, *, bulk: bool) -> pd.DataFrame:
    """Return :func:`lines_of` as far as no sponsor settles them; ``bulk`` fills those two columns."""
    ledger = workings.ledger
    teaches = _teaches(workings)
    day = np.datetime64(until)
    late = ledger["date"].to_numpy() > day
    kept = ~late | (teaches != "")
    lines = _entry_lines(workings, ledger[kept], late[kept], teaches[kept])
    if bulk:  # the volume of everyone's loads together is the house's, not a sponsor's
        lines["bulk"], lines["bulk_out"] = _bulk(workings, ledger[kept])
    charged = _charge_lines(workings, lines, day)
    both = pd.concat([lines, charged], ignore_index=True) if len(charged) else lines
    out = _named(_tidy(both.assign(line=np.arange(1.0, len(both) + 1))), workings)
    since = [version.since for version in landfill_versions(workings.site)]
    return out.assign(landfill=1.0 + _version(out["date"].to_numpy(), since))


def _entry_lines(
    workings: Workings,
    rows: pd.DataFrame,
    late: npt.NDArray[np.bool_],
    teaches: npt.NDArray[np.object_],
) -> pd.DataFrame:
    """Return a line per entry, as it was entered; ``place`` is its place in the ledger."""
    by_container = rows["fill_used"].notna().to_numpy()
    entered = workings.reading.entries
    removed_given = _entered(entered, rows, "removed_kg")
    removed_share = _entered(entered, rows, "removed_share")
    assumed = rows["fate_assumed"] & (rows["kind"] == "intake")
    return pd.DataFrame(
        {
            **{name: _text(rows[name]) for name in _AS_ENTERED},
            "kind": _kinds(rows, late),
            "date": rows["date"].to_numpy(),
            "row": rows["row"].to_numpy(dtype=float),
            "rows": 1.0,
            "count": rows["count"].to_numpy(),
            "container_m3": np.where(by_container, rows["container_m3"], np.nan),
            "fill": rows["fill_used"].to_numpy(),
            "given_m3": np.where(by_container, np.nan, rows["volume_m3"]),
            "weighed_kg": _entered(entered, rows, "mass_kg"),
            "gross_kg": rows["gross_kg"].to_numpy(),
            "tare_kg": np.where(rows["gross_kg"].notna(), rows["tare_kg"], np.nan),
            "removed_given_kg": removed_given,
            "removed_share": np.where(np.isnan(removed_given), removed_share, np.nan),
            "assumed": np.where(assumed, "yes", "").astype(object),
            "teaches": teaches,
            "amount": rows["amount"].to_numpy(),
            "destination": _destinations(rows, workings.site),
            "place": rows.index.to_numpy(),
            "line": np.arange(1.0, len(rows) + 1),
        }
    )


def _kinds(rows: pd.DataFrame, late: npt.NDArray[np.bool_]) -> npt.NDArray[np.object_]:
    kinds = _text(rows["kind"])
    spent = np.array([str(n).casefold() in SPENT for n in _text(rows["name"])], dtype=bool)
    kinds = np.where((kinds == "activity") & spent, SPENDING, kinds)
    return np.where(late, "weigh-in", kinds)


def _destinations(rows: pd.DataFrame, site: Site) -> npt.NDArray[np.object_]:
    """Return where things went, an intake's bed under the bed's own name."""
    said = _text(rows["destination"])
    beds = {plain(bed.name): bed.name for bed in site.beds}
    intake = (rows["kind"] == "intake").to_numpy()
    names = {text: beds.get(plain(text), text) for text in set(said[intake])}
    return np.array([names[t] if i else t for t, i in zip(said, intake, strict=True)], dtype=object)


def _named(lines: pd.DataFrame, workings: Workings) -> pd.DataFrame:
    """Fill in what a blank is called among loads, and the cross-check class of each material."""
    load = lines["kind"].isin(["intake", *CHARGED])
    for column, word in (
        ("source", NOT_RECORDED), ("material", NOT_RECORDED), ("before", NOT_STATED),
    ):  # fmt: skip
        lines[column] = lines[column].mask(load & (lines[column] == ""), word)
    names = [m for m in lines.loc[load, "material"].unique() if m != NOT_RECORDED]
    known = meanings(names, workings.site, workings.factors)
    classes = {}
    for name in names:
        entry = workings.factors.materials.get(known[name][-1].key)
        if entry is not None and entry.decay_class:
            classes[name] = entry.screening
    of_material = [classes.get(m, "") if at else "" for m, at in zip(
        lines["material"], load, strict=True)]  # fmt: skip
    lines["screening"] = np.array(of_material, dtype=object)
    return lines


def _text(column: pd.Series[str]) -> npt.NDArray[np.object_]:
    if isinstance(column.dtype, pd.CategoricalDtype):
        table = np.array([*(str(c) for c in column.cat.categories), ""], dtype=object)
        return np.asarray(table[column.cat.codes.to_numpy()], dtype=object)
    return np.asarray(column.fillna("").astype(object).to_numpy(), dtype=object)


def _entered(entered: pd.DataFrame, rows: pd.DataFrame, column: str) -> npt.NDArray[np.float64]:
    """Return a column as it was entered, before conversion filled it in."""
    return np.asarray(entered[column].loc[rows.index].to_numpy(), dtype=float)


def _teaches(workings: Workings) -> npt.NDArray[np.object_]:
    """Return for each ledger row the key of the measured density that it teaches, "" for none."""
    ledger = workings.ledger
    out = np.full(len(ledger), "", dtype=object)
    measured = {(d.material, d.condition): d.key for d in workings.in_use if d.measured}
    if measured:
        place = pd.Series(np.arange(len(ledger)), index=ledger.index)
        teaching = weigh_ins(ledger)
        pairs = zip(_text(teaching["material"]), _text(teaching["condition"]), strict=True)
        out[place.loc[teaching.index].to_numpy()] = [measured.get(pair, "") for pair in pairs]
    return out


def _bulk(
    workings: Workings, rows: pd.DataFrame
) -> tuple[npt.NDArray[np.object_], npt.NDArray[np.object_]]:
    """Return the key of the density that a load, and a harvest, weighed alone has its volume from.

    "" for the others.
    """
    keys = {(d.material, d.condition): d.key for d in workings.in_use if d.spread.typical}
    pairs = zip(_text(rows["material"]), _text(rows["condition"]), strict=True)
    found = np.array([keys.get(pair, "") for pair in pairs], dtype=object)
    alone = rows["volume_m3"].isna()
    fed = alone & (rows["kind"] == "intake") & (rows["before"] != DONATED)
    out = alone & (rows["kind"] == "harvest")
    return np.where(fed.to_numpy(), found, ""), np.where(out.to_numpy(), found, "")


def _charge_lines(workings: Workings, lines: pd.DataFrame, day: np.datetime64) -> pd.DataFrame:
    charges = workings.charges
    charges = charges[charges["date"].to_numpy().astype("datetime64[s]") <= day] if len(
        charges
    ) else charges  # fmt: skip
    if not len(charges):
        return pd.DataFrame()
    line_of = pd.Series(lines["line"].to_numpy(), index=lines["place"].to_numpy())
    origin = line_of.loc[charges["from_row"].to_numpy()].to_numpy()
    at = lines.iloc[origin.astype(int) - 1]
    out = pd.DataFrame(
        {
            "kind": np.where(charges["what"] == "removed", REMOVED, RESIDUE),
            "date": charges["date"].to_numpy(),
            "from_line": origin,
            "share": charges["share"].to_numpy(dtype=float),
            "rows": 0.0,
        }
    )
    for name in ("source", "material", "before", "decay_class"):
        out[name] = _text(charges[name])
    for name in ("file", "sheet", "row"):
        out[name] = at[name].to_numpy()
    return out


def _tidy(lines: pd.DataFrame) -> pd.DataFrame:
    out = {"date": lines["date"].to_numpy().astype("datetime64[s]")}
    for name in TEXT:
        have = lines[name] if name in lines else pd.Series("", index=lines.index, dtype=object)
        out[name] = have.fillna("").astype(object).to_numpy()
    for name in NUMBER:
        have = lines[name] if name in lines else pd.Series(np.nan, index=lines.index)
        out[name] = have.astype("float64").to_numpy()
    return pd.DataFrame(out)[list(COLUMNS)]


def with_sponsor(lines: pd.DataFrame, site: Site, sponsor: str) -> pd.DataFrame:
    """Return lines with what a sponsor supplies and funds: columns ``own`` and ``funded``."""
    days = lines["date"].to_numpy()
    mine = sorted(
        (s for s in site.sponsors if s.name == sponsor), key=lambda s: s.since or dt.date.min
    )
    version = _version(days, [s.since for s in mine])
    funds = np.array([s.funds or 0.0 for s in mine])
    begun = np.ones(len(lines), dtype=bool)
    if mine and mine[0].since is not None:  # nobody supplies or funds before their first day
        begun = days >= np.datetime64(mine[0].since)
    own = np.zeros(len(lines), dtype=bool)
    for number, one in enumerate(mine):
        own |= begun & (version == number) & np.isin(lines["source"].to_numpy(), list(one.supplies))
    return lines.assign(
        own=np.where(own, "yes", ""),
        funded=np.where(begun, funds[version], 0.0) if _funds(mine) else np.nan,
    )


def _funds(versions: Sequence[Sponsor]) -> bool:
    return any(s.funds is not None for s in versions)


def landfill_versions(site: Site) -> list[Landfill]:
    """Return the versions of [[landfill]], oldest first."""
    return sorted(site.landfills, key=lambda v: v.since or dt.date.min)


def _version(
    days: npt.NDArray[np.datetime64], starts: Sequence[dt.date | None]
) -> npt.NDArray[np.int64]:
    later = np.array([s or dt.date.min for s in starts[1:]], dtype="datetime64[D]")
    return np.searchsorted(later, days.astype("datetime64[D]"), side="right")
