"""Questions about what masses rest on: a measured density far out, an empty weight nobody wrote."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd

from divert.convert.bands import System, quantity
from divert.convert.columns import of_names
from divert.convert.mass import DensityInUse
from divert.convert.places import place
from divert.convert.volume import container_versions
from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.factors.model import EDGE, slug
from divert.site.model import Site

_PUBLISHED = "published density"
STATE_NOT_KNOWN = "state not known"  # the condition of such a material in the built-in list
MUCH = 0.1  # of the mass received


def density_queries(in_use: Sequence[DensityInUse], system: System) -> list[Finding]:
    """Return one query per measured density outside its published range; it is used all the same."""
    out = []
    for density in in_use:
        measured, published = density.measured, density.published
        if measured is None or published is None:
            continue
        if published.low * (1 - EDGE) <= measured.rho <= published.high * (1 + EDGE):
            continue
        out.append(
            Finding(
                "query",
                "measured density outside the published range",
                Text(
                    N_("Your {n} weigh-ins of “{material}” ({condition}) come to {density}; "
                       "published densities run from {low} to {high}. I used your own."),
                    {
                        "n": measured.n,
                        "material": density.material,
                        "condition": density.condition,
                        "density": quantity(measured.rho, "kg/m3", system),
                        "low": quantity(published.low, "kg/m3", system),
                        "high": quantity(published.high, "kg/m3", system),
                    },
                ),
                hint=Text(N_("Check the container's volume and tare in site.toml and the units; or it "
                             "came in another state, such as packed or dry: then write its condition.")),
                rows=measured.n,
                name=f"{density.material}, {density.condition}",
            )
        )  # fmt: skip
    return out


def condition_queries(ledger: pd.DataFrame, in_use: Sequence[DensityInUse]) -> list[Finding]:
    """Return one query per condition that the list has no density for; that of the usual one stands.

    ``ledger``: material, condition, basis, found and its place.
    """
    out = []
    estimated = ledger["basis"].to_numpy() == _PUBLISHED
    for density in in_use:
        instead = density.key.rpartition(".")[2]
        if density.basis != _PUBLISHED or density.own or instead == slug(density.condition):
            continue
        here = of_names(ledger["material"], (density.material,))
        here &= of_names(ledger["condition"], (density.condition,)) & estimated
        rows = ledger.iloc[np.flatnonzero(here)]
        if rows.empty:
            continue
        out.append(
            Finding(
                "query",
                "condition without a density",
                Text(
                    N_("There is no published density of “{material}” in the condition "
                       "“{condition}”; I took that of “{instead}”."),
                    {
                        "material": density.material,
                        "condition": density.condition,
                        "instead": instead.replace("-", " "),
                    },
                ),
                place(rows, 0),
                Text(
                    N_("divert sources lists the conditions there are; or write a density under "
                       "this material in site.toml.")
                ),
                found=str(rows["found"].iloc[0]),
                rows=len(rows),
                name=f"{density.material}, {density.condition}",
            )
        )  # fmt: skip
    return out


def state_queries(ledger: pd.DataFrame, in_use: Sequence[DensityInUse]) -> list[Finding]:
    """Return one query per material whose density hangs on a state that nobody wrote.

    Asked where such a material is more than a tenth of the intake's mass; ``ledger``: kind,
    density_number, mass_kg, found and its place.
    """
    intake = of_names(ledger["kind"], ("intake",))
    mass = np.where(intake, np.nan_to_num(ledger["mass_kg"].to_numpy()), 0.0)
    number, whole = ledger["density_number"].to_numpy(), float(mass.sum())
    out = []
    for place_in_use, density in enumerate(in_use):
        if not density.key.endswith(f".{slug(STATE_NOT_KNOWN)}"):
            continue
        here = np.flatnonzero(intake & (number == place_in_use))
        if mass[here].sum() <= MUCH * whole or not len(here):
            continue
        rows = ledger.iloc[here]
        out.append(
            Finding(
                "query",
                "state not recorded",
                Text(
                    N_("Nobody wrote in what state “{material}” came, and its density hangs on that: "
                       "published ones run from {low} to {high} kg/m³. It is {share} % of the mass."),
                    {
                        "material": density.material,
                        "low": round(density.spread.low),
                        "high": round(density.spread.high),
                        "share": round(100 * mass[here].sum() / whole),
                    },
                ),
                place(rows, 0),
                Text(N_("Weigh three loads of it whose fill you write down, or write condition under "
                        "this material in site.toml.")),
                found=str(rows["found"].iloc[0]),
                rows=len(rows),
                name=density.material,
            )
        )  # fmt: skip
    return out


def fill_queries(ledger: pd.DataFrame, site: Site) -> list[Finding]:
    """Return one query per container whose rows do not say how full it was, nor does site.toml.

    ``ledger``: container, fill_group, net_kg (a weighed row needs no fill), found and its place.
    """
    silent = np.array([c.usual_fill is None for c in container_versions(site)] + [False])
    if not silent.any():
        return []
    asked = silent[ledger["fill_group"].to_numpy()] & np.isnan(ledger["net_kg"].to_numpy())
    rows = ledger.iloc[np.flatnonzero(asked)]
    return [
        Finding(
            "query",
            "fill not recorded",
            Text(
                N_(
                    "Entries in “{container}” that do not say how full it was: {rows}; I took 80 % "
                    "full, with a range of 60 % to 100 %."
                ),
                {"rows": len(of_one), "container": str(name)},
            ),
            place(of_one, 0),
            Text(
                N_("Write usual_fill under this container in site.toml, or how full each one is.")
            ),
            found=str(of_one["found"].iloc[0]),
            rows=len(of_one),
            name=str(name),
        )
        for name, of_one in rows.groupby("container", observed=True)
    ]


def tare_queries(ledger: pd.DataFrame, entries: pd.DataFrame) -> list[Finding]:
    """Return one query per container weighed full whose empty weight is not known.

    ``ledger``: gross_kg, tare_kg, container, found, file, sheet, row, column; ``entries`` holds its
    rows as they were logged: mass_kg is missing where only gross was.
    """
    gross = ~np.isnan(ledger["gross_kg"].to_numpy()) & np.isnan(ledger["tare_kg"].to_numpy())
    rows = ledger.iloc[np.flatnonzero(gross)]
    rows = rows[entries["mass_kg"].loc[rows.index].isna().to_numpy()]
    if rows.empty:
        return []
    out = []
    for name, of_one in rows.groupby(rows["container"].astype(object).fillna("")):
        said = N_("Gross weights in “{container}” counted whole, for its empty weight is not known: "
                  "{rows}.")  # fmt: skip
        if not name:
            said = N_(
                "Gross weights that name no container, so that nothing was taken off for one: {rows}."
            )
        out.append(
            Finding(
                "query",
                "empty weight not known",
                Text(said, {"rows": len(of_one), "container": str(name)}),
                place(of_one, 0),
                Text(N_("Write tare under the container in site.toml, or log net weights.")),
                found=str(of_one["found"].iloc[0]),
                rows=len(of_one),
                name=str(name) or "no container",
            )
        )
    return out
