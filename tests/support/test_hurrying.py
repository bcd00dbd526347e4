"""An event loop that waits for nothing but work."""

import asyncio
import time


async def test_an_hour_of_sleep_takes_none_and_ends_in_its_turn() -> None:
    loop, woken = asyncio.get_running_loop(), list[int]()

    async def sleep(hours: int) -> None:
        await asyncio.sleep(3600 * hours)
        woken.append(hours)

    began, began_s = loop.time(), time.monotonic()
    await asyncio.gather(sleep(3), sleep(1), sleep(2))
    assert woken == [1, 2, 3]
    assert loop.time() - began >= 3 * 3600
    assert time.monotonic() - began_s < 3600


async def test_what_another_thread_does_is_waited_for() -> None:
    await asyncio.wait_for(asyncio.to_thread(time.sleep, 0.05), timeout=60)
