"""Explain or ask: what a table's plan leaves unexplained is set aside, with a question for a person.

Each module looks for one thing that has to be explained (a row between loads, a second amount of one
load, a number that may be a name, a mark, a note) and returns doubts: rows, and what to ask of them.
"""
