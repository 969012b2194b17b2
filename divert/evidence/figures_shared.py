"""The figures that leave the house inside a report: all that it prints, and none of anyone else's."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from divert.evidence.sharing import Sharing
from divert.figures.contract import Figures
from divert.figures.figure_sum import figures_in

if TYPE_CHECKING:
    from divert.figures.numbers.printed import Printed

# Figures of the site that a sponsor's report carries only where its pages print them.
_HOUSE = (
    "money", "money_by_quarter", "activities", "targets", "beds", "participation", "feed_mix",
    "volume_reduction", "stock", "process_log",
)  # fmt: skip
_LISTS_BY_SOURCE = ("previous", "same_period_last_year")


def shared_figures(
    figures: Mapping[str, Any], rules: Sharing, printed: Collection[str]
) -> dict[str, Any]:
    """Return the JSON of a figure set as it may leave; ``printed`` holds the paths on the pages.

    For a sponsor, parts of other sources become null, so that paths by place still hold. Findings
    stay behind but for their codes and counts. What is the same in both is not copied.
    """
    out = dict(figures)
    out["findings"] = _codes(out.get("findings") or ())
    if rules.own is not None:
        for key in _HOUSE:
            if not any(path.startswith(key) for path in printed):
                out[key] = [] if isinstance(out.get(key), list) else None
        for key in ("by_source", "contamination"):
            out[key] = _only(out.get(key) or (), rules.own)
        for key in _LISTS_BY_SOURCE:
            if out.get(key):
                out[key] = {
                    **out[key],
                    "by_source": _only(out[key].get("by_source") or (), rules.own),
                }
    for key, word, say in (
        ("harvest", "destination", rules.said), ("activities", "name", rules.said),
        ("beds", "bed", rules.said), ("process_log", "pile", rules.said),
        ("factors", "source", rules.text),
    ):  # fmt: skip
        if out.get(key):
            out[key] = [{**item, word: say(item[word])} for item in out[key]]
    if rules.alias:
        _rename(out, rules)
    return out


def as_said(figures: Figures, rules: Sharing) -> Figures:
    """Return figures whose destinations and activities are called as the report calls them."""
    if not rules.renamed:
        return figures
    return replace(
        figures,
        harvest=tuple(
            replace(h, destination=rules.said(h.destination)) for h in figures.harvest
        ),
        activities=tuple(replace(a, name=rules.said(a.name)) for a in figures.activities),
        beds=tuple(replace(b, bed=rules.said(b.bed)) for b in figures.beds),
    )  # fmt: skip


def shared_sets(
    sets: Mapping[str, Mapping[str, Any]], rules: Sharing, printed: Sequence[Printed]
) -> dict[str, dict[str, Any]]:
    """Return every figure set as it may leave."""
    return {name: shared_figures(one, rules, _paths(name, printed)) for name, one in sets.items()}


def _paths(name: str, printed: Sequence[Printed]) -> set[str]:
    return {path for p in printed for of_set, path in figures_in(p.key) if of_set == name}


def _only(parts: Sequence[Mapping[str, Any]], own: Collection[str]) -> list[Any]:
    return [part if part and part.get("source") in own else None for part in parts]


def _rename(figures: dict[str, Any], rules: Sharing) -> None:
    """Put aliases for the names of sources."""

    def renamed(parts: Sequence[Any]) -> list[Any]:
        return [part and {**part, "source": rules.source(part["source"])} for part in parts]

    for key in ("by_source", "contamination"):
        if figures.get(key):
            figures[key] = renamed(figures[key])
    for key in (*_LISTS_BY_SOURCE, "supplied"):
        if figures.get(key) and figures[key].get("by_source"):
            figures[key] = {**figures[key], "by_source": renamed(figures[key]["by_source"])}


def _codes(findings: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    counts: dict[tuple[str, str], int] = {}
    for finding in findings:
        key = (finding["level"], finding["code"])
        counts[key] = counts.get(key, 0) + 1
    return [{"level": level, "code": code, "count": n} for (level, code), n in counts.items()]
