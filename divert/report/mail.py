"""A mail draft beside a sponsor's report, so that sending it is one click."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from email.message import EmailMessage
from email.policy import SMTP


@dataclass(frozen=True, slots=True)
class Draft:
    """What a mail says, before the report is attached: to whom, about what, two plain sentences."""

    to: str | None
    subject: str
    sentences: str
    file_name: str

    def carrying(self, pdf: bytes) -> bytes:
        """Return the unsent message (RFC 5322) with a report attached."""
        return draft(self.to, self.subject, self.sentences, pdf, self.file_name)


def draft(to: str | None, subject: str, sentences: str, pdf: bytes, file_name: str) -> bytes:
    """Return an unsent message (RFC 5322) with the report attached.

    ``X-Unsent: 1`` opens it for editing in mail programs that know it; no date and no sender are
    set, which the program that sends it adds. The same input gives the same bytes.
    """
    message = EmailMessage(policy=SMTP)
    message["Subject"] = _one_line(subject)
    if to and _one_line(to) == to and "@" in to:
        message["To"] = to
    message["X-Unsent"] = "1"
    message.set_content(f"{_one_line(sentences)}\n", cte="quoted-printable")
    message.add_attachment(pdf, maintype="application", subtype="pdf", filename=file_name)
    # A boundary of chance would make every draft another file.
    message.set_boundary(f"part-{hashlib.sha256(pdf).hexdigest()[:32]}")
    return message.as_bytes()


def _one_line(text: str) -> str:
    # Thin spaces are for print; plain ones keep a mail readable everywhere.
    return " ".join(text.split())
