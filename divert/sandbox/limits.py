"""The largest file, expansion and answer that are still taken for a crew's spreadsheet.

Each is about ten times what a site of a million rows comes to (measured: a 100,000-row workbook of
eight columns is a 3 MB file, 35 MB of XML and 8 MB of cells).
"""

from __future__ import annotations

FILE_BYTES = 100_000_000
ANSWER_BYTES = 256_000_000
KEPT_BYTES = 64_000_000  # a longer answer is not worth a place in the cache
CELLS = 20_000_000  # in one sheet, counted to each row's last filled cell
PLACES = 25_000_000  # up to the last row and column of a sheet with an enormous gap
EMPTY_ROWS = 20_000_000  # one after another; a spreadsheet program has a million rows
PARTS = 5_000  # files inside a workbook
EXPANDED_BYTES = 1_000_000_000
UNQUESTIONED_BYTES = 50_000_000  # below this no expansion is worth a question
EXPANSION = 200  # times; ordinary sheets expand 5 to 40 times
COLUMNS = 16_384  # where spreadsheet programs stop, and a line of text is none of a table
CELL_CHARACTERS = 32_767  # where spreadsheet programs stop
MERGES = 100_000


def seconds(size: int) -> float:
    """Return the processor seconds a file of ``size`` bytes may take (about 0.2 s/MB needed)."""
    return 7.0 + size / 1e6


def memory_bytes(size: int) -> int:
    """Return the address space the child may take for a file of ``size`` bytes."""
    return min(800_000_000 + 30 * size, 3_000_000_000)
