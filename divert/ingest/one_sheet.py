"""A sheet that makes the reading fail is left out by name, and costs no other sheet anything."""

from __future__ import annotations

import copy
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import fields
from typing import Any

from divert.core.checked import DEBUG
from divert.core.findings import CannotRun, Finding, Where
from divert.core.words import N_, Text
from divert.ingest.entries.gathered import Gathered
from divert.ingest.work import TooMuch, bounded


@contextmanager
def left_out_if_it_fails(file: str, sheet: str, out: Gathered, *more: list[Any]) -> Iterator[None]:
    """Run what reads one sheet; where it fails, take back all it had added and say so.

    ``out`` and ``more``: what the block adds to. What stops the run (CannotRun) goes on its way.
    """
    before = {one.name: len(getattr(out, one.name)) for one in fields(out)}
    named = {one.name: copy.copy(getattr(out, one.name)) for one in fields(out)
             if isinstance(getattr(out, one.name), dict)}  # fmt: skip
    lengths = [len(one) for one in more]
    try:
        with bounded():
            yield
    except CannotRun:
        raise
    except Exception as problem:
        if os.environ.get(DEBUG) and not isinstance(problem, TooMuch):
            raise
        for name, length in before.items():
            if name in named:
                setattr(out, name, named[name])
            else:
                del getattr(out, name)[length:]
        for one, length in zip(more, lengths, strict=True):
            del one[length:]
        said = _too_much if isinstance(problem, TooMuch) else _failed
        out.findings.append(said(file, sheet, problem))


def _failed(file: str, sheet: str, problem: Exception) -> Finding:
    where = Where(file, sheet)
    return Finding(
        "refused", "file unreadable",
        Text(N_("This sheet made the reading fail ({problem}), so all of it is left out; the others "
                "were read."), {"problem": f"{type(problem).__name__}: {problem}"[:200]}),
        where,
        Text(N_("Copy its table to a new sheet; with --debug the same command shows what failed.")),
        name=str(where), blocks=True,
    )  # fmt: skip


def _too_much(file: str, sheet: str, _: Exception) -> Finding:
    where = Where(file, sheet)
    return Finding(
        "refused", "file unreadable",
        Text(N_("This sheet holds so many columns and cells that it was not gone through: none of it "
                "is counted.")),
        where,
        Text(N_("Split it: fewer columns to a sheet, such as one year of days, or fewer rows.")),
        name=str(where), blocks=True,
    )  # fmt: skip
