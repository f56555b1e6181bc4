"""The search for remedies: of what the checks propose, the nearest that clears a finding and brings nothing new anywhere.

A remedy that varies one joint is first looked at on that joint alone, which is quick; what passes there is tried on the job.
Where no single remedy will do against a warning or a stop, sets of them are tried: one for the finding, and one for each
thing that this would bring.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from dovelayout.change import change_words, merged_changes
from dovelayout.checks.finding import Finding, Level
from dovelayout.checks.remedy import Joint, Remedy, no_remedies
from dovelayout.checks.rule import rule_of
from dovelayout.verdict.found import Found
from dovelayout.words import grouped, listed

MOST_PROPOSALS = 240
"""Most proposals for one finding that are tried on their joint alone: all the widths and counts of one kind. Ours."""

MOST_FOLLOW_UPS = 24
"""Most proposals for a finding that a remedy would bring: the nearest; ours."""

MOST_PROPOSALS_IN_ALL = 5000
"""Most proposals in one search: about a second's work; ours."""

MOST_TRIED = 8
"""So many of those that pass on their own are tried on the whole job; where eight fail there, something else is in the way.
Ours."""

MOST_IN_A_SET = 3
"""Most remedies in a set: more than three changes are another design. Ours."""

WIDTH = 3
"""So many proposals are followed at each step towards a set, those first that bring least: 39 sets at most. Ours."""


@dataclass(frozen=True, slots=True)
class _Proposal:
    """A remedy that clears a finding as far as a look at its joint tells, and how many warnings it would bring there."""

    remedy: Remedy
    new_faults: int


class Search:
    """One search, on a job or on less.

    `before` is what was found, `after` tells what is found once a remedy is made (None: it can't be made), and `alone` what
    is found on a single joint. `spent`: whether nothing more is tried.
    """

    def __init__(
        self,
        before: Found,
        *,
        after: Callable[[Remedy], Found | None],
        alone: Callable[[Joint], Iterable[Finding]],
        spent: Callable[[], bool] = lambda: False,
    ) -> None:
        self._before, self._after, self._alone, self._spent = before, after, alone, spent
        self._looks_left = MOST_PROPOSALS_IN_ALL

    def offered(self, findings: Sequence[Finding]) -> list[Finding]:
        """The findings in their order, each with the fix that was found for it."""
        kinds: dict[object, tuple[Remedy | None, list[_Proposal]]] = {}
        chosen: list[Remedy | None] = []
        proposals: list[list[_Proposal]] = []
        for finding in findings:
            kind = _kind(finding)
            if kind not in kinds or not self._suits(finding, kinds[kind][0]):
                kinds[kind] = self._single(finding)
            chosen.append(kinds[kind][0])
            proposals.append(kinds[kind][1])
        faults = [n for n, f in enumerate(findings) if f.level is not Level.NOTE and chosen[n] is None and proposals[n]]
        for group in _groups(faults, proposals):
            for targets in _targets(findings, group):
                if all(chosen[number] is None for number in targets):
                    made = self._set([findings[number] for number in targets], proposals[targets[0]])
                    for number in group if made is not None else ():
                        chosen[number] = chosen[number] or (made if self._suits(findings[number], made) else None)
        return [self._fixed(*row) for row in zip(findings, chosen, proposals, strict=True)]

    def _suits(self, finding: Finding, remedy: Remedy | None) -> bool:
        """Whether what was found for a finding of the same kind holds for this one."""
        return remedy is None or self._passes(finding, remedy)

    def _passes(self, finding: Finding, remedy: Remedy) -> bool:
        after = self._after(remedy)
        return after is not None and not after.remaining(finding, self._before) and not after.new_since(self._before)

    def _proposed(self, finding: Finding, most: int) -> Iterator[_Proposal]:
        """Its remedies, nearest first; of those that vary one joint the ones that clear its rule there."""
        for remedy in itertools.islice(finding.candidates, most):
            if remedy.joint is None:
                yield _Proposal(remedy, 0)
                continue
            self._looks_left -= 1
            if self._looks_left < 0:
                return
            found = Found(self._alone(remedy.joint))
            if not found.remaining(finding, self._before):
                yield _Proposal(remedy, len(found.new_since(self._before)))

    def _single(self, finding: Finding) -> tuple[Remedy | None, list[_Proposal]]:
        """The nearest single remedy that passes, and all that were looked at."""
        looked_at: list[_Proposal] = []
        tried = 0
        for proposal in self._proposed(finding, MOST_PROPOSALS):
            looked_at.append(proposal)
            if proposal.new_faults == 0:
                if self._passes(finding, proposal.remedy):
                    return proposal.remedy, looked_at
                tried += 1
            if tried == MOST_TRIED:
                break
        return None, looked_at

    def _set(self, targets: Sequence[Finding], near: Iterable[_Proposal]) -> Remedy | None:
        """The smallest set of remedies that clears all the targets; `near`: what is proposed for the first of them."""
        steps: list[tuple[Remedy | None, Iterable[_Proposal]]] = [(None, near)]
        for _ in range(MOST_IN_A_SET):
            further: list[tuple[Remedy | None, Iterable[_Proposal]]] = []
            for made, proposals in steps:
                for proposal in sorted(proposals, key=lambda proposal: proposal.new_faults)[:WIDTH]:
                    both = _both(made, proposal.remedy)
                    if (after := self._after(both)) is None:
                        continue
                    remaining = itertools.chain.from_iterable(
                        after.remaining(target, self._before) for target in targets
                    )
                    todo = [*remaining, *after.new_since(self._before)]
                    if not todo:
                        return both
                    further.append((both, self._proposed(todo[0], MOST_FOLLOW_UPS)))
            steps = further
        return None

    def _fixed(self, finding: Finding, remedy: Remedy | None, proposals: Sequence[_Proposal]) -> Finding:
        if remedy is not None:
            fix = f"{remedy.words}, or {finding.fix}" if finding.beside and finding.fix else remedy.words
            return replace(finding, fix=fix, changes=remedy.changes, remedies=no_remedies)
        advice = "" if finding.changes else finding.fix
        fix = "; ".join(filter(None, (self._nearest(finding, proposals), advice)))
        return replace(finding, fix=fix, changes=(), remedies=no_remedies)

    def _nearest(self, finding: Finding, proposals: Sequence[_Proposal]) -> str:
        """What is said where no remedy will do: the nearest one, and why not."""
        for proposal in proposals[:MOST_TRIED]:
            words, after = proposal.remedy.words, self._after(proposal.remedy)
            if after is not None:
                faults = listed(dict.fromkeys(map(_fault, after.new_since(self._before)[:MOST_IN_A_SET])))
                but = f"brings {faults}" if faults else "leaves it as it is"
                return f"no single change clears this; the nearest, {words}, {but}"
            if self._spent():
                return f"{words} might do, but too much hangs on it here to be tried"
        return ""


def _groups(faults: Iterable[int], proposals: Sequence[Sequence[_Proposal]]) -> Iterable[list[int]]:
    """Findings, by their numbers, whose nearest remedies change the same table: they hang together."""
    changes = ((proposals[number][0].remedy.changes[0], number) for number in faults)
    return grouped(((change.table, change.name), number) for change, number in changes).values()


def _targets(findings: Sequence[Finding], group: Sequence[int]) -> Iterable[tuple[int, ...]]:
    """What sets are looked for in a group: for one of each kind together, worst first, then for each by itself."""
    one_of_each = {_kind(findings[number]): number for number in reversed(group)}.values()
    together = sorted(one_of_each, key=lambda number: (-findings[number].level.rank, number))
    return dict.fromkeys((tuple(together), *((number,) for number in together)))


def _both(made: Remedy | None, remedy: Remedy) -> Remedy:
    if made is None:
        return remedy
    changes = merged_changes(made.changes, remedy.changes)
    apart = len(changes) == len(made.changes) + len(remedy.changes)
    words = f"{made.words} and {remedy.words}" if apart else change_words(changes)
    return Remedy(changes=changes, words=words, joint=remedy.joint)


def _kind(finding: Finding) -> object:
    """What is the same of findings that one remedy is likely to clear: said of the corners of one box, say."""
    first = next(iter(finding.candidates), None)
    changes = None if first is None else repr(first.changes)
    return (finding.check, finding.measures, finding.level, finding.message, changes)


def _fault(finding: Finding) -> str:
    """'thin tails at corner A'."""
    rule, place = rule_of(finding), finding.place
    return f"{(rule and rule.fault) or finding.check} at {replace(place, part='', board='', number=None, end='')}"
