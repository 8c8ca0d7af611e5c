"""Hold points: what is declared of them, and the rules by which a job is called ready."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from site_src.data.reader import DataError, read
from site_src.holds import HoldPoint, hold_stages, stages_spec
from site_src.lookups import all_lookups
from site_src.pages import all_pages
from tests.site.node_checks import names_in, run_checks

CHECKS = Path(__file__).with_name("holds_checks.mjs")
SCRIPTS = Path(__file__).parents[2] / "site_src" / "static" / "js"
NAMES = names_in(CHECKS)

POINTS = {point.key: point for stage in hold_stages() for point in stage.points}

NEEDED = {
    "blower_oil": ("Blower oil", "level"),
    "knock_sensors": ("Knock sensors clear", "plugged in"),
    "harness_slack": ("Harness slack",),
    "loop_flow": ("bled", "return"),
    "fuel_tight": ("pressure", "before the engine is cranked"),
    "throttle_free": ("freely", "closes"),
    "bypass_moves": ("Bypass opens at idle",),
    "check_valves": ("Brake booster", "breather", "boost"),
    "belt_route": ("two full turns", "by hand"),
    "maps": ("Every tightening map",),
    "tools_out": ("Tools", "rags"),
    "truck_safe": ("stands",),
    "extinguisher": ("Extinguisher",),
}
"""What has to be held before the engine is cranked, and the words that say so."""


def before_key() -> list[HoldPoint]:
    return [p for s in hold_stages() if s.when == "before the key" for p in s.points]


@pytest.mark.parametrize("key", NEEDED)
def test_what_can_ruin_the_engine_or_hurt_someone_is_held_before_the_key(key: str) -> None:
    assert POINTS[key] in before_key()
    for words in NEEDED[key]:
        assert words in POINTS[key].check


def test_the_blower_s_oil_stands_above_all_and_right_before_the_key() -> None:
    assert [p.key for p in POINTS.values() if p.role == "above all"] == ["blower_oil"]
    last = [stage for stage in hold_stages() if stage.when == "before the key"][-1]
    assert last.points[0].key == "blower_oil"


def test_bypass_is_seen_open_at_idle_and_shut_under_load() -> None:
    after = {p.key: s.when for s in hold_stages() for p in s.points}
    assert after["idle_bypass"] == "at the first start"
    assert after["bypass_shut"] == "after heat"


def test_re_torque_and_re_tension_come_after_heat_and_one_point_starts_them() -> None:
    heat = [p.check for s in hold_stages() if s.when == "after heat" for p in s.points]
    assert any("Bolts gone over again" in check for check in heat)
    assert any("tension measured again" in check for check in heat)
    assert [p.key for p in POINTS.values() if p.role == "starts"] == ["started"]


def test_no_two_points_have_one_key_and_each_leads_to_a_page_that_is_there() -> None:
    keys = [p.key for s in hold_stages() for p in s.points]
    assert len(keys) == len(set(keys)) == len(POINTS)
    assert not any(key.startswith(("own ", "new-")) for key in keys)
    there = {each.key for each in (*all_lookups(), *all_pages())}
    assert {p.page for p in POINTS.values() if p.page} <= there


def test_the_start_leads_to_its_card_and_the_hand_over_to_the_record() -> None:
    for key in ("gauges_live", "started", "pulls_done"):
        assert POINTS[key].page == "first-start"
    assert POINTS["handover"].page == "record"


def test_every_point_says_how_it_is_seen_and_against_what_and_where_it_is_from() -> None:
    for point in POINTS.values():
        assert point.see.endswith(".")
        assert point.against.endswith(".")
        assert not point.check.endswith(".")
        assert (point.source, point.mark) == (
            "The trade's own practice; the maker's instructions come first",
            "common practice",
        )


def test_stages_stand_in_the_order_of_the_job() -> None:
    order = ["before the key", "at the first start", "after heat"]
    assert [order.index(s.when) for s in hold_stages()] == sorted(
        order.index(s.when) for s in hold_stages()
    )


def test_a_misspelt_role_is_refused_with_its_line(tmp_path: Path) -> None:
    from site_src import holds

    text = Path(holds.__file__).with_name("points.toml").read_text(encoding="utf-8")
    path = tmp_path / "points.toml"
    path.write_text(text.replace('"above all"', '"above it"'), encoding="utf-8")
    with pytest.raises(DataError, match=r"line \d+: stage 6\.point 1\.role is \"above it\""):
        read(path, lambda file: file.rows("stage", holds._stage))


@pytest.fixture(scope="module")
def results() -> dict[str, str]:
    if shutil.which("node") is None:
        pytest.skip("Node is not on this machine")
    return run_checks(CHECKS, SCRIPTS, stages_spec())


@pytest.mark.parametrize("name", NAMES)
def test_rules(name: str, results: dict[str, str]) -> None:
    assert results[name] == ""


def test_no_rule_is_left_out(results: dict[str, str]) -> None:
    assert sorted(results) == sorted(NAMES)
    assert len(NAMES) > 15
