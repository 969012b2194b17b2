"""The table of published numbers that is printed on request."""

from divert.factors import load_factors, sources_table

FACTORS = load_factors()
ROWS = sources_table(FACTORS)


def test_every_factor_band_and_screening_row_is_in_it():
    keys = {row.key for row in ROWS}
    assert {factor.key for factor in FACTORS.all()} <= keys
    assert {f"band.{key}" for key in FACTORS.bands} <= keys
    assert {f"screening.{s.set}.{s.class_}" for s in FACTORS.screening} <= keys


def test_a_number_is_given_with_its_document_table_year_and_standing():
    row = next(r for r in ROWS if r.key == "composting.ch4" and r.end == "typical")
    assert row.value == "0.004"
    assert row.as_published == "4 g per kg wet"
    assert "IPCC 2006" in row.document
    assert (row.year, row.table, row.standing) == ("2006", "Chapter 4, Table 4.1", "quoted")


def test_ends_from_one_table_share_a_row_and_others_do_not():
    produce = [r for r in ROWS if r.key == "density.produce.loose"]
    assert [(r.end, r.value) for r in produce] == [("", "202 – 359 – 750")]
    food = [r for r in ROWS if r.key == "density.food-scraps.in-pails-and-carts"]
    assert [r.end for r in food] == ["low", "typical", "high"]


def test_every_row_names_a_document_and_a_standing():
    for row in ROWS:
        assert row.document, row
        assert row.standing in ("read", "quoted", "memory", "proxy"), row
