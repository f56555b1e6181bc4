"""No rule without a job that passes it, one at each of its limits and one beyond."""

from __future__ import annotations

from dovelayout.checks.finding import Level
from dovelayout.checks.rule import Rule
from tests.examples import Judged, every, lacking, overheard
from tests.limits import rules


def test_every_rule_has_examples_that_pass_are_at_and_are_beyond_each_of_its_limits() -> None:
    with overheard() as heard:
        for example in every():
            example()
    lacks = {f"{row.place}.{row.name}": lacking(row.value, heard) for row in rules()}
    lacks = {name: what for name, what in lacks.items() if what}
    assert not lacks, "add to EXAMPLES in the test file of its theme (tests/examples.py says how): " + "; ".join(
        f"{name} needs {', '.join(what)}" for name, what in lacks.items()
    )


def test_a_rule_without_examples_is_noticed() -> None:
    rule = Rule(check="any", measures="anything", unit="mm", warn=10.0, stop=5.0)
    assert lacking(rule, []) == [
        "one that passes",
        "one beyond warn 10",
        "one at warn 10",
        "one beyond stop 5",
        "one at stop 5",
    ]
    heard = [Judged(rule, 12.0, Level.OK), Judged(rule, 9.0, Level.WARN), Judged(rule, 5.1, Level.WARN)]
    assert lacking(rule, heard) == ["one at warn 10", "one beyond stop 5"]
    with overheard() as live:
        rule.judge(10.0)
        rule.judge(4.0)
    assert [(judged.measured, judged.level) for judged in live] == [(10.0, Level.OK), (4.0, Level.STOP)]
    assert lacking(rule, heard + live) == []
