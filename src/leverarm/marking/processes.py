"""Marking in several processes of one computer: the same marks, sooner.

    result = mark_folder(folder, class_key, processes=processors())

Python's own pool of processes does the work.  A process gets students in batches with the bytes
of their files, so it opens no answer file; their parts are joined in the order of the codes.  A
batch is lost with a process that dies: it is marked again, then each of its codes alone, and a
code that ends its process twice is left out and named.  Nothing here looks at a clock: what bounds
a file made to be slow is its Budget, so the marks are the same on every computer.

What is called with each student must be a function of a module, or a partial of one, and a program
that starts this needs ``if __name__ == "__main__"``: each process reads it again.

Processes are started anew ("spawn"), as Windows and macOS do it: a copy of a notebook's process
would have its threads' locks without the threads.
"""

import os
import signal
from collections import deque
from collections.abc import Callable, Generator, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from multiprocessing import get_context, parent_process
from multiprocessing.synchronize import Event
from threading import Thread
from typing import Any, TypeAlias

from leverarm.marking.collect import carried
from leverarm.marking.part import MarkedPart, Task
from leverarm.marking.student import Returned
from leverarm.quantities import Refusal

BATCH = 20  # students; half a second of work, and few bytes
AHEAD = 2  # batches that wait for each process: what is held in memory is bounded
MOST_DEATHS = 50
DIED = "the process that marked it ended twice without a result: look at this file"
Batch: TypeAlias = Sequence[Returned]


def parts_in_processes(
    task: Task, came: Batch, processes: int
) -> Generator[MarkedPart, None, None]:
    """The parts of a class, in the order of its codes; in this process where no other starts."""
    _refuse_nameless(task.each)
    batches = deque(came[at : at + BATCH] for at in range(0, len(came), BATCH))
    for _ in range(MOST_DEATHS):
        with _pool(task, processes) as pool:
            if pool is None:
                yield from (_here(task, batch) for batch in batches)
                return
            lost: list[Batch] = []
            for batch, part in _in_order(pool, batches, processes):
                if part is None:
                    lost.append(batch)
                    continue
                yield from _one_at_a_time(task, lost)
                lost = []
                yield part
            yield from _one_at_a_time(task, lost)
        if not batches:
            return
    raise Refusal(
        "processes",
        f"{MOST_DEATHS} that ended without a result",
        f"fewer than {MOST_DEATHS}",
        "close other programs, for memory may be short, or mark in one process",
    )


def _refuse_nameless(each: Callable[..., Any]) -> None:
    """Refuse a function that another process could not find by its name."""
    while isinstance(each, partial):
        each = each.func
    name = getattr(each, "__qualname__", type(each).__qualname__)
    if "<" in name:
        raise Refusal(
            "each",
            name,
            "a function of a module, for it runs in other processes",
            "give it a name at the top of a module, or mark in one process",
        )


def _in_order(
    pool: ProcessPoolExecutor, batches: deque[Batch], processes: int
) -> Iterator[tuple[Batch, MarkedPart | None]]:
    """Each batch with its part, None where it was lost; after a loss no more are taken up."""
    under_way: deque[tuple[Batch, Future[MarkedPart]]] = deque()
    whole = True
    while under_way or (batches and whole):
        while batches and whole and len(under_way) < processes * AHEAD:
            try:
                under_way.append((batches[0], pool.submit(_there, _carried(batches[0]))))
                batches.popleft()
            except BrokenProcessPool:
                whole = False
        if under_way:
            batch, coming = under_way.popleft()
            try:
                yield batch, coming.result()
            except BrokenProcessPool:
                whole = False
                yield batch, None


def _one_at_a_time(task: Task, lost: list[Batch]) -> Iterator[MarkedPart]:
    """Lost batches again, so that it is seen which ends its process; of that one, code by code."""
    waiting = deque(lost)
    while waiting:
        with _pool(task, 1) as pool:
            part: MarkedPart | None = MarkedPart(task.assignment)
            while waiting and part:
                batch = waiting.popleft()
                part = _alone(task, pool, batch)
                if part:
                    yield part
                elif len(batch) > 1:
                    waiting.extendleft([one] for one in reversed(batch))
                else:
                    yield _left_out(task, batch[0])


def _alone(task: Task, pool: ProcessPoolExecutor | None, batch: Batch) -> MarkedPart | None:
    """A batch while nothing else is marked; None where its process ends without a result."""
    if pool is None:
        return _here(task, batch)
    try:
        return pool.submit(_there, _carried(batch)).result()
    except BrokenProcessPool:
        return None


def _left_out(task: Task, one: Returned) -> MarkedPart:
    part = MarkedPart(task.assignment)
    part.leave_out(one, DIED)
    return part


def _carried(batch: Batch) -> Batch:
    return [replace(one, files=tuple(map(carried, one.files))) for one in batch]


@contextmanager
def _pool(task: Task, processes: int) -> Iterator[ProcessPoolExecutor | None]:
    """Processes ready to mark, or None where none can be started; they end with the block."""
    method = get_context("spawn")
    try:
        stop = method.Event()
        pool = ProcessPoolExecutor(processes, method, _begin, (task, stop))
    except (ImportError, NotImplementedError, OSError):
        yield None
        return
    try:
        yield pool if _starts(pool, processes) else None
    except BaseException:
        stop.set()
        raise
    finally:
        # Waits until all have ended: none writes a page after whoever asked went on.
        pool.shutdown(cancel_futures=True)


def _starts(pool: ProcessPoolExecutor, processes: int) -> bool:
    """Whether a process of the pool comes up."""
    try:
        first, *_ = [pool.submit(os.getpid) for _ in range(processes)]
        first.result()
    except (BrokenProcessPool, OSError, RuntimeError):
        return False
    return True


# In the other process ----------------------------------------------------------------------


class _Stopped(Exception):
    """The marking was stopped; nobody waits for the part any more."""


_HERE: dict[str, tuple[Task, Event]] = {}


def _begin(task: Task, stop: Event) -> None:
    """Get a process ready: Ctrl-C is for the one that started it, and it ends with that one."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_parent, daemon=True).start()
    _HERE["task"] = task, stop


def _end_with_parent() -> None:
    if parent := parent_process():
        parent.join()
        os._exit(1)


def _there(batch: Batch) -> MarkedPart:
    """A batch marked in another process."""
    task, stop = _HERE["task"]
    return _here(task, batch, stop)


def _here(task: Task, batch: Batch, stop: Event | None = None) -> MarkedPart:
    part = MarkedPart(task.assignment)
    for one in batch:
        if stop and stop.is_set():
            raise _Stopped
        part.add(task, one)
    return part
