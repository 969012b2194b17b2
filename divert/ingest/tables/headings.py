"""What the head of a column says: a field, a unit, and a label such as a material's or a source's name."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from divert.ingest.cells.container import singular
from divert.ingest.cells.fill import read_cell as read_fill
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.unit import Meaning, Unit, is_unsized, read_cell, read_typed
from divert.ingest.known import Known
from divert.ingest.lexicon import bare, words
from divert.ingest.tables.own_names import name_within
from divert.names import plain

QUANTITIES = ("count", "quantity", "volume", "weight", "gross", "each", "hours", "people", "money")
MONEY = {"$": "", "€": "EUR", "£": "GBP", "usd": "USD", "cad": "CAD", "eur": "EUR", "gbp": "GBP"}


@dataclass(frozen=True, slots=True)
class Heading:
    """``field`` is "" where no word is known; ``label`` what is left over, as written.

    ``said`` marks a heading whose words name the field in full (not only by a unit or container).
    ``container`` and ``size_m3`` belong to headings such as "5 gal pails".
    """

    text: str = ""
    field: str = ""
    unit: Unit | None = None
    unit_text: str = ""
    percent: bool = False
    money: str | None = None
    label: str = ""
    container: str = ""
    size_m3: float | None = None
    said: bool = False
    unsized: bool = False  # a unit is named that we have no size for
    fill: float | None = None  # "Half full pails": how full each of them was

    @property
    def known(self) -> bool:
        """Return whether the heading says anything we understand."""
        return bool(self.field)


@lru_cache
def _phrases() -> tuple[dict[str, str], frozenset[str]]:
    fields = {
        norm(phrase): field
        for field, group in words("headings")["field"].items()
        for phrase in group
    }
    return fields, listed("headings", "filler", "words")


@lru_cache
def listed(name: str, *keys: str) -> frozenset[str]:
    """Return the phrases that stand under some keys of a word list, as :func:`norm` has them."""
    found = words(name)
    for key in keys:
        found = found[key]
    return frozenset(map(norm, found))


_SHORT = {"wt": "weight", "wgt": "weight", "vol": "volume", "amt": "amount", "recd": "received"}


@lru_cache(maxsize=16384)
def norm(text: str) -> str:
    """Return a heading's words for comparing."""
    tokens = plain(text.replace("_", " ").replace("#", " number ")).split()
    return " ".join(_SHORT.get(w, singular(w)) for w in tokens)


def read_heading(text: str, known: Known) -> Heading:
    """Return what a heading says; an empty Heading where it says nothing known."""
    return _read(" ".join(text.split()), known)


@lru_cache(maxsize=16384)
def _read(text: str, known: Known) -> Heading:
    if not text or len(text) > 120:
        return Heading(text)
    if text.endswith("(#)") and _container(text[:-3].strip(), known) is not None:
        return replace(_read(f"# of {text[:-3].strip()}", known), text=text)  # no pounds
    if known.site.language == "fr" and bare(text) == "quarts":
        return Heading(text, "fill", said=True)  # how many quarters full, and no quarts
    pounds = text.casefold().strip(" :.") in ("livres", "livre")  # with an accent: delivered
    whole = None if pounds else _phrases()[0].get(norm(text))
    if whole is not None:
        percent = "%" in text or re.search(r"\bpercent\b|\bpct\b", bare(text)) is not None
        return _of_money(Heading(text, whole, percent=percent, said=True, money=_money(text)))
    if known.names(text):
        return Heading(text, label=text)
    if (own := _by_own_names(text, known) or _numbered_box(text, known)) is not None:
        return own
    per = re.fullmatch(r"(.+?)\s*(?:\bper\b|\bpar\b|/)\s*(\w+)", text)
    held = known.containers.take(bare(per[2]), 0) if per else None
    if per and held and held[1] == len(bare(per[2])):
        each = _without_unit(per[1], known.trade.meaning)[0]
        if each.unit is not None and each.unit.dimension == "mass":
            return replace(each, text=text, field="each", said=True)
        own = _read(per[1], known)  # "Tare per tote" counts no totes
        return replace(own, text=text, field="each" if own.field == "weight" else own.field)
    heading, rest = _without_unit(text, known.trade.meaning)
    if rest and (known.names(rest) or known.source_and_material(_WORD.findall(rest))):
        return _by_unit(replace(heading, label=rest))
    sized = re.fullmatch(r"(.+?)\s*[(\[]\s*(\d[\d.,]*[\s-]*[^)\]\d]+)[)\]]", text)
    if sized:
        box = _container(f"{sized[2].strip()} {sized[1].strip()}", known)
        if box is not None and box.field == "count":
            return replace(box, text=text)
    weighed = heading.unit is not None and _phrases()[0].get(norm(rest)) in _WEIGHED
    container = None if weighed else _container(_tidy(text) if "#" in text else rest, known)
    if container is not None and (heading.unit is None or "#" in text):
        return replace(container, text=text, percent=heading.percent)
    if heading.unit is None and (filled := _filled_containers(text, known)) is not None:
        return replace(filled, text=text)
    if heading.unit is None:
        labelled = _labelled_container(rest, known)
        if labelled is not None:
            return replace(labelled, text=text)
    read = _by_unit(_about_material(heading, rest, known) or _by_words(heading, rest, known))
    if _NUMBER_OF.match(bare(text)) and read.field in _NOT_COUNTED and not known.names(read.label):
        return Heading(text, "running", said=True)  # "# of stops", "Total stops"
    return _weighing(_of_money(read), known)


_WORD = re.compile(r"[^\s\-–—,:;/|().\[\]?!*]+")


_AMOUNTS = (*QUANTITIES, "tare", "removed", "contamination", "fill", "total")


def _by_own_names(text: str, known: Known) -> Heading | None:
    """Read a heading by the site's own names of several words, whatever their words mean elsewhere."""
    box = _container(text, known)
    if box is not None and known.containers.is_own(box.container) and " " in box.container:
        return replace(box, text=text)
    parted = name_within(text, known.names)
    if parted is None:
        return None
    name, rest = parted
    heading = _read(rest, known)
    if known.names(rest):
        return Heading(text, label=f"{name} {rest}")
    if heading.field not in _AMOUNTS:
        return None
    done = set(norm(heading.label).split())  # "Spent grain out", "Food scraps composted"
    handled = done <= listed("headings", "handled", "words")
    if handled and (known.materials.find(name) or "") not in ("", *known.products):
        return replace(heading, text=text, label=name)
    return replace(heading, text=text, label=f"{name} {heading.label}".strip())


_NUMBER_OF = re.compile(r"(?:# ?of|number of|no\.? of|nb\.? de|nombre de|total) +\w")
_NOT_COUNTED = ("source", "material", "time", "by", "id", "destination", "name", "")


def _numbered_box(text: str, known: Known) -> Heading | None:
    """Read "Cart A" as one of several carts, no count of carts; "Loads (totes)" as a count of totes."""
    one = re.fullmatch(r"([^\W\d_]+) #?[A-H]", text)
    box = _container(one[1], known) if one and not one[1].endswith(("s", "x")) else None
    if box is not None and box.field == "count":
        return Heading(text, label=text)
    inner = re.fullmatch(
        r"(?:loads?|containers?|count|chargements?|contenants?) *[(\[]([^()]+)[)\]]", bare(text)
    )
    box = _container(inner[1], known) if inner else None
    return replace(box, text=text) if box is not None and box.field == "count" else None


def _about_material(heading: Heading, rest: str, known: Known) -> Heading | None:
    """Read "Spent grain out (lb)" as the material it names, "spent" being no money there."""
    tokens = _WORD.findall(rest)
    may = [known.materials.may_be(t) for t in tokens]
    for size in range(min(4, sum(may), len(tokens)), 1, -1):
        for at in range(len(tokens) - size + 1):
            if not all(may[at : at + size]):
                continue
            named = tokens[at : at + size]
            for name in (" ".join(named), " ".join(reversed(named))):  # "Grain spent"
                if known.materials.find(name) and not known.sources.find(name):
                    others = " ".join((*tokens[:at], *tokens[at + size :]))
                    return replace(_by_words(heading, others, known), label=name)
    return None


# What is measured beside a load, and never received.
_BESIDE = re.compile(
    r"^(?:co2|ghg|ges\b|methane|emission|structurant)|^(?:bulking|worms?|vers)(?: agents?)?$"
)
_ADDED = re.compile(r"\b(?:added|ajoute(?:e?s?))\b")


def _weighing(heading: Heading, known: Known) -> Heading:
    """Take "Full (lb)" for what a full one weighs: pounds say how full nothing is."""
    added = _ADDED.search(bare(heading.text)) and heading.label and not known.names(heading.label)
    if heading.unit is not None and (added or _BESIDE.search(bare(heading.label))):
        return replace(heading, field="running", label="")  # "CO2 évité (kg)", "Worms added (lb)"
    massive = heading.unit is not None and heading.unit.dimension == "mass"
    return replace(heading, field="gross") if massive and heading.field == "fill" else heading


def _of_money(heading: Heading) -> Heading:
    if heading.money is not None and heading.unit is not None:
        return replace(heading, field="price")  # "$/ton"
    if heading.money is not None and heading.field in ("quantity", "total", "count", "name", ""):
        return replace(heading, field="money")
    return heading


def _money(text: str) -> str | None:
    for sign, currency in MONEY.items():
        if re.search(rf"(?<![^\W\d_]){re.escape(sign)}(?![^\W\d_])", bare(text)):
            return currency
    return None


_REMARKED = re.compile(
    r"(?i)[(\[](?:if|when|where|or|optional|required|approx\w*|est\w*|please|only|best|si|ou|facultatif|requis|env\w*)\b[^)\]\d]*[)\]]"
)
_BRACKETS = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")


def _without_unit(text: str, meaning: Meaning) -> tuple[Heading, str]:
    """Part a heading into its unit (in brackets, last, first, or after "in") and the rest."""
    heading = Heading(text, money=_money(text))
    rest = text.replace("_", " ")
    for match in _BRACKETS.finditer(rest):
        if re.match(r"\s*\d", match[1]):
            continue  # the size of a container: "Pails (5 gal)"
        inner = re.sub(r"^(?:in|en)\s+", "", match[1].strip(), flags=re.I)
        unit = _unit_of(inner, meaning)
        if _either_unit(inner, meaning):
            heading = replace(heading, unsized=True, unit_text=inner)
        elif unit is not None:
            heading = replace(heading, unit=unit, unit_text=inner)
        elif bare(inner) in MONEY:
            heading = replace(heading, money=MONEY[bare(inner)])
        elif is_unsized(bare(inner), 0):
            heading = replace(heading, unsized=True, unit_text=inner)
        elif "%" in inner or re.fullmatch(r"(?i)percent|pct|pour ?cent|fraction|share", inner):
            heading = replace(heading, percent="fraction" not in inner.lower())
        else:
            continue
        rest = rest.replace(match[0], " ")
    if re.search(r"%|\bpercent\b|\bpct\b|\bpour ?cent\b", rest, re.I):
        heading = replace(heading, percent=True)
        rest = re.sub(r"%", " ", rest)
    if heading.money is not None:
        rest = re.sub(r"(?i)[$€£]|\b(?:usd|cad|eur|gbp)\b", " ", rest)
    if heading.unit is not None or heading.percent or heading.unsized:
        return heading, _tidy(rest)
    remarked = _REMARKED.sub(" ", rest)  # "Weight in pounds (if weighed)"
    return _unit_at_an_end(heading, remarked, meaning) or (heading, _tidy(rest))


def _either_unit(text: str, meaning: Meaning) -> bool:
    """Return whether a heading leaves open which of two units its numbers are in: "lb/kg", "lb or kg"."""
    parts = re.split(r"\s*(?:/|\bor\b|\bou\b)\s*", text)
    units = [_unit_of(p, meaning) for p in parts]
    return (
        len({u.dimension if u else "" for u in units}) == 1
        and len(units) == 2
        and None not in units
    )


def _unit_at_an_end(heading: Heading, rest: str, meaning: Meaning) -> tuple[Heading, str] | None:
    """Return a heading with the unit that its words end or begin with, and the other words."""
    tokens = re.sub(r"[-–—,:;/|()\[\]?!]+", " ", rest).split()
    for size in (3, 2, 1):
        if len(tokens) < size:
            continue
        for at in (len(tokens) - size, 0):
            word = " ".join(tokens[at : at + size])
            if len(word) == 1 and len(tokens) > 1 and word not in ("L", "#"):
                continue
            named = at == 0 and bare(word) in ("#", "st", "st.")  # "St Ann's pails" weighs no stone
            unit = None if named and len(tokens) > size else _unit_of(word, meaning)
            if unit is not None:
                left = tokens[:at] + tokens[at + size :]
                if left and bare(left[-1]) in ("in", "en"):
                    left = left[:-1]
                return replace(heading, unit=unit, unit_text=word), " ".join(left)
    return None


def _tidy(rest: str) -> str:
    return " ".join(rest.strip(" -–—:,;/|.").split())


def _unit_of(text: str, meaning: Meaning) -> Unit | None:
    if re.search(r"\d", re.sub(r"[23³²]$", "", text)):
        return None
    if text.casefold().startswith("livré"):
        return None  # delivered: without its accent it would be pounds
    return read_typed(text, meaning)


_WEIGHED = (
    "weight",
    "gross",
    "tare",
    "each",
    "removed",
)  # "Weight #" is in pounds: it numbers nothing


_COUNTED_BEFORE = re.compile(
    r"^(?:#|n°|(?:no\.?|number|numero|nb\.?|nbre?|nombre|how many|combien|count|qty|qte|quantity"
    r"|quantite|total)(?!\w))"
    r"\s*(?:of(?!\w)|de(?!\w)|d'|des(?!\w))?\s*"
)
_COUNTED_AFTER = re.compile(
    r"\s*(?:#|count|qty|qte|received|delivered|collected|in|filled|sold|harvested|picked up|"
    r"recus?|vendus?|tally|tallied|tallies|pointage|no\.?|n°|number|numero|id)$"
)
# "Bin #", "Cart number", "No de bac": which of them it was; of several, how many there were
_WHICH = re.compile(
    r"(?:#|\b(?:no|number|numero|id)\.?|n°)$|^(?:no\.?|n°|numero) (?:of |de |d'|du )"
)


def _container(rest: str, known: Known) -> Heading | None:
    """Return a heading that counts or names containers: "Totes", "# of pails", "5 gal pails"."""
    text = _COUNTED_AFTER.sub("", _COUNTED_BEFORE.sub("", bare(rest))).strip()
    if text and not text.endswith(("s", "x")) and _WHICH.search(bare(rest)):
        return Heading(field="id", said=True)
    sized = re.fullmatch(r"(\d+(?:\.\d+)?)[\s-]*([a-z³.\s]+?)[\s-]+(.+)", text)
    unit = read_cell(sized[2], known.trade.meaning) if sized else None
    size_m3 = (
        float(sized[1]) * unit.factor if sized and unit and unit.dimension == "volume" else None
    )
    own = known.containers.find(text)
    if own is not None:
        return Heading(field="count", container=own, size_m3=None)
    named = known.containers.take(sized[3] if sized and size_m3 else text, 0)
    if named is None or named[1] < len(sized[3] if sized and size_m3 else text):
        return None
    if size_m3 is not None:
        fits = known.containers.of_size(size_m3, named[0])
        return Heading(field="count", container=fits or named[0], size_m3=None if fits else size_m3)
    if named[0] in _ANY_BOX:  # "Containers received" says how many, and nothing of which
        return Heading(field="count" if _counting(rest) else "container", said=True)
    return Heading(field="count", container=named[0])


_ANY_BOX = ("container", "conteneur", "contenant")


def _counting(rest: str) -> bool:
    """Return whether a heading says that it counts: "# of", "how many", "received", or a plural."""
    text = bare(rest)
    said = _COUNTED_BEFORE.match(text) or _COUNTED_AFTER.search(text)
    return said is not None or text.endswith("s")


def _labelled_container(rest: str, known: Known) -> Heading | None:
    """Return a heading such as "Hotel - totes", "Copper Ladle (pails)" or "Totes of leaves"."""
    tokens = re.sub(r"[-–—,:;/|()\[\]]+", " ", rest).split()
    for size in (3, 2, 1):
        if len(tokens) <= size:
            continue
        for at in (len(tokens) - size, 0):
            inner = _container(" ".join(tokens[at : at + size]), known)
            if inner is None or inner.field != "count":
                continue
            left = tokens[:at] + tokens[at + size :]
            label = left if known.names(" ".join(left)) else _less_filler(left)
            if any(t[0].isdigit() or t[0] in "½¼¾~" for t in left):
                continue  # "3 totes" counts, it heads nothing
            if known.names(" ".join(left)) or _phrases()[0].get(norm(" ".join(left))) is None:
                return replace(inner, label=" ".join(label))
    return None


def _filled_containers(text: str, known: Known) -> Heading | None:
    """Return a heading such as "Full totes" or "Bacs à moitié pleins"; not "Tote full?", which asks."""
    tokens = re.sub(r"[()\[\]]+", " ", text).split()
    for size in (1, 2, 3):
        for at in (len(tokens) - size, 0):
            inner = (
                _container(" ".join(tokens[at : at + size]), known) if len(tokens) > size else None
            )
            many = tokens[at + size - 1].casefold().endswith(("s", "x")) if inner else False
            if inner is None or inner.field != "count" or not many or "?" in text:
                continue
            full = read_fill(" ".join(tokens[:at] + tokens[at + size :]))
            if not isinstance(full, Problem) and full > 0:
                return replace(inner, fill=full)
    return None


def _less_filler(tokens: list[str]) -> list[str]:
    """Return words without those at either end that name nothing: "de résidus de cuisine" less "de"."""
    named = [i for i, t in enumerate(tokens) if norm(t) not in _phrases()[1]]
    return tokens[named[0] : named[-1] + 1] if named else []


_ASKS = {"when": "date", "quand": "date"}


def _by_words(heading: Heading, rest: str, known: Known) -> Heading:
    """Find the longest known phrase among the words; what is left over, less filler, is a label."""
    fields, filler = _phrases()
    tokens = _WORD.findall(rest.replace("_", " "))
    plain_tokens = [norm(t) for t in tokens]
    whole = fields.get(" ".join(p for p in plain_tokens if p))
    if whole:
        return replace(heading, field=whole, said=True)
    if len(tokens) > 1 and plain_tokens[0] in _ASKS:  # "When did you pick up?"
        return replace(heading, field=_ASKS[plain_tokens[0]], said=True)
    best: tuple[int, int, str] | None = None
    for size in range(min(len(tokens), 5), 0, -1):
        for at in range(len(tokens) - size, -1, -1):
            field = fields.get(" ".join(p for p in plain_tokens[at : at + size] if p))
            if field and not (size == 1 and plain_tokens[at] in filler):
                left = plain_tokens[:at] + plain_tokens[at + size :]
                if all(w in filler or not w for w in left):
                    return replace(heading, field=field, said=True)
                amount = best is not None and field in QUANTITIES and best[2] not in QUANTITIES
                if best is None or (amount and size == best[1]):
                    best = (at, size, field)
    if best is None:
        return replace(heading, label=_name_in(rest, known))
    at, size, field = best
    left = [
        t for i, (t, p) in enumerate(zip(tokens, plain_tokens, strict=True))
        if not at <= i < at + size and p not in filler
    ]  # fmt: skip
    return replace(heading, field=field, label=" ".join(left), said=True)


def _name_in(rest: str, known: Known) -> str:
    """Return what a heading names, less words that name nothing: a name nobody knows as it is typed."""
    found = [m for m in _WORD.finditer(rest.replace("_", " ")) if norm(m[0]) not in _phrases()[1]]
    words = [m[0] for m in found]
    if not found or known.names(" ".join(words)) or known.source_and_material(words):
        return " ".join(words)
    return rest[found[0].start() : found[-1].end()]


def _by_unit(heading: Heading) -> Heading:
    """Give a heading whose words name no field the one its unit implies: "How many pounds?" weighs."""
    if heading.field and not (heading.field == "count" and heading.unit is not None):
        return heading
    if heading.unit is not None:
        return replace(heading, field="weight" if heading.unit.dimension == "mass" else "volume")
    if heading.money is not None and not heading.label:
        return replace(heading, field="money")
    return heading
