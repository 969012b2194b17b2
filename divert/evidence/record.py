"""The small record in every report: what it printed, from which figures, factors and files."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from typing import TYPE_CHECKING, Any

from divert.core.signing import public_of, signature
from divert.core.version import __version__
from divert.evidence.figures_shared import shared_sets
from divert.evidence.form import structure
from divert.evidence.inputs import input_prints
from divert.evidence.page_text import find_places, page_drawings, page_words
from divert.evidence.plan import as_json
from divert.evidence.sharing import Audience, sharing
from divert.figures.contract import Figures

if TYPE_CHECKING:
    from divert.convert import Workings
    from divert.figures.numbers.printed import Printed

FORMAT = 1


def record_of(
    pdf: bytes,
    *,
    workings: Workings,
    figure_sets: Mapping[str, Figures | Mapping[str, Any]],
    printed: Sequence[Printed],
    audience: Audience,
    name: str = "",
    sponsor: str | None = None,
    number: str | None = None,
    withdraws: str | None = None,
) -> dict[str, Any]:
    """Return the record of a finished PDF that has no attachments yet, all but its evidence.

    It holds the tool's version, for whom and from which day the report speaks, the figure sets as far
    as they may leave the house, every printed figure with its place on the page, the factors with
    the fingerprint of their set, the SHA-256 of every file read, the words of each page as they read
    back from the PDF, and a fingerprint of what each page draws.
    """
    sets = as_json(figure_sets, workings.kept)
    rules = sharing(workings, audience, sponsor)
    pages = page_words(pdf)
    places = find_places(pages, [one.text for one in printed])
    period = sets["period"]
    return {
        "record": FORMAT,
        "divert": __version__,
        "report": {
            "site": period["site"],
            "audience": audience,
            "name": name,
            "sponsor": sponsor,
            "number": number,
            "withdraws": withdraws,
            "as_of": period["as_of"],
            "period": period["period"],
            "language": workings.site.language,
        },
        "figures": shared_sets(sets, rules, printed),
        "printed": [
            {**asdict(one), "page": None if at is None else at.page + 1,
             "at": None if at is None else [at.start, at.end]}
            for one, at in zip(printed, places, strict=True)
        ],
        "factor_set": workings.factors.fingerprint,
        "inputs": [{"file": f, "sha256": s} for f, s in input_prints(workings, rules)],
        "pages": list(pages),
        "drawings": list(page_drawings(pdf)),
        "structure": structure(pdf),
    }  # fmt: skip


@dataclass(frozen=True, slots=True)
class Signing:
    """What an issued report is signed with: the private key, and the register's last line then."""

    key: bytes = field(repr=False)
    head: str

    @property
    def public(self) -> bytes:
        """Return the key that anybody may know."""
        return public_of(self.key)


def sealed(record: Mapping[str, Any], evidence: bytes, signing: Signing | None = None) -> bytes:
    """Return a record as JSON with the SHA-256 of the evidence, and that of all the rest as its seal.

    ``signing`` adds the SHA-256 of the register's last line (so that each report witnesses those
    before it), the public key, and the seal's signature. The same report gives the same bytes.
    """
    whole = {**record, "evidence_sha256": hashlib.sha256(evidence).hexdigest()}
    if signing is not None:
        whole |= {"head": signing.head, "key": signing.public.hex()}
    ends = {"seal": seal(whole)}
    if signing is not None:
        ends["signature"] = signature(signing.key, ends["seal"])
    return json.dumps({**whole, **ends}, ensure_ascii=False).encode()


def seal(record: Mapping[str, Any]) -> str:
    """Return the SHA-256 of a record without its seal and signature."""
    rest = {k: v for k, v in record.items() if k not in ("seal", "signature")}
    plain = json.dumps(rest, ensure_ascii=False, sort_keys=True, default=_day)
    return hashlib.sha256(plain.encode()).hexdigest()


def _day(value: object) -> str:
    if isinstance(value, dt.date):
        return value.isoformat()
    raise TypeError(type(value).__name__)
