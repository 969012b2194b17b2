"""Whether a note is understood: everyday words about a load, small words that deny it or its record.

Notes undo a load in more words than any list has; the words that describe one are fewer, and the
small words with which a note denies, doubts or points at another record are fewer still.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache

from divert.ingest.cells.date import month_words
from divert.ingest.cells.unit import read_cell
from divert.ingest.known import Known
from divert.ingest.lexicon import LETTERS, bare, words

_TOKENS = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")
_WORD = re.compile(r"(?<!\w)\d*[^\W\d]\w*")  # one with a letter in it
_ENDINGS = 4  # letters at most that may follow a word's beginning: "smell-ing", "contamin-ated"
_ENDING = re.compile(  # "porc" is no "porch"
    r"(?:s|es|ed|d|n|en|ing|ings|er|ers|est|y|ys|ies|ier|ly|ness|al|ful|ish|age|ages|able|ate|ated|ion"
    r"|e|ee|ees|ent|ait|ant|ante|eur|euse|eux|if|ive|ment|aux|ette|ier|iere|ure|ir|is|it|us|ue|i|t|te|x)"
)
_SHORTEST = 4  # letters of a beginning that others may follow
_SENTENCE = 5  # words at least
_LACKS = ("no", "aucun", "aucune")  # with a thing: it lacked it


@lru_cache
def _everyday() -> tuple[frozenset[str], frozenset[str]]:
    """Return the small words, compared whole, and the beginnings of all others."""
    lists = words("everyday")
    small = frozenset(map(bare, lists["small"])) | frozenset(month_words())
    groups = ("state", "stuff", "about", "gear")
    return small, frozenset(bare(w) for name in groups for w in lists[name])


@lru_cache
def _listed(name: str) -> frozenset[str]:
    return frozenset(map(bare, words("spoken")[name]))


@lru_cache
def _after_not() -> frozenset[str]:
    listed = words("everyday")["after_not"]
    return frozenset(bare(w + s) for w in listed for s in ("", "s"))


@lru_cache(maxsize=8192)
def _is_everyday(word: str) -> bool:
    """Return whether a word, without case and accents, is one that says how a load was."""
    small, begun = _everyday()
    word = word.removesuffix("'s")
    if {word, word.removesuffix("s"), word.removesuffix("x")} & (small | begun):
        return True
    shortest = max(_SHORTEST, len(word) - _ENDINGS)
    return any(word[:n] in begun and _ends(word, n) for n in range(len(word) - 1, shortest - 1, -1))


def _ends(word: str, at: int) -> bool:
    """Return whether an ending follows a word's beginning, its last letter doubled or not: "drip-ping"."""
    doubled = at + 1 if word[at] == word[at - 1] else at
    return any(_ENDING.fullmatch(word[n:]) is not None for n in {at, doubled})


@lru_cache
def _beginnings(group: str) -> tuple[str, ...]:
    return tuple(bare(w) for w in words("everyday")[group] if len(w) >= _SHORTEST)


def _begins(word: str, group: str) -> bool:
    """Return whether a word is one of a group of everyday words, or begins with one."""
    return word.startswith(_beginnings(group))


def may_deny(word: str) -> bool:
    """Return whether a word denies, asks or points at the record: without one, only "?" does."""
    parts = map(bare, _TOKENS.findall(word))
    return any(part in _listed(name) for part in parts for name in ("record", "ask", "not"))


@lru_cache(maxsize=8192)
def denies(text: str) -> bool:
    """Return whether a note denies, asks about, or points at another part of the record."""
    tokens = [bare(t) for t in _TOKENS.findall(text)]
    if "?" in text or any(t in _listed("record") or t in _listed("ask") for t in tokens):
        return True
    return says_not(text)


@lru_cache(maxsize=8192)
def says_not(text: str) -> bool:
    """Return whether a note denies something that would make a load another one, or none."""
    tokens = [bare(t) for t in _TOKENS.findall(text)]
    for place, token in enumerate(tokens):
        if token not in _listed("not"):
            continue
        small, _ = _everyday()
        after = next((t for t in tokens[place + 1 :] if t not in small), "")
        lacks = token in _LACKS or tokens[place + 1 : place + 2] in (["de"], ["d"])
        fine = _is_everyday(after) and (lacks or not _begins(after, "stuff"))
        if not (after and (fine or after in _after_not())):
            return True  # "concrete, not food"; "no lids" and "not full" say how it was
    return False


def is_a_sentence(text: str) -> bool:
    """Return whether a text is longer than a name, and has a small word in it, as sentences have."""
    tokens = [bare(t) for t in _TOKENS.findall(text)]
    return len(tokens) >= _SENTENCE and any(t in _everyday()[0] for t in tokens)


@lru_cache(maxsize=8192)
def is_understood(text: str, known: Known) -> bool:
    """Return whether a note says nothing but how a load was: everyday words, known names, amounts.

    A word in capitals beside others may be anybody's name.
    """
    says_how, is_strange = _judges(known)
    said = set(map(says_how, _WORD.findall(text)))
    if said <= {True} or known.names(text):
        return True
    if False in said:
        return False
    left = known.materials.without(known.sources.without(text))
    tokens = LETTERS.findall(left)
    strange = [t for t in tokens if is_strange(t)]
    names = [t for t in strange if t[0].isupper()]
    told = len(tokens) > len(strange)
    return not strange or (told and names == strange)


def is_a_remark(text: str, known: Known) -> bool:
    """Return whether a text of several words says in what state a load was, and names nobody."""
    tokens = [bare(t) for t in _TOKENS.findall(text)]
    if len(tokens) < 2 or known.names(text):
        return False
    return all(map(_says_how, tokens)) and any(map(is_of_state, tokens))


@lru_cache
def _states() -> frozenset[str]:
    return frozenset(map(bare, words("everyday")["state"]))


def is_of_state(word: str) -> bool:
    """Return whether a word says in what state a load was: "wet", "soggy"."""
    return bare(word) in _states() or _begins(bare(word), "state")


def is_small(word: str) -> bool:
    """Return whether a word, without case and accents, is one of those that join others: "of", "is"."""
    return word in _everyday()[0]


def _says_how(word: str) -> bool:
    return _is_everyday(word) or word in _listed("not") or word in _after_not()


@lru_cache
def _judges(known: Known) -> tuple[Callable[[str], bool | None], Callable[[str], bool]]:
    """Return what tells whether a word says how a load was, None where it may be of a name, and
    whether letters are neither everyday ones nor a measure; each word is asked about once.
    """

    @lru_cache(maxsize=16384)
    def is_strange(letters: str) -> bool:
        plain = bare(letters)
        measure = known.containers.take(plain, 0) or read_cell(plain, known.trade.meaning)
        return not (_says_how(plain) or len(plain) == 1 or measure)

    @lru_cache(maxsize=16384)
    def says_how(word: str) -> bool | None:
        strange = [t for t in LETTERS.findall(word) if is_strange(t)]
        named = known.sources.may_be(word) or known.materials.may_be(word)
        return not strange or (None if named or any(t[0].isupper() for t in strange) else False)

    return says_how, is_strange
