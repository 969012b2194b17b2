"""Whether a law would have kept material out of landfills anyhow: asked, never guessed."""

from __future__ import annotations

import numpy as np
import pandas as pd

from divert.convert.columns import of_names
from divert.convert.places import place
from divert.core.findings import Finding
from divert.core.period import reporting_year, whole_year
from divert.core.words import N_, Text
from divert.site.model import CLAIMED, Site

# Countries where, at least in a part, rules are known that keep food or yard waste out of landfills
# (from memory; which rule, where and since when is for the site to say).
KNOWN = frozenset({
    "AT", "AU", "BE", "BG", "CA", "CH", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GB", "GR", "HR",
    "HU", "IE", "IS", "IT", "JP", "KR", "LT", "LU", "LV", "MT", "NL", "NO", "NZ", "PL", "PT", "RO", "SE",
    "SI", "SK", "TW", "US",
})  # fmt: skip
ORGANIC = ("food", "garden")  # decay classes that such rules are about


def law_queries(used: pd.DataFrame, site: Site) -> list[Finding]:
    """Return one query for the latest reporting year in which food or garden waste is claimed.

    None where a material or source says required_by_law, true, false or from when, or where no such
    rule is known of the country. ``used``: kind, before, decay_class, date, mass_kg and its place.
    """
    told = [m.required_by_law for m in site.materials] + [s.required_by_law for s in site.sources]
    if site.country not in KNOWN or any(said is not None for said in told):
        return []
    claimed = (
        of_names(used["kind"], ("intake",)) & of_names(used["before"], CLAIMED)
        & of_names(used["decay_class"], ORGANIC)
    )  # fmt: skip
    if not claimed.any():
        return []
    day = used["date"].to_numpy().astype("datetime64[D]")
    year = reporting_year(day[claimed].max().item(), site.year_starts)
    here = claimed & (day >= np.datetime64(whole_year(year, site.year_starts).start))
    return [
        Finding(
            "query",
            "required by law not stated",
            Text(
                N_("Did a law keep any of the food or yard waste of {year} out of the landfill anyhow? "
                   "Some places have such rules (country: {country}). It is counted as claimed."),
                {"year": str(year), "country": site.country},
            ),
            place(used, int(np.argmax(here))),
            Text(
                N_("Ask your local authority, and write required_by_law = true, the day from which, or "
                   "false under the material or source in site.toml.")
            ),
            rows=int(here.sum()),
            name=str(year),
            mass_kg=float(np.nansum(used["mass_kg"].to_numpy()[here])),
        )
    ]  # fmt: skip
