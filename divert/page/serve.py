"""The server: on this computer only, until it is closed from the page, by Ctrl-C, or left alone."""

from __future__ import annotations

import datetime as dt
import secrets
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.page.app import make_app
from divert.page.guard import Keys
from divert.page.house import House
from divert.page.yards import remember
from divert.sandbox import limits

LEFT_ALONE = 3600.0  # seconds without a page open
_THREADS = 8
_LOOKS_EVERY = 5.0  # seconds


def serve(
    folder: Path | None,
    *,
    as_of: dt.date | None = None,
    said: Callable[[str], None],
    clock: Callable[[], float] = time.monotonic,
    looks_every: float = _LOOKS_EVERY,
) -> Text:
    """Serve the page for a folder (none: the start) until it is closed; return why it ended.

    ``said`` hears the first address once the server listens; ``clock`` tells seconds, and is looked at
    ``looks_every`` so many. Raises CannotRun where nothing can be served.
    """
    from waitress.server import create_server

    # The port is only known once it is taken, and the keys know the port.
    app_for: dict[str, object] = {}

    def answer(environ: dict[str, object], start: object) -> object:
        return app_for["app"](environ, start)  # type: ignore[operator]

    try:
        server = create_server(
            answer, host="127.0.0.1", port=0, threads=_THREADS, ident="divert",
            max_request_body_size=4 * limits.FILE_BYTES, clear_untrusted_proxy_headers=True,
        )  # fmt: skip
    except OSError as problem:
        raise CannotRun(
            Text(N_("The page cannot be served on this computer ({why})."),
                 {"why": problem.strerror or str(problem)})
        ) from problem  # fmt: skip
    port = int(server.effective_port)
    house = House(Keys(secrets.token_urlsafe(24), port), as_of, clock=clock)
    stopped = threading.Event()
    house.stop = stopped.set
    app_for["app"] = make_app(house)
    if folder is not None:
        remember(folder)
        house.open(folder)
    serving = threading.Thread(target=_run, args=(server,), name="serving", daemon=True)
    serving.start()
    try:
        said(house.keys.address)
        while not stopped.wait(looks_every):
            if clock() - house.heard > LEFT_ALONE:
                return Text(N_("No page was open for an hour, so divert is closed."))
        return Text(N_("The page was closed."))
    except KeyboardInterrupt:  # the usual way to close what was started in a terminal
        return Text(N_("divert is closed; everything is in the folder."))
    finally:
        if house.desk is not None:
            house.desk.close()
        server.close()


def _run(server: object) -> None:
    with suppress(OSError):  # the socket is closed under it at the end
        server.run()  # type: ignore[attr-defined]
