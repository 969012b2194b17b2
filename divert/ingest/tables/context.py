"""What the names around a table say: a sheet's, a title's, a file's: year, month, source, unit."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from divert.ingest.cells.date import Day, Order, month_words, read_cell
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.unit import Unit
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.tables.kind_words import kind_said
from divert.ingest.tables.month_span import is_over_two_years, month_span
from divert.ingest.tables.own_names import name_within
from divert.ingest.tables.titled_amounts import container_of, less_amounts, unit_of


@dataclass(frozen=True, slots=True)
class Context:
    """What is said once for a whole table.

    ``years`` holds two where a span such as 2024-25 is named; ``span`` its first and last month
    where they are named too.
    """

    kind: str = ""
    years: tuple[int, ...] = ()
    span: tuple[Day, Day] | None = None
    month: int | None = None
    day: int | None = None
    source: str = ""
    material: str = ""
    container: str = ""
    unit: Unit | None = None
    unit_text: str = ""

    def under(self, outer: Context) -> Context:
        """Return this context with its gaps filled from a wider one."""
        return replace(
            self,
            kind=self.kind or outer.kind,
            years=self.years or outer.years,
            span=self.span if self.years else outer.span,
            month=self.month or outer.month,
            day=self.day or (None if self.month else outer.day),
            source=self.source or outer.source,
            material=self.material or outer.material,
            container=self.container or outer.container,
            unit=self.unit or outer.unit,
            unit_text=self.unit_text or outer.unit_text,
        )


@lru_cache(maxsize=4096)
def read_name(name: str, known: Known) -> Context:
    """Return what one name says."""
    if not name or len(name) > 200:
        return Context()
    about = _less_own_name(name, known)
    years, month, day = _dates(about, known.site.dates)
    span = month_span(name)
    if span is not None:
        years = tuple(dict.fromkeys(end.year for end in span if end.year))
    elif len(years) == 1 and is_over_two_years(name):
        years = ()  # "2024 (Jul-Jun)": nobody can tell which of the two is 2024
    if len(years) == 1 and known.site.year_starts > 1 and re.search(r"(?i)\b(?:fy|ex)", name):
        years = (years[0] - 1, years[0])  # a reporting year is named by the year it ends in
    label = less_amounts(name, known)
    own = name_within(label, known.sources.find)
    source = known.sources.find(own[0]) or "" if own else _named(label, known.sources.find)
    if bare(name) in month_words():
        source = ""  # a sheet "Mars" is a month's, whatever the café is called
    # "Cafe - cardboard": a source's name is taken out before a material is looked for
    material = _named(_less_source(label, known) if source else label, _material_only(known))
    if not source and not material:
        source, material = _both(label, known)
        if not material:
            source, material = _end_of(label, known)
    return Context(
        kind=kind_said(name, known),
        years=years,
        span=span,
        month=month,
        day=day,
        source=source,
        material=material,
        container=container_of(about, known),
        unit=(unit := unit_of(about, known))[0],
        unit_text=unit[1],
    )


def _less_own_name(name: str, known: Known) -> str:
    """Return a name less the source's in it: "Marché Mai" speaks of no month, "CPE 3 Sacs" of no bag."""
    own = name_within(name, known.sources.find)
    whole = " " in name and known.sources.find(name)
    return own[1] if own else "" if whole else name


def _material_only(known: Known) -> Callable[[str], str | None]:
    """Return how a material is found in a name: never in what names a source, such as a café."""
    return lambda text: None if known.sources.find(text) else known.materials.find(text)


_YEARS = re.compile(r"(?<!\d)(20\d\d)(?:\s*[-–/_]\s*(?:20)?(\d\d)(?!\d))?(?!\d)")

_SCHOOL_YEAR = re.compile(r"(?i)\b[sfa]y\s*'?(\d\d)\s*[-–/]\s*'?(\d\d)(?!\d)")  # "SY23-24"


def _dates(name: str, order: Order | None) -> tuple[tuple[int, ...], int | None, int | None]:
    text = re.sub(r"[_]+", " ", name)
    whole = read_cell(text.strip())
    if not isinstance(whole, Problem) and whole.sure and whole.readings:
        found: Day = whole.readings[0][1]
        if found.year is None and found.day in range(15, 32) and re.search(r"\d\s*$", text):
            return (2000 + (found.day or 0),), found.month, None  # a sheet "Jan 25" is a month's
        return ((found.year,) if found.year else ()), found.month, found.day
    if (only := _only_day(text, order)) is not None:
        return (only.year or 0,), only.month, only.day
    if not isinstance(whole, Problem) and whole.readings:
        said = (
            {d for _, d in whole.readings} if order is None else {dict(whole.readings).get(order)}
        )
        one = said.pop() if len(said) == 1 else None  # "3-3-25", whichever comes first
        if one is not None and one.year and one.day:
            return (one.year,), one.month, one.day
    years: tuple[int, ...] = ()
    span = _YEARS.search(text) or _SCHOOL_YEAR.search(text)
    if span:
        first = int(span[1]) % 100 + 2000
        years = (first, first + 1) if span[2] and int(span[2]) == (first + 1) % 100 else (first,)
    month = _month(text)
    if not years and month:
        short = re.search(r"(?<!\d)'?(\d\d)(?!\d)", text)
        years = (2000 + int(short[1]),) if short and 15 <= int(short[1]) <= 60 else ()
    if not years:
        short = re.search(
            r"(?i)(?<![a-z0-9])(?:fy|ex)\s*'?(\d\d)(?!\d)|(?<![\w])'(\d\d)(?!\d)", text
        )
        years = (2000 + int(short[1] or short[2]),) if short else ()
    numbered = re.search(r"(?<!\d)20\d\d[-_. ](0[1-9]|1[0-2])(?![-_.\d])", text)
    if month is None and numbered and len(years) < 2:
        month = int(numbered[1])
    return years, month, None


def _only_day(text: str, order: Order | None) -> Day | None:
    """Return the one full date that stands in a title: "Collection of 3 March 2025 (lb)".

    ``order``: that of the site's dates in numbers, such as "8/6/2025 - short crew".
    """
    tokens = re.sub(r"[()]", " ", text).split()
    found: set[Day] = set()
    for size in (3, 1):
        for at in range(len(tokens) - size + 1):
            read = read_cell(" ".join(tokens[at : at + size]))
            if isinstance(read, Problem) or not read.readings:
                continue
            readings = dict(read.readings)
            single = read.sure or len(set(readings.values())) == 1
            day = read.readings[0][1] if single else readings.get(order) if order else None
            found |= {day} if day is not None and day.year and day.day else set()
    return found.pop() if len(found) == 1 else None


def _month(text: str) -> int | None:
    months = month_words()
    tokens = re.findall(r"[a-z]+", bare(text))
    dated = set(re.findall(r"(may|mar)\W{0,2}\d", bare(text)))  # else "may" and "mar" may be words
    found = {
        months[t]
        for t in tokens
        if t in months and not (t in ("may", "mar") and len(tokens) > 3 and t not in dated)
    }
    return found.pop() if len(found) == 1 else None


# A hyphen may stand inside a name ("Co-op"): parts set off by spaces are tried first.
_SET_OFF = re.compile(r"\s+[-–—]\s+|\s*[–—:|,(/)]\s*|\s{2,}|_")
_PARTED = re.compile(r"\s*[-–—:|,(/)]\s*|\s{2,}|_")


_JOINED = re.compile(r"(?i)\s+(?:from|at|of|for|by|de|du|des|chez|pour)$")  # "leaves of" the hotel


def _less_source(name: str, known: Known) -> str:
    """Return a name less the source it holds, its other parts still set off."""
    if (own := name_within(name, known.sources.find)) is not None:
        return _JOINED.sub("", own[1])
    parts = [p.strip() for p in _SET_OFF.split(name)]
    others = [p for p in parts if p and not known.sources.find(p)]
    return " - ".join(others) if len(others) < len(parts) else known.sources.without(name)


# Words of titles that name nothing themselves: "Quillmarsh School pick-ups".
_OF_LOGS = re.compile(
    r"(?i)\b(?:intake|logs?|pick[- ]?ups?|drop[- ]?offs?|donations?|weights?|poids|collections?"
    r"|deliver(?:y|ies)|loads?|received|from|sheet|journal|collectes?|apports?)\b"
)


def _named(name: str, find: Callable[[str], str | None]) -> str:
    """Return the known name that a title is or holds: "Quillmarsh School kitchen - March 2024"."""
    whole = find(name)
    if whole:
        return whole
    for part in (p.strip() for p in (*_SET_OFF.split(name), *_PARTED.split(name))):
        plain = _less_log_words(part)
        if part and (found := find(part) or (find(plain) if plain else None)):
            return found
    stripped = _less_log_words(re.sub(r"\b(?:in|en) [\w³]+$|\([^)]*\)", " ", name))
    return (find(stripped) if stripped else None) or ""


def _less_log_words(text: str) -> str:
    """Return words of a title without years, months and what every log is called."""
    text = re.sub(r"\b(?:20)?\d\d\b", " ", text)
    text = re.sub(rf"(?i)\b(?:{'|'.join(month_words())})\b\.?", " ", text)
    return " ".join(_OF_LOGS.sub(" ", text).split()).strip(" -_.,")


def _both(name: str, known: Known) -> tuple[str, str]:
    """Return the source and the material that a title such as "Quillmarsh food scraps 2024" names."""
    tokens = re.sub(r"[-–—:|,()/_\d]+", " ", name).split()
    tokens = [t for t in tokens if bare(t).strip(".") not in month_words()]
    return known.source_and_material(tokens) or ("", "")


def _end_of(name: str, known: Known) -> tuple[str, str]:
    """Return the material that ends or begins a title, and the rest where it is near a source's name."""
    tokens = re.sub(r"[-–—:|,()/_\d]+", " ", name).split()
    for size in range(min(3, len(tokens) - 1), 0, -1):
        for part, rest in ((tokens[-size:], tokens[:-size]), (tokens[:size], tokens[size:])):
            material = known.materials.find(" ".join(part))
            if material in known.products:
                continue  # "Compost crew log" says what they do, and of no load what it was
            if known.sources.find(" ".join(part)):
                continue  # "Café compost pickups": the café is a source there
            if material and len(rest) <= 4:
                left = " ".join(rest)
                return (left if known.sources.near(left) else ""), material
    return "", ""


def gather(names: Iterable[str], known: Known) -> Context:
    """Return what several names say together, the nearest to the table first."""
    context = Context()
    for name in names:
        context = context.under(read_name(name, known))
    return context
