"""A site.toml from a stranger can describe a site, and do nothing else."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from hostile import workbook
from processor import at_most

from divert.core.findings import CannotRun
from divert.site.read import read_site

SITE = '[site]\nname = "Kestrel Bend"\nunits = "us"\nstarted = 2024-04-01\n'
SPONSOR = SITE + '[[sponsor]]\nname = "Two Oaks"\n'
POT = SITE + '[[container]]\nname = "pail"\n'


def refused(folder: Path, text: str | bytes) -> str:
    (folder / "site.toml").write_bytes(text if isinstance(text, bytes) else text.encode())
    with at_most(5), pytest.raises(CannotRun) as told:
        read_site(folder)
    said = str(told.value)
    assert len(said) < 2000
    assert "\n" not in said and "\x1b" not in said
    return said


@pytest.mark.parametrize(
    "path",
    [
        "/etc/logo.png",
        "../logo.png",
        "a/../../logo.png",
        "..\\\\logo.png",
        "C:\\\\logo.png",
        "file:///etc/logo.png",
        "http://kestrel.example/logo.png",
        "//kestrel.example/logo.png",
        "out/logo.png",
        "logo.png\\u0000.svg",
        "site.toml",
    ],
)
@pytest.mark.parametrize("key", ["[site]\nlogo", "[report]\npicture"])
def test_a_picture_lies_inside_the_folder_and_is_one(tmp_path: Path, path: str, key: str) -> None:
    (tmp_path / "logo.png").write_bytes(b"x")
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "out").symlink_to(tmp_path)
    table, name = key.split("\n")
    text = SITE if table == "[site]" else f"{SITE}{table}\n"
    assert path[:6] in refused(tmp_path / "site", f'{text}{name} = "{path}"\n').replace(
        "\\", "\\\\"
    )


@pytest.mark.parametrize(
    "text",
    [
        f'{SITE}colour = "red;}} body {{ background: url(http://kestrel.example)"\n',
        f'{SITE}colour = "#2f6b4f;"\n',
        f'{SITE}language = "../../fr"\n',
        f'{SITE}currency = "<b>"\n',
        f'{SITE}country = "../"\n',
        SITE.replace("Kestrel Bend", "Kestrel\\nBend"),
        SITE.replace("Kestrel Bend", "Kestrel\\u001b]0;owned\\u0007Bend"),
        SITE.replace("Kestrel Bend", "Kestrel\\u0000Bend"),
        f'{SITE}[[sponsor]]\nname = "S\\r\\nBcc: all@kestrel.example"\n',
        f'{SPONSOR}email = "s@kestrel.example\\nBcc: all@kestrel.example"\n',
        f'{SPONSOR}email = "s@kestrel.example, all@kestrel.example"\n',
        f"{SPONSOR}funds = 1e999\n",
        f"{SPONSOR}funds = nan\n",
        f"{SITE}scale_accuracy = {'9' * 5000}\n",
        f'{POT}volume = "9**9**9 gal"\n',
        f'{POT}volume = "1e400 gal"\n',
        f"{POT}volume = \"__import__('os').abort()\"\n",
        f'{POT}volume = "{"(" * 20_000}5 gal"\n',
        f'{SITE}[target]\n99999999999999 = "1 kg"\n',
        SITE.replace("2024-04-01", "9999-12-31"),
        f"{SITE}__class__ = 1\n",
        "site = 5\n",
        f'{SITE}[[sheet]]\nfile = "a.xlsx"\ncolumns = {{ date = "{"Z" * 5000}" }}\n',
        f"{SITE}x = {'[' * 100_000}{']' * 100_000}\n",
        f"{SITE}x = {'{a=' * 50_000}1{'}' * 50_000}\n",
        b"\xff\xfe" + SITE.encode("utf-16-le"),
    ],
)
def test_what_describes_no_site_is_one_sentence(tmp_path: Path, text: str | bytes) -> None:
    assert "site.toml" in refused(tmp_path, text)


@pytest.mark.parametrize("part", ["a", '"a b"', "'a'"])
def test_a_key_of_thousands_of_names_costs_no_memory(tmp_path: Path, part: str) -> None:
    """The parser keeps every beginning of such a key: a few hundred kB would fill any machine."""
    for key in (". ".join([part] * 4000), f"[{'.'.join([part] * 4000)}]\nb"):
        assert "too deep" in refused(tmp_path, f"{SITE}{key} = 1\n")


def test_a_text_with_many_dots_is_a_text(tmp_path: Path) -> None:
    (tmp_path / "site.toml").write_text(f'{SITE}[[answer]]\nabout = "x"\nreason = "{"a. " * 30}"\n')
    assert len(read_site(tmp_path).answers) == 1


def test_a_huge_site_file_is_refused_by_its_size(tmp_path: Path) -> None:
    assert "larger" in refused(tmp_path, SITE.replace("Kestrel Bend", "x" * 10_000_000))


HEAR = """
import os, sys

_log = os.open(os.environ["HEARD"], os.O_WRONLY | os.O_APPEND)
_heard = ("open", "os.listdir", "os.scandir", "os.system", "os.exec", "os.posix_spawn",
          "subprocess.Popen")

def _hear(event, arguments):
    if event in _heard:
        os.write(_log, f"{event} {arguments[0]}\\n".encode())

sys.addaudithook(_hear)
"""


def test_no_file_outside_the_folder_is_opened_and_no_program_started(tmp_path: Path) -> None:
    secret = tmp_path / "secret"
    secret.mkdir()
    (secret / "secret.xlsx").write_bytes(workbook())
    site = tmp_path / "site"
    site.mkdir()
    (site / "log.xlsx").write_bytes(workbook())
    files = ("../secret/secret.xlsx", str(secret / "secret.xlsx"), "file:secret.xlsx", "$(id)", "*")
    rules = "".join(f'[[sheet]]\nfile = "{name}"\nholds = "intake"\n' for name in files)
    (site / "site.toml").write_text(f'{SITE}[[answer]]\nabout = "{secret}"\nreason = "x"\n{rules}')
    (tmp_path / "hear").mkdir()
    (tmp_path / "hear" / "sitecustomize.py").write_text(HEAR)
    (tmp_path / "heard").touch()
    where = os.pathsep.join([str(tmp_path / "hear"), str(Path(__file__).parents[2])])
    done = subprocess.run(
        [sys.executable, "-m", "divert", "read", str(site)],
        env=os.environ | {"PYTHONPATH": where, "HEARD": str(tmp_path / "heard")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode in (0, 1), done.stderr
    heard = (tmp_path / "heard").read_text().splitlines()
    assert any(line == f"open {site / 'log.xlsx'}" for line in heard)
    assert not [line for line in heard if str(secret) in line or "secret.xlsx" in line]
    started = [line.split(" ", 1)[1] for line in heard if not line.startswith(("open", "os.list", "os.scan"))]  # fmt: skip
    assert set(started) <= {sys.executable}  # the child that opens spreadsheets
