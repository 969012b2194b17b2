"""Make every stress report, its pages as pictures, to be looked at: `python tests/report/look_at_stress.py OUT`.

Further words choose sites ("ten years"). Needs pdftoppm. Prints what each run said and wrote.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import stress_sites

from divert import open_site, period_of, write_reports


def reports_of(
    name: str, folder: Path, formats: Sequence[str] = ("pdf", "html", "xlsx")
) -> Iterator[tuple[stress_sites.Wanted, Path]]:
    """Write a stress site and make its reports; yield each file written with what it was made for."""
    site = stress_sites.STRESS[name]()
    stress_sites.write_site(site, folder)
    for wanted in site.reports:
        workings = open_site(folder, as_of=wanted.as_of)
        period = period_of(workings, wanted.period, wanted.as_of)
        for path in write_reports(
            workings, wanted.audience, period, wanted.as_of, names=wanted.names, formats=formats,
            say=lambda text: print("   ", text),
        ):  # fmt: skip
            yield wanted, path


def main() -> None:
    out, *chosen = sys.argv[1:]
    for name in chosen or stress_sites.STRESS:
        print(name, flush=True)
        folder = Path(out) / name.replace(" ", "-")
        shutil.rmtree(folder, ignore_errors=True)
        try:
            for wanted, path in reports_of(name, folder):
                print("   ", wanted.audience, wanted.period, path.name, flush=True)
                if path.suffix == ".pdf":
                    subprocess.run(
                        ["pdftoppm", "-r", "64", "-png", path, path.with_suffix("")], check=True
                    )
        except Exception as stop:  # a stress site that stops is what this script is to find
            print("    STOPPED:", type(stop).__name__, stop, flush=True)


if __name__ == "__main__":
    main()
