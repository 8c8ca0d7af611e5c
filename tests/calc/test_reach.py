"""Everything in `calc` is there for the site: nothing in it is reached by tests alone.

A name counts as reached when the site's Python names it, or something reached does. What only a
test needs, such as an independent way to the same number, lives with the tests.
"""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

AHEAD_OF_ITS_PAGE = {
    "belt_route.hub_load_vector": "for the loads on the belt route page",
    "belt_route.length_gradient": "for the tensioner's travel on the belt route page",
    "belt_route.span_tensions": "for the loads on the belt route page",
    "belts.hub_load": "for the load on the nose, at rest and running",
    "belts.wrap_for_slack": "for a sprung tensioner on the belt page",
    "fuel.pump_electrical_power": "for a fuel pump whose current nobody has measured",
    "fuel.pump_flow_at_voltage": "for a pump whose maker gives its flow at two voltages",
    "threads.engaged_length": "for the strip check of a bolt whose length is known",
    "tone.hear_pluck": "the phone's own listening is held to it",
    "tone.median_and_spread": "the phone's own listening is held to it",
    "turning.one_way_share": "the phone's own reading of an angle is held to it",
    "turning.turned_angle": "the phone's own reading of an angle is held to it",
    "wrenches.plausible_units": "for a torque figure read in the wrong unit",
}
"""What no page reaches yet, and what it waits for."""


class Code:
    """One Python file: what its names stand for, and what it defines."""

    def __init__(self, path: Path) -> None:
        self.tree = ast.parse(path.read_text(encoding="utf-8"))
        self.modules: dict[str, str] = {}
        self.names: dict[str, str] = {}
        for node in ast.walk(self.tree):
            if isinstance(node, ast.ImportFrom):
                self._note(node)

    def _note(self, node: ast.ImportFrom) -> None:
        """Take down what an import from `calc` brings in, and under which name."""
        package, _, module = (node.module or "").partition(".")
        if package == "calc":
            for each in node.names:
                name = each.asname or each.name
                if module:
                    self.names[name] = f"{module}.{each.name}"
                else:
                    self.modules[name] = each.name

    def mentions(self, node: ast.AST) -> Iterator[str]:
        """Names of `calc` that a piece of the file mentions."""
        for each in ast.walk(node):
            match each:
                case ast.Name(id=name) if name in self.names:
                    yield self.names[name]
                case ast.Attribute(value=ast.Name(id=module), attr=name) if module in self.modules:
                    yield f"{self.modules[module]}.{name}"


def definitions(tree: ast.Module) -> Iterator[tuple[str, ast.stmt]]:
    """Each name that a file defines at its top level, and where."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield node.name, node
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            for each in (each for target in targets for each in ast.walk(target)):
                if isinstance(each, ast.Name):
                    yield each.id, node


def defined() -> dict[str, set[str]]:
    """Each name of `calc` as `module.name`, and the names that its definition mentions."""
    uses = {}
    for path in (ROOT / "calc").glob("*.py"):
        code = Code(path)
        found = list(definitions(code.tree))
        code.names |= {name: f"{path.stem}.{name}" for name, _ in found}
        uses |= {code.names[name]: set(code.mentions(node)) for name, node in found}
    return uses


USES = defined()


def reached(names: Iterable[str]) -> set[str]:
    """These names of `calc`, and all that they use."""
    found: set[str] = set()
    ahead = set(names) & USES.keys()
    while ahead:
        found |= ahead
        ahead = {each for name in ahead for each in USES[name]} & USES.keys() - found
    return found


@pytest.fixture(scope="module")
def by_the_site() -> set[str]:
    """Names of `calc` that the site reaches."""
    files = [Code(path) for path in (ROOT / "site_src").rglob("*.py")]
    return reached(name for code in files for name in code.mentions(code.tree))


def test_nothing_in_calc_is_reached_by_tests_alone(by_the_site):
    assert sorted(USES.keys() - by_the_site - reached(AHEAD_OF_ITS_PAGE)) == []


def test_nothing_waits_for_a_page_that_reaches_it_already(by_the_site):
    assert sorted(AHEAD_OF_ITS_PAGE.keys() & by_the_site) == []
    assert sorted(AHEAD_OF_ITS_PAGE.keys() - USES.keys()) == []
