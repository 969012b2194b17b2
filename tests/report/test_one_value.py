"""A figure that a page prints twice has one value, so that nothing depends on which came first."""

from __future__ import annotations

import math
from collections import defaultdict
from pathlib import Path

import pytest
from make_workings import AS_OF, small_workings

from divert.core.period import read_period
from divert.figures.numbers.printed import Printed, Printer
from divert.figures.numbers.scales import Scale
from divert.publish.job import jobs_for
from divert.publish.make import page_for
from divert.report.paper.look import look_of
from divert.site.model import Grant


@pytest.mark.parametrize("audience", ["sponsor", "grant", "board"])
def test_each_key_of_a_page_stands_for_one_value(
    audience: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    values: dict[str, list[float]] = defaultdict(list)
    keep = Printer._keep

    def seen(self: Printer, key: str, value: float, scale: Scale, quantum: float) -> Printed:
        figure = keep(self, key, value, scale, quantum)
        values[figure.key].append(value)
        # The first to print a key, in a unit and at a rounding unit, is what the record lists.
        assert figure == self._made(key, value, scale, quantum)
        return figure

    monkeypatch.setattr(Printer, "_keep", seen)
    workings = small_workings(tmp_path, grants=(Grant("Soil Fund"),))
    label = "2025" if audience == "board" else "2025-Q2"
    period = read_period(label, as_of=AS_OF, started=workings.site.started)
    for job in jobs_for(workings, audience, period, AS_OF, None):  # type: ignore[arg-type]
        values.clear()
        page_for(job, workings, look_of(workings.site)[0], screen=True)
        assert len(values) > 20
        apart = {k: v for k, v in values.items() if not math.isclose(min(v), max(v), rel_tol=1e-12)}
        assert apart == {}
