"""Whatever is changed, one change after another: doing again what it touches gives what a fresh reading gives."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pandas as pd
import pytest
from rounds import rounds
from two_givers import DAY, TWO_GIVERS, write_log

from divert.core.findings import CannotRun
from divert.core.period import read_period
from divert.figures.as_json import to_json
from divert.figures.compute import figures_for
from divert.ingest.cells_held import CellsHeld
from divert.page.again import read_again
from divert.site.change import AddTo, Drop, Edit, NewEntry, SetKey, plan, write

if TYPE_CHECKING:
    from divert.convert import Workings

SEED = 20250701
TOML = (
    TWO_GIVERS
    + """\
[[material]]
name = "litter"
like = "stable-manure"
[[container]]
name = "tote"
volume = "100 L"
[[sheet]]
file = "log.xlsx"
sheet = "Jan"
holds = "intake"
"""
)
LOADS = ("Date", "From", "What", "Weight (kg)", "Container", "How many", "Notes")
OUT = ("Date", "From", "Contamination removed (kg)", "Notes")
PLACES = ("Alder Street", "Aldr Street", "Mill Lane", "Mil Lane", "Old Quay", "alder street.", "")
STUFF = ("scraps", "scrapps", "litter", "leaves", "food", "Scraps", "coffee", "rubble")
NOTES = ("", "", "", "not weighed twice?", "heavy", "from Mill Lane", "do not count", "Otter")
WORDS = (*PLACES[:-1], *STUFF, "Otter", "zephyr", "scrap", "quay", "Lane", "2")
SHEETS = ("Jan", "Feb", "Mar", "Sorted out", "Feedings")


def _rows(luck: random.Random, month: int) -> list[tuple[object, ...]]:
    out: list[tuple[object, ...]] = []
    for _ in range(luck.randint(3, 9)):
        day, place, what = luck.randint(1, 28), luck.choice(PLACES), luck.choice(STUFF)
        weighed = luck.random() < 0.6
        amount = (luck.randint(1, 40), "", "") if weighed else ("", "tote", luck.randint(1, 4))
        out.append((f"2025-{month:02}-{day:02}", place, what, *amount, luck.choice(NOTES)))
    return out


def _write_sheets(folder: Path, luck: random.Random) -> None:
    sheets = {name: [LOADS, *_rows(luck, month)] for month, name in enumerate(SHEETS[:3], 1)}
    out = [(row[0], row[1], luck.randint(1, 3), row[6]) for row in _rows(luck, 2)]
    write_log(folder, sheets | {SHEETS[3]: [OUT, *out]})
    lines = [LOADS, *_rows(luck, 4), *_rows(luck, 5)]
    text = "\n".join(",".join(map(str, line)) for line in lines)
    (folder / "April on.csv").write_text(text + "\n", encoding="utf-8")


def _edit(luck: random.Random, before: Workings) -> Edit:
    """Return one change of any kind that the page makes, or a person with a text editor."""
    kind, name = luck.choice((("source", PLACES[:3:2]), ("material", STUFF[:3:2])))
    where: dict[str, str] = {"file": "log.xlsx", "sheet": luck.choice(SHEETS[:4])}
    if luck.random() < 0.2:
        where = {"file": "April on.csv"}
    asked = [f.about for f in before.findings if f.level != "note"] or ["nothing"]
    fields = ("source", "material", "weight", "note", "date", "container", "count")
    likes = ("food-scraps", "leaves", "coffee-grounds", "stable-manure")
    choices: list[Callable[[], Edit]] = [
        lambda: AddTo(kind, luck.choice(name), "also", (luck.choice(WORDS),)),
        lambda: NewEntry("source", {"name": luck.choice(WORDS)}),
        lambda: NewEntry("material", {"name": luck.choice(WORDS), "like": luck.choice(likes)}),
        lambda: SetKey("sheet", where, f"columns.{luck.choice(fields)}", luck.choice("ABCDEFG")),
        lambda: SetKey("sheet", where, "holds", luck.choice(("intake", "removed", "nothing", "tests"))),
        lambda: SetKey("sheet", where, "source", luck.choice(PLACES[:3])),
        lambda: SetKey("material", luck.choice(name), "before", luck.choice(("landfill", "composted"))),
        lambda: SetKey("source", "Mill Lane", "before", luck.choice(("landfill", "recycled"))),
        lambda: SetKey("container", "tote", luck.choice(("usual_fill", "tare")), 0.5),
        lambda: SetKey("container", "tote", "volume", luck.choice(("100 L", "120 L"))),
        lambda: SetKey("site", "", "name", luck.choice(("Yard", "Otter", "Mill Lane", "2"))),
        lambda: SetKey("site", "", "dates", luck.choice(("day first", "month first"))),
        lambda: SetKey("site", "", "scale_accuracy", luck.choice((0.01, 0.05))),
        lambda: SetKey("site", "", "colour", luck.choice(("#112233", "#445566"))),
        lambda: NewEntry("answer", {"about": luck.choice(asked), "reason": "so"}),
        lambda: NewEntry("answer", {"about": luck.choice(asked), "reason": "so", "verdict": "count"}),
        lambda: Drop("answer", {"reason": "so"}),
        lambda: Drop("source", {"name": luck.choice(WORDS)}),
        lambda: Drop("sheet", where),
    ]  # fmt: skip
    return luck.choice(choices)()


@pytest.mark.parametrize("start", range(rounds(2, 5)))
def test_a_change_of_any_kind_gives_what_a_fresh_reading_gives(
    tmp_path: Path, start: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DIVERT_CACHE", "off")
    luck = random.Random(SEED + start)
    (tmp_path / "site.toml").write_text(TOML, encoding="utf-8")
    _write_sheets(tmp_path, luck)
    cells = CellsHeld(holds_sheets=True)
    before: Workings | None = read_again(tmp_path, DAY, cells, None)[1]
    changed = moved = 0
    while changed < rounds(15, 20):
        assert before is not None
        text = (tmp_path / "site.toml").read_bytes()
        edit = _edit(luck, before)
        try:
            write(tmp_path, plan(tmp_path, [edit]))
        except CannotRun:
            assert (tmp_path / "site.toml").read_bytes() == text  # refused is not written
            continue
        if (tmp_path / "site.toml").read_bytes() == text:
            continue
        changed += 1
        quick = read_again(tmp_path, DAY, cells, before)[1]
        fresh = read_again(tmp_path, DAY, CellsHeld(), None)[1]
        _same(quick, fresh, edit)
        if changed % rounds(3, 1) == 0:  # they follow from what is held equal each time
            _same_figures(quick, fresh, edit)
        moved += quick.ledger["mass_kg"].sum() != before.ledger["mass_kg"].sum()
        before = quick
    assert moved >= 3  # changes that count for something are among them


def _same(quick: Workings, fresh: Workings, edit: Edit) -> None:
    assert quick.findings == fresh.findings, edit
    assert quick.reading.sheets == fresh.reading.sheets, edit
    for name in ("ledger", "charges", "set_aside"):
        pd.testing.assert_frame_equal(
            getattr(quick, name), getattr(fresh, name), obj=f"{name}, {edit}"
        )
    for name in ("densities", "in_use", "meanings"):
        assert getattr(quick, name) == getattr(fresh, name), (name, edit)


def _same_figures(quick: Workings, fresh: Workings, edit: Edit) -> None:
    if quick.ledger.empty:
        return
    period = read_period(
        "all", as_of=DAY, started=quick.site.started, year_starts=quick.site.year_starts
    )
    said = [to_json(figures_for(workings, period, DAY)) for workings in (quick, fresh)]
    assert said[0] == said[1], edit
