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
_LOOKS_EVERY = 5.0


def serve(
    folder: Path | None,
    *,
    as_of: dt.date | None = None,
    said: Callable[[str], None],
    left_alone: float = LEFT_ALONE,
) -> None:
    """Serve the page for a folder (none: the start) until it is closed.

    ``said`` hears the first address once the server listens. Raises CannotRun where it cannot.
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
    house = House(Keys(secrets.token_urlsafe(24), port), as_of)
    stopped = threading.Event()
    house.stop = stopped.set
    app_for["app"] = make_app(house)
    if folder is not None:
        remember(folder)
        house.open(folder)
    serving = threading.Thread(target=_run, args=(server,), name="serving", daemon=True)
    serving.start()
    said(house.keys.address)
    try:
        while not stopped.wait(_LOOKS_EVERY):
            if time.monotonic() - house.heard > left_alone:
                break
    finally:
        if house.desk is not None:
            house.desk.close()
        server.close()


def _run(server: object) -> None:
    with suppress(OSError):  # the socket is closed under it at the end
        server.run()  # type: ignore[attr-defined]
