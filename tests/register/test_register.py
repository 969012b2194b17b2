import json
from dataclasses import replace
from datetime import date

import pytest
from told import tells
from yard import AS_OF, issue, load, said, site, worked

from divert.core.findings import CannotRun
from divert.core.ledger_file import ledger_csv, ledger_of
from divert.register import (
    as_issued,
    as_issued_json,
    as_issued_lines,
    issued_report,
    issuing,
    read_register,
    withdraw,
)
from divert.register.lines import FIRST, made_line
from divert.register.snapshot import (
    factors_json,
    factors_of,
    settings_json,
    settings_of,
)
from divert.site.model import SheetRule, Source, Sponsor

ROWS = [load("2025-04-03", 10.0), load("2025-05-05", 20.0), load("2025-06-09", 30.0)]


@pytest.fixture
def workings(tmp_path):
    return worked(ROWS, site(tmp_path))


def test_a_report_is_remembered_with_what_it_said(workings):
    entry = issue(workings, said(workings))
    register = read_register(workings.site.folder)
    assert [e.number for e in register.entries] == ["2025-0001"]
    assert register.entries[0] == entry
    figures = as_issued(workings.site.folder, entry)
    assert figures["period"]["mass"]["diverted"]["central"] == pytest.approx(60.0)
    assert issued_report(workings.site.folder, entry) == b"report 2025-0001"
    kept = workings.site.folder / "issued" / "2025-0001"
    assert sorted(p.name for p in kept.iterdir()) == [
        "factors.json.gz", "figures.json.gz", "ledger.csv.gz", "line.json", "report.pdf",
        "settings.json.gz", "site.toml",
    ]  # fmt: skip


def test_issuing_twice_with_no_change_is_one_entry(workings):
    first = issue(workings, said(workings))
    later = issue(workings, said(workings, as_of=date(2025, 8, 1)))
    assert later.number == first.number
    assert len(read_register(workings.site.folder).entries) == 1


def test_later_entries_do_not_change_what_an_earlier_quarter_said(workings):
    first = issue(workings, said(workings))
    more = worked([*ROWS, load("2025-07-02", 99.0)], workings.site)
    assert issue(more, said(more)).number == first.number


def test_a_change_is_a_new_entry_and_so_is_another_reader(workings):
    issue(workings, said(workings))
    more = worked([*ROWS, load("2025-06-10", 5.0)], workings.site)
    assert issue(more, said(more)).number == "2025-0002"
    school = said(more, audience="sponsor", name="North School")
    assert issue(more, school).number == "2025-0003"


@pytest.mark.parametrize(
    "change",
    [
        {"toml": "# a comment\n[site]\nname = 'Alder Hollow Yard'\n"},
        {"sources": (Source("North kitchen", also=("north",)), Source("South kitchen"))},
        {"sponsors": (Sponsor("North School", supplies=("North kitchen",), email="a@b.example"),)},
        {"sheets": (SheetRule("log.xlsx", holds="intake"),)},
    ],
    ids=["a comment", "another spelling", "an address for mail", "how a sheet is read"],
)
def test_what_no_reader_of_the_report_can_see_is_no_new_entry(workings, change):
    first = issue(workings, said(workings))
    edited = worked(ROWS, replace(workings.site, **change))
    assert issue(edited, said(edited)).number == first.number


def test_another_colour_or_another_picture_is_a_new_entry(workings):
    issue(workings, said(workings))
    recoloured = worked(ROWS, replace(workings.site, colour="#123456"))
    assert issue(recoloured, said(recoloured)).number == "2025-0002"
    (workings.site.folder / "logo.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'/>")
    with_logo = worked(ROWS, replace(workings.site, logo="logo.svg"))
    assert issue(with_logo, said(with_logo)).number == "2025-0003"
    assert issue(with_logo, said(with_logo)).number == "2025-0003"
    (workings.site.folder / "logo.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'></svg>")
    assert issue(with_logo, said(with_logo)).number == "2025-0004"


def test_numbers_count_within_the_year_of_the_as_of_day(workings):
    issue(workings, said(workings))
    next_year = said(workings, "2025", as_of=date(2026, 1, 9))
    assert issue(workings, next_year).number == "2026-0001"


def test_one_run_takes_several_numbers(workings):
    board = said(workings)
    school = said(workings, audience="sponsor", name="North School")
    with issuing(workings.site.folder) as book:
        numbers = [book.number_for(one, workings) for one in (board, school)]
        for number, one in zip(numbers, (board, school), strict=True):
            book.issue(number, one, workings, b"pdf", b"e", b"r")
    assert [e.number for e in read_register(workings.site.folder).entries] == [
        "2025-0001", "2025-0002",
    ]  # fmt: skip


def test_withdrawing_adds_a_line_and_rewrites_none(workings):
    issue(workings, said(workings))
    before = (workings.site.folder / "register.jsonl").read_bytes()
    withdraw(workings.site.folder, "2025-0001", AS_OF, "wrong period")
    after = (workings.site.folder / "register.jsonl").read_bytes()
    assert after.startswith(before)
    register = read_register(workings.site.folder)
    assert register.live == ()
    assert register.withdrawals["2025-0001"].reason == "wrong period"
    # What was taken back does not count as said: the same report gets a new number.
    assert issue(workings, said(workings)).number == "2025-0002"


def test_a_report_may_withdraw_another_to_its_own_reader_only(workings):
    issue(workings, said(workings))
    with pytest.raises(CannotRun, match="another reader"):
        issue(workings, said(workings, audience="sponsor", name="North School",
                             withdraws="2025-0001"))  # fmt: skip
    with pytest.raises(CannotRun, match="No report was issued under"):
        issue(workings, said(workings, withdraws="2025-0009"))
    new = issue(workings, said(workings, withdraws="2025-0001"))
    register = read_register(workings.site.folder)
    assert register.withdrawals["2025-0001"].replaced_by == new.number
    with pytest.raises(CannotRun, match="withdrawn already"):
        issue(workings, said(workings, withdraws="2025-0001"))


def test_a_torn_last_line_is_passed_over_and_taken_off(workings):
    issue(workings, said(workings))
    path = workings.site.folder / "register.jsonl"
    whole = path.read_bytes()
    path.write_bytes(whole + b'{"what": "issued", "number": "2025-00')
    assert read_register(workings.site.folder).lines.torn
    assert [e.number for e in read_register(workings.site.folder).entries] == ["2025-0001"]
    school = said(workings, audience="sponsor", name="North School")
    assert issue(workings, school).number == "2025-0002"
    assert path.read_bytes().startswith(whole)
    assert not read_register(workings.site.folder).lines.torn


@pytest.mark.parametrize("which", [0, 1])
def test_a_line_changed_afterwards_is_found_out(workings, which):
    issue(workings, said(workings))
    issue(workings, said(workings, audience="sponsor", name="North School"))
    issue(workings, said(workings, "2025-05"))
    path = workings.site.folder / "register.jsonl"
    lines = path.read_text().splitlines()
    changed = json.loads(lines[which])
    changed["figures"]["period"]["mass"]["diverted"]["central"] = 61.0
    lines[which] = json.dumps(changed)
    path.write_text("\n".join(lines) + "\n")
    with pytest.raises(CannotRun, match=f"line {which + 1}, is not as it was"):
        read_register(workings.site.folder)


def test_another_digit_anywhere_in_the_last_line_is_found_out(workings):
    """No line after it vouches for it, so its own checksum has to."""
    issue(workings, said(workings))
    issue(workings, said(workings, "2025-05"))
    path = workings.site.folder / "register.jsonl"
    whole = path.read_bytes()
    start = whole[:-1].rfind(b"\n") + 1
    digits = [at for at in range(start, len(whole)) if whole[at : at + 1].isdigit()]
    assert len(digits) > 500
    for at in digits[::7]:
        other = b"1" if whole[at : at + 1] != b"1" else b"2"
        path.write_bytes(whole[:at] + other + whole[at + 1 :])
        with pytest.raises(CannotRun, match="line 2, is not as it was written"):
            read_register(workings.site.folder)


def test_a_line_taken_out_is_found_out(workings):
    issue(workings, said(workings))
    issue(workings, said(workings, "2025-05"))
    path = workings.site.folder / "register.jsonl"
    path.write_text(path.read_text().splitlines()[1] + "\n")
    with pytest.raises(CannotRun, match="is not as it was"):
        read_register(workings.site.folder)


def test_a_kept_file_changed_afterwards_is_found_out(workings):
    entry = issue(workings, said(workings))
    (workings.site.folder / "issued" / "2025-0001" / "report.pdf").write_bytes(b"other")
    with pytest.raises(CannotRun, match="is not as it was when report 2025-0001"):
        issued_report(workings.site.folder, entry)


def as_a_stranger_would(line):
    """Return a first line that says anything, with the checksums of one who knows how they go."""
    said = {k: v for k, v in line.items() if k not in ("line_sha256", "line_before")}
    return made_line(said, FIRST).raw + b"\n"


def test_a_register_from_a_stranger_names_no_reader_there_is_not(workings):
    issue(workings, said(workings))
    path = workings.site.folder / "register.jsonl"
    line = json.loads(path.read_text())
    for reader in ("bored", None, ["board"]):
        line["audience"] = reader
        path.write_bytes(as_a_stranger_would(line))
        with pytest.raises(CannotRun, match="not a line of a register"):
            read_register(workings.site.folder)


@pytest.mark.parametrize("path", [
    ("figures",), ("fingerprints",), ("figures", "period"), ("figures", "period", "period"),
    ("figures", "period", "period", "end"), ("figures", "period", "mass"),
    ("figures", "period", "mass", "diverted"), ("figures", "period", "mass", "diverted", "low"),
    ("figures", "period", "emissions", "net_avoided"),
])  # fmt: skip
@pytest.mark.parametrize("other", [None, "x", []])
def test_a_line_that_says_something_else_is_no_line_of_a_register(workings, path, other):
    issue(workings, said(workings))
    register = workings.site.folder / "register.jsonl"
    line = json.loads(register.read_text())
    *above, last = path
    place = line
    for key in above:
        place = place[key]
    place[last] = other
    register.write_bytes(as_a_stranger_would(line))
    with pytest.raises(CannotRun, match="not a line of a register"):
        read_register(workings.site.folder)


def test_a_register_from_a_stranger_names_no_folder_outside(workings):
    issue(workings, said(workings))
    path = workings.site.folder / "register.jsonl"
    line = json.loads(path.read_text())
    line["number"] = "../../etc"
    path.write_bytes(as_a_stranger_would(line))
    with pytest.raises(CannotRun, match="not a line of a register"):
        read_register(workings.site.folder)


def test_what_was_said_can_be_asked_for(workings):
    issue(workings, said(workings))
    more = worked([*ROWS, load("2025-06-10", 40.0)], workings.site)
    issue(more, said(more))
    told = as_issued_json(workings.site, "2025-Q2")
    central = [e["figures"]["period"]["mass"]["diverted"]["central"] for e in told["issued"]]
    assert central == pytest.approx([60.0, 100.0])
    lines = [str(line) for line in as_issued_lines(workings.site, "2025-04/2025-06")]
    of_q2 = "2025-0001|board|2025-Q2|April 1, 2025|June 30, 2025|issued July 5, 2025"
    assert any(tells(line, of_q2) for line in lines)
    assert any("Diverted: 60 kilograms" in line for line in lines)
    issue(more, said(more, withdraws="2025-0002"))
    lines = [str(line) for line in as_issued_lines(workings.site, "2025-Q2")]
    assert any(tells(line, "Withdrawn|July 5, 2025|2025-0003") for line in lines)
    assert [e["replaced_by"] for e in as_issued_json(workings.site, "2025-Q2")["issued"]] == [
        None, "2025-0003", None,
    ]  # fmt: skip
    with pytest.raises(CannotRun, match="Issued so far: 2025-Q2"):
        as_issued_lines(workings.site, "2025-Q1")
    with pytest.raises(CannotRun, match="No report of 2031 was issued"):
        as_issued_lines(workings.site, "2031")


def test_where_nothing_was_issued_that_is_said(workings):
    with pytest.raises(CannotRun, match="No report of 2025-Q2 was issued"):
        as_issued_lines(workings.site, "2025-Q2")
    with pytest.raises(CannotRun, match="not one I can read"):
        as_issued_lines(workings.site, "2025-Q7")


def test_a_folder_with_no_register_has_said_nothing(tmp_path):
    assert read_register(tmp_path).entries == ()


def test_ledger_settings_and_factors_read_back_as_they_were(workings):
    odd = worked(
        [load("2025-04-03", 0.1 + 0.2, note='=1+1\r\n"quoted", é', found="NA"), load("2025-05-01",
         None, count=3.0, container="tote", fill=1 / 3)],
        workings.site,
    )  # fmt: skip
    entries = odd.reading.entries
    back = ledger_of(ledger_csv(entries))
    assert (
        back.astype(object).where(back.notna(), None).to_dict()
        == entries.astype(object).where(entries.notna(), None).to_dict()
    )
    assert settings_of(settings_json(odd.site), odd.site.folder) == odd.site
    assert factors_of(factors_json(odd.factors)) == odd.factors


def test_the_same_report_to_the_same_reader_keeps_its_number_whoever_else_got_one(workings):
    school = said(workings, audience="sponsor", name="North School")
    board = said(workings)
    assert [issue(workings, one).number for one in (school, board, school, board)] == [
        "2025-0001", "2025-0002", "2025-0001", "2025-0002",
    ]  # fmt: skip
