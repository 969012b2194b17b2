"""A region's statement: one total with its one range, as a page, a PDF and a workbook."""
