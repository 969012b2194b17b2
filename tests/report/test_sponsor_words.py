"""What a sponsor report says in each case, read as a sponsor would."""

import re
from dataclasses import replace

import cases
import make_figures as made
import pytest
from cases import plain
from told import tells

from divert.figures.contract import Mass
from divert.figures.history import History, Move, Restatement, Withdrawn
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.report.sponsor.page import sponsor_view
from divert.report.wording.factor_names import documents
from divert.report.wording.method_box import not_claimed, standing


def test_a_sponsor_who_pays_reads_their_share_first() -> None:
    view = cases.view_of(cases.supported())
    # The second quarter of 2025 took in 2,090 + 2,510 + 2,890 = 7,490 lb; of that 71.54 % is diverted
    # (0.46 x 0.9 + 0.16 x 0.96 + 0.08 x 0.88 + 0.05 x 0.98 + 0.03 x 0.95), a quarter of it 1,340 lb.
    assert tells(plain(view.headline), "Your support|estimated two thirds of a short ton of kitchen "
                 "scraps, juice pulp, cut flowers and other material|landfill|this quarter")  # fmt: skip
    assert (view.large.text, view.large_unit) == ("1,340", "lb")
    assert "25 % of everything the site diverted" in plain(view.about)
    assert "58 % of what came in was weighed" in plain(view.about)
    assert view.other_claim is None


def test_two_claims_are_told_apart_and_never_added() -> None:
    view = cases.view_of(cases.both())
    assert view.headline.startswith("You kept")
    # 18 % of 7,490 lb is 1,348 lb, of which 71.54 % is 964 lb; in the table's tens 960.
    assert view.large.text == "960"
    assert "536 lb" in plain(view.other_claim)  # a tenth of 5,359 lb
    assert "never add the two" in plain(view.other_claim)
    assert "1,500" not in plain(view.other_claim)  # 964 + 536


def test_incinerator_loads_are_kept_from_disposal_not_from_a_landfill() -> None:
    view = cases.view_of(cases.two_hundred_sources())
    assert "from disposal" in view.headline and "landfill" not in view.headline
    assert "incinerator counts as zero" in plain(view.avoided)


def test_an_empty_quarter_says_so_and_when_something_last_came() -> None:
    view = cases.view_of(cases.nothing_this_quarter())
    assert tells(plain(view.headline), "Nothing|from you|this quarter")
    assert view.large.text == "0"
    assert tells(plain(view.about), "last delivery|March 2025")
    assert view.strip is None and view.mix is None and view.avoided is None


def test_a_balance_below_zero_is_printed_as_an_adjustment() -> None:
    view = cases.view_of(cases.below_zero())
    assert "below zero" in view.headline
    assert view.large.text == "−77"  # -35 kg
    assert "No greenhouse gas was saved" in plain(view.avoided)
    assert "−38 kilograms of CO₂e" in plain(view.avoided)


def test_a_first_period_is_called_that_and_compared_with_nothing() -> None:
    view = cases.view_of(cases.first_period())
    assert tells(plain(view.site_words), "first period")
    assert "A year earlier" not in plain(view.site_words)
    assert view.table is not None and not view.table.compares


def test_a_period_to_date_names_its_last_entry() -> None:
    page, _ = cases.page_of(cases.to_date())
    assert tells(page, "April 1|June 12, 2025|to date")
    assert "this quarter so far" in page
    assert "the last entry is of June 10, 2025" in page


def test_material_that_would_not_have_been_thrown_away_is_not_claimed() -> None:
    figures = cases.supplied()
    own = figures.supplied
    assert own is not None
    grain = made.part("spent grain", 500.0, 500.0, 0.0)
    mass = made.total((grain,))
    figures = replace(
        figures,
        supplied=replace(own, received=mass.received, diverted=mass.diverted, mass=mass,
                         net_avoided=made.around(0.0), by_material=(grain,),
                         not_claimed_by={"fed to animals": mass.not_claimed}),
    )  # fmt: skip
    view = cases.view_of(figures)
    assert "none of it is claimed" in view.headline
    assert any("fed to animals before" in plain(note.text) for note in view.notes)


@pytest.mark.parametrize("case", cases.CASES)
def test_every_report_carries_its_method_and_its_cautions(case: str) -> None:
    page, _ = cases.page_of(cases.CASES[case]())
    words = plain(page)
    for due in (
        "An estimate, not a verified or tradable reduction",
        "not a deduction from anyone's",
        "released over the decades to come",
        "Others may also count this material",
        "Follow local rules on composting, labeling and environmental claims",
        "not evidence of pathogen reduction, product safety or compliance",
        "How we know.", "Coverage.", "Whose claim.", "Published numbers.",
    ):  # fmt: skip
        assert due in words.replace("\u2019", "'")
    for never in ("certified", "carbon neutral", "offset", "pathogen-free"):
        assert never not in words.lower()
    assert not re.search(r"(?<!short )(?<!long )\btons?\b", words)


def test_others_are_never_named() -> None:
    page, printed = cases.page_of(cases.both())
    for name in made.SOURCES:
        assert (name in page) == (name == "Tern Street Kitchen")
    assert not any("by_source" in figure.key for figure in printed)


def test_names_from_a_sheet_cannot_become_markup() -> None:
    figures = cases.supplied()
    own = figures.supplied
    assert own is not None
    bad = '<img src=x onerror="alert(1)">'
    parts = tuple(replace(p, name=bad) for p in own.by_material[:1])
    harvest = tuple(replace(h, destination=bad) for h in figures.harvest)
    page, _ = cases.page_of(
        replace(figures, sponsor=bad, supplied=replace(own, by_material=parts), harvest=harvest)
    )
    assert "<img" not in page
    assert "&lt;img" in page


def test_weak_numbers_that_carry_more_than_a_tenth_are_named_but_not_to_a_sponsor() -> None:
    figures = cases.supported()
    printer = Printer("en", "us")
    said = standing(figures.factors, printer)
    assert said is not None
    assert "Set down from memory and not yet checked" in plain(said.text)
    assert "Density of office paper, loose" in plain(said.text)  # 14 % of the mass
    lighter = tuple(replace(f, share=0.09) if f.share else f for f in figures.factors)
    less = standing(lighter, printer)
    assert less is None or "office paper, loose" not in plain(less.text)
    page, _ = cases.page_of(figures)
    assert "from memory" not in page


def test_earlier_reports_that_moved_are_owned_up_to() -> None:
    figures = cases.supported()
    moved = Restatement(
        "2025-0003", figures.as_of, "2025-Q1", "mass.diverted.central", 1500.0, 1450.0,
        (Move("rows removed", -50.0, 2),),
    )  # fmt: skip
    gone = Withdrawn("2025-0001", "2024-Q4", figures.as_of, figures.as_of, "2025-0002")
    printer = Printer("en", "us")
    view = sponsor_view(
        figures, History(restatements=(moved,), withdrawn=(gone,)), printer, cases.look()
    )
    notes = [f"{note.lead} {plain(note.text)}" for note in view.notes]
    assert "It changes what reports 2025-0003 and 2025-0001 said" in plain(view.short_note)
    # 1,500 kg are 3,306.9 lb and 1,450 kg 3,196.7 lb.
    assert any(
        n.startswith("Restated.")
        and "said 3,310 lb diverted by the whole site; it is now 3,200 lb" in n
        and "Why: rows removed −110." in n
        for n in notes
    )
    assert any("2025-0001 (2024-Q4) was withdrawn; 2025-0002 replaces it" in n for n in notes)


def test_parts_not_claimed_are_each_rounded_by_themselves_adjustments_named() -> None:
    # 9 lb and 17 lb below zero, half-widths of 1.0 and 2.0 lb: printed to the pound.
    split = {
        "fed to animals": made.around(740.0),  # 1,631 lb, half-width 188: tens
        "composted": made.around(-9.0 * made.LB),
        "spread on land": made.around(-17.0 * made.LB),
        "recycled": made.around(-0.05),
    }
    note = not_claimed(split, "not_claimed", Scale("lb"), Printer("en", "us"))
    assert note is not None
    numbers = re.findall(r">(−?[\d,]+)</data>", str(note.text))
    assert numbers == ["1,630", "−9", "−17"]
    assert "composted before (an adjustment)" in plain(note.text)
    assert "recycled" not in plain(note.text)  # a tenth of a pound decides nothing
    view = cases.view_of(replace(cases.supported(), not_claimed=split))
    assert "adjustment" not in " ".join(plain(n.text) for n in view.notes)


def test_a_stand_in_is_no_document() -> None:
    factor = replace(
        cases.supported().factors[0],
        source="low: Handbook (1993), yard waste; typical: No value found; high: Trade texts, bags",
        standing="low memory; typical proxy; high quoted",
    )
    assert documents([factor])[0] == "Handbook (1993)"
    assert not any("No value" in name for name in documents([factor]))
    assert documents([replace(factor, standing="proxy")]) == []


def test_a_time_in_which_nobody_wrote_down_a_delivery_is_told_so() -> None:
    figures = cases.supported()
    nothing = Mass(*[cases.NOTHING] * 6)
    quiet = replace(figures, mass=nothing, by_source=(), by_material=())
    said = plain(cases.view_of(quiet).site_words)
    assert said.startswith("This quarter nothing was received.")  # twelve weeks have entries
    unwritten = replace(quiet, weeks=replace(figures.weeks, logged=0, missing=13))
    said = plain(cases.view_of(unwritten).site_words)
    assert tells(said, "quarter no delivery was written") and "received" not in said.split(".")[0]
