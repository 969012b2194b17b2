"""One process, workers on loopback, workers that die: the same sum to the bit, and who did it named."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from made_yards import AS_OF, write_region

from divert import together
from divert.core.findings import CannotRun
from divert.core.period import read_period
from divert.ingest.reader import Reader
from divert.region import engine
from divert.region.addend import Addend, same
from divert.region.engine import Work, blocks_of, here, on_workers
from divert.region.listing import Yard, read_region
from divert.region.result import region_figures
from divert.region.together import FIRST_DAY, stamp_of

YEAR = read_period("2025", as_of=AS_OF, started=FIRST_DAY)
WORK = Work(YEAR, stamp_of(YEAR, AS_OF))
YARDS, BLOCK = 6, 2


@pytest.fixture(scope="module")
def region(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_region(tmp_path_factory.mktemp("region"), YARDS, 15)


@pytest.fixture(scope="module")
def yards(region: Path) -> tuple[Yard, ...]:
    return read_region(region).yards


@pytest.fixture(scope="module")
def alone(yards: tuple[Yard, ...]) -> Addend:
    """What one process makes of the yards."""
    return here(yards, WORK)


@pytest.fixture(scope="module")
def cluster(region: Path) -> Iterator[Any]:
    """A scheduler and two workers of one thread each, on loopback."""
    if not os.environ.get("DIVERT_LONG"):
        pytest.skip(
            "workers are started and killed with DIVERT_LONG=1: a step of its own in .ci/run"
        )
    distributed = pytest.importorskip("distributed", reason="Dask is not installed: divert[many]")
    dask = pytest.importorskip("dask")
    quick = {
        "distributed.scheduler.allowed-failures": 1,
        "distributed.worker.daemon": False,
        "distributed.admin.log-format": "",
    }
    with (
        dask.config.set(quick),
        distributed.LocalCluster(
            n_workers=2,
            threads_per_worker=1,
            dashboard_address=None,
            host="127.0.0.1",
            silence_logs=50,
        ) as made,
    ):
        yield made


@pytest.fixture
def client(cluster: Any, monkeypatch: pytest.MonkeyPatch) -> Iterator[Any]:
    import distributed

    monkeypatch.setattr(engine, "BLOCK", BLOCK)
    with distributed.Client(cluster) as client:
        yield client


def test_blocks_hold_every_yard_once(yards: tuple[Yard, ...]) -> None:
    for size in (1, 5, 12, 40):
        assert [yard for block in blocks_of(yards, size) for yard in block] == list(yards)


def test_two_workers_come_to_the_bits_of_one_process(
    client: Any, yards: tuple[Yard, ...], alone: Addend
) -> None:
    heard: list[int] = []
    assert same(alone, on_workers(yards, WORK, client, heard.append))
    assert heard == sorted(heard) and heard[-1] == YARDS


def test_a_scheduler_that_is_named_is_used(cluster: Any, region: Path, alone: Addend) -> None:
    found = together(region, "2025", AS_OF, scheduler=cluster.scheduler_address)
    assert found.mass == region_figures(alone, read_region(region), YEAR).mass
    assert len(found.yards) == YARDS
    with pytest.raises(CannotRun, match=r"127\.0\.0\.1:9"):
        together(region, "2025", AS_OF, scheduler="tcp://127.0.0.1:9")


def test_a_worker_that_is_killed_in_the_middle_changes_nothing(
    client: Any, yards: tuple[Yard, ...], alone: Addend
) -> None:
    victims = list(client.run(os.getpid).values())[:1]

    def kill_one(done: int) -> None:
        if done and victims:
            os.kill(victims.pop(), signal.SIGKILL)

    assert same(alone, on_workers(yards, WORK, client, kill_one))
    assert not victims


def test_a_yard_that_ends_its_workers_is_named_and_the_others_counted(
    client: Any, yards: tuple[Yard, ...]
) -> None:
    import cloudpickle
    from distributed import WorkerPlugin

    bad = yards[3].shown

    class Deadly(WorkerPlugin):
        def setup(self, worker: Any) -> None:
            from divert.region import engine as theirs

            usual = getattr(theirs, "usual", theirs.addend_of)
            theirs.usual = usual

            def deadly(yard: Yard, *rest: Any) -> Any:
                if yard.shown == bad:
                    os._exit(1)
                return usual(yard, *rest)

            theirs.addend_of = deadly

        def teardown(self, worker: Any) -> None:
            from divert.region import engine as theirs

            theirs.addend_of = theirs.usual

    assert cloudpickle.loads(cloudpickle.dumps(Deadly))
    client.register_plugin(Deadly(), name="deadly")
    try:
        found = on_workers(yards, WORK, client)
    finally:
        client.unregister_worker_plugin("deadly")
    assert [f.folder for f in found.failed] == [bad]
    assert len(found.yards) == YARDS - 1
    others = here([y for y in yards if y.shown != bad], WORK)
    assert found.figure("mass.diverted").same(others.figure("mass.diverted"))


def test_without_dask_this_process_does_it(region: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import sys

    monkeypatch.setitem(sys.modules, "distributed", None)  # as if it were not installed
    heard: list[int] = []
    assert len(together(region, "2025", AS_OF, progress=heard.append).yards) == YARDS
    assert heard == list(range(1, YARDS + 1))
    with pytest.raises(CannotRun, match="pip install"):
        together(region, "2025", AS_OF, scheduler="tcp://127.0.0.1:9")


def test_a_run_that_was_stopped_reads_on_where_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    yards = read_region(write_region(tmp_path / "region", 4, 15)).yards
    monkeypatch.setenv("DIVERT_CACHE", str(tmp_path / "kept"))
    opened: list[str] = []
    usual = Reader.ask

    def ask(reader: Reader, data: bytes, suffix: str) -> None:
        opened.append(suffix)
        usual(reader, data, suffix)

    monkeypatch.setattr(Reader, "ask", ask)

    def stop(done: int) -> None:
        if done == 3:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        here(yards, WORK, stop)
    assert opened == [".csv"] * 3
    opened.clear()
    total = here(yards, WORK)
    assert opened == [".csv"] and len(total.yards) == 4  # only the yard that had not been read
