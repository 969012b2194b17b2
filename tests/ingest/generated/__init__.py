"""Sheets made from seeds, each with what it truly says: how much is read right, and what wrong in silence."""
