"""Where the system allows few threads and processes, a run does without or says so, and waits for nothing."""

from __future__ import annotations

import os
import threading

import pytest

from divert.core import room
from divert.core.findings import CannotRun
from divert.publish import all_cores, beside
from divert.report.paper import pdf


@pytest.fixture
def few(monkeypatch: pytest.MonkeyPatch) -> list[threading.Thread]:
    """Refuse the fourth thread that is alive at once, as a system does that allows three."""
    alive: list[threading.Thread] = []
    start = threading.Thread.start

    def refused(one: threading.Thread) -> None:
        alive[:] = [other for other in alive if other.is_alive()]
        if len(alive) >= 3:
            raise RuntimeError("can't start new thread")
        alive.append(one)
        start(one)

    monkeypatch.setattr(threading.Thread, "start", refused)
    return alive


def test_room_is_what_the_system_gives_and_is_given_back(few: list[threading.Thread]) -> None:
    assert room.room_for(3)
    assert not room.room_for(4)
    assert room.room_for(3)
    assert not any(one.is_alive() for one in few)


def test_no_pool_and_no_work_beside_where_there_is_no_room(
    few: list[threading.Thread], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(all_cores, "cores", lambda: 2)
    assert not all_cores.can_share(8)
    with beside.beside(lambda: str(os.getpid()).encode(), when=True) as result:
        assert result() == str(os.getpid()).encode()


def test_no_pdf_is_begun_that_a_library_would_end_the_run_for(few: list[threading.Thread]) -> None:
    with pytest.raises(CannotRun, match="ulimit"):
        pdf.weasyprint()
