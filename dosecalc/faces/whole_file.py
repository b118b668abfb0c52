"""Writing a file whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from dosecalc.errors import refuse


def write_whole(file: Path, text: str, *, replace: bool) -> None:
    """Write beside the file's place and move it there.

    Raises
    ------
    DoseError
        When the file is there already and may not be replaced, or cannot be written.
    """
    if file.exists() and not replace:
        raise refuse("file-there", path=file)
    try:
        handle, name = tempfile.mkstemp(dir=file.parent, prefix=f".{file.name}.")
    except OSError as err:
        raise refuse("file-write", path=file, why=(err.strerror or "error").lower()) from None
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as stream:
            stream.write(text)
        Path(name).chmod(0o644)
        Path(name).replace(file)
    except OSError as err:
        Path(name).unlink(missing_ok=True)
        raise refuse("file-write", path=file, why=(err.strerror or "error").lower()) from None
