"""What a report's PDF is made of besides its drawing: tags, titles, attachments, and nothing that acts."""

from __future__ import annotations

import hashlib
from io import BytesIO
from typing import Any

from divert.evidence.attachments import EVIDENCE, RECORD
from divert.evidence.page_text import digest

# Put in after the record was made, or looked at by themselves.
_APART = frozenset({"/Pages", "/Metadata", "/AF", "/Names", "/Type", "/Version", "/Extensions"})
_ACTS = frozenset(
    {"/JavaScript", "/Launch", "/SubmitForm", "/ImportData", "/GoToR", "/GoToE", "/Rendition",
     "/Movie", "/Sound", "/Hide", "/ResetForm", "/SetOCGState", "/Trans", "/RichMediaExecute"}
)  # fmt: skip
_LIVE = frozenset(
    {"/FileAttachment", "/RichMedia", "/Screen", "/Movie", "/Sound", "/3D", "/Widget"}
)
_TRIGGERS = ("/OpenAction", "/AA", "/JS", "/AcroForm", "/XFA", "/Collection")


def structure(pdf: bytes) -> str:
    """Return a SHA-256 of what a reader is told beside the drawing: tags, other texts, titles.

    The attachments are no part of it: a finished report has that of the pages it was made from.
    """
    import pikepdf

    hashed = hashlib.sha256()
    with pikepdf.open(BytesIO(pdf)) as document:
        # What a page draws is looked at by itself; tags and links lead back to it.
        seen = {p.obj.objgen: f"page {n}".encode() for n, p in enumerate(document.pages)}
        root = document.Root
        for name in sorted(str(key) for key in root.keys()):  # noqa: SIM118 - not a dict
            if name not in _APART:
                hashed.update(name.encode() + digest(root[name], seen))
        names: Any = root.get("/Names", {})
        for name in sorted(str(key) for key in names.keys()):  # noqa: SIM118
            if name != "/EmbeddedFiles":
                hashed.update(name.encode() + digest(names[name], seen))
        hashed.update(str(document.docinfo.get("/Title", "")).encode())
    return hashed.hexdigest()


def strange_parts(pdf: bytes) -> list[str]:
    """Return what no report of ours holds: "attachments", "acts"; empty where there is none."""
    import pikepdf

    with pikepdf.open(BytesIO(pdf)) as document:
        found = []
        if not _two_attachments(document):
            found.append("attachments")
        if any(_acts(thing) for thing in document.objects):
            found.append("acts")
    return found


def _two_attachments(document: Any) -> bool:
    """Return whether there are just our two files, each once, and the lists of them agree."""
    import pikepdf

    if sorted(document.attachments) != sorted((EVIDENCE, RECORD)):
        return False
    specs = [document.attachments[name].obj for name in (EVIDENCE, RECORD)]
    listed = document.Root.get("/AF", [])
    if sorted(s.objgen for s in listed) != sorted(s.objgen for s in specs):
        return False
    streams: list[tuple[int, int]] = []
    for spec in specs:
        held = {spec.EF[key].objgen for key in spec.EF.keys()}  # noqa: SIM118
        if len(held) != 1:
            return False
        streams += held
    kinds = [
        str(thing.get("/Type", ""))
        for thing in document.objects
        if isinstance(thing, pikepdf.Dictionary | pikepdf.Stream)
    ]
    files = [thing for thing in document.objects
             if isinstance(thing, pikepdf.Dictionary) and "/EF" in thing]  # fmt: skip
    return len(set(streams)) == 2 == len(files) and kinds.count("/EmbeddedFile") <= 2


def _acts(thing: Any, depth: int = 0) -> bool:
    import pikepdf

    if isinstance(thing, pikepdf.Array) and depth < 20:
        return any(_acts(one, depth + 1) for one in thing if not _shared(one))
    if not isinstance(thing, pikepdf.Dictionary | pikepdf.Stream) or depth >= 20:
        return False
    if any(name in thing for name in _TRIGGERS):
        return True
    if str(thing.get("/S", "")) in _ACTS or str(thing.get("/Subtype", "")) in _LIVE:
        return True
    inner = [thing[key] for key in thing.keys()]  # noqa: SIM118
    return any(_acts(one, depth + 1) for one in inner if not _shared(one))


def _shared(thing: Any) -> bool:
    """Return whether a part is an object of its own, and so looked at by itself."""
    return getattr(thing, "objgen", (0, 0)) != (0, 0)
