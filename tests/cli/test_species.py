"""dovelayout species: the table of woods, one wood, and names that are none."""

from __future__ import annotations

import pytest

from tests.cli import contract
from tests.cli.calling import run, said_as_json


def test_species_lists_all_woods() -> None:
    woods = said_as_json(contract.SPECIES, "species")["woods"]
    assert len(woods) > 50
    result = run("species")
    assert result.exit_code == 0
    flat = " ".join(result.stdout.split())
    assert all(wood["name"] in flat for wood in woods if len(wood["name"]) < 20)


@pytest.mark.parametrize("name", ["cherry", "Black Cherry", "cherry, black", "Prunus serotina"])
def test_species_of_one_wood(name: str) -> None:
    (wood,) = said_as_json(contract.SPECIES, "species", name)["woods"]
    assert wood["name"] == "black cherry"
    assert run("species", name).stdout.startswith("black cherry")


@pytest.mark.parametrize(
    ("name", "fragment"),
    [("chery", "close names: black cherry"), ("soft maple", "could be: red maple"), ("zzz", "no wood"), ("", "a wood")],
)
def test_species_not_known_or_not_one(name: str, fragment: str) -> None:
    for more in ([], ["--json"]):
        result = run("species", name, *more)
        assert (result.exit_code, result.stdout) == (2, "")
        assert result.stderr.startswith("dovelayout: ")
        assert result.stderr.count("\n") == 1
        assert fragment in result.stderr
