"""Settings as they were kept on the day of issue read back as they were, whatever a key may hold."""

from __future__ import annotations

import datetime as dt
import json
import types
import typing
from dataclasses import fields, replace

import pytest
from yard import site

from divert.register.snapshot import settings_json, settings_of
from divert.site import model
from divert.site.model import Material, Site, Source


@pytest.mark.parametrize("law", [None, True, False, dt.date(2026, 1, 1)])
def test_a_law_reads_back_as_yes_no_or_its_first_day(tmp_path, law):
    settings = site(
        tmp_path,
        materials=(Material("kitchen scraps", like="food-scraps", required_by_law=law),),
        sources=(Source("North kitchen", required_by_law=law),),
    )
    kept = settings_of(settings_json(settings), tmp_path)
    assert [m.required_by_law for m in kept.materials] == [law]
    assert [s.required_by_law for s in kept.sources] == [law]


def test_every_key_with_several_kinds_of_values_is_one_that_reads_back():
    """A union of more kinds than these would need a rule of its own in divert.register.plain."""
    known = {(), (bool, dt.date)}
    for kind in vars(model).values():
        if not (isinstance(kind, type) and hasattr(kind, "__dataclass_fields__")):
            continue
        hints = typing.get_type_hints(kind)
        for field in fields(kind):
            hint = hints[field.name]
            if typing.get_origin(hint) in (typing.Union, types.UnionType):
                inner = [k for k in typing.get_args(hint) if k is not type(None)]
                assert len(inner) == 1 or set(inner) in [set(k) for k in known], field.name


def test_a_whole_site_reads_back(tmp_path):
    settings = site(tmp_path)
    kept = settings_of(settings_json(settings), tmp_path)
    assert isinstance(kept, Site)
    assert replace(kept, folder=settings.folder, toml=settings.toml) == settings
    assert json.loads(settings_json(settings))["name"] == "Alder Hollow Yard"
