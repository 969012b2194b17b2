"""`divert open`: the server, its address, and the browser that is there already."""

from __future__ import annotations

import datetime as dt
import webbrowser
from collections.abc import Callable
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.words import N_, Text


def open_page(
    folder: Path | None,
    *,
    as_of: dt.date | None = None,
    browser: bool = True,
    say: Callable[[str], None],
) -> Text:
    """Serve the page for a folder and open the browser on it; when it ends, return why.

    ``say`` hears the address, one line. Raises CannotRun where there is no such folder.
    """
    from divert.page.serve import serve

    if folder is not None and not folder.is_dir():
        raise CannotRun(
            Text(N_("There is no folder {folder}. Without a folder, divert open makes a new one."),
                 {"folder": str(folder)})
        )  # fmt: skip

    def told(address: str) -> None:
        say(address)
        if browser:
            webbrowser.open(address)

    return serve(folder.resolve() if folder is not None else None, as_of=as_of, said=told)
