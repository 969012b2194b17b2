"""A mail draft beside a sponsor's report, so that sending it is one click."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from email.message import EmailMessage
from email.policy import SMTP

from divert.core.ours import MAIL_HEADER

_FOLDED = SMTP.clone(max_line_length=76)  # what RFC 2045 and RFC 2047 allow an encoded line
_UNFOLDED = SMTP.clone(max_line_length=998)


@dataclass(frozen=True, slots=True)
class Draft:
    """What a mail says, before the report is attached: to whom, about what, its paragraphs a line each."""

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
    message = EmailMessage(policy=_FOLDED)
    message["Subject"] = _one_line(subject)
    if to and _one_line(to) == to and "@" in to:
        message["To"] = to
    message["X-Unsent"] = "1"
    message[MAIL_HEADER] = "draft"
    body = "\n\n".join(_one_line(line) for line in sentences.splitlines())
    message.set_content(f"{body}\n", cte="quoted-printable")
    message.add_attachment(pdf, maintype="application", subtype="pdf", filename=file_name)
    # A boundary of chance would make every draft another file.
    message.set_boundary(f"part-{hashlib.sha256(pdf).hexdigest()[:32]}")
    # Plain headers stay on one line: some programs show the space that a fold begins with. Lines up to
    # 998 letters are allowed (RFC 5322, 2.1.1); encoded words must be folded (RFC 2047, 2).
    return message.as_bytes(policy=_UNFOLDED if subject.isascii() else _FOLDED)


def _one_line(text: str) -> str:
    # Thin spaces are for print; plain ones keep a mail readable everywhere.
    return " ".join(text.split())
