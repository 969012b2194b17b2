"""Reports that remember: what was issued, to whom, and what has moved since."""

from divert.register.entries import Entry, Register, Withdrawal, read_register
from divert.register.issue import (
    IssueNumber,
    Issuing,
    as_issued,
    issued_report,
    issuing,
    withdraw,
)
from divert.register.issued_figures import as_issued_json, as_issued_lines
from divert.register.past import history_for
from divert.register.restate import restatements
from divert.register.same import Said

__all__ = [
    "Entry",
    "IssueNumber",
    "Issuing",
    "Register",
    "Said",
    "Withdrawal",
    "as_issued",
    "as_issued_json",
    "as_issued_lines",
    "history_for",
    "issued_report",
    "issuing",
    "read_register",
    "restatements",
    "withdraw",
]
