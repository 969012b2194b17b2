"""What is asked once for a name: words only site.toml settled, no source, another currency."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pandas as pd

from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.ingest.checks.corrections import where_of
from divert.ingest.entries.gathered import Gathered
from divert.site.model import Site

_MEANT = {
    "ton": N_("A bare “ton” is read as site.toml says: {meant}."),
    "gallon": N_("A bare “gal” is read as site.toml says: {meant}."),
    "hundredweight": N_("A hundredweight is read as “ton” in site.toml says: {meant}."),
}


def asked(out: Gathered, site: Site) -> list[Finding]:
    """Return what only site.toml settled, and entries that name no source: one finding per name."""
    meant = {
        "ton": {
            "short": N_("short ton (2,000 lb)"),
            "long": N_("long ton (2,240 lb)"),
            "tonne": N_("tonne (1,000 kg)"),
        }[site.ton],
        "hundredweight": {"short": N_("100 lb"), "long": N_("112 lb")}.get(site.ton, ""),
        "gallon": {"us": N_("US gallon (3.785 L)"), "imperial": N_("imperial gallon (4.546 L)")}[
            site.gallon
        ],
    }
    findings = []
    for word, (count, where, found) in out.asked.items():
        message = Text(_MEANT[word], {"meant": Text(meant[word])})
        hint = Text(N_("If that is wrong, change “ton” or “gallon” under [site] in site.toml."))
        findings.append(
            Finding("query", "unit settled by site.toml", message, where, hint, found, count, word)
        )
    return [*findings, *_by_site_dates(out, site), *_words(out), *_sourceless(out)]


def _by_site_dates(out: Gathered, site: Site) -> Iterator[Finding]:
    for count, where, found in out.by_site_dates:
        message = Text(
            N_(
                "Dates such as {found} can be read two ways; I read them {order}, as site.toml says."
            ),
            {"found": found, "order": site.dates or ""},
        )
        hint = Text(N_("If that is wrong for this sheet, write its dates as 2025-03-04."))
        name = f"{where.file}!{where.sheet}!{where.column}"
        code = "date order settled by site.toml"
        yield Finding("query", code, message, where, hint, found, count, name)


# What is asked of a word nobody knows: the code, the question, and what to do.
_UNKNOWN = {
    "fates": (
        "usual fate not stated",
        N_("I do not know “{found}” as a place where material went before, so it is not claimed."),
        N_("Write landfill, composted, recycled, fed to animals or the like in this column."),
    ),
    "much": (
        "contamination high",
        N_("Contamination “{found}” is no weight and no share, so nothing is taken off for it."),
        N_("Write what was taken out, such as 3 lb or 5%."),
    ),
}


def _words(out: Gathered) -> Iterator[Finding]:
    for name, (code, message, hint) in _UNKNOWN.items():
        for (_, found), (count, where) in getattr(out, name).items():
            said = Text(message, {"found": found})
            yield Finding("query", code, said, where, Text(hint), found, count, found)


def _sourceless(out: Gathered) -> Iterator[Finding]:
    for file, (count, where) in out.sourceless.items():
        message = Text(
            N_("Entries that do not say who they came from, kept as “not recorded”: {rows}."),
            {"rows": count},
        )
        hint = Text(N_("Name the source on the row, in the sheet's title, or in the sheet's name."))
        yield Finding("query", "source not recorded", message, where, hint, "", count, file)


def other_money(entries: pd.DataFrame, site: Site) -> list[Finding]:
    """Return a query for each currency that is not the site's: such amounts enter no sum of money."""
    currency = entries["currency"]
    foreign = currency.notna() & (currency != site.currency) & entries["amount"].notna()
    findings = []
    for name in currency[foreign].astype(str).unique():
        rows = np.flatnonzero(foreign & (currency == name))
        message = Text(
            N_("Amounts in {currency}, kept, though sums of money are in {site}: {rows}."),
            {"rows": len(rows), "currency": str(name), "site": site.currency},
        )
        hint = Text(N_("Write them in the site's currency if they should be summed."))
        findings.append(
            Finding("query", "money in another currency", message, where_of(entries, int(rows[0])),
                    hint, str(entries["found"].iat[rows[0]]), len(rows), str(name))
        )  # fmt: skip
    return findings
