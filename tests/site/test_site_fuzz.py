"""Whatever a stranger writes into site.toml, it is a site or one message: never anything else."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rounds import rounds

from divert.core.findings import CannotRun
from divert.core.shipped import sample_folder
from divert.site.model import Site
from divert.site.read import read_site

SAMPLE = (sample_folder() / "site.toml").read_text(encoding="utf-8")
LINES = SAMPLE.splitlines()
# values of every TOML type, at their ends
VALUES = st.one_of(
    st.text(max_size=30).map(lambda text: '"' + text.encode("unicode_escape").decode() + '"'),
    st.integers().map(str),
    st.floats().map(str),
    st.sampled_from(
        ["true", "[]", "{}", "[[]]", '[""]', "{ low = -1 }", "2024-02-30", "0001-01-01", "1e400",
         "2024-04-01T00:00:00Z", "00:00:00", '"""', "'", '"1 gal"', '"1e9 lb"', "[{ a = 1 }]",
         '{ food = "x" }', '"9999999999999999999999999999999 lb"', '"-"', '"\\u0000"']
    ),
)  # fmt: skip


def site_or_message(folder: Path, text: str) -> None:
    (folder / "site.toml").write_bytes(text.encode("utf-8", "surrogatepass"))
    try:
        site = read_site(folder)
    except CannotRun as stopped:
        assert "\n" not in str(stopped)
        assert len(str(stopped)) < 2000
    else:
        assert isinstance(site, Site)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("site")
    for name in ("logo.svg", "yard.svg"):
        (place / name).write_text("<svg/>")
    return place


@settings(max_examples=rounds(60, 250))
@given(line=st.integers(0, len(LINES) - 1), value=VALUES)
def test_any_value_in_any_place(folder: Path, line: int, value: str) -> None:
    lines = list(LINES)
    key, equals, _ = lines[line].partition("=")
    lines[line] = f"{key}{equals} {value}" if equals else value
    site_or_message(folder, "\n".join(lines))


@settings(max_examples=rounds(50, 150))
@given(start=st.integers(0, len(SAMPLE)), length=st.integers(0, 60), put=st.text(max_size=8))
def test_any_stretch_lost_or_replaced(folder: Path, start: int, length: int, put: str) -> None:
    site_or_message(folder, SAMPLE[:start] + put + SAMPLE[start + length :])
