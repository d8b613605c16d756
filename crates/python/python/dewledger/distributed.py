"""A sweep on a Dask cluster: a part is a task.

Here: handing out parts, progress, what is done when workers or the scheduler are lost. Not here: what a part is and how it is
written (`sweeps`), clusters themselves (Dask's `Client` takes any: local, by SSH, on a batch system, in containers).

Workers need this package, and the sweep's folder and the study's weather under the same path, as on a shared file system. Nothing
but the folder's path and a number goes to a worker, and a short note comes back: results never pass the scheduler.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import CancelledError
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from ._dewledger import WorkError
from .sweeps import Done, FileParts, Folder, Sweep, found, parts_of

if TYPE_CHECKING:
    from distributed import Client, Future

TRIES = 5
"""How often a part is handed out again after a worker died with it (each time after Dask's own retries)."""
_QUIET_S = 5.0


@dataclass(frozen=True)
class Progress:
    """How far a sweep has come."""

    whole: int
    """Parts that are whole, with those that were there before."""
    parts: int
    """Parts in all."""
    runs_per_s: float
    """Runs made each second since the call began; 0 at first."""
    left_s: float | None
    """Seconds left at this rate; None at first."""
    workers: int
    """Workers of the cluster at this moment."""

    def __str__(self) -> str:
        left = "" if self.left_s is None else f", {self.left_s:.0f} s left"
        return f"{self.whole} of {self.parts} parts, {self.runs_per_s:.1f} runs/s on {self.workers} workers{left}"


def sweep(
    client: Client,
    what: Sweep | str | os.PathLike[str],
    out: str | os.PathLike[str] | None = None,
    *,
    parts: Iterable[int] | None = None,
    threads: int = 1,
    ahead: int = 3,
    tell: Callable[[Progress], object] | None = None,
) -> list[Done]:
    """Makes the parts of a sweep that are not there yet, on a cluster; what was made.

    client: of any Dask cluster. what, out, parts: as `dewledger.sweep` takes them. threads: of each run; with one, let a worker have
    one thread for each core. ahead: parts handed out at once for each thread of the cluster, so that no worker waits and the
    scheduler holds few. tell: called with a `Progress` after parts, left out a line on stderr every few seconds.

    A part whose worker is lost is made by another. Raises `WorkError` when the scheduler is lost, or when a part fails; parts that
    are whole stay, and the same call makes the rest.
    """
    folder = parts_of(what, out)
    wanted = folder.missing()
    if parts is not None:
        asked = set(parts)
        wanted = [number for number in wanted if number in asked]
    work = _Work(client, folder, threads, tell or _Line(), folder.parts - len(wanted))
    work.go(wanted, ahead)
    folder.tidy()
    return work.done


def _make(reference: tuple[str, ...], digest: str, number: int, threads: int) -> Done:
    """The task: one part, by whichever worker."""
    return found(reference, digest).make(number, threads=threads)


@dataclass
class _Work:
    client: Client
    folder: Folder | FileParts
    threads: int
    tell: Callable[[Progress], object]
    before: int
    done: list[Done] = field(default_factory=list)
    tries: dict[int, int] = field(default_factory=dict)
    begun: float = field(default_factory=time.monotonic)

    def go(self, wanted: list[int], ahead: int) -> None:
        from distributed import as_completed

        waiting = iter(wanted)
        flying: dict[Future, int] = {}
        arriving = as_completed(raise_errors=False)
        try:
            self._fill(waiting, flying, arriving, ahead)
            while flying:
                future = next(arriving)
                number = flying.pop(future)
                again = self._take(future, number)
                if again is not None:
                    flying[again] = number
                    arriving.add(again)
                self._fill(waiting, flying, arriving, ahead)
        except (OSError, CancelledError, StopIteration, TimeoutError) as cause:
            raise self._lost() from cause
        finally:
            for future in flying:
                future.release()

    def _fill(
        self, waiting: Iterator[int], flying: dict[Future, int], arriving: Any, ahead: int
    ) -> None:
        most = max(1, ahead) * max(1, sum(self.client.nthreads().values()))
        while len(flying) < most:
            number = next(waiting, None)
            if number is None:
                return
            future = self._submit(number)
            flying[future] = number
            arriving.add(future)

    def _submit(self, number: int) -> Future:
        tries = self.tries.setdefault(number, 0)
        key = f"dewledger-part-{self.folder.digest[:12]}-{number}-{tries}"
        reference, digest = self.folder.reference, self.folder.digest
        return self.client.submit(_make, reference, digest, number, self.threads, key=key, pure=False, retries=0)

    def _take(self, future: Future, number: int) -> Future | None:
        """Notes a part that is done; hands it out again if its worker died with it."""
        if future.status == "finished":
            self.done.append(future.result())
            self.tell(self._progress())
            return None
        if future.status != "error":
            raise self._lost()
        cause = future.exception()
        from distributed import KilledWorker

        self.tries[number] += 1
        if isinstance(cause, KilledWorker) and self.tries[number] < TRIES:
            return self._submit(number)
        raise WorkError(f"error: part {number} could not be made: {cause}") from cause

    def _progress(self) -> Progress:
        whole = self.before + len(self.done)
        runs = sum(done.runs for done in self.done)
        rate = runs / max(time.monotonic() - self.begun, 1e-9)
        left = (self.folder.parts - whole) * self.folder.runs / self.folder.parts / rate if rate > 0.0 else None
        return Progress(whole, self.folder.parts, rate, left, len(self.client.nthreads()))

    def _lost(self) -> WorkError:
        whole = self.folder.parts - len(self.folder.missing())
        return WorkError(
            f"error: the cluster's scheduler is lost; {whole} of {self.folder.parts} parts are whole\n\n"
            "hint: start a cluster and make the same call again; it goes on from there"
        )


class _Line:
    """A line on stderr every few seconds, and at the end."""

    def __init__(self) -> None:
        self.next = time.monotonic() + _QUIET_S

    def __call__(self, progress: Progress) -> None:
        now = time.monotonic()
        if now >= self.next or progress.whole == progress.parts:
            self.next = now + _QUIET_S
            print(progress, file=sys.stderr, flush=True)
