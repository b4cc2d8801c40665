"""The same sweep by the workers of a Dask client: the same bits, also where a worker is lost on the way."""

import os
import signal

import distributed
import pytest

import wheelrate as wr

AXES = {"rear.linkage.points.link_frame.x": ("-68 mm", "-63 mm"), "rear.shock.length": ("460 mm", "480 mm")}
OUTPUTS = ["rear.rider_sag", "rear.chance", "rear.curve.wheel_rate"]


def sweep(**options):
    given = {"scheme": "random", "samples": 400, "seed": 2, "points": 7, "chunk": 10}
    return wr.demo().sweep(AXES, OUTPUTS, **given, **options)


@pytest.fixture(scope="module")
def client():
    options = {"n_workers": 2, "threads_per_worker": 1, "processes": True, "dashboard_address": None}
    with distributed.LocalCluster(**options) as cluster, distributed.Client(cluster) as client:
        yield client


def test_workers_give_the_same_bits(client, tmp_path):
    local = sweep()
    assert sweep(client=client) == local
    assert sweep(client=client, to=tmp_path / "sweep.parquet") == local


class Killer:
    """A bar that kills one worker after the first stretch."""

    def __init__(self, client):
        self.client, self.killed = client, None

    def __call__(self, *, total, unit):
        return self

    def update(self, designs):
        if self.killed is None:
            self.killed = next(iter(self.client.run(os.getpid).values()))
            os.kill(self.killed, signal.SIGKILL)

    def close(self):
        pass


@pytest.mark.parametrize("written", [False, True])
def test_a_lost_worker_loses_nothing(client, tmp_path, written):
    client.wait_for_workers(2, timeout=60)
    killer = Killer(client)
    to = {"to": tmp_path / "parts"} if written else {}
    found = sweep(client=client, progress=killer, **to)
    assert killer.killed is not None
    assert killer.killed not in client.run(os.getpid).values()
    assert found.is_complete
    assert found == sweep()


def test_what_is_missing_is_taken_up_by_workers(client, tmp_path):
    parts = tmp_path / "parts"
    stopped = sweep(client=client, to=parts)
    assert stopped.is_complete
    # Taken up again by workers: only what is missing is worked out.
    lost = sorted(parts.glob("part-*.parquet"))[3:5]
    for part in lost:
        part.unlink()
    counted = []

    class Bar:
        def __init__(self, *, total, unit):
            pass

        def update(self, designs):
            counted.append(designs)

        def close(self):
            pass

    assert sweep(client=client, to=parts, progress=Bar) == stopped
    assert counted == [380, 10, 10]
