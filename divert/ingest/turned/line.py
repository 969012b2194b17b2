"""A line of a diary or a square of a calendar: "Two totes of food scraps from Lantern Row".

Read only where every word is part of one amount with its unit or container, of one known source, of
one known material, or joins them; and where nothing could be parted another way.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from divert.core.names import plain
from divert.ingest.cells import fill, mark, quantity
from divert.ingest.cells.number import even, take_number
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.quantity_value import Quantity
from divert.ingest.cells.unit import read_cell as read_unit
from divert.ingest.known import Known
from divert.ingest.lexicon import bare, words
from divert.ingest.sheet import is_number
from divert.ingest.tables.heading_rows import is_amount
from divert.ingest.tables.headings import read_heading

LONGEST = 120  # characters; a longer text is prose
_MOST_WORDS = 6  # in one name
_ONE = re.compile(r"(?:an?|une?) (?=[a-z])")
_OF = re.compile(r"^[dlDL]['’](?=\w)")
_YEAR = re.compile(r"(?<!\w)(?:19|20)\d\d(?!\w)(?!\s*[^\W\d])")  # "2025 (lb)", not "2025 lb"
_STRANGE = re.compile(r"\d[\d.,/]*\s*([^\W\d]{3,})")  # "5 whatsits"
_NO_LOAD = ("hours", "people", "money", "time")
_TIME = re.compile(r"(?i)^\d{1,2}(?:[:h][0-5]\d\s*(?:[ap]\.?m\.?)?|\s*[ap]\.?m\.?)(?!\w)[\s:,–-]*")
_SETS_OFF = re.compile(r"\s*(?:[:;|–—]|,(?!\d)|(?<=\s)-(?=\s))\s*")


@dataclass(frozen=True)
class Line:
    """What a line says: the words of its amount (or a mark, "closed"), its source, its material."""

    amount: str
    source: str = ""
    material: str = ""


def read_line(text: str, known: Known, numbers: bool = False) -> Line | None:
    """Return what a line says, or None where it is no entry that can be read without guessing.

    ``numbers``: a bare number beside a name is an amount, whose unit is said elsewhere.
    """
    if len(text) > LONGEST or "?" in text:
        return None
    text = _TIME.sub("", text)
    if mark.read_start(text) in ("closed", "nothing") and not may_count(text, known):
        return Line(text)
    tokens = [t for part in _SETS_OFF.split(text) for t in [*part.split(), ","]][:-1]
    named = _names(tokens, known)
    if named is None:
        return None
    spans, source, material = named
    runs = _runs(tokens, spans)
    amount = _amount(runs, known)
    if numbers and spans and len(runs) == 1 and is_number(runs[0]):
        return Line(runs[0], source, material)
    if amount is None or (material and len(measured(amount, known) or ()) > 1):
        return None  # "3 totes + 1 pail leaves": leaves in all of them, or in the pail?
    return Line(amount, source, material)


def may_count(text: str, known: Known) -> bool:
    """Return whether a text may count something: what is not read there may then be an entry."""
    text = _YEAR.sub(" ", text)
    tokens = [
        t for t in re.split(r"[\s,;:()/–—]+", re.sub(r"(\d)(?=[^\W\d])", r"\1 ", even(text))) if t
    ]
    boxes = any(known.containers.find(t) for t in tokens)
    units = any(read_unit(t, known.trade.meaning) for t in tokens)
    numbers = any(c.isdigit() for c in text) or any(_is_number_word(t) for t in tokens)
    named = _names(tokens, known)
    material = named is None or bool(named[2])
    name_and_number = numbers and named is not None and _runs_are_numbers(tokens, named[0])
    if (numbers and (boxes or units)) or (boxes and material) or name_and_number:
        return True
    strange = _STRANGE.fullmatch(even(text).strip())
    return strange is not None and read_heading(strange[1], known).field not in _NO_LOAD


def _runs_are_numbers(tokens: list[str], spans: set[int]) -> bool:
    """Return whether all that stands beside the names is one number: "Hotel 20"."""
    runs = _runs(tokens, spans)
    return bool(spans) and len(runs) == 1 and is_number(runs[0])


def _is_number_word(token: str) -> bool:
    try:
        return take_number(bare(token), 0) is not None
    except ValueError:
        return True


@lru_cache
def _joining() -> frozenset[str]:
    return frozenset(words("diary")["joining"])


def _joins(token: str) -> bool:
    return bare(token).strip(".'’") in _joining()


def _names(tokens: list[str], known: Known) -> tuple[set[int], str, str] | None:
    """Return the tokens that name something, the source and the material; None where two are named."""
    spans: set[int] = set()
    sources: list[str] = []
    texts = [_OF.sub("", t.strip(".()")) for t in tokens]
    may_name = [not set(plain(t).split()) - _name_words(known) for t in texts]
    materials: list[str] = []
    both: list[tuple[str, str]] = []  # "Cafe" may be the source, or the French for coffee
    for size in range(min(_MOST_WORDS, len(tokens)), 0, -1):
        for at in range(len(tokens) - size + 1):
            here = set(range(at, at + size))
            if here & spans or "," in tokens[at : at + size] or not all(may_name[at : at + size]):
                continue
            text = " ".join(texts[at : at + size])
            source, material = known.sources.find(text), known.materials.find(text)
            if not source and not material:
                continue
            spans |= here
            if source and material:
                both.append((source, material))
                continue
            sources += [source] if source else []
            materials += [material] if material else []
    if len(both) == 1 and bool(sources) != bool(materials):  # what else is named settles it
        sources += [both[0][0]] if materials else []
        materials += [both[0][1]] if not materials else []
        both = []
    if both or len(sources) > 1 or len(materials) > 1:
        return None
    return spans, next(iter(sources), ""), next(iter(materials), "")


@lru_cache
def _name_words(known: Known) -> frozenset[str]:
    """Return the words that names may hold: any other is passed over quickly."""
    spellings = (
        text
        for names in (known.sources, known.materials)
        for name, others in names.spellings.items()
        for text in (name, *others)
    )
    articles = {"the", "our", "le", "la", "les", "l", "de", "du", "des", "et", "and"}
    return frozenset(word for text in spellings for word in plain(text).split()) | articles


def _runs(tokens: list[str], spans: set[int]) -> list[str]:
    """Return the runs of words that stand between the names, less what joins them at their ends."""
    runs: list[list[str]] = [[]]
    for i, token in enumerate(tokens):
        if i in spans:
            runs.append([])
        else:
            runs[-1].append(token)
    texts = []
    for run in runs:
        while run and (run[0] == "," or _joins(run[0])):
            run = run[1:]
        while run and (run[-1] == "," or _joins(run[-1])):
            run = run[:-1]
        texts.append(" ".join(run).replace(" ,", ","))
    return [t for t in texts if t]


def _amount(runs: list[str], known: Known) -> str | None:
    """Return the words of the one amount, how full it was among them where a name stands between."""
    if len(runs) == 2 and not isinstance(fill.read_cell(runs[1].strip("()")), Problem):
        full = runs[1].strip("()")
        if any(c.isalpha() or c in "/%½¼¾" for c in full):
            joined = f"{runs[0]}, {full}"
            read = measured(joined, known)
            return joined if read and all(q.fill is not None for q in read) else None
    return runs[0] if len(runs) == 1 and measured(runs[0], known) is not None else None


def measured(text: str, known: Known) -> tuple[Quantity, ...] | None:
    """Return the amounts that are all a text says, each with its unit or container."""
    one = _ONE.match(bare(text)) is not None  # "a pail" counts one
    if not one and not is_amount(text, known):
        return None
    read = quantity.read_cell(text, known.trade)
    if isinstance(read, Problem):
        return None
    sized = all(q.container or q.mass_kg is not None or q.volume_m3 is not None for q in read)
    plain = all(not q.note and not q.loose and _positive(q) for q in read)
    single = not one or (len(read) == 1 and read[0].count in (1, None))
    return read if sized and plain and single else None


def _positive(one: Quantity) -> bool:
    said = [v for v in (one.count, one.mass_kg, one.volume_m3) if v is not None]
    return all(v > 0 for v in said) and not any(c.isdigit() for c in even(one.note))
