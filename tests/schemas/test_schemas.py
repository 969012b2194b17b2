"""The shipped schemas describe what the tool really writes, and would notice if it did not."""

import copy
import csv
import datetime as dt
import io
import json

import jsonschema
import pytest
from made_up import AS_OF, SITE, workings

from divert.cli.output.ledger_file import ledger_csv
from divert.core.ledger import COLUMNS, KINDS
from divert.core.period import read_period
from divert.figures.as_json import to_json
from divert.figures.compute import figures_for
from divert.figures.schemas import FIGURES, LEDGER, schema


def figures(label="2025-Q2", sponsor=None):
    period = read_period(label, as_of=AS_OF, started=SITE.started)
    plain = to_json(figures_for(workings(), period, AS_OF, sponsor))
    return json.loads(json.dumps(plain, allow_nan=False))  # as it is printed


@pytest.mark.parametrize("label", ["2025-Q2", "2025", "all", "2024-04"])
@pytest.mark.parametrize("sponsor", [None, "Quillmarsh School", "Two Oaks Credit Union"])
def test_real_figures_are_as_described(label, sponsor):
    check = jsonschema.Draft202012Validator(
        schema(FIGURES), format_checker=jsonschema.FormatChecker()
    )
    assert [e.message for e in check.iter_errors(figures(label, sponsor))] == []


def test_the_schema_itself_is_one():
    jsonschema.Draft202012Validator.check_schema(schema(FIGURES))


@pytest.mark.parametrize("key", list(figures()))
def test_every_key_that_is_printed_is_described(key):
    assert key in schema(FIGURES)["properties"]


@pytest.mark.parametrize(
    "spoil",
    [
        lambda f: f.pop("mass"),
        lambda f: f["mass"].update(diverted=12.0),
        lambda f: f["mass"]["diverted"].pop("low"),
        lambda f: f["rows"].update(seen=-1),
        lambda f: f["by_month"][0].update(month="April"),
        lambda f: f.update(as_of="yesterday"),
    ],
)
def test_figures_that_break_the_contract_are_noticed(spoil):
    broken = copy.deepcopy(figures())
    spoil(broken)
    check = jsonschema.Draft202012Validator(
        schema(FIGURES), format_checker=jsonschema.FormatChecker()
    )
    assert list(check.iter_errors(broken))


READ = {
    "string": str, "number": float, "integer": int,
    "date": lambda text: dt.datetime.strptime(text, "%Y-%m-%d"),
}  # fmt: skip


def test_the_real_ledger_is_as_described():
    fields = schema(LEDGER)["fields"]
    rows = list(csv.reader(io.StringIO(ledger_csv(workings().ledger))))
    assert rows[0] == [field["name"] for field in fields] == list(COLUMNS)
    assert len(rows) == len(workings().ledger) + 1
    for row in rows[1:]:
        for field, text in zip(fields, row, strict=True):
            limits = field.get("constraints", {})
            if text == "":
                assert not limits.get("required"), field["name"]
                continue
            value = READ[field["type"]](text)
            assert text in limits.get("enum", [text])
            if "minimum" in limits:
                assert value >= limits["minimum"], (field["name"], text)


def test_the_kinds_are_all_described():
    assert tuple(schema(LEDGER)["fields"][0]["constraints"]["enum"]) == KINDS
