"""Names for corners that the job gives none: A, B ... Z, AA, AB ..."""

from __future__ import annotations

from collections.abc import Iterator


def letters() -> Iterator[str]:
    """A, B ... Z, AA, AB ..."""
    alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    yield from alphabet
    for first in alphabet:
        for second in alphabet:
            yield first + second
    number = 1
    while True:
        yield f"Z{number}"
        number += 1
