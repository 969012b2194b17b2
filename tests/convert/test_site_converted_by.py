"""What is left out when settings are compared for conversion is nothing that conversion looks at."""

from __future__ import annotations

import ast
import datetime as dt
from dataclasses import fields, replace
from pathlib import Path

import divert.convert
from divert.convert.site_converted_by import same_to_convert
from divert.site.model import Answer, Site, Sponsor

SITE = Site(Path("nowhere"), "Heron Yard", "metric", dt.date(2025, 1, 1), id="0123456789abcdef")
LEFT_OUT = {"name", "sponsors", "grants", "targets_kg", "logo", "colour", "toml"}


def looked_at() -> set[str]:
    """Return every setting of a site that the code of the calculation asks for."""
    found = set()
    for path in Path(divert.convert.__path__[0]).glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Attribute) and getattr(node.value, "id", "") == "site":
                found.add(node.attr)
    return found & {field.name for field in fields(Site)} | (found & {"seed"})


def test_conversion_looks_at_nothing_that_is_left_out() -> None:
    found = looked_at()
    assert {"containers", "materials", "sources", "answers", "seed"} <= found
    assert not found & LEFT_OUT


def test_what_reports_alone_ask_is_the_same_to_conversion() -> None:
    answer = Answer("source not recorded", "so")
    other = replace(
        SITE, name="Otter Yard", sponsors=(Sponsor("x"),), targets_kg=((2025, 1.0),),
        colour="#000000", answers=(answer,), toml="[site]",
    )  # fmt: skip
    assert same_to_convert(SITE, other)


def test_whatever_else_differs_is_not() -> None:
    for other in (
        replace(SITE, scale_accuracy=0.02),
        replace(SITE, units="us"),
        replace(SITE, year_starts=7),
        replace(SITE, country="CA"),
        replace(SITE, id="fedcba9876543210"),  # another seed, other draws
    ):
        assert not same_to_convert(SITE, other)


def test_a_site_without_an_id_is_drawn_by_its_name() -> None:
    nameless = replace(SITE, id="")
    assert same_to_convert(nameless, nameless)
    assert not same_to_convert(nameless, replace(nameless, name="Otter Yard"))
