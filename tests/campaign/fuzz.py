"""Coverage-guided bytes into one reader at a time (atheris, libFuzzer): `python -m tests.campaign fuzz reader`.

Each target checks more than that nothing falls over: what is accepted has to be a number in its range, what is edited has
to be read back, what is answered has to be JSON.
"""

from __future__ import annotations

import json
import math
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["dovelayout", "tomllib", "tomlkit"], enable_loader_override=False):
    from dovelayout.errors import DovelayoutError, UnitsError
    from dovelayout.job.editing import edited
    from dovelayout.job.openings import read_openings
    from dovelayout.job.reader import load_job, parsed
    from dovelayout.page.answers import answers_for
    from dovelayout.page.folder import ChangedOnDisk, Folder
    from dovelayout.units import Unit, parse_length, parse_slope, parse_temperature

ROOT = Path(__file__).parents[2]
SECONDS_EACH = 5
MOST_MB = 500


def _one_line(error: DovelayoutError, file: str) -> None:
    said = str(error)
    assert said.startswith(file), said
    assert said.isprintable(), said


def _reader(data: bytes) -> None:
    try:
        job = load_job(parsed(data, source="job.toml"), source="job.toml")
    except DovelayoutError as error:
        _one_line(error, "job.toml")
        return
    assert job.joints or job.dividers or job.drawers or job.across or job.panels


def _units(data: bytes) -> None:
    text = data.decode("utf-8", "replace")
    for unit in Unit:
        try:
            length_mm = float(parse_length(text, unit=unit))
        except UnitsError:
            continue
        assert math.isfinite(length_mm), text
        assert any(ch.isdigit() or ch.isnumeric() for ch in text), text
    for parse in (parse_slope, parse_temperature):
        try:
            value = parse(text)
        except UnitsError:
            continue
        assert math.isfinite(value), text
        assert parse is parse_temperature or value > 0, text


def _csv(data: bytes) -> None:
    with tempfile.NamedTemporaryFile(suffix=".csv") as table:
        table.write(data)
        table.flush()
        try:
            openings = read_openings(Path(table.name))
        except DovelayoutError as error:
            _one_line(error, table.name)
            return
    assert openings.rows or openings.bad
    for row in openings.rows:
        assert {"name", "width", "height", "depth"} <= set(row.values)


_SAMPLE = (ROOT / "samples" / "thread-tray.toml").read_text(encoding="utf-8")


def _edit(data: bytes) -> None:
    provider = atheris.FuzzedDataProvider(data)
    text = _SAMPLE if provider.ConsumeBool() else provider.ConsumeUnicodeNoSurrogates(400)
    asked = _table(provider)
    try:
        after = edited(text, [asked])
    except DovelayoutError:
        return
    parsed(after.encode("utf-8", "surrogatepass"), source="x")  # still TOML, or it says so: never written broken


def _table(provider: atheris.FuzzedDataProvider) -> dict[str, object]:
    """An edit: JSON as it stands, or mostly words that an edit knows."""
    if provider.ConsumeBool():
        try:
            found = json.loads(provider.ConsumeUnicodeNoSurrogates(600))
        except (ValueError, RecursionError):
            return {}
        return found if isinstance(found, dict) else {}
    return {
        key: provider.PickValueInList(list(words))
        if provider.ConsumeIntInRange(0, 7)
        else provider.ConsumeUnicodeNoSurrogates(20)
        for key, words in _WORDS.items()
    }


_WORDS: dict[str, tuple[object, ...]] = {
    "op": ("set", "unset", "add", "remove", "rename"),
    "table": ("board", "corner", "box", "shop", "paper", "drawer", "divider", "glue", "home", "panel", ""),
    "name": ("long side", "short side", "case", "shop", ""),
    "key": (
        "width",
        "name",
        "groove.width",
        "tail_count",
        "pin",
        "slope",
        "glue",
        "tails",
        "species",
        "joint",
        "tails_at",
    ),
    "value": (
        "",
        "95 mm",
        "3",
        3,
        -1,
        1e308,
        "1:7",
        "even",
        [],
        [[5, 40]],
        {"width": 6},
        "pva",
        "short side",
        None,
        True,
    ),
}
_ASKED = (
    "look",
    "edit",
    "edit",
    "edit",
    "save",
    "read",
    "state",
    "new",
    "suggest",
    "season",
    "fit",
    "glueup",
    "repair",
)


_FOLDER = Path(tempfile.mkdtemp(prefix="dovelayout-fuzz-"))


def _page(data: bytes) -> None:
    provider = atheris.FuzzedDataProvider(data)
    answers = answers_for(Folder(_FOLDER))
    name = provider.PickValueInList([word for word in _ASKED if word in answers])
    edits = [_table(provider) for _ in range(provider.ConsumeIntInRange(1, 3))]
    table: dict[str, object] = {"text": _SAMPLE, "edits": edits, "name": "job.toml"}
    if provider.ConsumeBool():
        try:
            table["text"] = edited(_SAMPLE, edits)  # so that the other answers see more than the sample
        except DovelayoutError:
            return
    for key in ("text", "name", "state", "show", "kind", "edits", "changes"):
        if provider.ConsumeIntInRange(0, 7) == 7:
            table[key] = provider.ConsumeUnicode(60)
    if provider.ConsumeIntInRange(0, 7) == 7:
        table |= _table(provider)
    try:
        answer = answers[name](table)
    except (DovelayoutError, ChangedOnDisk):
        return
    json.dumps(answer, allow_nan=False)
    assert all(path.parent == _FOLDER and path.suffix == ".toml" for path in _FOLDER.rglob("*")), list(
        _FOLDER.rglob("*")
    )


TARGETS: dict[str, Callable[[bytes], None]] = {
    "reader": _reader,
    "units": _units,
    "csv": _csv,
    "edit": _edit,
    "page": _page,
}


def _seeds(what: str, folder: Path) -> Path:
    """A few good inputs to begin from."""
    corpus = folder / f"corpus-{what}"
    corpus.mkdir(parents=True, exist_ok=True)
    match what:
        case "reader":
            for path in (ROOT / "samples").glob("*.toml"):
                (corpus / path.name).write_bytes(path.read_bytes())
        case "csv":
            for path in (ROOT / "samples").glob("*.csv"):
                (corpus / path.name).write_bytes(path.read_bytes())
        case "units":
            texts = ("3/4 in", "15 3/4", "19,5 mm", "1' 6 1/2\"", "1:7", "8 deg", "68 F", "20 °C", "½ in", "2 ft 3 in")
            for number, text in enumerate(texts):
                (corpus / str(number)).write_text(text, encoding="utf-8")
        case _:
            asked = {"op": "set", "table": "board", "name": "long side", "key": "width", "value": "95 mm"}
            (corpus / "set").write_bytes(b"\x01" + json.dumps(asked).encode())
    return corpus


def fuzz(what: str, *, seconds: int, out: Path) -> int:
    """Runs one target for so long; an input that shows a fault is kept in `out`. Doesn't come back: libFuzzer ends it."""
    out.mkdir(parents=True, exist_ok=True)
    corpus = _seeds(what, out)
    atheris.Setup(
        [
            sys.argv[0],
            f"-max_total_time={seconds}",
            f"-timeout={SECONDS_EACH}",
            f"-rss_limit_mb={MOST_MB}",
            f"-artifact_prefix={out}/{what}-",
            "-max_len=8000",
            "-len_control=0",
            "-print_final_stats=1",
            str(corpus),
        ],
        TARGETS[what],
    )
    atheris.Fuzz()
    return 0
