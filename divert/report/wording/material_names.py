"""What the built-in list's materials are called on paper; a site's own names stay as it wrote them."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printer

NOT_RECORDED = "not recorded"
# The names of factors/data/materials.csv, marked for the catalogues.
LISTED = frozenset(
    {
        N_("food scraps"),
        N_("food slurry"),
        N_("fruit and vegetable trimmings"),
        N_("pumpkins and squash"),
        N_("fruit pomace or juice pulp"),
        N_("coffee grounds"),
        N_("brewery spent grain"),
        N_("cut flowers and soft stems"),
        N_("mixed garden waste"),
        N_("grass clippings"),
        N_("leaves"),
        N_("brush and prunings"),
        N_("wood chips"),
        N_("sawdust"),
        N_("straw"),
        N_("hay"),
        N_("newspaper"),
        N_("office paper"),
        N_("cardboard"),
        N_("horse manure with bedding"),
        N_("finished compost"),
        N_("worm castings"),
    }
)


def material_name(name: str, printer: Printer) -> str:
    """Return a material's or a product's name in the report's language."""
    if not name or name == NOT_RECORDED:
        return printer.plain(Text(N_("not recorded")))
    if name in LISTED and name not in printer.own_names:
        return printer.plain(Text(name))
    return name
