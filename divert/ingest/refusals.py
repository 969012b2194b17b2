"""The sentence for each reason why a file cannot be read: what it is, and what to do."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.sandbox import limits

_SENTENCES = {
    "empty": (N_("The file is empty."), N_("Copy it again from where it came, or delete it.")),
    "html": (
        N_("The file is a web page or XML under a spreadsheet's name."),
        N_("Open it in a spreadsheet program and save it as .xlsx."),
    ),
    "text named as workbook": (
        N_("The file is plain text under a workbook's name."),
        N_("Give it a name that ends in .csv, or open it in a spreadsheet program and save it."),
    ),
    "workbook named as text": (
        N_("The file is a workbook under a text file's name."),
        N_("Give it a name that ends in .xlsx or .xls, whichever it was."),
    ),
    "not a workbook": (
        N_("The file is an archive that holds no workbook."),
        N_("Take the spreadsheet out of the archive and put that in the folder."),
    ),
    "not text": (
        N_("The file does not hold text that can be read."),
        N_("Save it again as CSV UTF-8."),
    ),
    "damaged": (
        N_("The file is damaged."),
        N_("Open it in a spreadsheet program, let it repair the file, and save it again."),
    ),
    "no sheets": (
        N_("The workbook holds no sheet of cells."),
        N_("Open it in a spreadsheet program and look; if its sheets are there, save it again."),
    ),
    "damaged sheet": (
        N_("The sheet is damaged; the other sheets of the file were read."),
        N_("Open it in a spreadsheet program, let it repair the file, and save it again."),
    ),
    "password": (
        N_("The file is locked with a password."),
        N_("Open it in a spreadsheet program and save a copy without the password."),
    ),
    "too large": (
        N_("The file is larger than {most} MB."),
        N_("Split it, for example into one file a year."),
    ),
    "too much text": (
        N_("The file holds more than {most_text} MB of cells."),
        N_("Split it, for example into one file a year."),
    ),
    "too many cells": (
        N_("A sheet of the file holds more than {cells} cells."),
        N_("Split it, for example into one sheet a year."),
    ),
    "too many columns": (
        N_("A line of the file holds more than {columns} cells."),
        N_("Look whether its line ends were lost; save it again from where it came."),
    ),
    "changing": (
        N_("The file was written to while it was read, so what was read may be half of it."),
        N_("Run the command again when the program that writes it has finished."),
    ),
    "leads nowhere": (
        N_("This is a link to a file that is not there, or to itself."),
        N_("Put the file itself in its place."),
    ),
    "expands": (
        N_("The file would unpack to far more than a spreadsheet holds."),
        N_("Do not open it unless you know where it is from; copy the cells into a new workbook."),
    ),
    "too many parts": (
        N_("The file holds more than {parts} parts, more than any workbook needs."),
        N_("Copy the cells into a new workbook."),
    ),
    "long cell": (
        N_("A cell of the file holds more than {characters} characters."),
        N_("Check that the file is what it should be, and shorten the cell."),
    ),
    "memory": (
        N_("Reading the file needs more memory than a spreadsheet of its size should."),
        N_(
            "Look for cells far below or far right of the table, or copy the table to a new workbook."
        ),
    ),
    "time": (
        N_("Reading the file took too long and was stopped."),
        N_("Copy the table to a new workbook, or split it."),
    ),
    "crash": (
        N_("The file made its reader fail, and was left out."),
        N_("Open it in a spreadsheet program and save it again."),
    ),
    "no permission": (
        N_("The file may not be read by this user."),
        N_("Change its permissions, or close the program that holds it open."),
    ),
    "gone": (
        N_("The file could not be read from the disk."),
        N_("Check the disk or the network drive, and try again."),
    ),
    "no file": (
        N_("This is a device or a pipe under a spreadsheet's name."),
        N_("Remove it from the folder."),
    ),
}
_VALUES = {
    "most": limits.FILE_BYTES // 1_000_000,
    "most_text": limits.ANSWER_BYTES // 1_000_000,
    "cells": limits.CELLS,
    "columns": limits.COLUMNS,
    "parts": limits.PARTS,
    "characters": limits.CELL_CHARACTERS,
}


def sentences(reason: str) -> tuple[Text, Text]:
    """Return what to say of a file refused for a reason, and what to do about it."""
    message, hint = _SENTENCES.get(reason, _SENTENCES["damaged"])
    return Text(message, _VALUES), Text(hint)
