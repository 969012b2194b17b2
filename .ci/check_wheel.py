"""Say whether a wheel carries what an installed copy needs, and nothing that was only made here."""

from __future__ import annotations

import sys
import zipfile

NEEDED = (
    "divert/_shipped/report_templates/",
    "divert/_shipped/sample_data/site.toml",
    "divert/factors/data/materials.csv",
    "divert/ingest/words/headings.toml",
    "divert/site/begin/starter.toml",
    "divert/core/locale/fr/LC_MESSAGES/divert.po",
)


def main() -> int:
    """Return 0 where everything needed is there."""
    names = zipfile.ZipFile(sys.argv[1]).namelist()
    missing = [need for need in NEEDED if not any(name.startswith(need) for name in names)]
    stray = [name for name in names if "__pycache__" in name or name.startswith("tests/")]
    for name in missing:
        print(f"the wheel lacks {name}")
    for name in stray:
        print(f"the wheel should not carry {name}")
    return 1 if missing or stray else 0


if __name__ == "__main__":
    sys.exit(main())
