"""Two hundred faulty runs, fifty sound ones and pairs of faults, told apart by the recipes.

The runs are of our own making (`made_runs.py`): every reading in some unit, rounded as a logger
rounds it, gauges missing at random.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import pytest

from site_src.lookups import run_causes
from tests.lookups.made_runs import ENTRIES, SHOWN_BY, SIZES, drive_all, faulty, truck_of, weigh_all

KEYS = [cause.key for cause in run_causes.CAUSES]
PAIRS = list(combinations(KEYS, 2))
OPTIONAL = (*ENTRIES[1:], "run_rest")


@dataclass
class Read:
    """A run that was read: its faults, the gauges there were, what the recipes said."""

    faults: tuple[str, ...]
    gauges: tuple[str, ...]
    said: dict[str, float]

    @property
    def first(self) -> str:
        return KEYS[int(self.said["first"])]

    @property
    def sure(self) -> bool:
        return self.said["verdict"] == run_causes.SURE

    @property
    def shown(self) -> bool:
        """Whether the gauges that show the faults were read."""
        return all(set(SHOWN_BY[fault]) <= set(self.gauges) for fault in self.faults)

    def is_among_those_alike(self, fault: str) -> bool:
        return self.said[f"{fault}_behind"] < 6.0


def read(faults: list[tuple[str, ...]], seed: int, *, all_gauges: bool = False) -> list[Read]:
    """Drive a truck with each of these sets of faults, and read its run."""
    trucks, rngs, gauges = [], [], []
    for n, each in enumerate(faults):
        rng = np.random.default_rng([seed, n])
        truck = truck_of(rng)
        for fault in each:
            truck = faulty(truck, fault, rng)
        trucks.append(truck)
        rngs.append(rng)
        gauges.append(tuple(key for key in OPTIONAL if all_gauges or rng.random() < 0.7))
    runs = list(zip(drive_all(trucks, rngs), gauges, rngs, strict=True))
    return [
        Read(each, there, said)
        for each, there, said in zip(faults, gauges, weigh_all(runs), strict=True)
    ]


@pytest.fixture(scope="module")
def single() -> list[Read]:
    return read([(fault,) for fault in SIZES for _ in range(25)], seed=11)


def test_the_right_cause_is_first_in_nineteen_of_twenty(single):
    shown = [each for each in single if each.shown]
    assert len(single) == 200
    assert len(shown) >= 80
    right = [each for each in shown if each.first == each.faults[0]]
    print(f"{len(right)} of {len(shown)} first", Counter(each.faults[0] for each in shown))
    assert len(right) >= 0.95 * len(shown)


def test_without_the_gauge_that_shows_it_the_right_cause_is_among_those_that_fit(single):
    among = [each for each in single if each.is_among_those_alike(each.faults[0])]
    print(f"{len(among)} of {len(single)} first or alike")
    assert len(among) >= 0.95 * len(single)


def test_no_wrong_cause_is_called_sure(single):
    wrong = [each for each in single if each.sure and each.first != each.faults[0]]
    assert [(each.faults, each.first, each.gauges) for each in wrong] == []


def test_no_fault_is_found_in_a_sound_truck():
    sound = read([()] * 50, seed=12)
    said = Counter(each.said["verdict"] for each in sound)
    assert said == {run_causes.NOTHING: 50}


def test_two_faults_at_once_are_more_than_one():
    pairs = [pair for pair in PAIRS if not LIKE_ONE.intersection([pair, *pair]) for _ in range(3)]
    both = read(pairs, seed=13, all_gauges=True)
    wrong = [each for each in both if each.said["verdict"] != run_causes.SEVERAL]
    print(f"{len(wrong)} of {len(both)} not told", Counter(each.faults for each in wrong))
    assert len(wrong) <= 0.1 * len(both)
    assert not [each for each in wrong if each.sure and each.first not in each.faults]


LIKE_ONE = {("leak", "bypass"), "breathing"}
"""Pairs that leave the signature of one of them; and breathing, which is no fault: every truck's is
a little off, and that is allowed for as an error that all readings share."""
