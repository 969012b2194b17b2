"""Reports written: which files, under which names, with what inside, and the same again."""

from __future__ import annotations

import datetime as dt
import email
import email.policy
import io
import json
from dataclasses import replace
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from make_workings import AS_OF, small_workings

from divert.convert import Workings
from divert.core.findings import CannotRun
from divert.core.period import Period, read_period
from divert.core.words import Text
from divert.publish import many
from divert.publish.write import write_reports
from divert.report.paper import pdf
from divert.site.model import Sponsor


def _quarter(workings: Workings) -> Period:
    return read_period("2025-Q2", as_of=AS_OF, started=workings.site.started)


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> tuple[Workings, tuple[Path, ...]]:
    workings = small_workings(tmp_path_factory.mktemp("site"))
    return workings, write_reports(workings, "sponsor", _quarter(workings), AS_OF)


def _bytes(paths: tuple[Path, ...]) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in paths}


def test_every_sponsor_has_a_pdf_a_page_a_workbook_and_a_mail_draft(
    written: tuple[Workings, tuple[Path, ...]],
) -> None:
    workings, paths = written
    folder = workings.site.folder / "reports" / "2025-Q2"
    assert {path.parent for path in paths} == {folder}
    assert sorted(path.name for path in folder.iterdir()) == sorted(
        f"sponsor-{slug}.{ending}"
        for slug in ("larch-bank", "north-school", "otter-street")
        for ending in ("pdf", "html", "xlsx", "eml")
    )


def test_the_pdf_carries_its_evidence_and_its_record(
    written: tuple[Workings, tuple[Path, ...]],
) -> None:
    files = _bytes(written[1])
    with pikepdf.open(io.BytesIO(files["sponsor-north-school.pdf"])) as document:
        assert sorted(document.attachments) == ["evidence.xlsx", "record.json"]
        # ISO 32000-2, 14.13: files of the document as a whole are listed under AF of the catalog.
        assert len(document.Root.AF) == 2
        evidence = document.attachments["evidence.xlsx"].get_file().read_bytes()
        record = json.loads(document.attachments["record.json"].get_file().read_bytes())
    assert evidence == files["sponsor-north-school.xlsx"]
    large = next(p for p in record["printed"] if p["key"] == "period:supplied.diverted.central")
    words = pypdfium2.PdfDocument(files["sponsor-north-school.pdf"])[0].get_textpage()
    assert large["text"] in words.get_text_range()
    assert all(p["page"] is not None for p in record["printed"])


def test_no_other_source_is_named_in_a_sponsors_files(
    written: tuple[Workings, tuple[Path, ...]],
) -> None:
    files = _bytes(written[1])
    page = files["sponsor-north-school.html"].decode()
    text = "".join(
        p.get_textpage().get_text_range()
        for p in pypdfium2.PdfDocument(files["sponsor-north-school.pdf"])
    )
    for name in ("Otter Street", "Brewery", "Larch"):
        assert name not in page
        assert name not in text


def test_the_mail_draft_is_unsent_with_two_plain_sentences(
    written: tuple[Workings, tuple[Path, ...]],
) -> None:
    files = _bytes(written[1])
    draft = email.message_from_bytes(files["sponsor-north-school.eml"], policy=email.policy.default)
    assert draft["X-Unsent"] == "1"
    assert draft["To"] == "kitchen@north.example"
    assert "Date" not in draft and "From" not in draft
    body = draft.get_body(("plain",))
    assert body is not None
    said = " ".join(body.get_content().split())
    assert said.startswith(
        "Dear friends at North School, Attached is the report of Alder Hollow Yard for April to June "
        "2025. You "
    )
    assert said.endswith("this quarter. With thanks, Alder Hollow Yard")
    assert said.count(". ") == 2  # two plain sentences between greeting and signature
    (attached,) = draft.iter_attachments()
    assert attached.get_filename() == "sponsor-north-school.pdf"
    assert attached.get_content() == files["sponsor-north-school.pdf"]
    plain = email.message_from_bytes(files["sponsor-larch-bank.eml"], policy=email.policy.default)
    assert "To" not in plain


def test_both_cores_write_what_one_writes(
    written: tuple[Workings, tuple[Path, ...]], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    workings, paths = written
    monkeypatch.setattr(many, "_FEWEST", 1)
    done: list[tuple[int, int, str]] = []
    again = write_reports(
        workings, "sponsor", _quarter(workings), AS_OF, out=tmp_path / "out",
        progress=lambda *heard: done.append(heard),
    )  # fmt: skip
    assert [one[:2] for one in done] == [(1, 3), (2, 3), (3, 3)]
    assert {one[2] for one in done} == {path.stem for path in paths}
    assert _bytes(again) == _bytes(paths)


def test_one_sponsor_one_format_another_folder(
    written: tuple[Workings, tuple[Path, ...]], tmp_path: Path
) -> None:
    workings, _ = written
    paths = write_reports(
        workings, "sponsor", _quarter(workings), AS_OF, names=("north school",), formats=("html",),
        out=tmp_path,
    )  # fmt: skip
    assert [path.name for path in paths] == ["sponsor-north-school.html"]


def test_an_unknown_sponsor_costs_one_sentence(
    written: tuple[Workings, tuple[Path, ...]],
) -> None:
    workings, _ = written
    with pytest.raises(CannotRun, match="no sponsor"):
        write_reports(workings, "sponsor", _quarter(workings), AS_OF, names=("Nobody",))


def test_without_pango_the_page_is_written_and_one_line_says_what_to_do(
    written: tuple[Workings, tuple[Path, ...]], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def missing() -> None:
        raise pdf.NoPango(pdf.INSTEAD)

    monkeypatch.setattr(pdf, "weasyprint", missing)
    workings, _ = written
    said: list[Text] = []
    paths = write_reports(
        workings, "sponsor", _quarter(workings), AS_OF, names=("Larch Bank",), formats=("pdf",),
        out=tmp_path, say=said.append,
    )  # fmt: skip
    assert [path.name for path in paths] == ["sponsor-larch-bank.html"]
    assert [str(text) for text in said] == [str(pdf.INSTEAD)]
    assert "Pango" in str(said[0])


def test_names_that_would_leave_the_folder_or_meet_stay_apart_within_it(tmp_path: Path) -> None:
    sponsors = tuple(
        Sponsor(name, funds=0.1)
        for name in ("../../etc/passwd", "Café Noir", "Cafe noir!", "Two\r\nBcc: a@b.example")
    )
    workings = small_workings(tmp_path / "site", sponsors=sponsors)
    (tmp_path / "site").mkdir(exist_ok=True)
    out = tmp_path / "out"
    paths = write_reports(
        workings, "sponsor", _quarter(workings), AS_OF, formats=("html",), out=out
    )
    assert len({path.name for path in paths}) == 4
    assert all(path.resolve().parent == out.resolve() for path in paths)


def test_a_name_cannot_add_a_heading_to_the_mail() -> None:
    from divert.report.sponsor.mail import draft

    made = draft(
        "a@b.example\nBcc: c@d.example", "Two\r\nBcc: x@y.example", "One.", b"%PDF", "a.pdf"
    )
    message = email.message_from_bytes(made, policy=email.policy.default)
    assert "Bcc" not in message and "To" not in message
    assert message["Subject"] == "Two Bcc: x@y.example"
    assert made == draft(None, "Two\r\nBcc: x@y.example", "One.", b"%PDF", "a.pdf")


def test_issued_reports_carry_their_number_and_stay_the_same(tmp_path: Path) -> None:
    workings = small_workings(tmp_path)
    quarter = _quarter(workings)
    first = write_reports(workings, "sponsor", quarter, AS_OF, names=("Larch Bank",), issue=True)
    pages = pypdfium2.PdfDocument(first[0].read_bytes())
    assert "report 2025-0001" in pages[0].get_textpage().get_text_range()
    issued = _bytes(first)
    # Two days later, with a comment in site.toml: nothing said has changed, and no file does.
    edited = replace(workings, site=replace(workings.site, toml="# a comment"))
    later = AS_OF + dt.timedelta(days=2)
    again = write_reports(
        edited, "sponsor", quarter, later, names=("Larch Bank",), out=tmp_path / "again", issue=True
    )
    assert _bytes(again) == issued
    assert len((tmp_path / "register.jsonl").read_text().splitlines()) == 1
