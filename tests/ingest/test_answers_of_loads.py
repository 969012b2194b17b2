"""A column that asks whether a load came in, and answers that say more than yes or no."""

from __future__ import annotations

from pathlib import Path

import pytest

from .test_explain_or_ask import Said, d, read

AGAINST = ("Rejected", "Rejected?", "Refusé", "Rejeté ?")
FAVOUR = ("Accepted", "Accepted?", "Accepté ?")
UNKNOWN = (
    "Load refused (Y/N)",
    "Turned away",
    "Sent back?",
    "Refused at the gate",
    "Renvoyé",
)  # no heading of a list
REASONS = ("", " - glass", ": plastic", " (verre)", ", too wet")
IN_PART = (" - 2 bags", " (half)", ", some of it", " : la moitié", " - one tote")


def _answers(head: str, odd: str, usual: str, folder: Path) -> tuple[list[str], int]:
    """Return of five loads what became of each that is kept, and how many are asked about."""
    cells = [usual, usual.upper(), odd, usual, usual]
    rows = [
        [d(f"3-{n + 3:02}"), "hotel", "food scraps", 40 + 7 * n, c] for n, c in enumerate(cells)
    ]
    found = read(Said(head, [["Date", "Source", "Material", "lb", head], *rows]), folder)
    assert len(found.entries) + len(found.set_aside) == len(cells)
    assert found.set_aside["row"].isin([4]).all()  # none of the usual ones
    return found.entries.sort_values("row")["kind"].tolist(), len(found.set_aside)


@pytest.mark.parametrize("reason", REASONS)
@pytest.mark.parametrize("head", [*AGAINST, *FAVOUR])
def test_an_answer_with_its_reason_is_that_answer(head: str, reason: str, tmp_path: Path) -> None:
    odd, usual = ("Yes", "no") if head in AGAINST else ("No", "oui")
    kinds = ["intake", "intake", "rejected", "intake", "intake"]
    assert _answers(head, odd + reason, usual, tmp_path) == (kinds, 0)


@pytest.mark.parametrize("more", IN_PART)
@pytest.mark.parametrize("head", [*AGAINST, *FAVOUR])
def test_an_answer_that_may_be_true_of_a_part_is_asked_about(
    head: str, more: str, tmp_path: Path
) -> None:
    odd, usual = ("Oui", "non") if head in AGAINST else ("Non", "yes")
    assert _answers(head, odd + more, usual, tmp_path) == (["intake"] * 4, 1)


@pytest.mark.parametrize("odd", ["Yes", "x", "oui, verre"])
@pytest.mark.parametrize("usual", ["No", ""])
@pytest.mark.parametrize("head", UNKNOWN)
def test_a_heading_that_speaks_against_loads_is_no_remark(
    head: str, usual: str, odd: str, tmp_path: Path
) -> None:
    assert _answers(head, odd, usual, tmp_path) == (["intake"] * 4, 1)
