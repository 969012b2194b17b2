"""What every test shares: nothing is read from or written to the user's own folders."""

from __future__ import annotations

import atexit
import gc
import os
import re
import signal
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, get_args

import pytest
from hypothesis import HealthCheck, settings
from kept_child import OWN_CHILDREN, KeptChild, end_all

from divert.core.findings import CODES, Finding, Level, Where
from divert.core.words import Text
from divert.ingest import file_bytes, opening
from divert.inventory import open_site

# Half a million objects of pytest's and the libraries' stay to the end. At the usual thresholds, going
# through them again and again for cycles took an eighth of the whole run.
gc.set_threshold(50_000, 50, 100)


def _end_at_once(worker: int) -> None:
    """End a worker that has said all it has to say, without letting go of all that it holds one by one.

    Registered first, this is done last; not by a process that was forked from the worker.
    """
    if os.getpid() == worker:
        os._exit(0)


if "PYTEST_XDIST_WORKER" in os.environ:
    atexit.register(_end_at_once, os.getpid())


# No clock decides whether a property holds: on a busy machine any example may take long once.
settings.register_profile("unhurried", deadline=None, suppress_health_check=[HealthCheck.too_slow])
# In CI the same examples are tried every time: a red run can be run again and looked at.
settings.register_profile(
    "ci", settings.get_profile("unhurried"), derandomize=True, print_blob=True
)
settings.load_profile("ci" if os.environ.get("CI") else "unhurried")


_PLACE = re.compile(r"\{(\w+)\}")
_LEVELS = set(get_args(Level))


def _sound_text(text: Text) -> None:
    """Fail where a sentence names a place that nothing fills, or says nothing."""
    assert isinstance(text.message, str), text
    assert set(_PLACE.findall(text.message)) <= set(text.values), text


def _sound_finding(found: Finding) -> None:
    """Fail where a finding is of no known level or kind, or where what it says is no sentence."""
    assert found.level in _LEVELS and found.code in CODES, found
    assert isinstance(found.message, Text) and isinstance(found.where, Where), found
    assert found.hint is None or isinstance(found.hint, Text), found
    assert isinstance(found.found, str) and isinstance(found.name, str), found
    assert isinstance(found.rows, int) and isinstance(found.content, str), found
    assert found.mass_kg is None or isinstance(found.mass_kg, float | int), found
    assert isinstance(found.blocks, bool), found


@pytest.fixture(autouse=True, scope="session")
def sentences_are_whole() -> Iterator[None]:
    """Look at every sentence and finding that any test makes: whichever it is, it can be said."""
    with pytest.MonkeyPatch.context() as patch:
        for kind, sound in ((Text, _sound_text), (Finding, _sound_finding)):
            patch.setattr(kind, "__init__", _then(kind.__init__, sound))
        yield


def _then(made: Callable[..., None], sound: Callable[[Any], None]) -> Callable[..., None]:
    def init(self: Any, *args: Any, **values: Any) -> None:
        made(self, *args, **values)
        sound(self)

    return init


def pytest_sessionfinish() -> None:
    """Look for cycles once, and put what is left out of sight: pytest itself would do so five times."""
    gc.collect()
    gc.freeze()


# Rooms whose files hold one long journey each. They go first: at the end, the files that are left are
# small, and no worker waits for another's.
LONG_ROOMS = ("safety", "absence", "page", "register", "evidence")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=lambda item: _room(item.path) not in LONG_ROOMS)


def _room(test: Path) -> str:
    return test.relative_to(Path(__file__).parent).parts[0]


@pytest.fixture(autouse=True, scope="session")
def ctrl_c_is_heard() -> None:
    """Let programs that tests start hear Ctrl-C: a shell starts what runs in the background deaf to it."""
    if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.fixture(autouse=True, scope="session")
def no_child_is_left() -> Iterator[None]:
    yield
    end_all()


@pytest.fixture(autouse=True, scope="module")
def one_child_reads_for_all(request: pytest.FixtureRequest) -> Iterator[None]:
    """Have the readings of one process share their child, but where the child itself is tested."""
    with pytest.MonkeyPatch.context() as patch:
        if _room(request.path) not in OWN_CHILDREN:
            for module in (open_site, opening):
                patch.setattr(module, "Reader", KeptChild)
        yield


@pytest.fixture(autouse=True, scope="session")
def own_cache_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("DIVERT_CACHE", str(tmp_path_factory.mktemp("cache")))
        patch.setenv("DIVERT_DEBUG", "1")  # what fails in a sheet is to be seen
        patch.setenv("DIVERT_HOME", str(tmp_path_factory.mktemp("own")))
        patch.setattr(
            file_bytes, "REST_SECONDS", 0.0
        )  # a test's files are whole when they are read
        yield
