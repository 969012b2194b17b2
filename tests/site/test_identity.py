"""A site's id: written once, kept through a new name, its own for every site begun."""

from __future__ import annotations

import shutil
from pathlib import Path

from divert.ingest.identify import identify
from divert.inventory.open_site import open_site
from divert.site.begin import begin_site
from divert.site.identity import FILE, site_id
from divert.site.read import read_site

TOML = '[site]\nname = "Alder Yard"\nunits = "metric"\nstarted = 2024-01-01\n'


def yard(folder: Path, log: str = "Date,Material,Net kg\n2024-05-01,food scraps,10\n") -> Path:
    folder.mkdir()
    (folder / "site.toml").write_text(TOML)
    (folder / "log.csv").write_text(log)
    return folder


def test_the_first_reading_writes_an_id_and_a_new_name_keeps_it(tmp_path: Path) -> None:
    folder = yard(tmp_path / "yard")
    first = open_site(folder).site
    assert len(first.id) == 16 and site_id(folder) == first.id
    (folder / "site.toml").write_text(TOML.replace("Alder Yard", "Birch Yard"))
    again = open_site(folder).site
    assert (again.name, again.id, again.seed) == ("Birch Yard", first.id, first.id)


def test_sites_of_one_name_have_different_ids_and_copies_the_same(tmp_path: Path) -> None:
    one = yard(tmp_path / "one")
    other = yard(tmp_path / "other", "Date,Material,Net kg\n2024-05-01,food scraps,11\n")
    assert identify(one) != identify(other)
    copy = Path(shutil.copytree(one, tmp_path / "copy"))
    assert identify(copy) == identify(one)
    (copy / FILE).unlink()
    assert identify(copy) == identify(one)  # it still holds the same


def test_a_folder_that_cannot_keep_an_id_finds_the_same_one_again(tmp_path: Path) -> None:
    folder = yard(tmp_path / "yard")
    (folder / FILE).mkdir()  # so that no file of that name can be written
    assert identify(folder) == identify(folder) != ""
    assert read_site(folder).seed == "Alder Yard"


def test_two_sites_begun_alike_have_ids_of_their_own(tmp_path: Path) -> None:
    import datetime as dt

    for name in ("a/north yard", "b/north yard"):
        begin_site(tmp_path / name, dt.date(2026, 1, 1))
    assert site_id(tmp_path / "a/north yard") != site_id(tmp_path / "b/north yard")
