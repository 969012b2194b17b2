"""What a site's sheets may name: its sources, materials and containers, by every spelling."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from divert.core.names import NameBook, plain
from divert.factors.load import load_factors
from divert.ingest.cells.container import Containers, key, singular
from divert.ingest.cells.scan import Trade
from divert.ingest.cells.unit import Meaning
from divert.ingest.lexicon import bare, words
from divert.site.model import Container, Material, Site, Source


def _ampersand(text: str) -> str:
    return key(text.replace("&", " and ").replace(" et ", " and "))


_WORD = re.compile(r"\w+")
# Words of articles, and those that stand for an ampersand: a name is found with and without them.
_LITTLE = frozenset(("the", "le", "la", "les", "l", "our", "de", "du", "des", "and", "et"))


_LONG, _MOST = 60, 20_000  # letters, and texts: what was once looked for is known again


class Names:
    """Names of one kind: the canonical one behind a spelling, or none."""

    def __init__(self, spellings: Mapping[str, Iterable[str]]) -> None:
        self.spellings = {name: tuple(others) for name, others in spellings.items()}
        self._book = NameBook(self.spellings)
        self._by_key: dict[str, str] = {}
        for name, others in self.spellings.items():
            for spelling in (name, *others):
                self._by_key.setdefault(_ampersand(spelling), name)
        self._words = {
            word
            for name, others in self.spellings.items()
            for spelling in (name, *others)
            for word in (*plain(spelling).split(), *_ampersand(spelling).split())
        }
        self._cache: dict[str, str | None] = {}
        self._known_words: dict[str, bool] = {}

    def may_be(self, text: str) -> bool:
        """Return whether all words of a text are words of names: most texts are told apart by one."""
        first = _WORD.search(text)
        known = first is None or self._is_word(first[0])
        return known and all(map(self._is_word, _WORD.findall(text)))

    def _is_word(self, word: str) -> bool:
        found = self._known_words.get(word)
        if found is None:
            flat = bare(word)
            known = {*plain(word).split(), singular(flat)} & self._words
            found = self._known_words[word] = bool(known) or flat in _LITTLE
        return found

    def find(self, text: str) -> str | None:
        """Return the canonical name of a text, whatever its case, accents, plural or article."""
        if text not in self._cache:
            found = self._find(text) if self.may_be(text) else None
            if len(text) > _LONG or len(self._cache) > _MOST:  # notes, of which a log has thousands
                return found
            self._cache[text] = found
        return self._cache[text]

    def _find(self, text: str) -> str | None:
        found = self._book.find(text) or self._by_key.get(_ampersand(text))
        if found is None:
            for article in ("the ", "le ", "la ", "les ", "l'", "our ", "de la ", "du ", "des "):
                if bare(text).startswith(article):
                    return self._book.find(bare(text)[len(article) :])
        return found

    def without(self, text: str, but: Collection[str] = ()) -> str:
        """Return a text less the known names in it, ``but`` some: "Market Hall 2025" leaves "2025"."""
        left = _WORD.findall(text)
        may = [self._is_word(word) for word in left]
        for size in range(min(6, sum(may)), 0, -1):
            at = 0
            while at + size <= len(left):
                if not all(may[at : at + size]):
                    at += 1
                    continue
                found = self._book.find(" ".join(left[at : at + size]))
                if found and found not in but:
                    del left[at : at + size], may[at : at + size]
                else:
                    at += 1
        return " ".join(left)

    def within(self, text: str, but: Collection[str] = ()) -> bool:
        """Return whether a text holds a known name, ``but`` some, among other words or alone."""
        return len(self.without(text, but).split()) < len(_WORD.findall(text))

    def near(self, text: str) -> str | None:
        """Return the name whose spelling is closest to an unknown one."""
        return self._book.nearest(text)

    def __bool__(self) -> bool:
        return bool(self.spellings)


_JOINING = ("from", "at", "of", "for", "by", "de", "du", "des", "chez", "pour")


@dataclass(frozen=True, eq=False)
class Known:
    """Everything the sheets of a site may name.

    What was made of texts is remembered by ``said``: two that share it make the same of any text.
    """

    site: Site
    sources: Names
    materials: Names
    containers: Containers
    activities: Names
    conditions: Names
    befores: Names
    fuels: Names
    products: frozenset[str]
    trade: Trade
    french_trade: Trade
    said: object = field(default_factory=object)

    def __hash__(self) -> int:
        return hash(self.said)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Known) and self.said is other.said

    def names(self, text: str) -> bool:
        """Return whether a text names one of the site's sources or a material."""
        return bool(self.sources.find(text) or self.materials.find(text))

    def source_and_material(self, tokens: Sequence[str]) -> tuple[str, str] | None:
        """Return the source and the material that words name, in either order, nothing beside."""
        if not all(
            self.sources.may_be(t) or self.materials.may_be(t) or bare(t) in _JOINING
            for t in tokens
        ):
            return None
        for at in range(1, len(tokens)):
            first = " ".join(tokens[: at - (at > 1 and bare(tokens[at - 1]) in _JOINING)])
            last = " ".join(tokens[at + (bare(tokens[at]) in _JOINING and at + 1 < len(tokens)) :])
            for one, other in ((first, last), (last, first)):
                source, material = self.sources.find(one), self.materials.find(other)
                if source and material:
                    return source, material
        return None

    def trade_with(self, comma: bool) -> Trade:
        """Return the trade's words, with a decimal comma where a column is written so."""
        return self.french_trade if comma else self.trade


def _spellings(things: Iterable[Container | Material | Source]) -> dict[str, list[str]]:
    out: dict[str, list[str]] = {}
    for thing in things:
        out.setdefault(thing.name, []).extend(thing.also)
    return out


def _materials(site: Site) -> dict[str, list[str]]:
    """Return the site's spellings first, then the built-in list's, which mean the site's own
    material where exactly one of the site's is like that entry."""
    out = _spellings(site.materials)
    for entry in load_factors(site.folder).materials.values():
        like = list(dict.fromkeys(m.name for m in site.materials if m.like == entry.key))
        name = like[0] if len(like) == 1 else entry.name
        out.setdefault(name, []).extend((entry.name, entry.key.replace("-", " "), *entry.also))
    return out


def products(site: Site) -> frozenset[str]:
    """Return the names of what a site makes, not receives, unless site.toml says where it went before."""
    listed = load_factors(site.folder).materials
    made = {key for key, entry in listed.items() if entry.usual_fate == "moved on site"}
    own = {m.name for m in site.materials if m.like in made and m.before in (None, "moved on site")}
    received = {m.name for m in site.materials} - own
    return frozenset(own | ({listed[key].name for key in made} - received))


def know(site: Site) -> Known:
    """Return what a site's sheets may name."""
    spellings = _spellings(site.containers)
    sizes: dict[str, tuple[float, ...]] = {}
    for container in site.containers:
        if container.volume_m3 is not None:
            sizes[container.name] = (*sizes.get(container.name, ()), container.volume_m3)
    containers = Containers(spellings, sizes)
    meaning = Meaning(site.ton, site.gallon)
    fuels = {"diesel": ("gasoil", "gas oil", "red diesel", "diesel fuel", "off road diesel"),
             "gasoline": ("gas", "petrol", "unleaded", "regular", "essence",
                          "gas unleaded", "regular gas", "ordinaire")}  # fmt: skip
    return Known(
        site=site,
        sources=Names(_spellings(site.sources)),
        materials=Names(_materials(site)),
        containers=containers,
        activities=Names(dict.fromkeys((*site.report.activities, "spent"), ())),
        conditions=Names(words("conditions")),
        befores=Names(words("befores")),
        fuels=Names(fuels),
        products=products(site),
        trade=Trade(meaning, containers, comma=site.language == "fr"),
        french_trade=Trade(meaning, containers, comma=True),
    )


@lru_cache
def row_kinds() -> dict[str, str]:
    """Return the words by which a row says what it is, e.g. "out" -> harvest."""
    return {plain(w): kind for kind, group in words("kinds")["row"].items() for w in group}
