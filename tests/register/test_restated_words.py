"""What a report prints of figures that moved: old value, new value, and a part for each reason."""

import datetime as dt
from types import SimpleNamespace

import pytest

from divert.figures.history import REASONS, History, Move, Restatement, Withdrawn
from divert.figures.numbers.printed import Printer
from divert.report.board.problems import _restated as of_board
from divert.report.wording.earlier_reports import earlier_reports

DAY = dt.date(2025, 7, 5)
PRINTER = Printer("en", "metric", country="GB")


def moved(figure, was=100.0, number="2025-0001"):
    """Return a figure that every reason moved by 10 kg."""
    parts = tuple(Move(reason, 10.0) for reason in REASONS)
    return Restatement(number, DAY, "2025-Q2", figure, was, was + 10.0 * len(parts), parts)


def told(*restated, withdrawn=()):
    return [n.text.unescape() for n in earlier_reports(History(None, restated, withdrawn), PRINTER)]


@pytest.mark.parametrize(
    "figure",
    ["mass.diverted", "supplied.diverted", "supported.diverted", "mass.received",
     "supplied.received", "emissions.net_avoided", "supplied.net_avoided",
     "supported.net_avoided"],
)  # fmt: skip
def test_old_and_new_value_and_every_reason_are_printed(figure):
    (text,) = told(moved(f"{figure}.central"))
    assert "Report 2025-0001 (2025-Q2) said 100" in text and "it is now 180" in text
    for reason in REASONS:
        assert f"{reason} +10" in text, reason


def test_a_figure_is_told_once_by_what_says_it_most_nearly():
    both = told(moved("mass.received.central"), moved("mass.diverted.central"))
    assert len(both) == 1 and "diverted by the whole site" in both[0]
    # Another report's figure is its own.
    assert len(told(moved("mass.received.central"),
                    moved("mass.diverted.central", number="2025-0002"))) == 2  # fmt: skip


def test_a_board_reads_the_values_too_and_what_was_withdrawn():
    gone = (Withdrawn("2025-0003", "2025-Q1", DAY, DAY, "2025-0004"),)
    board = SimpleNamespace(printer=PRINTER)
    said = [str(s) for s in of_board(board, History(None, (moved("mass.diverted.central"),), gone))]
    assert "Restated. Report 2025-0001" in said[0] and "180" in said[0]
    assert said[1] == "Withdrawn. Report 2025-0003 (2025-Q1) was withdrawn; 2025-0004 replaces it."
