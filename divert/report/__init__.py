"""Figures to pages, charts and the evidence workbook."""
