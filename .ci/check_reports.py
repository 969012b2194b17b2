"""Open every PDF of the demo and look for its large number in its text; compare with README's list."""

from __future__ import annotations

import html
import os
import re
import subprocess
import sys
from pathlib import Path

import pikepdf
import pypdfium2

FIGURE = re.compile(r'<data class="figure"[^>]*>([^<]*)</data>')


def large_number(path: Path) -> str:
    """Return the first figure of a report's HTML, the one it opens with, without spaces."""
    found = FIGURE.search(path.read_text(encoding="utf-8"))
    return re.sub(r"\s+", "", html.unescape(found[1])) if found else ""


def text_of(path: Path) -> str:
    """Return a PDF's text without spaces, so that how it was set does not matter."""
    document = pypdfium2.PdfDocument(path)
    pages = (page.get_textpage().get_text_bounded() for page in document)
    return re.sub(r"\s+", "", "".join(pages))


def holds(path: Path) -> bool:
    """Return whether a report of the demo holds against its own evidence."""
    check = [sys.executable, "-m", "divert", "recheck", str(path)]
    forgetful = os.environ | {"DIVERT_HOME": "off"}  # whatever was checked here before
    done = subprocess.run(check, capture_output=True, text=True, check=False, env=forgetful)
    if done.returncode:
        print(done.stdout, done.stderr)
    return done.returncode == 0


def main() -> int:
    """Return 0 where each PDF opens, holds, and has the large number of the HTML beside it."""
    root, readme = Path(sys.argv[1]), Path(sys.argv[2]).read_text(encoding="utf-8")
    made = sorted(path.relative_to(root) for path in root.glob("kestrel-bend/reports/**/*.pdf"))
    named = sorted(Path(name) for name in re.findall(r"`(kestrel-bend/reports/\S+\.pdf)`", readme))
    wrong = []
    if made != named:
        wrong.append(f"README names {[str(p) for p in named]}, made were {[str(p) for p in made]}")
    for path in made:
        with pikepdf.open(root / path) as document:
            pages = len(document.pages)
        number = large_number((root / path).with_suffix(".html"))
        if not re.search(r"\d", number):
            wrong.append(f"{path}: the HTML beside it shows no large number")
        elif number not in text_of(root / path):
            wrong.append(f"{path}: its large number {number} is not in its text")
        elif not holds(root / path):
            wrong.append(f"{path} does not hold when it is checked again")
        else:
            print(f"{path}: {pages} pages, {number}")
    print("\n".join(wrong))
    return 1 if wrong or not made else 0


if __name__ == "__main__":
    sys.exit(main())
