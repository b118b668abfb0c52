"""Keeping what a C library prints by itself off the standard output, so that JSON stays clean."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def no_output() -> Iterator[None]:
    """Send what is written to file descriptor 1 to nowhere; nothing is done where it is closed."""
    try:
        kept = os.dup(1)
    except OSError:
        yield
        return
    sys.stdout.flush()
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(nowhere)
        os.close(kept)
