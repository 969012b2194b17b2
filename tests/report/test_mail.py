"""The mail draft: unsent, addressed where there is an address, readable in any mail program."""

from __future__ import annotations

import email
import email.policy
import re
from email.message import EmailMessage

import pytest

from divert.report.sponsor.mail import draft

PDF = b"%PDF-1.7 made up"
ASCII = "Kestrel Bend Community Farm: what Quillmarsh School brought, first quarter 2026"
LONG = "Café de l\u2019Île-aux-Œillets et ses voisins du quartier : rapport, premier trimestre 2026"


def _read(data: bytes) -> EmailMessage:
    message = email.message_from_bytes(data, policy=email.policy.default)
    assert isinstance(message, EmailMessage)
    return message


def test_an_unsent_mail_with_two_sentences_and_the_report() -> None:
    message = _read(draft("kitchen@quillmarsh.example", ASCII, "One. Two.", PDF, "sponsor.pdf"))
    assert message["X-Unsent"] == "1"
    assert message["To"] == "kitchen@quillmarsh.example"
    assert (
        message["From"] is None and message["Date"] is None
    )  # the program that sends it adds them
    body = message.get_body()
    assert body is not None and body.get_content().strip() == "One. Two."
    (attached,) = message.iter_attachments()
    assert attached.get_content_type() == "application/pdf"
    assert attached.get_filename() == "sponsor.pdf"
    assert attached.get_content() == PDF


@pytest.mark.parametrize("subject", [ASCII, LONG, "A" * 150, "É" * 150])
def test_the_subject_is_read_back_as_it_was_written(subject: str) -> None:
    data = draft(None, subject, "Un. Deux, à l\u2019été.", PDF, "sponsor.pdf")
    message = _read(data)
    assert message["Subject"] == subject
    assert message["To"] is None
    head = data.split(b"\r\n\r\n", 1)[0]
    assert head.isascii()
    # RFC 2047, 2: no line with an encoded word is longer than 76; RFC 5322, 2.1.1: none than 998.
    assert all(len(line) <= (76 if b"=?" in line else 998) for line in head.split(b"\r\n"))


def test_lines_of_the_text_are_short_and_end_as_mail_does() -> None:
    sentences = "Une phrase assez longue pour être pliée, été comme hiver. " * 5
    data = draft(None, ASCII, sentences, PDF, "sponsor.pdf")
    assert b"\r\n" in data and not re.search(rb"(?<!\r)\n", data)
    text = data.split(b"quoted-printable\r\n", 1)[1].split(b"\r\n--part-", 1)[0]
    assert max(len(line) for line in text.split(b"\r\n")) <= 76  # RFC 2045, 6.7
    body = _read(data).get_body()
    assert body is not None and body.get_content().strip() == sentences.strip()


@pytest.mark.parametrize("to", ["not an address", "a@b.example\nBcc: c@d.example", "", None])
def test_what_is_no_address_is_left_out(to: str | None) -> None:
    message = _read(draft(to, ASCII, "One. Two.", PDF, "sponsor.pdf"))
    assert message["To"] is None and message["Bcc"] is None
