"""The figures that leave the house inside a report: all that it prints, and none of anyone else's."""

from __future__ import annotations

import copy
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from divert.report.evidence.sharing import Sharing

# Figures of the site that a sponsor's report carries only where its pages print them.
_HOUSE = ("money", "activities", "targets", "beds")
_LISTS_BY_SOURCE = ("previous", "same_period_last_year")


def shared_figures(
    figures: Mapping[str, Any], rules: Sharing, printed: Collection[str]
) -> dict[str, Any]:
    """Return the JSON of a figure set as it may leave; ``printed`` holds the paths on the pages.

    For a sponsor, parts of other sources become null, so that paths by place still hold. Findings
    stay behind but for their codes and counts.
    """
    out = copy.deepcopy(dict(figures))
    out["findings"] = _codes(out.get("findings") or ())
    if rules.own is not None:
        for key in _HOUSE:
            if not any(path.startswith(key) for path in printed):
                out[key] = [] if isinstance(out.get(key), list) else None
        out["by_source"] = _only(out.get("by_source") or (), rules.own)
        for key in _LISTS_BY_SOURCE:
            if out.get(key):
                out[key]["by_source"] = _only(out[key].get("by_source") or (), rules.own)
    if rules.alias:
        _rename(out, rules)
    return out


def _only(parts: Sequence[Mapping[str, Any]], own: Collection[str]) -> list[Any]:
    return [part if part and part.get("source") in own else None for part in parts]


def _rename(figures: dict[str, Any], rules: Sharing) -> None:
    """Put aliases for the names of sources."""
    lists = [figures.get("by_source") or ()]
    lists += [(figures.get(key) or {}).get("by_source") or () for key in _LISTS_BY_SOURCE]
    lists += [(figures.get("supplied") or {}).get("by_source") or ()]
    for parts in lists:
        for part in parts:
            if part:
                part["source"] = rules.source(part["source"])
    for item in figures.get("harvest") or ():
        item["destination"] = rules.text(item["destination"])


def _codes(findings: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    counts: dict[tuple[str, str], int] = {}
    for finding in findings:
        key = (finding["level"], finding["code"])
        counts[key] = counts.get(key, 0) + 1
    return [{"level": level, "code": code, "count": n} for (level, code), n in counts.items()]
