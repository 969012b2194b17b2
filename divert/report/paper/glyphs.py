"""Letters that neither the fonts that ship nor those of this machine can draw."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterable
from functools import lru_cache

from divert.core.shipped import templates_folder
from divert.core.words import N_, Text
from divert.report.paper.fonts import FACES, rare_letters
from divert.site.model import Site

_SECONDS = 10
_MOST = 12


def no_glyphs(site: Site) -> Text | None:
    """Return a sentence where a site's own words hold letters that a PDF would show as boxes."""
    said = site.report
    named = [s.name for s in site.sources] + [s.name for s in site.sponsors]
    named += [m.name for m in site.materials] + [g.name for g in site.grants]
    named += [site.name, said.prepared_by, said.quote, said.picture_says]
    unseen = unseen_letters(named)
    if not unseen:
        return None
    return Text(
        N_("No font on this computer has these letters: {letters}. The PDF shows boxes in their place; "
           "install a font that has them and make the report again. The HTML shows them wherever the "
           "reader's computer can."), {"letters": " ".join(unseen[:_MOST])},
    )  # fmt: skip


def unseen_letters(texts: Iterable[str]) -> tuple[str, ...]:
    """Return the letters of the texts that a PDF made here would show as boxes, in order.

    The fonts that ship hold Latin, Greek and Cyrillic; others are the machine's. Where it cannot be
    asked (no fontconfig tools), nothing is said.
    """
    rare = sorted(letter for letter in rare_letters("".join(texts)) if letter.isalpha())
    return tuple(letter for letter in rare if ord(letter) not in _shipped() and not _here(letter))


@lru_cache
def _shipped() -> frozenset[int]:
    from fontTools.ttLib import TTFont

    with TTFont(templates_folder() / "fonts" / FACES[0].file, lazy=True) as font:
        return frozenset(font.getBestCmap())


@lru_cache(maxsize=1024)
def _here(letter: str) -> bool:
    tool = shutil.which("fc-list")
    if tool is None:
        return True
    try:
        found = subprocess.run(
            [tool, f":charset={ord(letter):x}", "family"],
            capture_output=True, timeout=_SECONDS, check=False,
        )  # fmt: skip
    except (OSError, subprocess.TimeoutExpired):
        return True
    return found.returncode != 0 or bool(found.stdout.strip())
