"""What a column is said to be: in the reader's words on the page, by its key in the file, in all months at once."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
import xlsxwriter
from flask.testing import FlaskClient

sys.path.insert(0, str(Path(__file__).parent))

from asking import asked, opened

from divert.core.column_words import FIELDS, column_said
from divert.core.words import Text
from divert.ingest.lexicon import words

HEAD = ("Date", "From", "What", "Heaps", "Weight (kg)")


def test_every_field_has_a_word() -> None:
    assert set(words("headings")["field"]) <= set(FIELDS)


@pytest.mark.parametrize(
    "taken, language, said",
    [
        ("count", "en", "how many"),
        ("gross (lb)", "en", "weight with container, lb"),
        ("weight: coffee grounds (lb)", "fr", "poids\u00a0: coffee grounds, lb"),
        ("quantity: leaves", "en", "amount: leaves"),
        ("not read", "fr", "non lu"),
        ("something new", "en", "something new"),  # what nobody named yet is said as it is
    ],
)
def test_a_column_is_said_in_words(taken: str, language: str, said: str) -> None:
    assert column_said(taken).say(language) == said
    assert isinstance(column_said(taken), Text)


@pytest.fixture
def browser(tmp_path: Path) -> Iterator[FlaskClient]:
    toml = '[site]\nname = "Yard"\nstarted = 2025-01-01\nunits = "metric"\n'
    (tmp_path / "site.toml").write_text(toml, encoding="utf-8")
    with xlsxwriter.Workbook(str(tmp_path / "log.xlsx")) as book:
        for month, head in (("Jan", HEAD), ("Feb", HEAD), ("Mar", (*HEAD[:3], "Lids", HEAD[4]))):
            sheet = book.add_worksheet(month)
            for r, row in enumerate((head, ("2025-01-06", "Mill Lane", "leaves", 2, 10))):
                sheet.write_row(r, 0, row)
    with opened(tmp_path) as client:
        yield client


def lines(browser: FlaskClient, **form: str) -> str:
    said = {"file": "log.xlsx", "sheet": "Jan", "column": "D", "field": "count"}
    return asked(browser, "/sheets", said | form)


def test_a_word_is_written_for_one_sheet_or_for_all_with_its_heading(browser: FlaskClient) -> None:
    alone, all_alike = lines(browser), lines(browser, alike="1")
    assert ["Jan" in alone, "Feb" in alone, "Mar" in alone] == [True, False, False]
    # March heads that column otherwise.
    assert ["Jan" in all_alike, "Feb" in all_alike, "Mar" in all_alike] == [True, True, False]
    assert "count = &#34;D&#34;" in all_alike and "how many" not in all_alike
