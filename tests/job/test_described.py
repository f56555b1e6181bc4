"""Every key of a job is described: nothing is left out or left over, and each example may stand where it is shown."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic.fields import FieldInfo

from dovelayout.job.described import KeyUnit, described, keys_of, terms, toml_text
from dovelayout.job.tables.schema import TABLES, JobTable, within
from dovelayout.units import Unit

DATA = tomllib.loads((files("dovelayout.job") / "data" / "keys.toml").read_text(encoding="utf-8"))
MODELS = {"": JobTable, **TABLES}
FIELDS: dict[tuple[str, str], FieldInfo] = {
    (table, field.alias or name): field for table, model in MODELS.items() for name, field in model.model_fields.items()
}
EVERY_KEY = pytest.mark.parametrize(("table", "key"), FIELDS, ids=lambda part: part or "job")

GOES_WITH: dict[tuple[str, str], dict[str, Any]] = {
    ("across", "tongue"): {"kind": "breadboard"},
    ("divider", "taper_on"): {"taper": "1:320"},
    ("panel", "play"): {"groove": 8},
    ("panel", "clearance"): {"groove": 8},
}
"""Keys that want another one beside them."""


def test_every_key_is_described_and_none_is_left_over() -> None:
    for table, model in MODELS.items():
        assert set(keys_of(table)) == {field.alias or name for name, field in model.model_fields.items()}, table
    shared = DATA["shared"]
    sections = {"shared", "terms", "job", *TABLES, *(name for names in shared.values() for name in names)}
    assert set(DATA) == sections
    assert set(shared) <= set(TABLES)


def test_what_several_tables_share_is_said_once() -> None:
    for table, names in DATA["shared"].items():
        sections = [DATA.get(name, {}) for name in (table, *names)]
        assert sum(map(len, sections)) == len({key for section in sections for key in section}), table


@EVERY_KEY
def test_a_key_says_what_it_is(table: str, key: str) -> None:
    row = described(table, key)
    assert row.label[0].isupper() or row.label[0].isdigit()
    assert not row.label.endswith(".")
    assert len(row.label) <= 30
    assert row.text.endswith(".")
    assert 10 <= len(row.text) <= 140
    assert not row.left_out.endswith(".")
    assert not row.term or row.term in terms()
    assert row.usual is None or (len(row.usual) == 3 and row.usual[0] < row.usual[1])


@EVERY_KEY
def test_its_unit_is_that_of_its_table(table: str, key: str) -> None:
    row, kinds = described(table, key), set(within(FIELDS[table, key].annotation))
    assert (row.unit is KeyUnit.CHOICE) == bool(row.choices)
    assert (row.unit is KeyUnit.FLAG) == (bool in kinds)
    assert (row.unit is KeyUnit.COUNT) == (int in kinds)
    tables = [kind for kind in kinds if kind in TABLES.values()]
    assert (row.unit in (KeyUnit.TABLE, KeyUnit.TABLES)) == bool(tables) or key == "proud"
    assert row.required == FIELDS[table, key].is_required()


@EVERY_KEY
def test_what_is_taken_where_it_is_left_out_is_said_once(table: str, key: str) -> None:
    """By the table's own default, which whoever shows the key can ask for, or in words."""
    row, field = described(table, key), FIELDS[table, key]
    if row.required:
        assert row.left_out == ""
    elif field.default is None or field.default == "":
        assert row.left_out
    elif field.default != ():
        assert row.left_out == ""


@EVERY_KEY
def test_its_example_may_stand_in_a_job(table: str, key: str) -> None:
    row = described(table, key)
    needed = {other: described(table, other).example for other in keys_of(table) if described(table, other).required}
    text = "\n".join(f"{name} = {toml_text(value)}" for name, value in {**needed, key: row.example}.items())
    given_so = {**tomllib.loads(text), **GOES_WITH.get((table, key), {})}
    assert given_so[key] == row.example
    model = MODELS[table].model_validate(given_so, context={"unit": Unit.MM})
    name = next(name for name, field in MODELS[table].model_fields.items() if (field.alias or name) == key)
    assert name in model.model_fields_set
    if row.choices:
        assert row.example in row.choices


def test_an_unknown_key_is_an_error() -> None:
    with pytest.raises(KeyError):
        described("board", "heigth")


@given(
    st.recursive(
        st.text(max_size=20) | st.booleans() | st.integers(-(10**9), 10**9) | st.floats(-1e9, 1e9),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from("abc"), inner, max_size=2),
        max_leaves=6,
    )
)
def test_a_value_is_typed_so_that_it_is_read_back(value: Any) -> None:
    assert tomllib.loads(f"key = {toml_text(value)}")["key"] == value
