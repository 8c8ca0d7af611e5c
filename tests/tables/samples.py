"""Set-ups for tests, and what Python's recipe makes of them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, islice
from typing import Any

from site_src.model.answers import UNCHECKED, WITHIN
from site_src.model.lookup import Lookup
from site_src.proof.comparison import set_ups
from site_src.tables.recipe import Fault, Run

FRESH = 1_000_000
"""Number of the first test point: the build's own proof starts at 1 and never gets here."""


def inputs(lookup: Lookup, count: int, start: int = FRESH) -> list[dict[str, Any]]:
    """Return set-ups spread through the ranges, as plain dicts in declared units."""
    return list(islice(_rows(lookup, count, start), count))


def _rows(lookup: Lookup, count: int, start: int) -> Iterator[dict[str, Any]]:
    # Half of them where the page says that it has answers, the rest through all ranges.
    likely = [lookup.likely(count // 2, start)] if lookup.likely else []
    for batch in chain(likely, set_ups(lookup, count, start, edges=False)):
        keys = list(batch)
        for values in zip(*batch.values(), strict=True):
            yield dict(zip(keys, values, strict=True))


def python_results(lookup: Lookup, rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return answers, faults and statuses of each set-up, as JavaScript states them."""
    results: list[dict[str, Any]] = []
    for group in _alike(lookup, rows):
        run = lookup.run(lookup.filled(group))
        columns = {answer.key: run.symbols[answer.key] for answer in lookup.answers}
        bands = {
            answer.key: (run.column(answer.band.limit), run.column(answer.band.near))
            for answer in lookup.answers
            if answer.band
        }
        for n in range(len(group)):
            result: dict[str, Any] = {"answers": {}, "faults": {}, "status": {}, "unjudged": {}}
            for answer in lookup.answers:
                column = columns[answer.key]
                if column.fault[n]:
                    fault = run.faults.known[column.fault[n] - 1]
                    result["faults"][answer.key] = _said(fault)
                    continue
                value = float(column.values[n])
                result["answers"][answer.key] = answer.declared.from_si(value)
                if answer.band:
                    limit, near = bands[answer.key]
                    if code := limit.fault[n] or near.fault[n]:
                        fault = run.faults.known[code - 1]
                        if fault.kind == "blank" and answer.band.unchecked:
                            result["status"][answer.key] = UNCHECKED
                        else:
                            result["unjudged"][answer.key] = _said(fault)
                    else:
                        ends = float(limit.values[n]), float(near.values[n])
                        status = answer.band.status(value, *ends)
                        mistake = _mismatch(run, n) if status == WITHIN else None
                        result["status"][answer.key] = UNCHECKED if mistake else status
                        if mistake:
                            result["unjudged"][answer.key] = _said(mistake)
            results.append(result)
    return results


def explained(lookup: Lookup, row: dict[str, Any]) -> dict[str, Any]:
    """Return what Python makes of one set-up that may be wrong or incomplete, as JavaScript does.

    What is missing or can't be used makes a difference here, where `python_results` takes for
    granted that all is entered and in range.
    """
    outcome = lookup.explain(row)
    return {
        "answers": outcome.answers,
        "faults": {key: _said(fault) for key, fault in outcome.faults.items()},
        "status": outcome.status,
        "unjudged": {key: _said(fault) for key, fault in outcome.unjudged.items()},
    }


def _mismatch(run: Run, n: int) -> Fault | None:
    """Return the fault of a choice that doesn't go together with another one in a set-up."""
    codes = (int(fault[n]) for _, fault in run.choices.values())
    return next((run.faults.known[code - 1] for code in codes if code), None)


def _said(fault: Fault) -> list[str]:
    return [fault.kind, fault.symbol, fault.say]


def _alike(lookup: Lookup, rows: list[dict[str, Any]]) -> Iterator[list[dict[str, Any]]]:
    """Yield runs of set-ups that share their lists of parts, which a batch must."""
    lists = [key for key in rows[0] if isinstance(rows[0][key], list)]
    group: list[dict[str, Any]] = []
    for row in rows:
        if group and any(row[key] != group[-1][key] for key in lists):
            yield group
            group = []
        group.append(row)
    yield group
