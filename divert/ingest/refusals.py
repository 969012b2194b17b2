"""The sentence for each reason why a file cannot be read: what it is, and what to do."""

from __future__ import annotations

from divert.held import limits
from divert.words import N_, Text

_SENTENCES = {
    "empty": (N_("the file is empty"), N_("copy it again from where it came, or delete it")),
    "html": (
        N_("the file is a web page or XML under a spreadsheet's name"),
        N_("open it in a spreadsheet program and save it as .xlsx"),
    ),
    "text named as workbook": (
        N_("the file is plain text under a workbook's name"),
        N_("give it a name that ends in .csv, or open it in a spreadsheet program and save it"),
    ),
    "workbook named as text": (
        N_("the file is a workbook under a text file's name"),
        N_("give it a name that ends in .xlsx or .xls, whichever it was"),
    ),
    "not a workbook": (
        N_("the file is an archive that holds no workbook"),
        N_("take the spreadsheet out of the archive and put that in the folder"),
    ),
    "not text": (
        N_("the file does not hold text that can be read"),
        N_("save it again as CSV UTF-8"),
    ),
    "damaged": (
        N_("the file is damaged"),
        N_("open it in a spreadsheet program, let it repair the file, and save it again"),
    ),
    "no sheets": (
        N_("the workbook holds no sheet of cells"),
        N_("open it in a spreadsheet program and look; if its sheets are there, save it again"),
    ),
    "damaged sheet": (
        N_("the sheet is damaged; the other sheets of the file were read"),
        N_("open it in a spreadsheet program, let it repair the file, and save it again"),
    ),
    "password": (
        N_("the file is locked with a password"),
        N_("open it in a spreadsheet program and save a copy without the password"),
    ),
    "too large": (
        N_("the file is larger than {most} MB"),
        N_("split it, for example into one file a year"),
    ),
    "too much text": (
        N_("the file holds more than {most_text} MB of cells"),
        N_("split it, for example into one file a year"),
    ),
    "too many cells": (
        N_("a sheet of the file holds more than {cells} cells"),
        N_("split it, for example into one sheet a year"),
    ),
    "expands": (
        N_("the file would unpack to far more than a spreadsheet holds"),
        N_("do not open it unless you know where it is from; copy the cells into a new workbook"),
    ),
    "too many parts": (
        N_("the file holds more than {parts} parts, more than any workbook needs"),
        N_("copy the cells into a new workbook"),
    ),
    "long cell": (
        N_("a cell of the file holds more than {characters} characters"),
        N_("check that the file is what it should be, and shorten the cell"),
    ),
    "memory": (
        N_("reading the file needs more memory than a spreadsheet of its size should"),
        N_(
            "look for cells far below or far right of the table, or copy the table to a new workbook"
        ),
    ),
    "time": (
        N_("reading the file took too long and was stopped"),
        N_("copy the table to a new workbook, or split it"),
    ),
    "crash": (
        N_("the file made its reader fail, and was left out"),
        N_("open it in a spreadsheet program and save it again"),
    ),
    "no permission": (
        N_("the file may not be read by this user"),
        N_("change its permissions, or close the program that holds it open"),
    ),
    "gone": (
        N_("the file could not be read from the disk"),
        N_("check the disk or the network drive, and try again"),
    ),
    "no file": (
        N_("this is a device or a pipe under a spreadsheet's name"),
        N_("remove it from the folder"),
    ),
}
_VALUES = {
    "most": limits.FILE_BYTES // 1_000_000,
    "most_text": limits.ANSWER_BYTES // 1_000_000,
    "cells": limits.CELLS,
    "parts": limits.PARTS,
    "characters": limits.CELL_CHARACTERS,
}


def sentences(reason: str) -> tuple[Text, Text]:
    """Return what to say of a file refused for a reason, and what to do about it."""
    message, hint = _SENTENCES.get(reason, _SENTENCES["damaged"])
    return Text(message, _VALUES), Text(hint)
