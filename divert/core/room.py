"""Whether the system lets this process have more threads and processes: a container may allow few."""

from __future__ import annotations

import threading


def room_for(many: int) -> bool:
    """Return whether so many threads (to the system, processes count alike) may be had at once.

    They are had for a moment and given back: what a pool is refused later it does not tell, and the
    run would wait for it without end.
    """
    given_back = threading.Event()
    held: list[threading.Thread] = []
    try:
        for _ in range(many):
            one = threading.Thread(target=given_back.wait, daemon=True)
            one.start()
            held.append(one)
    except RuntimeError:
        return False
    finally:
        given_back.set()
        for one in held:
            one.join()
    return True
