"""reading.toml beside site.toml: its text, read and written whole."""

from __future__ import annotations

from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.safe_files import write_text
from divert.core.words import N_, Text

FILE_NAME = "reading.toml"
_MOST = 5_000_000  # bytes; a year of monthly sheets takes about 10,000


def kept_text(folder: Path) -> str:
    """Return the text of a site's reading.toml, "" where there is none. Raises CannotRun."""
    path = folder / FILE_NAME
    try:
        if not path.is_file():
            return ""
        if path.stat().st_size > _MOST:
            message = N_("{file} is larger than 5 MB, too large for the plans of a site's sheets.")
            raise CannotRun(Text(message, {"file": str(path)}))
        return path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise CannotRun(
            Text(
                N_("{file} cannot be read ({reason}). Check that you may open it."),
                {"file": str(path), "reason": error.strerror or type(error).__name__},
            )
        ) from None
    except UnicodeDecodeError:
        raise CannotRun(
            Text(N_("{file} is not UTF-8 text. Save it again as UTF-8."), {"file": str(path)})
        ) from None


def write_kept(folder: Path, text: str, before: str) -> Path:
    """Write a site's reading.toml and return where; ``before``: the text it had when it was read.

    Raises CannotRun where it cannot be written, or somebody changed it meanwhile.
    """
    path = folder / FILE_NAME
    if kept_text(folder) != before:
        message = N_("{file} was changed meanwhile; nothing was written. Run the command again.")
        raise CannotRun(Text(message, {"file": str(path)}))
    write_text(path, text)
    return path
