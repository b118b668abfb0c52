"""Writing files whole or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from dosecalc.errors import refuse


def write_whole(file: Path, text: str, *, replace: bool) -> None:
    """Write beside the file's place and move it there.

    Raises
    ------
    DoseError
        When the file is there already and may not be replaced, or cannot be written.
    """
    write_all({file: text.encode("utf-8")}, replace=replace)


def write_all(files: Mapping[Path, bytes], *, replace: bool) -> None:
    """Write every file beside its place, then move them all there.

    Raises
    ------
    DoseError
        When one is there already and may not be replaced, or cannot be written; none is changed.
    """
    for file in files:
        if file.exists() and not replace:
            raise refuse("file-there", path=file)
    made: list[tuple[Path, Path]] = []
    at = Path()
    try:
        for at, content in files.items():
            made.append((_beside(at, content), at))
        for beside, at in made:
            beside.replace(at)
    except OSError as err:
        for beside, _ in made:
            beside.unlink(missing_ok=True)
        raise refuse("file-write", path=at, why=(err.strerror or "error").lower()) from None


def _beside(file: Path, content: bytes) -> Path:
    handle, name = tempfile.mkstemp(dir=file.parent, prefix=f".{file.name}.")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
        Path(name).chmod(0o644)
    except OSError:
        Path(name).unlink(missing_ok=True)
        raise
    return Path(name)
