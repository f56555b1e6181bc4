"""No limit without a word on where it comes from: a publication, common practice, or ourselves."""

from __future__ import annotations

import ast
import inspect

import pytest

from dovelayout.checks import rule as declared
from dovelayout.checks.rule import RULES, Rule, all_words
from tests.limits import MARKS, PAGE, SOURCES, Named, figures, modules, rules, unregistered, written


def _name(row: Named) -> str:
    return f"{row.place}.{row.name}"


@pytest.mark.parametrize("row", rules(), ids=_name)
def test_a_rule_says_what_it_measures_in_what_unit_and_where_its_limit_comes_from(row: Named) -> None:
    rule: Rule = row.value
    assert rule.measures
    assert rule.unit or rule.note is rule.warn is rule.stop is None, "so or not so: nothing is measured"
    assert SOURCES.search(rule.source), f"{_name(row)}: name a publication, say 'ours' or 'common practice, no source'"


def test_every_rule_is_registered_and_tells_people_why_and_what_it_looks_like() -> None:
    assert not unregistered()
    for rule in RULES.values():
        for words in (rule.why, rule.example):
            assert words[:1].isupper() or words[:1].isdigit(), (rule.check, words)
            assert words.endswith("."), (rule.check, words)
            assert len(words) < 300, (rule.check, words)
        assert rule.fault, rule.check
        assert rule.fault == rule.fault.strip(" ."), rule.check


def test_no_sentence_is_left_of_a_check_that_is_gone() -> None:
    assert set(all_words()) <= {rule.check for rule in RULES.values()}


@pytest.mark.parametrize("row", figures(), ids=_name)
def test_a_figure_says_where_it_comes_from_right_under_it(row: Named) -> None:
    assert SOURCES.search(row.said), (
        f"{_name(row)}: a docstring right under it says what it is and names a publication, 'ours', 'common practice, no "
        "source', 'from memory' or 'by definition'"
    )


def test_the_walk_finds_rules_and_figures() -> None:
    assert len(rules()) > 40
    assert len(figures()) > 40
    assert {row.place.split(".")[0] for row in rules()} >= {"checks", "glueup", "repair"}


def test_no_rule_is_made_where_the_walk_does_not_see_it() -> None:
    """A rule has a name at the top of its module, or is what a maker of rules with such names gives back."""
    for module in (module for module in modules() if module is not declared):
        tree = ast.parse(inspect.getsource(module))
        makers = {
            s.value for f in ast.walk(tree) if isinstance(f, ast.FunctionDef) for s in f.body if type(s) is ast.Return
        }
        named = {s.value for s in tree.body if isinstance(s, ast.Assign | ast.AnnAssign)} | makers
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("Rule", "rule"):
                assert node in named, f"{module.__name__}, line {node.lineno}: give this rule a name of its own"


def test_the_table_of_limits_is_fresh() -> None:
    page = PAGE.read_text(encoding="utf-8")
    assert all(page.count(mark) == 1 for mark in MARKS)
    assert written(page) == page, "limits have changed: run python -m tests.limits --write"
