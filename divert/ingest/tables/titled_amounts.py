"""What a title says of all the amounts under it: "All weights in lb", "March - pails of food scraps"."""

from __future__ import annotations

import re

from divert.ingest.cells import quantity
from divert.ingest.cells.date import month_words
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.unit import Unit, take_unit
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.tables.headings import read_heading

# "lbs per day": each amount is what came on its day
_EACH_TIME = re.compile(
    r"(?i)\s*(?:\b(?:per|each|every|by the|par|a)\s+|/\s*)"
    r"(?:day|week|month|visit|pick-?up|drop-?off|jour|semaine|mois)\s*(?=\)?\s*$)"
    r"|^(?:daily|weekly|monthly)\s+"
)
_SET_OFF = re.compile(r"\s+[-–—]\s+|\s*[,;:(]\s*|\)\s*$")

_COUNTED_IN = re.compile(
    r"(?i)(?:(?:all|quantities|amounts|counts|numbers|quantites|nombres) (?:are|is|in|sont)(?: in| en)?"
    r"|number of|count of|how many|# of|all in|in|counts? in|nombre de|en)\s+(.+)"
)


def container_of(name: str, known: Known) -> str:
    """Return the container that a title counts everything in; "" where it names none."""
    name = _EACH_TIME.sub("", name)
    per = _COUNTED_IN.search(name)
    if per:
        text = bare(per[1]).strip(" ().")
        taken = known.containers.take(text, 0)
        end = r"\W*(?:per|each|received|par|unless|except|sauf|$)"
        if taken and (taken[1] >= len(text) or re.match(end, text[taken[1] :])):
            return taken[0]
        sized = quantity.read_cell(f"1 {re.sub(end + '.*', '', text)}", known.trade)
        if not isinstance(sized, Problem) and sized[0].count == 1:
            return sized[0].container
    for part in _SET_OFF.split(name):
        head = read_heading(_undated(part), known)
        many = part.strip(" .)").casefold().endswith(("s", "x"))
        counted = head.field == "count" and known.containers.is_own(head.container)
        if counted and ((many and not head.label) or known.materials.find(head.label)):
            return head.container
    return ""


def _undated(part: str) -> str:
    """Return a part of a title without the months and the years in it."""
    words = re.sub(r"(?<!\S)'?(?:20)?\d\d(?!\S)", " ", part).split()
    return " ".join(w for w in words if bare(w).strip(".") not in month_words())


def less_amounts(name: str, known: Known) -> str:
    """Return a title without the unit it ends with, and "pails of food scraps" as the scraps."""
    name = _EACH_TIME.sub("", name)
    said = _SET_OFF.split(name)
    parts = [_less_amount(part, known) for part in said]
    return name if parts == said or not any(parts) else " - ".join(p for p in parts if p.strip())


def _less_amount(part: str, known: Known) -> str:
    """Return a part of a title as it is, less the unit or the container that all below it is told in."""
    head = read_heading(_undated(part), known)
    if head.field == "count" and head.container and known.materials.find(head.label):
        return head.label
    if head.unit is None or head.said:
        return part
    words = re.escape(head.unit_text)
    rest = re.sub(
        rf"(?i)^{words}(?!\w)(?: +(?:of|de|d'))?|(?<!\w)(?:(?:in|en) +)?{words}(?!\w)", " ", part
    )
    return " ".join(rest.split())


_UNITS = r"lbs?|kgs?|pounds|kilos?|livres|yd3|yd³|m3|m³|litres?|liters?|gallons?|tonnes?"
_UNIT_PLACES = (
    re.compile(r"\(\s*(?:all\s+)?(?:in\s+|en\s+)?([^()\d]{1,20})\s*\)"),
    re.compile(
        r"(?:weights?|poids|volumes?|quantities|quantites|amounts|all|everything|units?|unites?|measured|values|figures|tout|valeurs)\s*(?:are|is|:|=|sont)?\s*(?:in\s+|en\s+)?([a-z#³.]+(?:\s[a-z³]+)?)"
    ),
    re.compile(r"(?<!\w)(?:in|en)\s+([a-z#³.]+(?:\s[a-z³]+)?)"),
    re.compile(r"[,;:–—-]\s*((?:cubic|cu\.?|short|us)?\s*[a-z#³]+)\s*$"),
    re.compile(rf"(?:^|[\s,;–—-])({_UNITS})\.?\s*(?:$|\s[–—-]\s|[,;)])"),
    re.compile(rf"^({_UNITS})\s+(?:of|de|d')"),
    re.compile(
        r"(?:^|[\s,;:–—-])(lbs?|kgs?|pounds|kilos?|yds?|yards|gallons?|tonnes?|tons)\.? (?:of|de|d')(?!\w)"
    ),
)


def unit_of(name: str, known: Known) -> tuple[Unit | None, str]:
    """Return the unit that a title gives everything in, and its word."""
    said = _EACH_TIME.sub("", name)
    text, undated = bare(said), bare(_undated(said))  # "Food scraps lb 2024"
    for pattern in _UNIT_PLACES:
        for match in (*pattern.finditer(text), *pattern.finditer(undated)):
            unit = take_unit(match[1].strip(), 0, known.trade.meaning)
            if unit is not None and (
                unit.end >= len(match[1].strip()) or pattern is not _UNIT_PLACES[0]
            ):
                return unit, match[1].strip()
    return None, ""
