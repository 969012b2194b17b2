"""Questions that only the emissions can raise: gas capture not stated, a screening factor far off."""

from __future__ import annotations

from collections.abc import Sequence

from divert.convert.emission_factors import CLASSES, gas_is_stated
from divert.convert.workings import Workings
from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.figures.contract import Screening

FAR = (0.25, 4.0)  # ours over a screening factor's


def emission_questions(
    workings: Workings, screening: Sequence[Screening], any_landfilled: bool
) -> list[Finding]:
    """Return the queries about the landfill and about cross-checks that lie far away."""
    out = []
    open_ones = [
        landfill
        for landfill in workings.site.landfills
        if not landfill.kind.startswith("unmanaged")
        and not all(gas_is_stated(landfill, c) for c in CLASSES)
    ]
    if any_landfilled and open_ones:
        out.append(
            Finding(
                "query",
                "gas capture not stated",
                Text(N_("How much gas the landfill captures is not stated; I took 50 %, and 39 % of "
                        "what food gives off, for food decays before the wells are drilled; both "
                        "with a range of 0 % to 75 %.")),
                hint=Text(N_("Ask the landfill, and write gas_captured under [landfill].")),
                name="landfill",
            )
        )  # fmt: skip
    for row in screening:
        ratio = row.ours / row.landfill_avoided if row.landfill_avoided else 1.0
        if not FAR[0] <= ratio <= FAR[1]:
            out.append(
                Finding(
                    "query",
                    "screening factor far away",
                    Text(N_("Landfill methane avoided for {class_} is {ratio} times what the "
                            "cross-check “{set}” gives."),
                         {"class_": row.class_, "ratio": round(ratio, 2), "set": row.set}),
                    hint=Text(N_("Check the landfill settings; the two count different things.")),
                    name=f"{row.set} {row.class_}",
                )
            )  # fmt: skip
    return out
