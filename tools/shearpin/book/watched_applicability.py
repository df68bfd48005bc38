"""Applicability that notes what is asked of it."""

from __future__ import annotations

from shearpin.book.applicability import Applicability
from shearpin.book.inputs import ENGINE_OF, EVERYWHERE, FACTS, MACHINES_FOR, REASONS_AGAINST
from shearpin.book.ledger import Ledger
from shearpin.book.noted import note_when_asked_for
from shearpin.book.numbering import Numbers
from shearpin.model.conditiontext import text_of
from shearpin.model.fields import AppliesTo


class WatchedApplicability(Applicability):
    """Applicability, noted condition by condition: another feature of a machine changes what few of them hold for."""

    _plain: Applicability
    _ledger: Ledger
    _conditions: Numbers
    _engines: Numbers
    _by_identity: dict[int, tuple[AppliesTo, int]]  # type: ignore[assignment]

    def __init__(self, plain: Applicability, ledger: Ledger) -> None:
        vars(self).update(
            _plain=plain,
            _ledger=ledger,
            _by_identity={},
            _conditions=ledger.numbers(MACHINES_FOR),
            _engines=ledger.numbers(ENGINE_OF),
        )

    def machines_for(self, condition: AppliesTo | None) -> frozenset[str]:
        ledger = self._ledger
        if ledger.now is not None:
            if condition is None:
                ledger.now.add(ledger.alone[EVERYWHERE])
            else:
                known = self._by_identity.get(id(condition))
                if known is None:  # the condition is kept, so that its identity cannot pass to another
                    known = condition, self._conditions[text_of(condition)]
                    self._by_identity[id(condition)] = known
                ledger.now.add(known[1])
        return self._plain.machines_for(condition)

    def reason_against(self, condition: AppliesTo | None, machine_id: str) -> str | None:
        if condition is not None:
            self._ledger.note(REASONS_AGAINST, text_of(condition))
        return self._plain.reason_against(condition, machine_id)

    def engine_of(self, machine_id: str) -> str | None:
        if self._ledger.now is not None:
            self._ledger.now.add(self._engines[machine_id])
        return self._plain.engine_of(machine_id)


note_when_asked_for(WatchedApplicability, FACTS, "machines", "classes", "features")
note_when_asked_for(WatchedApplicability, EVERYWHERE, "everywhere")
note_when_asked_for(WatchedApplicability, "order of machines", "in_order")
