"""A cluster's processes do the jobs of a run, and the run leaves the cluster in silence."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from proofgen.errors import UsageError
from proofgen.pipeline import crew
from tests.cli.small import make_shop, order_text, paint, write
from tests.lacking import lacking
from tests.pipeline.test_side_by_side import Counted, built, copy_of, differing

_PATIENT = {  # a busy machine is no fault: what takes long is waited for
    "distributed.comm.timeouts.connect": "300s",
    "distributed.comm.timeouts.tcp": "300s",
    "distributed.scheduler.worker-ttl": None,
    "distributed.scheduler.allowed-failures": 99,
    "distributed.worker.memory.target": False,
    "distributed.worker.memory.spill": False,
    "distributed.worker.memory.pause": False,
    "distributed.worker.memory.terminate": False,
}


@contextmanager
def cluster_here() -> Iterator[str]:
    """The address of a cluster of two processes of this machine, on ports that nobody has."""
    try:
        import dask
        from distributed import LocalCluster
    except ImportError:
        lacking("this test needs the package distributed (Python index)")
    with (
        dask.config.set(_PATIENT),
        LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address="127.0.0.1:0") as cluster,
    ):
        yield cluster.scheduler_address


def test_a_cluster_does_the_same_jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("proofgen.pipeline.cluster._ANSWERS", 300)
    shop = make_shop(tmp_path / "one" / "shop")
    for number in range(crew.LEAST):
        name = f"order-{number}"
        design = "tag" if number else "snap"
        write(shop / "orders" / name / "order.yaml", order_text(f"Ada {number}", design=design))
    paint(shop / "orders" / "order-0" / "photos" / "pier.jpg", side=400)
    other = copy_of(shop, "two")
    alone = built(shop)
    own = Counted(monkeypatch)
    with cluster_here() as address:
        monkeypatch.setenv("PROOFGEN_WORKERS", address)
        assert built(other) == alone
    assert differing(shop, other) == {}
    assert own.rasters == 0


_LEAVES = """
import sys
from proofgen.pipeline.crew import executor_for, stop

executor = executor_for(sys.argv[1])
print(executor.submit(max, 1, 2).result(300), flush=True)
sys.stdin.read()
stop(executor)
"""


@pytest.mark.parametrize("ends_first", [False, True], ids=["we leave", "it ends first"])
def test_a_cluster_is_left_without_a_word(ends_first: bool) -> None:
    with cluster_here() as address:
        ours = subprocess.Popen(
            [sys.executable, "-c", _LEAVES, address],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        assert ours.stdout is not None
        assert ours.stdout.readline() == "2\n"
        said = ("", "") if ends_first else ours.communicate(timeout=300)
    if ends_first:
        said = ours.communicate(timeout=300)
    assert (ours.returncode, said) == (0, ("", ""))


def test_no_cluster_where_one_is_named_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    try:
        import distributed  # noqa: F401
    except ImportError:
        lacking("this test needs the package distributed (Python index)")
    monkeypatch.setattr("proofgen.pipeline.cluster._ANSWERS", 0.5)
    with pytest.raises(UsageError, match="no cluster answers") as told:
        crew.executor_for("tcp://127.0.0.1:9")
    assert told.value.cure == "start it, or leave PROOFGEN_WORKERS out"
