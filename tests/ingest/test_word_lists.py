"""No word of the lists is lost: each is found, and under the one thing it stands for."""

from __future__ import annotations

from divert.ingest.cells.mark import is_total_label
from divert.ingest.lexicon import words
from divert.ingest.tables.heading_words import norm


def test_no_heading_stands_for_two_fields() -> None:
    fields: dict[str, set[str]] = {}
    for field, phrases in words("headings")["field"].items():
        for phrase in phrases:
            fields.setdefault(norm(phrase), set()).add(field)
    assert {phrase: held for phrase, held in fields.items() if len(held) > 1} == {}


def test_every_word_for_a_total_labels_one() -> None:
    listed = (*words("marks")["total"], *words("marks")["total_word"])
    assert [phrase for phrase in listed if not is_total_label(phrase)] == []
