"""An event loop that waits for nothing but work."""

import asyncio
import threading
import time

from tests.support.hurrying import HurryingLoop


async def test_an_hour_of_sleep_takes_none_and_ends_in_its_turn() -> None:
    loop, woken = asyncio.get_running_loop(), list[int]()
    assert isinstance(loop, HurryingLoop), "any other would sleep for three hours"

    async def sleep(hours: int) -> None:
        await asyncio.sleep(3600 * hours)
        woken.append(hours)

    began = loop.time()
    await asyncio.gather(sleep(3), sleep(1), sleep(2))
    assert woken == [1, 2, 3]
    assert loop.time() - began >= 3 * 3600


async def test_what_another_thread_does_is_waited_for() -> None:
    await asyncio.wait_for(asyncio.to_thread(time.sleep, 0.05), timeout=60)


def test_a_new_thread_is_waited_for_when_one_older_than_the_loop_has_ended() -> None:
    over = threading.Event()
    older = threading.Thread(target=over.wait)
    older.start()
    with asyncio.Runner(loop_factory=HurryingLoop) as runner:
        over.set()
        older.join()
        runner.run(asyncio.wait_for(asyncio.to_thread(time.sleep, 0.05), timeout=60))
