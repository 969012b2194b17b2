"""Sheets that are no table as they lie, turned into one: tables on their side, slips, calendars, diaries.

Each is written anew as an ordinary sheet whose cells know the place they came from, and read as any
other. What cannot be told without guessing is not turned at all.
"""
