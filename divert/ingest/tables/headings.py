"""What the head of a column says: a field, a unit, and a label such as a material's or a source's name."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache

from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.tables.heading import QUANTITIES, Heading
from divert.ingest.tables.heading_boxes import box_of, filled_boxes, labelled_boxes, numbered_box
from divert.ingest.tables.heading_units import money, tidy, without_unit
from divert.ingest.tables.heading_words import WORD, listed, norm, phrases
from divert.ingest.tables.own_names import name_within
from divert.ingest.tables.questions import LONG, read_question


@lru_cache(maxsize=16384)
def read_heading(text: str, known: Known) -> Heading:
    """Return what a heading says; an empty Heading where it says nothing known."""
    return _read(" ".join(text.split()), known)


_FIRST = re.compile(r"([^\W\d_]{2,}) #?A")  # "Bin A", beside "Bin B"


def _read(text: str, known: Known) -> Heading:
    if not text:
        return Heading(text)
    if len(text) > LONG:
        return read_question(text, known)
    if text.endswith("(#)") and box_of(text[:-3].strip(), known) is not None:
        return replace(_read(f"# of {text[:-3].strip()}", known), text=text)  # no pounds
    if (lettered := _FIRST.fullmatch(text)) and phrases()[0].get(norm(lettered[1])) is None:
        return Heading(text, label=text)  # the first of several, and no article
    if known.site.language == "fr" and bare(text) == "quarts":
        return Heading(text, "fill", said=True)  # how many quarters full, and no quarts
    pounds = text.casefold().strip(" :.") in ("livres", "livre")  # with an accent: delivered
    whole = None if pounds else phrases()[0].get(norm(text))
    if whole is not None:
        percent = "%" in text or re.search(r"\bpercent\b|\bpct\b", bare(text)) is not None
        said = Heading(text, whole, percent=percent, said=True, money=money(text))
        if whole == "each":  # "lb each": the words say that it is one's, the unit what it is in
            unit = without_unit(f"({text.split()[0]})", known.trade.meaning)[0]
            said = replace(said, unit=unit.unit, unit_text=unit.unit_text)
        return _weighing(_of_money(said), known)
    if known.names(text):
        return Heading(text, label=text, percent=text.endswith("%"))
    if (own := _by_own_names(text, known) or numbered_box(text, known)) is not None:
        return own
    if (each := _of_each_box(text, known)) is not None:
        return each
    heading, rest = without_unit(text, known.trade.meaning)
    if rest and (known.names(rest) or known.source_and_material(WORD.findall(rest))):
        return _by_unit(replace(heading, label=rest))
    if (boxes := _by_boxes(text, heading, rest, known)) is not None:
        return replace(boxes, text=text)
    read = _by_unit(_about_material(heading, rest, known) or _by_words(heading, rest, known))
    if _NUMBER_OF.match(bare(text)) and read.field in _NOT_COUNTED and not known.names(read.label):
        return Heading(text, "running", said=True)  # "# of stops", "Total stops"
    return _weighing(_of_money(read), known)


def _of_each_box(text: str, known: Known) -> Heading | None:
    """Read "lb per tote", or "Tare per tote", which counts no totes."""
    per = re.fullmatch(r"(.+?)\s*(?:\bper\b|\bpar\b|/)\s*(\w+)", text)
    held = known.containers.take(bare(per[2]), 0) if per else None
    if per is None or held is None or held[1] != len(bare(per[2])):
        return None
    each = without_unit(per[1], known.trade.meaning)[0]
    if each.unit is not None and each.unit.dimension == "mass":
        return replace(each, text=text, field="each", said=True)
    own = _read(per[1], known)
    return replace(own, text=text, field="each" if own.field == "weight" else own.field)


def _by_boxes(text: str, heading: Heading, rest: str, known: Known) -> Heading | None:
    """Read a heading that counts containers: "Totes (64 gal)", "# pails", "Half full pails".

    ``heading``, ``rest``: its unit, and its words without that.
    """
    sized = re.fullmatch(r"(.+?)\s*[(\[]\s*(\d[\d.,]*[\s-]*[^)\]\d]+)[)\]]", text)
    if sized:
        box = box_of(f"{sized[2].strip()} {sized[1].strip()}", known)
        if box is not None and box.field == "count":
            return box
    weighed = heading.unit is not None and phrases()[0].get(norm(rest)) in _WEIGHED
    container = None if weighed else box_of(tidy(text) if "#" in text else rest, known)
    if container is not None and (heading.unit is None or "#" in text):
        return replace(container, percent=heading.percent)
    if heading.unit is not None:
        return None
    return filled_boxes(text, known) or labelled_boxes(rest, known)


_AMOUNTS = (*QUANTITIES, "tare", "removed", "contamination", "fill", "total")


def _by_own_names(text: str, known: Known) -> Heading | None:
    """Read a heading by the site's own names of several words, whatever their words mean elsewhere."""
    box = box_of(text, known)
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


def _about_material(heading: Heading, rest: str, known: Known) -> Heading | None:
    """Read "Spent grain out (lb)" as the material it names, "spent" being no money there."""
    tokens = WORD.findall(rest)
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
    """Take "Full (lb)" for what a full one weighs, and "Volume %" for how full it was."""
    added = _ADDED.search(bare(heading.text)) and heading.label and not known.names(heading.label)
    if heading.unit is not None and (added or _BESIDE.search(bare(heading.label))):
        return replace(heading, field="running", label="")  # "CO2 évité (kg)", "Worms added (lb)"
    if heading.percent and heading.field == "volume" and heading.unit is None:
        return replace(heading, field="fill")
    massive = heading.unit is not None and heading.unit.dimension == "mass"
    return replace(heading, field="gross") if massive and heading.field == "fill" else heading


def _of_money(heading: Heading) -> Heading:
    if heading.money is not None and heading.unit is not None:
        return replace(heading, field="price")  # "$/ton"
    if heading.money is not None and heading.field in ("quantity", "total", "count", "name", ""):
        return replace(heading, field="money")
    return heading


_WEIGHED = (
    "weight",
    "gross",
    "tare",
    "each",
    "removed",
)  # "Weight #" is in pounds: it numbers nothing


_ASKS = {"when": "date", "quand": "date"}


def _by_words(heading: Heading, rest: str, known: Known) -> Heading:
    """Find the longest known phrase among the words; what is left over, less filler, is a label."""
    fields, filler = phrases()
    tokens = WORD.findall(rest.replace("_", " "))
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
    if field == "unit" and left:
        return replace(heading, label=_name_in(rest, known))  # "Unit 4B", a flat
    return replace(heading, field=field, label=" ".join(left), said=True)


def _name_in(rest: str, known: Known) -> str:
    """Return what a heading names, less words that name nothing: a name nobody knows as it is typed."""
    found = [m for m in WORD.finditer(rest.replace("_", " ")) if norm(m[0]) not in phrases()[1]]
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
