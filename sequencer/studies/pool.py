"""Where variants are planned: this process, the cores of this machine, or a cluster by its address."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import FIRST_COMPLETED, Executor, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from typing import Any, Final

from sequencer.errors import SequencerError
from sequencer.studies.work import plan_cases

Payload = dict[str, Any]
Rows = list[dict[str, Any]]

#: How often a wish to stop is looked for [s].
LOOK: Final = 0.2


def run_here(payloads: list[Payload], keep: Callable[[Rows], None], stop: Callable[[], bool]) -> None:
    """Plan one variant after the other in this process.

    Parameters
    ----------
    payloads
        What is to be planned.
    keep
        Told every finished row.
    stop
        Asked between two variants.
    """
    for payload in payloads:
        if stop():
            return
        keep(plan_cases(payload))


def run_on(
    executor: Executor,
    payloads: list[Payload],
    keep: Callable[[Rows], None],
    stop: Callable[[], bool],
    ahead: int,
) -> None:
    """Plan variants on an executor; few wait in it, so that a stop is quick.

    Parameters
    ----------
    executor
        The executor.
    payloads
        What is to be planned.
    keep
        Told every finished row.
    stop
        Asked now and then; what has begun is finished.
    ahead
        Payloads that are handed in at a time.
    """
    left = iter(payloads)
    running: set[Future[Rows]] = set()
    try:
        while True:
            while not stop() and len(running) < ahead and (payload := next(left, None)) is not None:
                running.add(executor.submit(plan_cases, payload))
            if stop():
                running = {future for future in running if not future.cancel()}
            if not running:
                return
            done, running = wait(running, timeout=LOOK, return_when=FIRST_COMPLETED)
            for future in done:
                keep(future.result())
    except BrokenProcessPool:
        raise SequencerError(
            "a worker ended before its time: memory may be short",
            where="study",
            remedy="start it again with fewer --workers: what is finished is kept",
        ) from None


@contextmanager
def local_pool(workers: int) -> Iterator[Executor]:
    """Give an executor over the cores of this machine; its processes end with this one.

    Parameters
    ----------
    workers
        Number of processes.
    """
    context = multiprocessing.get_context("spawn")
    executor = ProcessPoolExecutor(
        workers, mp_context=context, initializer=begin_worker, initargs=(os.getpid(),)
    )
    try:
        yield executor
    except BaseException:
        executor.shutdown(wait=False, cancel_futures=True)
        for child in multiprocessing.active_children():
            child.terminate()
        raise
    executor.shutdown()


def begin_worker(parent: int) -> None:
    """Let a worker leave interrupts to its parent, and end when the parent is gone.

    Parameters
    ----------
    parent
        Process number of the parent.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)

    def watch() -> None:
        while os.getppid() == parent:
            time.sleep(1.0)
        os._exit(1)

    threading.Thread(target=watch, daemon=True).start()


@contextmanager
def cluster_pool(address: str) -> Iterator[tuple[Executor, int]]:
    """Give an executor on a cluster and its number of threads.

    Parameters
    ----------
    address
        Address of the scheduler, such as tcp://10.0.0.5:8786.

    Raises
    ------
    SequencerError
        When the extra is not installed, or no scheduler answers.
    """
    try:
        from distributed import Client
    except ImportError:
        raise SequencerError(
            "the package distributed is not installed",
            where="--cluster",
            remedy="install it with: pip install 'sequencer[cluster]', here and on the cluster",
        ) from None
    try:
        client = Client(address, timeout=10)
    except (OSError, ValueError) as error:
        raise SequencerError(
            f"no scheduler answers at {address!r}: {error}",
            where="--cluster",
            remedy="check the address; it looks like tcp://10.0.0.5:8786",
        ) from None
    try:
        threads = sum(client.nthreads().values())
        if not threads:
            raise SequencerError(
                f"the cluster at {address!r} has no worker", where="--cluster", remedy="start workers first"
            )
        yield client.get_executor(), threads
    finally:
        client.close()
