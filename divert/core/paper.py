"""Which paper a country prints on."""

from __future__ import annotations

# Where US Letter is the usual paper (Unicode CLDR, supplemental data, paperSize).
_LETTER = "BZ CA CL CO CR GT MX NI PA PH PR SV US VE"


def prints_on_letter(country: str) -> bool:
    """Return whether US Letter is a country's usual paper; elsewhere it is A4."""
    return country.upper() in _LETTER.split()
