"""Runs a study: plans what is not yet in the results, and gives the table of all."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from sequencer.differences import Outline, outline_from_dict
from sequencer.studies.pool import Payload, Rows, cluster_pool, local_pool, run_here, run_on
from sequencer.studies.read import Case, ReadStudy
from sequencer.studies.results import Results

#: Variants that a cluster is sent at a time; one journey for several plans.
CHUNK: Final = 4


@dataclass(frozen=True)
class StudyResult:
    """What a study found.

    Parameters
    ----------
    ready
        The study.
    rows
        Rows of the finished variants, in the order of the study.
    """

    ready: ReadStudy
    rows: tuple[dict[str, Any], ...]

    @property
    def whole(self) -> bool:
        """Whether every variant is finished."""
        return len(self.rows) == len(self.ready.cases)

    @property
    def base(self) -> Outline | None:
        """Outline of the part as it is; None if it has no plan or is not finished."""
        first = next((row for row in self.rows if row["number"] == 0), None)
        return outline_from_dict(first["outline"]) if first and first["status"] == "planned" else None


def run_study(
    ready: ReadStudy,
    folder: Path,
    *,
    workers: int = 0,
    cluster: str = "",
    anew: bool = False,
    replace: bool = False,
    on_done: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> StudyResult:
    """Plan every variant of a study that is not yet in the results of its folder.

    Parameters
    ----------
    ready
        The study.
    folder
        Folder for the results.
    workers
        Processes on this machine; 0 for one a core.
    cluster
        Address of a cluster instead.
    anew
        Begin again, whatever the folder holds.
    replace
        Throw away results of another study instead of refusing.
    on_done
        Told how many of how many variants are finished.
    stop
        Asked now and then; what is finished is kept.
    """
    asked = stop or _never
    with Results(folder, ready.fingerprint, anew=anew, replace=replace) as results:

        def keep(rows: Rows) -> None:
            results.add(rows)
            if on_done is not None:
                on_done(len(results.rows), len(ready.cases))

        keep([])
        left = [case for case in ready.cases if case.number not in results.rows]
        _run(ready, left, workers or os.cpu_count() or 1, cluster, keep, asked)
        rows = tuple(results.rows[number] for number in sorted(results.rows))
    return StudyResult(ready, rows)


def _never() -> bool:
    return False


def _run(
    ready: ReadStudy,
    left: list[Case],
    workers: int,
    cluster: str,
    keep: Callable[[Rows], None],
    stop: Callable[[], bool],
) -> None:
    if not left:
        return
    if cluster:
        with cluster_pool(cluster) as (executor, threads):
            run_on(executor, _payloads(ready, left, CHUNK), keep, stop, 2 * threads)
    elif workers == 1 or len(left) == 1:
        run_here(_payloads(ready, left, 1), keep, stop)
    else:
        with local_pool(min(workers, len(left))) as executor:
            run_on(executor, _payloads(ready, left, 1), keep, stop, workers)


def _payloads(ready: ReadStudy, left: list[Case], chunk: int) -> list[Payload]:
    """Group variants that begin with the same files."""
    made: list[Payload] = []
    for place, base in enumerate(ready.bases):
        mine = [case for case in left if case.files == place]
        for at in range(0, len(mine), chunk):
            cases = [
                {"number": case.number, "name": case.name, "changes": case.changes}
                for case in mine[at : at + chunk]
            ]
            made.append(
                {"base": base, "aim": ready.study.aim, "seconds": ready.study.seconds, "cases": cases}
            )
    return made
