"""Which entries a file has lost, counted by hand: of several alike each counts."""

from __future__ import annotations

import datetime as dt

import numpy as np
import pytest

from divert.core.ledger import KINDS
from divert.inventory.compare import losses
from divert.inventory.model import FileKept, Held, Inventory

TODAY = dt.date(2025, 6, 1)
MARCH = (dt.date(2025, 3, 3) - dt.date(1970, 1, 1)).days
INTAKE = KINDS.index("intake")


def held(*kg: float) -> Held:
    """Return intake entries of one day: those of one mass are alike."""
    marks = np.array([round(m * 1000) for m in kg], dtype=np.uint64)
    size = len(kg)
    return Held(
        marks, marks, np.full(size, INTAKE, np.uint8), np.full(size, MARCH, np.int32),
        np.array(kg, dtype=float), np.full(size, np.nan), np.zeros(size, np.uint16),
    )  # fmt: skip


def kept(name: str, *kg: float) -> FileKept:
    return FileKept(name, f"{name} {kg}", 1, TODAY, (), held(*kg))


def missing(
    then: list[FileKept], now: list[FileKept], waiting: Held | None = None
) -> list[tuple[str, int, float]]:
    """Return file, entries and kg of what is not said any more."""
    found = losses(
        Inventory(TODAY, {k.file: k for k in then}), {k.file: k for k in now},
        held() if waiting is None else waiting, (), TODAY,
    )  # fmt: skip
    return [(loss.file, loss.rows["intake"], loss.kg["intake"]) for loss in found]


@pytest.mark.parametrize(
    ("then", "now", "lost"),
    [
        ((20.0, 20.0), (20.0,), [("log", 1, 20.0)]),
        ((20.0, 20.0, 20.0), (20.0,), [("log", 2, 40.0)]),
        ((20.0,), (20.0, 20.0), []),
        ((20.0, 30.0), (30.0,), [("log", 1, 20.0)]),
        (
            (20.0, 30.0),
            (30.0, 19.0),
            [("log", 1, 1.0)],
        ),  # what is said anew of the month stands against it
    ],
)
def test_of_entries_alike_each_counts(
    then: tuple[float, ...], now: tuple[float, ...], lost: list[tuple[str, int, float]]
) -> None:
    assert missing([kept("log", *then)], [kept("log", *now)]) == lost


def test_what_moved_to_another_file_is_found_there_once() -> None:
    """Two loads of 20 kg go from one file; the other takes in one of them."""
    then = [kept("log", 20.0, 20.0, 30.0), kept("late", 5.0)]
    assert missing(then, [kept("log", 30.0), kept("late", 5.0, 20.0)]) == [("log", 1, 20.0)]
    assert missing(then, [kept("log", 30.0), kept("late", 5.0, 20.0, 20.0)]) == []


def test_what_waits_for_an_answer_is_not_missing_too() -> None:
    then = [kept("log", 20.0, 20.0)]
    assert missing(then, [kept("log")], held(20.0)) == [("log", 1, 20.0)]
