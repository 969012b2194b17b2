"""The site's colour at AA contrast (WCAG 2.2, 1.4.3)."""

from hypothesis import given
from hypothesis import strategies as st

from divert.report.paper.colour import colours_of, contrast, parse

WHITE = (1.0, 1.0, 1.0)


def test_contrast_as_the_guidelines_define_it() -> None:
    # WCAG 2.2, "contrast ratio": from 1:1 to 21:1.
    assert contrast((0.0, 0.0, 0.0), WHITE) == 21
    assert contrast(WHITE, WHITE) == 1
    # Common practice: #767676 is the lightest grey for text on white, #777777 falls just short.
    assert contrast(parse("#767676") or WHITE, WHITE) >= 4.5
    assert contrast(parse("#777777") or WHITE, WHITE) < 4.5


def test_a_colour_that_reads_well_is_kept() -> None:
    assert colours_of("#2f6b4f").strong == "#2f6b4f"


@given(st.integers(0, 0xFFFFFF))
def test_any_colour_carries_text_on_white_and_white_on_it(number: int) -> None:
    strong = parse(colours_of(f"#{number:06x}").strong)
    assert strong is not None
    assert contrast(strong, WHITE) >= 4.5


def test_what_is_no_colour_gives_the_ordinary_one() -> None:
    assert colours_of("url(http://x.example)").strong == "#2f6b4f"
