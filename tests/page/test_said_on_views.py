"""What views say, asked of the server itself: names by their sense, months and spans by the language."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask.testing import FlaskClient

sys.path.insert(0, str(Path(__file__).parent))

from asking import asked, opened

from divert.core.range import Range
from divert.figures.numbers.printed import Printer
from divert.page.amounts import Amounts

LOG = """\
Date,From,What,Weight (kg)
2025-02-03,Fennel Row,leaves,10
2025-02-04,fennel row,leaves,4
2025-02-05,FENNEL ROW,leaves,3
2025-02-06,Fennel Row,leaves,2
2025-02-07,Otto,leaves,1
"""


@pytest.fixture
def browser(tmp_path: Path) -> Iterator[FlaskClient]:
    toml = '[site]\nname = "Yard"\nstarted = 2025-01-01\nunits = "metric"\nlanguage = "fr"\n'
    (tmp_path / "site.toml").write_text(toml, encoding="utf-8")
    (tmp_path / "log.csv").write_text(LOG, encoding="utf-8")
    with opened(tmp_path) as client:
        yield client


def test_a_name_in_several_cases_is_one_and_is_written_once(browser: FlaskClient) -> None:
    page = asked(browser, "/names")
    names = re.findall(r'name="name-(source-\d+)" value="([^"]+)"', page)
    # The spelling that most lines have; its four lines are 10 + 4 + 3 + 2 = 19 kg.
    assert dict(names) == {"source-1": "Fennel Row", "source-2": "Otto"}
    assert re.search(r"19(\.|,0)?\u202f?kg", page.partition("Otto")[0])
    form = {f"{key}-source-1": said for key, said in
            (("name", "Fennel Row"), ("kind", "source"), ("what", "new"))}  # fmt: skip
    lines = asked(browser, "/names", {**form, "source-1.sponsor": "", "source-1.before": ""})
    assert lines.count("[[source]]") == 1 and "name = &#34;Fennel Row&#34;" in lines
    assert "fennel row" not in lines.partition("<main")[2].partition("<form")[0]


def test_months_are_named_in_the_language_of_the_page(browser: FlaskClient) -> None:
    page = asked(browser, "/yard")
    assert "février" in page and ">February<" not in page
    assert 'value="February"' in page  # as it stands in site.toml


def test_past_the_last_question_stands_the_last_one(browser: FlaskClient) -> None:
    assert 'section class="question"' in asked(browser, "/questions?from=999")


def test_a_span_that_reaches_below_nothing_is_said_in_words() -> None:
    amounts = Amounts(Printer("en", "metric"))
    assert amounts.ends("mass", Range(250.0, 150.0, 400.0)) == "150 – 400"
    assert amounts.ends("mass", Range(-250.0, -400.0, -150.0)) == "−400 to −150"
