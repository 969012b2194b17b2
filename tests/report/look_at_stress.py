"""Make every stress report and look at it: `python tests/report/look_at_stress.py OUT [SITE ...]`.

Writes each page as a picture (needs pdftoppm), runs the PDF/UA checker over every PDF and axe-core over
every HTML at 390 and 1280 pixels (where Chromium is installed), and prints what they find.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import stress_sites

from divert import open_site, period_of, write_reports


def reports_of(name: str, folder: Path) -> Iterator[tuple[stress_sites.Wanted, Path]]:
    """Write a stress site and make its reports; yield each file written with what it was made for."""
    site = stress_sites.STRESS[name]()
    stress_sites.write_site(site, folder)
    for wanted in site.reports:
        workings = open_site(folder, as_of=wanted.as_of)
        period = period_of(workings, wanted.period, wanted.as_of)
        for path in write_reports(
            workings, wanted.audience, period, wanted.as_of, names=wanted.names,
            say=lambda text: print("   ", text),
        ):  # fmt: skip
            yield wanted, path


def checked_pdf(path: Path) -> list[str]:
    """Return what the PDF/UA checker finds."""
    from pdfua import validate

    return [str(finding) for finding in validate(str(path)).findings]


def checked_html(paths: list[Path]) -> list[str]:
    """Return what axe-core finds on each page at two widths."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        return ["no Chromium here: axe-core was not run"]
    from axe_playwright_python.sync_playwright import Axe
    from playwright.sync_api import sync_playwright

    found = []
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        for path in paths:
            for width in (390, 1280):
                page = browser.new_page(viewport={"width": width, "height": 900})
                page.goto(path.as_uri())
                if page.evaluate("document.documentElement.scrollWidth") > width:
                    found.append(f"{path.name} at {width}: scrolls sideways")
                for one in Axe().run(page).response["violations"]:
                    found.append(f"{path.name} at {width}: {one['id']} ({len(one['nodes'])})")
                page.close()
        browser.close()
    return found


def main() -> None:
    out, *chosen = sys.argv[1:]
    pages: list[Path] = []
    for name in chosen or stress_sites.STRESS:
        print(name, flush=True)
        folder = Path(out).resolve() / name.replace(" ", "-")
        shutil.rmtree(folder, ignore_errors=True)
        for wanted, path in reports_of(name, folder):
            if path.suffix == ".pdf":
                picture = path.with_suffix("")
                subprocess.run(["pdftoppm", "-r", "64", "-png", path, picture], check=True)
                print("   ", wanted.audience, path.name, *checked_pdf(path), flush=True)
            elif path.suffix == ".html":
                pages.append(path)
    for line in checked_html(pages):
        print(line)


if __name__ == "__main__":
    main()
