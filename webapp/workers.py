"""What gunicorn does before it makes its processes (its setting ``config``): they share the rules.

Read and judged with once, they cost a start less processor and each process less memory, and what
a process answers first hardly waits (`docs/performance.md`).
"""

from __future__ import annotations

import gc
from typing import Any

from checks.judge import judge
from checks.rulebook import load
from webapp.clock import now

FIRST = ("run_stop", "quick_stop", "walkaround")  # what phones send most


def on_starting(_server: Any) -> None:
    load()
    for check in FIRST:
        judge({"check": check, "date": now().date().isoformat(), "facts": {"axles": 2}})
    gc.freeze()  # a collector that went over what is shared would copy it for each process
