"""Who made a report, as far as that can be told: its signature, and the key of earlier reports."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from divert.core.findings import CannotRun
from divert.core.signing import fingerprint, is_signed, known_keys, remember_key
from divert.core.words import N_, Text


@dataclass(frozen=True, slots=True)
class Maker:
    """What a signature says: the key's fingerprint, whether that key is known, and what is wrong.

    ``proved``: signed with the key that was given, or with that of the first report of the site that
    was checked here; ``unlike_first``: what is wrong is only that it is not like that one, of which
    nobody has said whose it was.
    """

    key: str | None = None
    proved: bool = False
    said: tuple[Text, ...] = ()
    wrong: tuple[Text, ...] = ()
    unlike_first: bool = False


def maker_of(
    record: Mapping[str, Any], seal: str, pages: tuple[str, ...], wanted: str | None
) -> Maker:
    """Return who made a report. ``wanted``: the fingerprint it should bear, or a file that holds it.

    The first signed report of a site that holds together is remembered by :func:`remember`. Raises
    CannotRun where ``wanted`` is no fingerprint.
    """
    site = str(record.get("report", {}).get("site", ""))
    given = None if wanted is None else _given(wanted)
    first = known_keys().get(site) if given is None else None
    if "key" not in record:
        return _unsigned(given, first)
    try:
        public = bytes.fromhex(str(record["key"]))
        good = is_signed(public, str(record.get("signature")), seal)
    except ValueError:
        return Maker(wrong=(_BROKEN,))
    except ImportError:
        return Maker(said=(Text(N_("Its signature cannot be looked at here: the library for it is "
                                   "missing (pip install cryptography).")),))  # fmt: skip
    key = fingerprint(public)
    if not good:
        return Maker(key, wrong=(_BROKEN,))
    evidence = str(record.get("evidence_sha256", ""))[:16]
    if not all(key in page and evidence in page for page in pages):
        return Maker(
            key, wrong=(Text(N_("The foot of a page names another key or other evidence.")),)
        )
    return _like(key, given, first)


def _unsigned(given: str | None, first: str | None) -> Maker:
    if given is not None:
        told = N_("It is not signed, and the key {key} should have signed it.")
        return Maker(wrong=(Text(told, {"key": given}),))
    if first is not None:
        told = N_("It is not signed; the first report of this site that was checked here is, with the "
                  "key {key}. Ask the sender, by another way than this file came, why.")  # fmt: skip
        return Maker(wrong=(Text(told, {"key": first}),), unlike_first=True)
    return Maker()


def _like(key: str, given: str | None, first: str | None) -> Maker:
    values = {"key": key, "known": given or first or ""}
    if given == key:
        return Maker(key, True, (Text(N_("Signed with the key {key}."), values),))
    if given is not None:
        told = N_("It is signed with the key {key}, not with {known}.")
        return Maker(key, wrong=(Text(told, values),))
    if first is None:
        told = N_("Signed with the key {key}, seen here for the first time: ask the sender, by another "
                  "way than this file came, whether it is theirs.")  # fmt: skip
        return Maker(key, False, (Text(told, values),))
    if first == key:
        told = N_(
            "Signed with the key {key}, as the first report of this site that was checked here."
        )
        return Maker(key, True, (Text(told, values),))
    told = N_("It is signed with the key {key}; the first report of this site that was checked here is "
              "signed with {known}. Ask the sender, by another way than this file came, which is "
              "theirs; then --key says so.")  # fmt: skip
    return Maker(key, wrong=(Text(told, values),), unlike_first=True)


def known_by_the_site(maker: Maker) -> Maker:
    """Return who made a report that is the very file its site issued, whatever came here first."""
    return replace(maker, said=maker.said + maker.wrong, wrong=()) if maker.unlike_first else maker


_BROKEN = Text(N_("Its signature does not fit: it was changed after it was signed."))


def remember(record: Mapping[str, Any], maker: Maker, *, sure: bool) -> None:
    """Remember the key of a site's first report that holds; ``sure``: whatever was remembered before."""
    site = str(record.get("report", {}).get("site", ""))
    if maker.key is not None and not maker.wrong and site:
        remember_key(site, maker.key, anew=sure)


def _given(wanted: str) -> str:
    text = wanted
    try:
        if Path(wanted).is_file():
            text = Path(wanted).read_text(encoding="utf-8", errors="replace")[:1000]
    except (OSError, ValueError):
        pass
    key = "".join(text.split()).lower()
    if len(key) != 16 or not set(key) <= set("0123456789abcdef"):
        raise CannotRun(
            Text(N_("“{key}” is no key's fingerprint: it is the 16 letters and digits at the foot of "
                    "the site's reports."), {"key": wanted[:60]})
        )  # fmt: skip
    return key
