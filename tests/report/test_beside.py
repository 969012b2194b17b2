"""Work on a second core: the same result, its errors told here, nothing of it left behind."""

import multiprocessing
import os
import signal

import pytest

from divert.core.findings import CannotRun
from divert.core.words import Text
from divert.publish.beside import beside, cores

needs_a_fork = pytest.mark.skipif(cores() < 2, reason="only one core, so all is done here")


@pytest.mark.parametrize("when", [True, False])
def test_the_result_is_that_of_the_work(when):
    large = os.urandom(3_000_000)  # more than a pipe holds at once
    with beside(lambda: large[::-1], when=when) as finished:
        assert finished() == large[::-1]


@needs_a_fork
def test_it_is_done_in_another_process_which_changes_nothing_here():
    seen = []

    def work():
        seen.append(1)
        return str(os.getpid()).encode()

    with beside(work, when=True) as finished:
        assert finished() != str(os.getpid()).encode()
    assert seen == []


@pytest.mark.parametrize("when", [True, False])
def test_what_stops_the_work_is_raised_where_its_result_is_asked_for(when):
    def work():
        raise CannotRun(Text("too long"))

    with (
        pytest.raises(CannotRun, match="too long"),
        beside(work, when=when) as finished,
    ):
        finished()


@needs_a_fork
def test_a_process_that_is_killed_costs_nothing_but_time():
    here = os.getpid()

    def work():
        if os.getpid() != here:
            os.kill(os.getpid(), signal.SIGKILL)
        return b"done"

    with beside(work, when=True) as finished:
        assert finished() == b"done"


@needs_a_fork
def test_no_process_is_left_when_the_block_stops_early():
    def work():
        signal.pause()
        return b""

    with pytest.raises(ZeroDivisionError), beside(work, when=True):
        assert len(multiprocessing.active_children()) == 1
        raise ZeroDivisionError
    assert multiprocessing.active_children() == []
