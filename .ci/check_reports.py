"""Open every PDF of the demo and look for its large number in its text; compare with README's list."""

from __future__ import annotations

import re
import sys
from html.parser import HTMLParser
from pathlib import Path

import pikepdf
import pypdfium2


class LargeNumber(HTMLParser):
    """Finds the text of the first element of class "number" in a report's HTML."""

    def __init__(self) -> None:
        super().__init__()
        self.found = ""
        self._depth = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        classes = (dict(attrs).get("class") or "").split()
        if self._depth or (not self.found and "number" in classes):
            self._depth += 1

    def handle_endtag(self, tag: str) -> None:
        self._depth = max(0, self._depth - 1)

    def handle_data(self, data: str) -> None:
        if self._depth:
            self.found += data


def text_of(path: Path) -> str:
    """Return a PDF's text without spaces, so that how it was set does not matter."""
    document = pypdfium2.PdfDocument(path)
    pages = (page.get_textpage().get_text_bounded() for page in document)
    return re.sub(r"\s+", "", "".join(pages))


def main() -> int:
    """Return 0 where each PDF opens and holds the large number of the HTML beside it."""
    root, readme = Path(sys.argv[1]), Path(sys.argv[2]).read_text(encoding="utf-8")
    made = sorted(path.relative_to(root) for path in root.glob("kestrel-bend/reports/**/*.pdf"))
    named = sorted(Path(name) for name in re.findall(r"`(kestrel-bend/reports/\S+\.pdf)`", readme))
    wrong = []
    if made != named:
        wrong.append(f"README names {[str(p) for p in named]}, made were {[str(p) for p in made]}")
    for path in made:
        with pikepdf.open(root / path) as document:
            pages = len(document.pages)
        finder = LargeNumber()
        finder.feed((root / path).with_suffix(".html").read_text(encoding="utf-8"))
        number = re.sub(r"\s+", "", finder.found)
        if not re.search(r"\d", number):
            wrong.append(f"{path}: the HTML beside it shows no large number")
        elif number not in text_of(root / path):
            wrong.append(f"{path}: its large number {number} is not in its text")
        else:
            print(f"{path}: {pages} pages, {number}")
    print("\n".join(wrong))
    return 1 if wrong or not made else 0


if __name__ == "__main__":
    sys.exit(main())
