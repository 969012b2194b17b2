"""Reports tampered with in some eighty ways: none may hold with the site or the key.

Without either, none may hold that changes anything a reader sees; one that was rebuilt throughout is
then "consistent with itself", which is all that can be said of it.
"""

from __future__ import annotations

import hashlib
import io
import json
import os
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pikepdf
from recheck import tampering as t

from divert.core.signing import fingerprint
from divert.evidence.attachments import EVIDENCE, RECORD, attach, attached
from divert.recheck import recheck

Tamper = Callable[[bytes], bytes]


@dataclass(frozen=True)
class Told:
    """What became of one tampered report: whether it held alone, with the key, with the site."""

    name: str
    alone: bool
    key: bool
    site: bool


def _opened(change: Callable[[pikepdf.Pdf], None]) -> Tamper:
    def run(pdf: bytes) -> bytes:
        with pikepdf.open(io.BytesIO(pdf)) as document:
            change(document)
            return t.saved(document)

    return run


def _script() -> pikepdf.Dictionary:
    return pikepdf.Dictionary(S=pikepdf.Name.JavaScript, JS=pikepdf.String("app.alert(1)"))


def _annotated(**what: Any) -> Tamper:
    def add(document: pikepdf.Pdf) -> None:
        page = document.pages[0]
        note = document.make_indirect(
            pikepdf.Dictionary(Type=pikepdf.Name.Annot, Rect=[50, 50, 300, 90], **what)
        )
        page.obj["/Annots"] = pikepdf.Array([*page.obj.get("/Annots", []), note])

    return _opened(add)


def _tags(document: pikepdf.Pdf, key: str) -> list[Any]:
    return [o for o in document.objects if isinstance(o, pikepdf.Dictionary) and key in o]


def _retold(key: str, place: int) -> Tamper:
    def change(document: pikepdf.Pdf) -> None:
        found = _tags(document, key)
        found[place % len(found)][key] = pikepdf.String("Twice as much as last year")

    return _opened(change)


def _add_actual_text(place: int) -> Tamper:
    def change(document: pikepdf.Pdf) -> None:
        found = [o for o in _tags(document, "/S") if str(o.get("/S")) in ("/P", "/Span", "/H1")]
        found[place % len(found)]["/ActualText"] = pikepdf.String("9,999 lb")

    return _opened(change)


def _boxed(x: int, y: int) -> Tamper:
    def change(document: pikepdf.Pdf) -> None:
        page = document.pages[0]
        drawn = page.Contents.read_bytes()
        page.Contents = document.make_stream(
            drawn + f"\nq 1 1 1 rg {x} {y} 90 30 re f Q\n".encode()
        )

    return _opened(change)


def _in_pdf() -> Iterator[tuple[str, Tamper]]:
    name = pikepdf.Name
    yield "a script when opened", _opened(lambda d: d.Root.__setitem__("/OpenAction", _script()))
    yield "an action of the file", _opened(
        lambda d: d.Root.__setitem__("/AA", pikepdf.Dictionary(WC=_script())))  # fmt: skip
    yield "a named script", _opened(lambda d: d.Root.Names.__setitem__(
        "/JavaScript", pikepdf.Dictionary(Names=[pikepdf.String("a"), _script()])))  # fmt: skip
    yield "a page's action", _opened(
        lambda d: d.pages[0].obj.__setitem__("/AA", pikepdf.Dictionary(O=_script())))  # fmt: skip
    yield "a form", _opened(lambda d: d.Root.__setitem__(
        "/AcroForm", pikepdf.Dictionary(Fields=pikepdf.Array())))  # fmt: skip
    launch = pikepdf.Dictionary(S=name.Launch, F=pikepdf.String("a.exe"))
    yield "a link that starts a program", _annotated(Subtype=name.Link, A=launch)
    yield "a link to another file", _annotated(
        Subtype=name.Link, A=pikepdf.Dictionary(S=name.GoToR, F=pikepdf.String("b.pdf")))  # fmt: skip
    yield "a link to a site", _annotated(
        Subtype=name.Link,
        A=pikepdf.Dictionary(S=name.URI, URI=pikepdf.String("https://forged.example")))  # fmt: skip
    yield "words laid over", _annotated(Subtype=name.FreeText, Contents=pikepdf.String("9,999 lb"))
    yield "a note", _annotated(Subtype=name.Text, Contents=pikepdf.String("checked"))
    yield "a stamp", _annotated(Subtype=name.Stamp, Contents=pikepdf.String("verified"))
    for place in range(4):
        yield f"a chart's description, {place}", _retold("/Alt", place)
        yield f"other words for a paragraph, {place}", _add_actual_text(place)
    yield "another title", _opened(lambda d: d.docinfo.__setitem__("/Title", "Audited report"))
    yield "another language", _opened(lambda d: d.Root.__setitem__("/Lang", pikepdf.String("fr")))
    yield "a layer", _opened(lambda d: d.Root.__setitem__(
        "/OCProperties", pikepdf.Dictionary(OCGs=[], D=pikepdf.Dictionary())))  # fmt: skip
    yield "the tags gone", _opened(lambda d: d.Root.__delitem__("/StructTreeRoot"))
    yield "a page gone", _opened(lambda d: d.pages.__delitem__(-1))
    yield "a page twice", _opened(lambda d: d.pages.append(d.pages[0]))
    yield "the pages turned round", _opened(lambda d: d.pages.reverse())
    yield "a page of another size", _opened(
        lambda d: d.pages[0].obj.__setitem__("/MediaBox", [0, 0, 500, 300]))  # fmt: skip
    for x, y in ((100, 500), (60, 640), (300, 400), (200, 300), (60, 200), (400, 700)):
        yield f"a white box at {x}, {y}", _boxed(x, y)


def _of_files() -> Iterator[tuple[str, Tamper]]:
    def third(document: pikepdf.Pdf) -> None:
        document.attachments["more.txt"] = b"the true figures"

    def swapped(pdf: bytes) -> bytes:
        pages, evidence, record = t.parts(pdf)
        return attach(pages, json.dumps(record).encode(), evidence)

    def doubled(document: pikepdf.Pdf) -> None:
        spec = document.attachments[RECORD].obj
        names = document.Root.Names.EmbeddedFiles.get("/Names", None)
        if names is None:
            names = document.Root.Names.EmbeddedFiles.Kids[0].Names
        other = document.make_stream(b"{}", Type=pikepdf.Name.EmbeddedFile)
        twin = pikepdf.Dictionary(Type=pikepdf.Name.Filespec, F=spec.F, UF=spec.UF,
                                  EF=pikepdf.Dictionary(F=other))  # fmt: skip
        names.append(pikepdf.String(RECORD))
        names.append(document.make_indirect(twin))

    def two_contents(document: pikepdf.Pdf) -> None:
        spec = document.attachments[EVIDENCE].obj
        spec.EF["/UF"] = document.make_stream(b"PK", Type=pikepdf.Name.EmbeddedFile)

    def unlisted(document: pikepdf.Pdf) -> None:
        document.Root.AF = pikepdf.Array([document.Root.AF[0]])

    yield "a third file inside", _opened(third)
    yield "the files swapped", swapped
    yield "the record twice", _opened(doubled)
    yield "evidence of two contents", _opened(two_contents)
    yield "a file not listed", _opened(unlisted)
    yield "a key twice in the record", lambda pdf: _with_text(
        pdf, lambda x: x.replace('"record": 1', '"printed": [], "record": 1', 1))  # fmt: skip


def _with_text(pdf: bytes, change: Callable[[str], str]) -> bytes:
    pages, evidence, _ = t.parts(pdf)
    text = change(attached(pdf)[RECORD].decode())
    return attach(pages, evidence, text.encode())


def _in_record() -> Iterator[tuple[str, Tamper]]:
    def changed(change: Callable[[dict[str, Any]], Any]) -> Tamper:
        return lambda pdf: t.with_record(pdf, lambda r: change(r) and None, sealed=True)  # type: ignore[arg-type]

    for place in range(0, 24, 3):
        yield f"a recorded value, {place}", changed(
            lambda r, n=place: r["printed"][n].update(value=float(r["printed"][n]["value"]) * 1.5 + 1))  # fmt: skip
        yield f"a recorded text, {place}", changed(
            lambda r, n=place: r["printed"][n].update(text="7,777"))  # fmt: skip
    yield "steps of seven", changed(lambda r: r["printed"][0].update(quantum=7.0))
    yield "coarse steps", changed(lambda r: [p.update(quantum=3e6) for p in r["printed"]])
    yield "no figure listed", changed(lambda r: r["printed"].clear())
    yield "the main figure not listed", changed(lambda r: r.update(
        printed=[p for p in r["printed"] if "diverted" not in p["key"]]))  # fmt: skip
    yield "the words of a page", changed(
        lambda r: r["pages"].__setitem__(0, r["pages"][0].replace("a", "e", 3)))  # fmt: skip
    yield "another drawing", changed(lambda r: r["drawings"].__setitem__(0, "0" * 64))
    yield "another number", changed(lambda r: r["report"].update(number="2025-0099"))
    yield "another total", changed(
        lambda r: r["figures"]["period"]["mass"]["diverted"].update(central=1.0))  # fmt: skip


def _in_evidence() -> Iterator[tuple[str, Tamper]]:
    def changed(sheet: str, change: Callable[[str], str]) -> Tamper:
        def run(pdf: bytes) -> bytes:
            pages, evidence, record = t.parts(pdf)
            other = t.in_sheet(evidence, sheet, change)
            for name in ("key", "signature", "head"):
                record.pop(name, None)
            record["evidence_sha256"] = hashlib.sha256(other).hexdigest()
            record["seal"] = t.seal(record)
            return attach(pages, other, json.dumps(record, ensure_ascii=False).encode())

        return run

    column = t.weighed_cell(0).rstrip("0123456789")
    weights = rf'(?<=<c r="{column})\d+"[^>]*><v>[\d.]+'
    for line in (0, 7, 19, 33):
        yield f"a weight, {line}", changed("Ledger", lambda x, n=line: _weight(x, weights, n))
    for place in (5, 40):
        yield f"a stored result of the summary, {place}", changed(
            "Every figure", lambda x, n=place: _nth(x, r"</f><v>", "</f><v>7", n))  # fmt: skip
        yield f"a stored result of the ledger, {place}", changed(
            "Ledger", lambda x, n=place: _nth(x, r"</f><v>", "</f><v>7", n))  # fmt: skip
    yield "every factor", changed(
        "Factors", lambda x: re.sub(r'(<c r="B\d+"[^>]*><v>)([\d.]+)', r"\g<1>0.77", x))  # fmt: skip


def _weight(text: str, what: str, place: int) -> str:
    found = [m[0] for m in re.finditer(what, text)]
    assert found, "no weights"
    one = found[place % len(found)]
    return text.replace(one, re.sub(r"<v>.*", "<v>5555", one), 1)


def _nth(text: str, what: str, instead: str, place: int) -> str:
    spans = [m.span() for m in re.finditer(what, text)]
    start, end = spans[place % len(spans)]
    return text[:start] + instead + text[end:]


def rebuilt(folder: Path, *, signed: bool) -> Path:
    """Return a report of the same yard and quarter that somebody made anew from sevenfold weights.

    ``signed``: with a key of the forger's own, on another machine; else with none.
    """
    own = os.environ.get("DIVERT_HOME", "")
    os.environ["DIVERT_HOME"] = str(folder / "forger") if signed else "off"
    try:
        (folder / f"forged {signed}").mkdir(parents=True)
        return t.issued_with(folder / f"forged {signed}", 7.0)
    finally:
        os.environ["DIVERT_HOME"] = own


def tampers() -> dict[str, Tamper]:
    """Return every way of tampering by its name."""
    return dict([*_in_pdf(), *_of_files(), *_in_record(), *_in_evidence()])


def tampered(folder: Path, every: int = 1) -> list[Told]:
    """Tamper with a report in every n-th way; return what recheck says of each."""
    pdf = t.issued(folder / "site").read_bytes()
    key = fingerprint(bytes.fromhex(json.loads(attached(pdf)[RECORD])["key"]))
    path = folder / "report.pdf"
    out = []
    for name, tamper in list(tampers().items())[::every]:
        path.write_bytes(tamper(pdf))
        out.append(Told(name, _holds(path), _holds(path, key=key), _holds(path, folder / "site")))
    return out


def _holds(path: Path, site: Path | None = None, key: str | None = None) -> bool:
    from divert.core.findings import CannotRun

    try:
        return recheck(path, site, key).holds
    except CannotRun:
        return False
