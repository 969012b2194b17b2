"""A plan that is kept: written, read back, followed without guessing, and asked about where it no longer fits."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path

import pytest
from told import tells

from divert.core.findings import CannotRun
from divert.core.reading import Reading
from divert.ingest.plan.keep import not_kept, with_plans
from divert.ingest.plan.read_file import read_plans
from divert.ingest.plan.sheet_plan import SheetPlan
from divert.ingest.read import read_with_plans

from .corpus.book import AS_OF, LB, site
from .corpus.writers import xlsx

LOG = [
    ["Date", "Source", "Material", "Weight (lb)"],
    [dt.date(2025, 3, 4), "School", "food scraps", 40],
    [dt.date(2025, 3, 5), "Hotel", "coffee grounds", 12],
]


def keep(folder: Path) -> str:
    """Keep the plans of all sheets of a folder; return the text of its reading.toml."""
    return keep_read(folder, *read_with_plans(site(folder), AS_OF))


def keep_read(folder: Path, reading: Reading, plans: Sequence[SheetPlan]) -> str:
    """Keep the plans of a folder that was read; return the text of its reading.toml."""
    text = with_plans(reading.plans, not_kept(plans, reading.plans, folder), folder)
    (folder / "reading.toml").write_text(text, encoding="utf-8")
    return text


def again(folder: Path) -> Reading:
    return read_with_plans(site(folder), AS_OF)[0]


def test_rows_added_below_are_read_as_the_plan_says(tmp_path: Path) -> None:
    xlsx(tmp_path / "log.xlsx", {"2025": LOG})
    keep(tmp_path)
    xlsx(tmp_path / "log.xlsx", {"2025": [*LOG, [dt.date(2025, 3, 6), "Hotel", "leaves", 30]]})
    assert again(tmp_path).entries["mass_kg"].tolist() == pytest.approx([40 * LB, 12 * LB, 30 * LB])


def test_a_changed_heading_sets_the_sheet_aside_and_names_its_cell(tmp_path: Path) -> None:
    xlsx(tmp_path / "log.xlsx", {"2025": LOG})
    keep(tmp_path)
    xlsx(tmp_path / "log.xlsx", {"2025": [["Date", "Source", "Material", "Weight (kg)"], *LOG[1:]]})
    reading = again(tmp_path)
    assert reading.entries.empty
    assert reading.set_aside["row"].tolist() == [2, 3]
    (said,) = [f for f in reading.findings if f.code == "plan does not fit"]
    assert str(said.where) == "log.xlsx!2025!D1"
    assert "Weight (lb)" in str(said.message)
    assert "Weight (kg)" in str(said.message)


def test_a_new_column_of_numbers_is_asked_about(tmp_path: Path) -> None:
    xlsx(tmp_path / "log.xlsx", {"2025": LOG})
    keep(tmp_path)
    xlsx(
        tmp_path / "log.xlsx",
        {"2025": [[*r, c] for r, c in zip(LOG, ["Tare (lb)", 3, 4], strict=True)]},
    )
    reading = again(tmp_path)
    assert reading.entries.empty
    assert [str(f.where) for f in reading.findings if f.code == "plan does not fit"] == [
        "log.xlsx!2025!E1"
    ]


def test_a_plan_is_followed_against_the_headings_words(tmp_path: Path) -> None:
    """A person who says that a column is nothing is not asked about it again."""
    rows = [[*LOG[0], "Net (lb)"], [*LOG[1], 35], [*LOG[2], 10]]
    xlsx(tmp_path / "log.xlsx", {"2025": rows})
    text = keep(tmp_path)
    lines = text.splitlines()
    changed = [
        line.replace('is = "weight"', 'is = "ignore"') if 'at = "D"' in line else line
        for line in lines
    ]
    ours = "\n".join(changed).replace('columns = ["D", "E"]', 'columns = ["E"]')
    assert ours != text
    (tmp_path / "reading.toml").write_text(ours, encoding="utf-8")
    assert again(tmp_path).entries["mass_kg"].tolist() == pytest.approx([35 * LB, 10 * LB])


def test_months_that_lie_alike_say_only_what_differs(tmp_path: Path) -> None:
    days = [["Day", "Source", "Material", "Weight (lb)"], [4, "School", "food scraps", 40]]
    xlsx(tmp_path / "log.xlsx", {"Apr 24": days, "May 24": days})
    text = keep(tmp_path)
    assert text.count("[[sheet.table]]") == 1
    assert 'sheet = "May 24"\nlike = "Apr 24"\nsays = { years = [2024], month = 5 }' in text
    dates = again(tmp_path).entries["date"].dt.date.tolist()
    assert dates == [dt.date(2024, 4, 4), dt.date(2024, 5, 4)]


def test_what_a_title_asks_stays_a_question_of_months_that_lie_alike(tmp_path: Path) -> None:
    """Whether the tote still is in these weights nobody has said by keeping the plan."""
    days = [["Day", "Source", "Material", "Weight (lb)"], [4, "School", "food scraps", 40]]
    over = ["Everything is weighed in the tote, 9 lb", "The tote alone comes to 11 lb"]
    sheets = {f"{m} 24": [[text], *days] for m, text in zip(("Apr", "May"), over, strict=True)}
    xlsx(tmp_path / "log.xlsx", sheets)
    first = again(tmp_path)
    text = keep(tmp_path)
    assert text.count("[[sheet.table]]") == 1
    assert [f'titles = ["{title}"]' in text for title in over] == [True, True]
    kept = again(tmp_path)
    assert len(kept.set_aside) == 2
    assert kept.set_aside.equals(first.set_aside)


def test_the_order_of_dates_that_was_followed_is_kept(tmp_path: Path) -> None:
    """4/3 alone could be either; the plan holds what the other dates of its file showed."""
    head = ["Date", "Source", "Material", "Weight (lb)"]
    first = [head, ["25/3/2025", "School", "food scraps", 40]]
    second = [head, ["4/3/2025", "School", "food scraps", 30]]
    xlsx(tmp_path / "log.xlsx", {"A": first, "B": second})
    assert 'dates = "day first"' in keep(tmp_path)
    xlsx(tmp_path / "log.xlsx", {"A": [head], "B": second})
    assert again(tmp_path).entries["date"].dt.date.tolist() == [dt.date(2025, 3, 4)]


def test_comments_stay_and_a_replaced_sheet_changes_no_other(tmp_path: Path) -> None:
    days = [["Day", "Source", "Material", "Weight (lb)"], [4, "School", "food scraps", 40]]
    xlsx(tmp_path / "log.xlsx", {"Apr 24": days, "May 24": days})
    text = "# ours\n\n" + keep(tmp_path)
    plans = read_plans(text, tmp_path)
    other = SheetPlan("log.xlsx", "Apr 24", "nothing")
    after = with_plans(text, [other], tmp_path)
    assert after.startswith("# ours\n")
    assert read_plans(after, tmp_path) == (other, plans[1])


def test_what_nobody_can_tell_is_not_kept(tmp_path: Path) -> None:
    """A log that nowhere says how much came: its loads are set aside, and stay a question."""
    xlsx(tmp_path / "log.xlsx", {"2025": [row[:3] for row in LOG]})
    _, plans = read_with_plans(site(tmp_path), AS_OF)
    assert plans == ()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[[sheet]]\nsheet = 'A'\n", "file is missing"),
        (
            "[[sheet]]\nfile = 'a.csv'\nlikes = 'B'\n",
            '"likes"|Did you mean "like"?',
        ),
        ("[[sheet]]\nfile = 'a.csv'\nlike = 'B'\n", "Name a sheet that stands above"),
        ("[[sheet]]\nfile = 'a.csv'\n[[sheet.table]]\nrows = '4'\nacross = 'A:B'\n", 'rows = "4"'),
        (
            "[[sheet]]\nfile = 'a.csv'\n[[sheet.table]]\nrows = '4:'\nacross = 'A:B'\n"
            "columns = [{ at = 'A', is = 'wieght' }]\n",
            'Did you mean "weight"?',
        ),
        (
            "[[sheet]]\nfile = 'a.csv'\n[[sheet.table]]\nrows = '4:'\nacross = 'A:B'\n"
            "columns = [{ at = 'A', is = 'weight' }]\nloads = [{ columns = ['B'] }]\n",
            "letters|the columns above",
        ),
        ("[[sheet]]\nfile = 'a.csv'\n[[sheet]]\nfile = 'a.csv'\n", "has an entry already"),
        ("[site]\nname = 'x'\n", "holds [[sheet]] tables only"),
        ("[[sheet\n", "line 1 is not TOML"),
    ],
)
def test_a_mistake_in_reading_toml_is_one_message(text: str, says: str, tmp_path: Path) -> None:
    (tmp_path / "reading.toml").write_text(text, encoding="utf-8")
    with pytest.raises(CannotRun) as stopped:
        again(tmp_path)
    assert "reading.toml" in str(stopped.value)
    assert tells(stopped.value, says)
