"""A part of the table of damaged registers; ``python tests/safety/table.py registers`` does it all."""

from __future__ import annotations

from pathlib import Path

from fault_registers import DAMAGES, damaged
from rounds import rounds


def test_no_damage_loses_a_report_or_gives_its_number_away(tmp_path: Path) -> None:
    told = damaged(tmp_path, tries=rounds(1, 2))
    assert len(told) == len(DAMAGES)
    assert [(one.name, one.silent, one.not_mended) for one in told] == [
        (name, 0, 0) for name in DAMAGES
    ]
