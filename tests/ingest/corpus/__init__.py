"""A corpus of workbooks as crews keep them, each made by a small script with its true entries beside it."""

from . import (
    cells,
    columns,
    dates,
    decoys,
    doubted,
    doubts,
    files,
    forms,
    grids,
    heads,
    kinds,
    layouts,
    names,
    remarks,
    slips,
    sums,
    turned,
    wide,
)

__all__ = [
    "ITEMS",
    "cells",
    "columns",
    "dates",
    "decoys",
    "doubted",
    "doubts",
    "files",
    "forms",
    "grids",
    "heads",
    "kinds",
    "layouts",
    "names",
    "remarks",
    "slips",
    "sums",
    "turned",
    "wide",
]

# What a reader of crews' sheets must cope with; some workbook of the corpus covers each.
FILES = (
    "xlsx", "xlsm", "xlsb", "xls", "ods", "csv comma", "csv semicolon", "tsv", "tab in .csv", "utf-8 with mark", "utf-16",
    "windows-1252", "sheet per month", "several tables on one sheet", "tables side by side", "1904 dates",
    "cached formulas", "merged headings", "multi-line headings", "title rows above", "headings repeated down the page",
    "hidden sheet", "notes below", "lists sheet", "instruction sheet",
)  # fmt: skip
TABLES = (
    "ordinary headings", "French headings", "units in headings", "poids kg", "carried-down dates", "merged values",
    "one sheet per source", "wide by material", "wide by source", "dates down", "dates across", "free quantity column",
    "unit column", "on its side", "slips", "calendars", "diaries", "[[sheet]] overrides", "[[sheet]] nothing",
)  # fmt: skip
CELLS = (
    "3 totes", "½ pail", "2 1/2 buckets", "1-1/2", "~40 lb", "12.5kg", "1,250 lb", "1 250,5 kg", "two bins", "3 x 64 gal",
    "3/4 full", "75%", "heaped", "2 yd", "1 cu. yd.", "5 gal", "n/a", "-", "closed", "none", "ditto", "ditto marks",
    "text numbers", "trailing note", "negative corrections", "dates as text", "French dates",
    "missing year from sheet name", "month first by site.toml", "day first by the column's own evidence",
    "date order asked", "bare ton", "bare gal", "slips in numbers", "ways to write an amount", "entries in words only",
    "dates turned round by the spreadsheet program",
)  # fmt: skip
FINDINGS = (
    "no date", "no material", "no quantity", "quantity unreadable", "unknown unit", "net zero", "date in the future",
    "date before the start", "exact copy of a file", "unknown names kept as found", "row repeated within a file",
    "row repeated across files", "weight row and volume row of one load", "count far outside habit",
    "date order settled by site.toml", "source not recorded", "weekly habit broken", "total by label", "total by arithmetic",
    "subtotal by label", "subtotal by arithmetic", "blank", "written by this tool", "answer settles a query",
    "two weights of one load", "money in another currency", "nothing removed", "of two equal files the one that is meant",
)  # fmt: skip
KINDS = (
    "harvest", "weigh-ins", "residue", "removed", "rejected", "moved", "sales", "disposed", "fuel", "activities",
    "money spent",
)  # fmt: skip
ITEMS = (*FILES, *TABLES, *CELLS, *FINDINGS, *KINDS)
