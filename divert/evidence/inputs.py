"""The files behind a report with their fingerprints, named as far as names may leave the house."""

from __future__ import annotations

from divert.convert import Workings
from divert.evidence.sharing import Sharing


def input_prints(workings: Workings, rules: Sharing) -> list[tuple[str, str]]:
    """Return each file read with its SHA-256; by number where its name stays in the house."""
    inputs = workings.reading.inputs
    if rules.own is None and not rules.alias:
        return [(one.file, one.sha256) for one in inputs]
    ledger = workings.ledger
    mine = set()
    if rules.own:
        mine = set(ledger.loc[ledger["source"].isin(list(rules.own)), "file"].astype(str))
    return [
        (rules.text(one.file) if one.file in mine else rules.file(number), one.sha256)
        for number, one in enumerate(inputs, start=1)
    ]
