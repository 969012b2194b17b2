"""Why an issued figure moved: one test per reason, each worked out by hand, and a mix of them."""

from dataclasses import replace
from datetime import date

import pytest
from yard import AS_OF, STARTED, issue, load, reading, said, site, worked

from divert.core.period import read_period
from divert.factors import load_factors
from divert.figures.compute import figures_for
from divert.register import history_for
from divert.register.differences import differences
from divert.site.model import Container

LATER = date(2025, 10, 3)
# Weighed 10, 20 and 30 kg, and one tote of flowers: 0.1 m3 x 100 kg/m3 = 10 kg. 70 kg in all.
FLOWERS = load("2025-04-20", None, material="flowers", count=1.0, container="tote", fill=1.0)
ROWS = [load("2025-04-03", 10.0), load("2025-05-05", 20.0), load("2025-06-09", 30.0), FLOWERS]


def moved(then, now, read=None, figure="mass.diverted.central", **more):
    """Issue the quarter as it was then; return what a report of today says of one figure."""
    issue(then, said(then))
    one = said(now, as_of=LATER, **more)
    history = history_for(now, "board", "", one.figure_sets, read=read or (lambda *_: now.reading))
    found = [r for r in history.restatements if r.figure == figure]
    assert len(found) <= 1
    return found[0] if found else None


def parts(restated):
    return {move.reason: pytest.approx(move.amount) for move in restated.parts}


def adds_up(restated):
    return restated.was + sum(p.amount for p in restated.parts) == pytest.approx(
        restated.now, rel=1e-12
    )


def test_nothing_moved_is_nothing_said(tmp_path):
    yard = site(tmp_path)
    assert moved(worked(ROWS, yard), worked(ROWS, yard)) is None


def test_rows_that_only_lie_elsewhere_are_the_same(tmp_path):
    yard = site(tmp_path)
    shuffled = [{**row, "file": "other.xlsx", "sheet": "All", "row": n * 7 + 3}
                for n, row in enumerate(reversed(ROWS))]  # fmt: skip
    assert moved(worked(ROWS, yard), worked(shuffled, yard)) is None


def test_rows_added(tmp_path):
    yard = site(tmp_path)
    restated = moved(worked(ROWS, yard), worked([*ROWS, load("2025-06-11", 15.0)], yard))
    assert (restated.was, restated.now) == (pytest.approx(70.0), pytest.approx(85.0))
    assert parts(restated) == {"rows added": 15.0}
    assert restated.parts[0].rows == 1
    assert (restated.number, restated.label, restated.issued) == ("2025-0001", "2025-Q2", AS_OF)


def test_rows_changed(tmp_path):
    yard = site(tmp_path)
    changed = [ROWS[0], load("2025-05-05", 26.5), *ROWS[2:]]
    restated = moved(worked(ROWS, yard), worked(changed, yard))
    assert parts(restated) == {"rows changed": 6.5}
    assert restated.parts[0].rows == 1


@pytest.mark.parametrize(
    "change",
    [{"date": "2025-07-01"}, {"source": "South kitchen", "date": "2025-07-01"}],
    ids=["its day corrected", "its day and source corrected"],
)
def test_a_row_moved_out_of_the_quarter(tmp_path, change):
    yard = site(tmp_path)
    now = [*ROWS[:2], {**ROWS[2], **change}, FLOWERS]
    restated = moved(worked(ROWS, yard), worked(now, yard))
    assert sum(p.amount for p in restated.parts) == pytest.approx(-30.0)
    if len(change) == 1:
        assert parts(restated) == {"rows changed": -30.0}


def test_rows_removed(tmp_path):
    yard = site(tmp_path)
    restated = moved(worked(ROWS, yard), worked([*ROWS[:2], FLOWERS], yard))
    assert parts(restated) == {"rows removed": -30.0}
    assert restated.parts[0].rows == 1


def test_settings_changed(tmp_path):
    bigger = site(tmp_path, containers=(Container("tote", volume_m3=0.15, usual_fill=1.0),))
    restated = moved(worked(ROWS, site(tmp_path)), worked(ROWS, bigger))
    assert parts(restated) == {"settings changed": 5.0}  # 0.05 m3 more of flowers


def test_a_setting_that_changes_how_a_sheet_is_read(tmp_path):
    """Two "tons" were short and are long now: the rows are the same, the setting is not."""
    short, long = 2 * 907.18474, 2 * 1016.0469088  # NIST Handbook 44, Appendix C
    then, now = site(tmp_path), site(tmp_path, ton="long")

    def read(settings, _plans):
        return reading([load("2025-04-03", short if settings.ton == "short" else long)])

    restated = moved(
        worked([load("2025-04-03", short)], then), worked([load("2025-04-03", long)], now), read
    )
    assert parts(restated) == {"settings changed": long - short}


def test_a_plan_that_reads_a_sheet_otherwise(tmp_path):
    """A column "Wt 2" of 4 kg was no load and is one now: reading.toml says so, no row has changed.

    With it a row was added, 15 kg, which both plans read alike.
    """
    yard = site(tmp_path)
    second, more = load("2025-05-05", 4.0, column="G"), load("2025-06-11", 15.0)

    def read(_settings, plans):
        return reading([*ROWS, more, *([second] if plans == "new" else [])])

    then, now = worked(ROWS, yard), worked([*ROWS, second, more], yard)
    then = replace(then, reading=replace(then.reading, plans="old"))
    now = replace(now, reading=replace(now.reading, plans="new"))
    restated = moved(then, now, read)
    assert parts(restated) == {"rows added": 15.0, "sheets read otherwise": 4.0}
    assert adds_up(restated)


def weigh_in(day, kg):
    return load(day, kg, kind="weigh-in", volume_m3=0.1, sheet="Weigh-ins")


def test_the_sites_own_densities_moved(tmp_path):
    """Three loads of 40 kg per 0.1 m3 taught 400 kg/m3; three more of 46 make it 430."""
    yard = site(tmp_path)
    taught = [weigh_in(f"2025-02-0{n}", 40.0) for n in (1, 2, 3)]
    rows = [*taught, load("2025-04-03", None, volume_m3=1.0)]
    more = [weigh_in(f"2025-08-0{n}", 46.0) for n in (1, 2, 3)]
    restated = moved(worked(rows, yard), worked([*rows, *more], yard))
    assert (restated.was, restated.now) == (pytest.approx(400.0), pytest.approx(430.0))
    assert parts(restated) == {"the site's own densities moved": 30.0}


def with_density(key, value):
    factors = load_factors()
    changed = tuple(
        replace(f, value=value, low=value * 0.8, high=value * 1.2) if f.key == key else f
        for f in factors.factors
    )
    return replace(factors, factors=changed)


def test_factors_changed(tmp_path):
    yard = site(tmp_path)
    rows = [load("2025-04-03", None, material="straw", volume_m3=2.0)]
    then = worked(rows, yard)
    key = then.ledger["factor"].iloc[0]
    old = then.factors.get(key).value
    now = worked(rows, yard, with_density(key, old + 10.0))
    restated = moved(then, now)
    assert parts(restated) == {"factors changed": 20.0}


def test_a_mix_of_all_reasons_adds_up_to_the_move(tmp_path):
    """In order: added, changed, removed, settings, own densities, factors; worked out by hand.

    Then: 10 + 20 + 30 weighed, flowers 1 tote = 0.1 m3 x 100 = 10, straw 2 m3 x s, scraps 1 m3 x 400
    (taught by three weigh-ins of 40 kg in 0.1 m3).
    """
    then_site = site(tmp_path)
    straw = load("2025-05-20", None, material="straw", volume_m3=2.0)
    scraps = load("2025-06-20", None, volume_m3=1.0)
    taught = [weigh_in(f"2025-02-0{n}", 40.0) for n in (1, 2, 3)]
    rows = [*ROWS, straw, scraps, *taught]
    then = worked(rows, then_site)
    key = next(k for k in then.ledger["factor"].dropna().unique() if k.startswith("density."))
    old = then.factors.get(key).value
    more = [weigh_in(f"2025-08-0{n}", 46.0) for n in (1, 2, 3)]
    now_rows = [
        load("2025-04-03", 10.0),  # as it was
        load("2025-05-05", 23.0),  # changed: + 3
        # the 30 kg of June removed: - 30
        FLOWERS, straw, scraps, *taught, *more,
        load("2025-06-28", 8.0),  # added: + 8
        load("2025-06-29", None, material="flowers", count=2.0, container="tote", fill=1.0),  # + 20
    ]  # fmt: skip
    now_site = site(tmp_path, containers=(Container("tote", volume_m3=0.2, usual_fill=1.0),))
    restated = moved(then, worked(now_rows, now_site, with_density(key, old + 5.0)))
    assert restated.was == pytest.approx(60 + 10 + 2 * old + 400)
    assert list(parts(restated).items()) == [
        ("rows added", 28.0),
        ("rows changed", 3.0),
        ("rows removed", -30.0),
        ("settings changed", 30.0),  # three totes of flowers, 0.1 m3 more each
        ("the site's own densities moved", 30.0),
        ("factors changed", 10.0),
    ]
    assert adds_up(restated)
    assert [p.rows for p in restated.parts][:3] == [2, 1, 1]


def test_every_figure_that_moved_is_named_and_adds_up(tmp_path):
    yard = site(tmp_path)
    then = worked(ROWS, yard)
    issue(then, said(then))
    now = worked([*ROWS, load("2025-06-11", 15.0, removed_kg=1.0)], yard)
    one = said(now, as_of=LATER)
    history = history_for(now, "board", "", one.figure_sets, read=lambda *_: now.reading)
    by_figure = {r.figure: r for r in history.restatements}
    assert by_figure["mass.received.central"].now == pytest.approx(85.0)
    assert by_figure["mass.removed.central"].now == pytest.approx(1.0)
    assert by_figure["mass.diverted.central"].now == pytest.approx(84.0)
    # Composting of 14 kg more: (4 g x 27.0 + 0.24 g x 273) per kg (IPCC 2006 V5 Table 4.1, AR6).
    process = by_figure["emissions.process.central"]
    assert process.now - process.was == pytest.approx(14 * (0.004 * 27.0 + 0.00024 * 273))
    assert all(adds_up(r) for r in history.restatements)


def test_todays_value_is_that_of_todays_figures(tmp_path):
    yard = site(tmp_path)
    now = worked([*ROWS, load("2025-06-11", 15.0)], yard)
    restated = moved(worked(ROWS, yard), now)
    today = said(now).figure_sets["period"].mass.diverted.central
    assert restated.now == pytest.approx(today, rel=1e-12)


def test_a_sponsor_is_told_of_its_own_figures(tmp_path):
    yard = site(tmp_path)
    then = worked(ROWS, yard)
    issue(then, said(then, audience="sponsor", name="North School"))
    now = worked([*ROWS, load("2025-06-11", 15.0), load("2025-06-12", 9.0, source="South kitchen")],
                 yard)  # fmt: skip
    one = said(now, "2025-Q3", "sponsor", "North School", as_of=LATER)
    history = history_for(
        now, "sponsor", "North School", one.figure_sets, read=lambda *_: now.reading
    )
    by_figure = {r.figure: r for r in history.restatements}
    own, whole = by_figure["supplied.diverted.central"], by_figure["mass.diverted.central"]
    assert (own.now - own.was, whole.now - whole.was) == (
        pytest.approx(15.0), pytest.approx(24.0),
    )  # fmt: skip


def test_previously_reported_comes_from_the_register(tmp_path):
    yard = site(tmp_path)
    first = [load("2025-02-02", 100.0), *ROWS]
    then = worked(first, yard)
    issue(then, said(then, "2025-Q1", "grant", "Soil and Streams Fund"))
    now = worked([load("2025-02-02", 90.0), *ROWS], yard)
    one = said(now, "2025-Q2", "grant", "Soil and Streams Fund")
    history = history_for(
        now, "grant", "Soil and Streams Fund", one.figure_sets, read=lambda *_: now.reading
    )
    assert history.previously.number == "2025-0001"
    assert history.previously.figures["mass"]["diverted"]["central"] == pytest.approx(100.0)
    moved_ = {r.figure: r for r in history.restatements}["mass.diverted.central"]
    assert (moved_.was, moved_.now) == (pytest.approx(100.0), pytest.approx(90.0))
    # Previously reported + restated + this period = total.
    total = one.figure_sets["total"].mass.diverted.central
    period = one.figure_sets["period"].mass.diverted.central
    assert 100.0 + (moved_.now - moved_.was) + period == pytest.approx(total)


def test_of_several_statements_the_last_to_end_is_the_one_before(tmp_path):
    """Q2's is issued first and Q1's after it: before Q3 the funder last read of 100 + 70 kg."""
    yard = site(tmp_path)
    books = worked([load("2025-02-02", 100.0), *ROWS, load("2025-07-02", 5.0)], yard)
    for label in ("2025-Q2", "2025-Q1"):
        issue(books, said(books, label, "grant", "Soil and Streams Fund"))
    sets = said(books, "2025-Q3", "grant", "Soil and Streams Fund").figure_sets
    history = history_for(
        books, "grant", "Soil and Streams Fund", sets, read=lambda *_: books.reading
    )
    assert history.previously.number == "2025-0001"
    assert history.previously.figures["mass"]["diverted"]["central"] == pytest.approx(170.0)


def test_a_withdrawn_report_is_named_and_no_longer_compared_with(tmp_path):
    yard = site(tmp_path)
    then = worked(ROWS, yard)
    issue(then, said(then))
    now = worked([*ROWS, load("2025-06-11", 15.0)], yard)
    one = said(now, as_of=LATER, withdraws="2025-0001")
    history = history_for(
        now, "board", "", one.figure_sets, read=lambda *_: now.reading, number="2025-0002",
        withdraws="2025-0001",
    )  # fmt: skip
    assert history.restatements == ()
    (gone,) = history.withdrawn
    assert (gone.number, gone.replaced_by, gone.withdrawn) == ("2025-0001", "2025-0002", LATER)
    issue(now, one)
    again = history_for(now, "board", "", said(now, "2025-Q3", as_of=LATER).figure_sets,
                        read=lambda *_: now.reading)  # fmt: skip
    assert [w.number for w in again.withdrawn] == ["2025-0001"]


def test_rows_are_matched_one_for_one_however_many_are_alike():
    old = reading([load("2025-04-03", 10.0)] * 3).entries
    new = reading([load("2025-04-03", 10.0)] * 5).entries
    found = differences(old, new)
    assert (len(found.added), len(found.changed_old), len(found.removed)) == (2, 0, 0)
    back = differences(new, old)
    assert (len(back.added), len(back.changed_old), len(back.removed)) == (0, 0, 2)


def test_a_report_that_shares_one_day_with_an_issued_one_tells_what_moved(tmp_path):
    """Issued to 30 April, 10 kg; 4 kg of that day were found later. From 30 April on: told. From 1 May:
    a grant's own days hold none of it, and what was reported before is told with the total."""
    then = worked([load("2025-04-30", 10.0), load("2025-05-05", 20.0)], site(tmp_path))
    now = worked(
        [load("2025-04-30", 10.0), load("2025-05-05", 20.0), load("2025-04-30", 4.0)],
        site(tmp_path),
    )
    grant = {"audience": "grant", "name": "Soil and Streams Fund"}
    issue(then, said(then, "2025-04-01/2025-04-30", **grant))

    def told(label):
        one = said(now, label, as_of=LATER, **grant)
        history = history_for(now, *grant.values(), one.figure_sets, read=lambda *_: now.reading)
        earlier = history.previously and history.previously.end
        moves = {r.was: r.now for r in history.restatements if r.figure == "mass.diverted.central"}
        return earlier, moves

    assert told("2025-04-30/2025-05-31") == (None, {10.0: 14.0})
    assert told("2025-05-01/2025-05-31") == (date(2025, 4, 30), {10.0: 14.0})


def test_reports_of_one_day_of_issue_are_worked_out_again_once(tmp_path):
    """Two boards' quarters issued from one ledger, under another bare ton: one reading serves both."""
    then, now = site(tmp_path), site(tmp_path, ton="long")
    books = worked([load("2025-02-02", 100.0), *ROWS], then)
    for label in ("2025-Q1", "2025-Q2"):
        issue(books, said(books, label))
    edited = worked([load("2025-02-02", 112.0), *ROWS], now)
    asked = []

    def read(settings, _plans):
        asked.append(settings.ton)
        return books.reading

    one = said(edited, "2025-Q2", as_of=LATER)
    for _ in range(2):  # Q2 compares with Q1, whose 100 kg have become 112 as the ton is a long one
        told = history_for(edited, "board", "", one.figure_sets, read=read).restatements
        diverted = [r for r in told if r.figure == "mass.diverted.central"]
        assert [(r.label, r.was, r.now) for r in diverted] == [("2025-Q1", 100.0, 112.0)]
    assert asked == ["short"]


def test_workings_with_other_entries_begin_without_what_was_worked_out(tmp_path):
    """70 kg; the same workings with the first load alone, 10 kg, may not answer 70."""
    books = worked(ROWS, site(tmp_path))
    quarter = read_period("2025-Q2", as_of=AS_OF, started=STARTED)
    assert figures_for(books, quarter, AS_OF).mass.diverted.central == pytest.approx(70.0)
    first = replace(books, ledger=books.ledger.iloc[:1])
    assert figures_for(first, quarter, AS_OF).mass.diverted.central == pytest.approx(10.0)
