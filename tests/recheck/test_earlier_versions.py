"""Evidence of a version before ours: what it did not write down stands as a value, as it did then."""

from __future__ import annotations

import datetime as dt

import pytest
from made_up import AS_OF, SITE, reading, site
from recalculated import sheets

from divert.convert import work_out
from divert.core.period import read_period
from divert.factors import load_factors
from divert.figures.as_json import to_json
from divert.figures.compute import figures_for
from divert.recheck.figures import Evidence
from divert.recheck.inputs import inputs_of
from divert.workbook.book import evidence_workbook
from divert.workbook.cells import LEDGER
from divert.workbook.ledger_sheet import KEY_ROW


@pytest.mark.parametrize("column", ["bulk", "bulk_out"])
def test_what_was_only_weighed_has_no_volume_in_an_earlier_workbook(column: str) -> None:
    """425 kg of scraps (1 m³ at the published 425 kg/m³) and 2 m³ in; out came 0.6 m³ of compost and
    240.3 kg of screened compost (0.3 m³ at the published 801 kg/m³)."""
    base = {"date": dt.date(2025, 5, 2), "file": "log.xlsx", "sheet": "S", "row": 2}
    load = {**base, "kind": "intake", "material": "kitchen scraps"}
    found = work_out(
        site(), reading([{**load, "mass_kg": 425.0}, {**load, "volume_m3": 2.0},
                         {**base, "kind": "harvest", "material": "compost", "volume_m3": 0.6},
                       {**base, "kind": "harvest", "material": "compost", "condition": "screened",
                        "mass_kg": 240.3}]),
        load_factors(),
    )  # fmt: skip
    period = read_period("2025", as_of=AS_OF, started=SITE.started)
    figures = figures_for(found, period, AS_OF)
    cells = sheets(evidence_workbook(found, {"period": figures}, "board"))
    for key, recomputed in ((column, True), ("volume of before", False)):
        row = cells[LEDGER][KEY_ROW]
        cells[LEDGER][KEY_ROW] = [key if cell == column else cell for cell in row]
        evidence = Evidence(inputs_of(cells), {"period": to_json(figures)})
        share = evidence.find("period", "volume_reduction.share")
        assert share is not None and share.recomputed is recomputed
        assert share.value == pytest.approx((0.6 + 0.3) / 3.0)
        received = evidence.find("period", "mass.received")
        assert received is not None and received.recomputed
