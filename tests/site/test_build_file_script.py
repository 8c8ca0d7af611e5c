"""The phone reads build files: TOML as Python does, and then as what a phone would have saved."""

from __future__ import annotations

import json
import re
import string
import subprocess
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import asdict
from pathlib import Path
from random import Random
from typing import Any, TypeAlias

import pytest
from hypothesis import given
from hypothesis import strategies as st

from site_src.builds import FOLDER, load_build
from site_src.builds.phone import contents
from site_src.lookups import sheets
from site_src.model.quantities import all_quantities
from tests.node import needs_node

HERE = Path(__file__).parent
SCRIPTS = HERE.parents[1] / "site_src" / "static" / "js"

pytestmark = needs_node

Ask: TypeAlias = Callable[..., dict[str, Any]]
"""Ask the phone's scripts; the answer is the data, what was refused, or what broke."""

KIT = {
    "quantities": {
        quantity.key: {"units": [asdict(unit) for unit in quantity.units]}
        for quantity in all_quantities()
    },
    "makers": sheets.spec(),
}


@pytest.fixture(scope="module")
def ask() -> Iterator[Ask]:
    """A Node that reads one file after the other."""
    command = ["node", str(HERE / "build_file_many.mjs"), str(SCRIPTS)]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, encoding="utf-8"
    ) as node:
        assert node.stdin
        assert node.stdout
        to_node, from_node = node.stdin, node.stdout

        def answer(do: str, **request: object) -> dict[str, Any]:
            to_node.write(json.dumps({"do": do, **request}) + "\n")
            to_node.flush()
            found: dict[str, Any] = json.loads(from_node.readline())
            return found

        yield answer


def alike(value: Any) -> Any:
    """Return data as both languages have them: a number is one, whole or not."""
    if isinstance(value, dict):
        return {key: alike(each) for key, each in value.items()}
    if isinstance(value, list):
        return [alike(each) for each in value]
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    # In Python true equals 1.
    return f"flag {value}" if isinstance(value, bool) else value


# --- any document --------------------------------------------------------------------------------

LETTERS = st.characters(exclude_categories=["Cs"], exclude_characters="\ufffd")
PLAIN_KEYS = st.text(string.ascii_letters + string.digits + "_-", min_size=1, max_size=6)
KEYS = PLAIN_KEYS | st.sampled_from(["__proto__", "constructor", "", "12"]) | st.text(LETTERS)
SINGLES = (
    st.text(LETTERS)
    | st.text("'\"\\\n\t x#")
    | st.integers(-(2**53) + 1, 2**53 - 1)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.booleans()
)
DOCUMENTS = st.dictionaries(
    KEYS,
    st.recursive(
        SINGLES,
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
        max_leaves=12,
    ),
    max_size=5,
)


class Writer:
    """Writes data as TOML, each time in another of the ways that there are."""

    def __init__(self, rng: Random) -> None:
        """Write as chance will have it."""
        self.rng = rng
        self.lines: list[str] = []

    def document(self, data: dict[str, Any]) -> str:
        """Return a whole document."""
        self._body((), data)
        text = "\n".join(self.lines) + self.rng.choice(["", "\n", "\n# end"])
        return text.replace("\n", "\r\n") if self.rng.random() < 0.3 else text

    def _body(self, path: tuple[str, ...], table: dict[str, Any]) -> None:
        """Write a table's own pairs, then the tables below it that have a header."""
        below = {k: v for k, v in table.items() if _is_headed(v) and self.rng.random() < 0.6}
        for key, value in table.items():
            if key not in below:
                self._pairs((key,), value)
        for key, value in below.items():
            self._headed((*path, key), value)

    def _pairs(self, keys: tuple[str, ...], value: Any) -> None:
        """Write a pair, or a table as dotted keys."""
        if isinstance(value, dict) and value and self.rng.random() < 0.5:
            for key, each in value.items():
                self._pairs((*keys, key), each)
            return
        blank = self._blank
        self._line(f"{self._keys(keys)}{blank()}={blank()}{self._value(value)}")

    def _headed(self, path: tuple[str, ...], value: Any) -> None:
        """Write a table, or a list of tables, with headers."""
        if isinstance(value, list):
            for row in value:
                self._line(f"[[{self._keys(path)}]]")
                self._body(path, row)
            return
        # The header of a table that only holds others may be left out.
        if not (value and all(isinstance(v, dict) for v in value.values()) and self._chance()):
            self._line(f"[{self._keys(path)}]")
            self._body(path, value)
            return
        for key, each in value.items():
            self._headed((*path, key), each)

    def _line(self, text: str) -> None:
        """Write a line, with what may stand around it."""
        if self.rng.random() < 0.2:
            self.lines.append(self.rng.choice(["", "  ", "# a [comment] = “x” ", "\t#"]))
        self.lines.append(self._blank() + text + self.rng.choice(["", " ", " # said", "\t#"]))

    def _blank(self) -> str:
        return self.rng.choice(["", " ", " ", "\t "])

    def _chance(self) -> bool:
        return self.rng.random() < 0.5

    def _keys(self, keys: tuple[str, ...]) -> str:
        return f"{self._blank()}.{self._blank()}".join(map(self._key, keys))

    def _key(self, key: str) -> str:
        if re.fullmatch(r"[A-Za-z0-9_-]+", key) and self._chance():
            return key
        return self._short(key)

    def _value(self, value: Any) -> str:
        if isinstance(value, bool):
            return "true" if value else "false"
        if isinstance(value, str):
            return self._long(value) if self.rng.random() < 0.3 else self._short(value)
        if isinstance(value, int | float):
            return self._number(value)
        if isinstance(value, dict):
            pairs = (
                f"{self._blank()}{self._keys((k,))}{self._blank()}={self._blank()}{self._value(v)}"
                for k, v in value.items()
            )
            return f"{{{','.join(pairs)}{self._blank()}}}"
        gap = self._gap
        listed = ",".join(f"{gap()}{self._value(each)}{gap()}" for each in value)
        return f"[{listed}{',' if value and self._chance() else ''}{gap()}]"

    def _gap(self) -> str:
        return self.rng.choice(["", " ", "\n", "\n\t# one, two]\n  "])

    def _number(self, value: float) -> str:
        text = repr(value)
        if isinstance(value, int):
            text = re.sub(r"(?<=\d)(?=(\d{3})+$)", self.rng.choice(["", "_"]), text)
        elif self._chance():
            text = text.upper()
        return self.rng.choice(["", "+"]) + text if value > 0 else text

    def _short(self, text: str) -> str:
        if re.fullmatch(r"[^'\x00-\x08\x0a-\x1f\x7f]*", text) and self._chance():
            return f"'{text}'"
        return f'"{"".join(self._letter(each, "") for each in text)}"'

    def _long(self, text: str) -> str:
        start = self.rng.choice(["", "\n"]) if not text.startswith("\n") else "\n"
        literal = re.fullmatch(r"[^\x00-\x08\x0b-\x1f\x7f]*", text) and "'''" not in text
        if literal and not text.endswith("'") and self._chance():
            return f"'''{start}{text}'''"
        parts = []
        for each in text:
            parts.append(self._letter(each, "\n"))
            if self.rng.random() < 0.1:
                # Blanks and line ends after it are swallowed, so it can't stand before one of them.
                parts.append("\\\n \t\n")
        body = "".join(parts)
        if re.search(r"\\\n \t\n[ \t\n]", body):
            body = body.replace("\\\n \t\n", "")
        return f'"""{start}{body}"""'

    def _letter(self, letter: str, kept: str) -> str:
        """Write a letter between double quotes; `kept` may stand there besides."""
        short = {"\b": "b", "\t": "t", "\n": "n", "\f": "f", "\r": "r", '"': '"', "\\": "\\"}
        code = ord(letter)
        must = letter in '"\\' or (code < 32 and letter not in "\t" + kept) or code == 127
        if not must and self.rng.random() < 0.9:
            return letter
        if letter in short and self._chance():
            return f"\\{short[letter]}"
        return f"\\u{code:04x}" if code < 0x10000 and self._chance() else f"\\U{code:08X}"


def _is_headed(value: Any) -> bool:
    """Whether something can be written under headers of its own."""
    if isinstance(value, list):
        return bool(value) and all(isinstance(each, dict) for each in value)
    return isinstance(value, dict)


@given(data=DOCUMENTS, rng=st.randoms(use_true_random=False))
def test_a_document_is_read_as_python_reads_it(ask: Ask, data: dict[str, Any], rng: Random) -> None:
    text = Writer(rng).document(data)
    assert tomllib.loads(text) == data
    assert alike(ask("toml", text=text).get("data")) == alike(data), text


LEFT_OUT = (
    r"Line \d+: (“.*” is (a date or a time|not a decimal number|no number that can be worked with)"
    r"|.* is too large to be kept exactly)"
)
"""What TOML has and the phone's reader refuses."""


@given(
    data=DOCUMENTS,
    rng=st.randoms(use_true_random=False),
    sign=st.sampled_from([*"[]{}.,=\"'#\\\n\r\t 019_-+eftxa:", "\x00", "[[", "]]", "'''", '"""']),
    at=st.floats(0, 1),
    gone=st.integers(0, 2),
)
def test_what_python_refuses_is_refused(
    ask: Ask, data: dict[str, Any], rng: Random, sign: str, at: float, gone: int
) -> None:
    text = Writer(rng).document(data)
    place = int(at * len(text))
    text = text[:place] + sign + text[place + gone :]
    try:
        expected = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        assert re.match(r"Line \d+: .+\. .+\.$", ask("toml", text=text).get("refused", "")), text
        return
    found = ask("toml", text=text)
    if "refused" in found:
        assert re.match(LEFT_OUT, found["refused"], re.DOTALL), text
    else:
        assert alike(found["data"]) == alike(expected), text


FEW_KEYS = st.lists(st.sampled_from("abc"), min_size=1, max_size=3).map(".".join)
LINES = (
    FEW_KEYS.map("[{}]".format)
    | FEW_KEYS.map("[[{}]]".format)
    | st.builds("{} = {}".format, FEW_KEYS, st.sampled_from(["1", "{}", "[]", "[{}]"]))
    | st.builds("{} = {{ {} = 1, {} = 2 }}".format, FEW_KEYS, FEW_KEYS, FEW_KEYS)
)


@given(lines=st.lists(LINES, max_size=6))
def test_tables_are_opened_and_closed_as_python_does(ask: Ask, lines: list[str]) -> None:
    text = "\n".join(lines)
    found = ask("toml", text=text)
    try:
        assert alike(found.get("data")) == alike(tomllib.loads(text)), text
    except tomllib.TOMLDecodeError:
        assert re.match(rf"Line [1-{len(lines)}]: “", found.get("refused", "")), text


WHOLE = r'''
# Every construct.
bare_key-1 = "basic \"quoted\" \\ \t \u00e9 \U0001F527" # and a comment
"quoted key" = 'literal \ as it is'
'literal key' = ""
"" = "under an empty key"
a . "b.c" . d = 1
a.e = 2
long = """
First line
second \
    line, with ""two quotes"" and one more""""
raw = \'\'\'
C:\none
''two'' quotes\'\'\''
numbers = [0, -0, +7, 1_200, -3.5, 1e3, 6.02E+23, 1_0.2_5, -0.0]
flags = [true, false]
mixed = [
  1, # one
  "two", [3.0, []],
  { four = 4, five.six = [5, 6], "se ven" = {} },
]

[table]
key = "12.5 mm"
inner.dotted = 1
inner.other = 2

[table.below]
x = 1

[after.before.it]
y = 1

[after]
z = 1
[after.before]
z = 2

[[rows]]
n = 1
[rows.own]
of = 1
[[rows.list]]
deep = 1
[[rows.list]]
deep = 2

[[rows]]

[ rows . own ]
of = 2
'''.replace("\\'", "'")


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["line feeds", "carriage returns"])
def test_every_construct(ask: Ask, end: str) -> None:
    text = WHOLE.replace("\n", end)
    expected = tomllib.loads(text)
    assert expected["long"].endswith('one more"')
    assert expected["raw"].endswith("quotes'")
    assert alike(ask("toml", text=text)["data"]) == alike(expected)


def test_an_empty_document_is_an_empty_table(ask: Ask) -> None:
    for text in ("", "\n\n", "  # said", "\t"):
        assert ask("toml", text=text) == {"data": {}}


# --- what is refused -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("a = 1\nb = 2026-03-02", 2, '“2026-03-02” is a date or a time. Put it in "quotes".'),
        ("a = 2026-03-02T10:15:00Z", 1, "is a date or a time"),
        ("a = 10:15:00", 1, "is a date or a time"),
        ("a = 0x1F", 1, "“0x1F” is not a decimal number. Write it in decimal."),
        ("a = 0o17", 1, "not a decimal number"),
        ("a = 0b1", 1, "not a decimal number"),
        ("a = -inf", 1, "no number that can be worked with. Leave the entry out."),
        ("a = nan", 1, "no number that can be worked with"),
        ("a = 9007199254740993", 1, "too large to be kept exactly"),
        ("a = 1e999", 1, "too large to be kept exactly"),
        ("a = 012", 1, "begins with a nought too many"),
        ("a = 1__2", 1, "“1__2” is not a number. Write it as 12, 12.5 or 1_200"),
        ("a = .5", 1, "is not a number"),
        ("a = 12,5", 1, "“,5” stands where the line should end"),
        ("a = 12 mm", 1, "“mm” stands where the line should end. Put a text in"),
        ("a = PK", 1, '“PK” is not a value. Put a text in "quotes"'),
        ("a = True", 1, "has a capital. Write true or false in small letters"),
        ("a =", 1, "the file ends where a value is due"),
        ("\n\na =\nb = 1", 3, "the line ends where a value is due"),
        ("a", 1, "the file ends where = is due after “a”"),
        ("größe = 1", 1, "“öße = 1” stands where = is due after “gr”. A key has letters a to z"),
        ("= 1", 1, "“= 1” stands where a key is due"),
        ("a. = 1", 1, "“= 1” stands where a key is due"),
        ('a = 1\n\na = "x"', 3, "“a” is there already. Take one of them out."),
        ("a.b = 1\na.b = 2", 2, "“a.b” is there already"),
        ("[a]\n[b]\n[a]", 3, "“a” is there already"),
        ("[[a]]\n[a]", 2, "“a” is there already"),
        ("[a]\n[[a]]", 2, "“a” is there already"),
        ("a = []\n[[a]]", 2, "“a” is there already"),
        ("a.b = 1\n[a]", 2, "“a” is there already"),
        ("[a.b]\n[a]\nb.c = 1", 3, "“b” is complete above"),
        ("a = { b = 1 }\na.c = 2", 2, "“a” is complete above"),
        ("a = { b = 1 }\n[a.c]", 2, "“a” is complete above"),
        ("a = { b = { c = 1 }, b.d = 2 }", 1, "“b” is complete above"),
        ("a = 1\na.b = 2", 2, "“a” is complete above"),
        ("a = { b = 1, }", 1, "a comma stands before the closing }. Take the comma out."),
        ("a = { b = 1\n}", 1, "the line ends where a comma or } is due"),
        ("a = {\nb = 1 }", 1, "the line ends where a key is due"),
        ("\na = [1,\n2\nb = 1", 4, "“b = 1” stands where a comma or ] is due in the list that"),
        ("\na = [1,\n2\nb = 1", 4, "begins on line 2. Add it."),
        ("a = [1,\n\n", 3, "the file ends where a value is due"),
        ("a = [,]", 1, "“,]” stands where a value is due"),
        ('a = "open\nb = 1', 1, "the text that begins here is never closed. Add its quote."),
        ('a = "open\\\nb = 1', 1, "the text that begins here is never closed"),
        ("b = 1\na = '''\nopen\n''", 2, "the text that begins here is never closed"),
        ('a = "\\x"', 1, "“\\x” stands for nothing in a text. Write a backslash twice"),
        ('a = "\\ud800"', 1, "stands for nothing"),
        ('a = "\\U00110000"', 1, "stands for nothing"),
        ('a = """\n\x07"""', 2, "a control character stands in a text. Take it out."),
        ("# \x00", 1, "a control character stands"),
        ("a = 1\rb = 2", 1, "a control character stands where the line should end"),
        ("[a", 1, "the file ends where ] is due. Close the table's header."),
        ("[[a]", 1, "“]” stands where ]] is due"),
        ("[]", 1, "“]” stands where a key is due"),
        ("[a] b = 1", 1, "“b = 1” stands where the line should end"),
        ("a = 1 b = 2", 1, "“b = 2” stands where the line should end"),
        ("a = 1\n\nb = '\ufffd'", 3, "a letter is not in UTF-8. Save the file as UTF-8."),
        (f"{'a.' * 50}a = 1", 1, "in one another more than 40 deep"),
    ],
)
def test_a_refusal_names_the_line_and_the_way_out(
    ask: Ask, text: str, line: int, said: str
) -> None:
    for end in ("\n", "\r\n"):
        message = ask("toml", text=text.replace("\n", end))["refused"]
        assert message.startswith(f"Line {line}: ")
        assert said in message


def test_no_key_means_anything_of_its_own(ask: Ask) -> None:
    text = (
        "[__proto__]\npolluted = 1\n[constructor.prototype]\npolluted = 1\n"
        "[toString]\nvalueOf.polluted = 1\n[hasOwnProperty]\n__proto__ = { polluted = 1 }"
    )
    assert ask("hostile", text=text)["data"] == {
        "keys": ["__proto__", "constructor", "toString", "hasOwnProperty"],
        "strange": [],
        "prototype": None,
        "spoilt": False,
    }
    assert alike(ask("toml", text=text)["data"]) == tomllib.loads(text)


@pytest.mark.parametrize("opening", ["[", "{a=", "[{a=", "[\n", "{a.b="])
def test_what_is_too_deep_is_refused_in_words(ask: Ask, opening: str) -> None:
    found = ask("deep", opening=opening, count=100_000)
    assert "more than 40 deep" in found.get("refused", found)


# --- a build file --------------------------------------------------------------------------------

JOB = """
name = "Shop's  own (invented)"
note = "For nobody else."

[entries]
engine_displacement = "5.6 L"
crank_pulley = "7 1/4 in"
altitude = "-12.5 m"
cylinders = 8
gear = 1.0
fuel = "e10"
throttle_bore = ""
blower_pulley = { text = "96", unit = "mm" }
loop_runs = [{ run_size = "0.75in", run_length = "2 m", run_bends = 3 }, {}]

[[entries.circuits]]
circuit_load = "fan"
circuit_current = "18 A"

[entries.slip]
engine_speed = "6000 rpm"

[[figures]]
kind = "torque"
name = "Lid"
choices = { thread = "M8x1.25" }
values = { maker_torque = "24 Nm", maker_angle = "90 deg" }
texts = { sequence = "12 mm first" }
source = "Invented sheet"
page = "3"

[[figures]]
kind = "belt"
values = { belt_ribs = 12 }

[[maps]]
title = "Lid"
bolt = "M8"
torque = "24 N·m"
orderBy = "worked"
places = [[0, 0], [10, 0.5]]
[[maps.stages]]
kind = "torque"
share = 1
angle = 0
order = [1, 0]
dial = { plain = "24 N·m" }
[[maps.steps]]
do = "set"
at = "2026-03-02T10:15:00Z"
dial = "24 N·m"
[[maps.steps]]
do = "done"
at = "2026-03-02T10:16:00Z"
bolt = 1

[[holds]]
point = "blower_oil"
log = [
  { do = "signed", at = "2026-03-02T10:15:00Z", who = "A hand" },
  { do = "taken back", at = "2026-03-02T10:20:00Z" },
]

[[runs]]
at = "2026-03-03T08:00:00Z"
[runs.data]
words = "One pull."
speeds = [2000, 2500.5]
"""

NAME = "Shop's own (invented)"


def test_a_build_file_is_taken_whole(ask: Ask) -> None:
    found = ask("parcel", text=JOB, kit=KIT)["data"]
    assert found["damaged"] == 0
    assert {key: len(found[key]) for key in found if key != "damaged"} == {
        "figures": 2,
        "maps": 1,
        "pulleys": 0,
        "jobs": 1,
        "holds": 1,
        "runs": 1,
    }
    for collection in ("figures", "maps", "holds", "runs"):
        assert {each["job"] for each in found[collection]} == {NAME}


def test_entries_are_kept_as_a_phone_keeps_them(ask: Ask) -> None:
    (job,) = ask("file", text=JOB)["data"]["jobs"]
    assert job["name"] == NAME
    assert job["entries"] == {
        "engine_displacement": {"text": "5.6", "unit": "L"},
        "crank_pulley": {"text": "7 1/4", "unit": "in"},
        "altitude": {"text": "-12.5", "unit": "m"},
        "cylinders": {"text": "8", "unit": ""},
        "gear": {"text": "1", "unit": ""},
        "fuel": "e10",
        "throttle_bore": "",
        "blower_pulley": {"text": "96", "unit": "mm"},
        "loop_runs": [
            {
                "run_size": "0.75in",
                "run_length": {"text": "2", "unit": "m"},
                "run_bends": {"text": "3", "unit": ""},
            },
            {},
        ],
        "circuits": [{"circuit_load": "fan", "circuit_current": {"text": "18", "unit": "A"}}],
        "slip engine_speed": {"text": "6000", "unit": "rpm"},
    }


def test_what_was_left_out_is_filled_in(ask: Ask) -> None:
    found = ask("file", text=JOB)["data"]
    assert (found["kind"], found["schema"], found["made"]) == ("bay-reckoner record", 6, "")
    torque, belt = found["figures"]
    assert torque["values"]["maker_angle"] == {"text": "90", "unit": "deg"}
    assert torque["texts"] == {"sequence": "12 mm first"}
    assert (torque["changed"], belt["changed"]) == (
        "2000-01-01T00:00:00.000Z",
        "2000-01-01T00:00:00.001Z",
    )
    assert (belt["name"], belt["choices"], belt["used"], belt["typed"]) == ("", {}, "", "")
    (bolts,) = found["maps"]
    assert bolts["names"] == ["1", "2"]
    assert bolts["pattern"] == {"kind": "places", "rows": 0, "columns": 0, "count": 2}
    assert bolts["offset"] == {"bolts": [], "words": ""}
    assert bolts["stages"][0]["dial"] == {"plain": "24 N·m", "offset": ""}
    assert bolts["steps"][0]["offset"] is False
    (hold,) = found["holds"]
    assert json.loads(hold["id"]) == [NAME, "blower_oil"]
    assert hold["log"][1] == {
        "do": "taken back",
        "at": "2026-03-02T10:20:00Z",
        "who": "",
        "note": "",
        "photo": "",
    }


def test_an_entry_of_any_key_is_an_entry(ask: Ask) -> None:
    text = 'name = "A"\n[entries]\nconstructor = "1 mm"\n[entries.__proto__]\n__proto__ = 2'
    (job,) = ask("file", text=text)["data"]["jobs"]
    assert job["entries"] == {
        "constructor": {"text": "1", "unit": "mm"},
        "__proto__ __proto__": {"text": "2", "unit": ""},
    }
    assert "__proto__ is unknown" in ask("file", text=f"__proto__ = 1\n{text}")["refused"]


def without_ids(found: dict[str, Any]) -> str:
    """Return what a file holds, written out in its order, but for the ids."""
    parts = json.loads(json.dumps(found))
    for collection in ("figures", "maps", "runs"):
        for each in parts[collection]:
            # Neither counts when the phone looks whether it has something already.
            each.pop("id"), each.pop("rev")
    for each in parts["jobs"]:
        each.pop("rev")
    return json.dumps(alike(parts), indent=1)


def test_the_same_file_says_the_same_twice(ask: Ask) -> None:
    one, other = (ask("file", text=JOB)["data"] for _ in range(2))
    assert without_ids(one) == without_ids(other)
    ids = [each["id"] for found in (one, other) for each in found["figures"]]
    assert len(set(ids)) == 4


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.toml")), ids=lambda path: path.stem)
def test_phone_and_site_make_the_same_of_a_build_file(ask: Ask, path: Path) -> None:
    # The same letter for letter: by that a phone knows what it has taken from the build's page.
    found = ask("file", text=path.read_text(encoding="utf-8"))["data"]
    assert without_ids(found) == without_ids(contents(load_build(path)))
    assert ask("parcel", text=path.read_text(encoding="utf-8"), kit=KIT)["data"]["damaged"] == 0


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("name =", "nmae ="), "nmae is unknown, allowed is name, note, entries, figures, maps"),
        (('name = "Shop\'s  own (invented)"', ""), "name is missing, allowed is a text in quotes"),
        (('"Shop\'s  own (invented)"', '" "'), "name is empty, allowed is the job's name"),
        (('"Shop\'s  own (invented)"', "5"), "name is 5, allowed is a text in quotes"),
        (('"e10"', "true"), "entries.fuel is true, allowed is a number and its unit's key"),
        (('"5.6 L"', '"5,6 L"'), 'entries.engine_displacement is "5,6 L", allowed is'),
        (('"5.6 L"', '"1/2 in"'), 'entries.engine_displacement is "1/2 in", allowed is'),
        (('"5.6 L"', '"5.6  L"'), 'entries.engine_displacement is "5.6  L", allowed is'),
        (("= 8", "= 1e-9"), "entries.cylinders is 1e-9, allowed is a number"),
        (("{}]", "5]"), "entries.loop_runs 2 is 5, allowed is a table"),
        (("{}]", "{ a = [] }]"), "entries.loop_runs 2.a is [], allowed is a number"),
        (('"6000 rpm"', "{ a = 1 }"), 'entries.slip.engine_speed is {"a":1}, allowed is'),
        (("fuel =", '"slip engine_speed" ='), "entries.slip.engine_speed is there twice"),
        (('"24 Nm"', '"much"'), 'figures 1.values.maker_torque is "much", allowed is a number'),
        (('"M8x1.25"', "8"), "figures 1.choices.thread is 8, allowed is a text in quotes"),
        (("page =", "pgae ="), "figures 1.pgae is unknown, allowed is schema, kind, name"),
        (('kind = "belt"', "kind = 1"), "figures 2.kind is 1, allowed is a text in quotes"),
        (("title =", "job = 'Other'\ntitle ="), 'maps 1.job is "Other", allowed is the job\'s'),
        (('bolt = "M8"', ""), "maps 1.bolt is missing, allowed is a text in quotes. Add it."),
        (('{ plain = "24 N·m" }', "24"), "maps 1.stages 1.dial is 24, allowed is a table"),
        (("bolt = 1", ""), "maps 1.steps 2.bolt is missing, allowed is a number"),
        (('point = "blower_oil"', ""), "holds 1.point is missing"),
        (('who = "A hand"', "who = 1"), "holds 1.log 1.who is 1, allowed is a text in quotes"),
        (("[runs.data]", "data = 1\n[runs.date]"), "runs 1.date is unknown"),
    ],
)
def test_what_is_no_part_of_a_build_file_is_refused_by_name(
    ask: Ask, change: tuple[str, str], said: str
) -> None:
    old, new = change
    assert old in JOB
    message = ask("file", text=JOB.replace(old, new, 1))["refused"]
    assert message.startswith("This build file can't be taken in: ")
    assert said in message


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('who = "A hand"', 'who = ""'),
        ("order = [1, 0]", "order = [1, 1]"),
        ('"90 deg"', '"90 mm"'),
        ('"2026-03-03T08:00:00Z"', '"on Tuesday"'),
    ],
)
def test_what_no_page_can_work_with_is_left_out_and_counted(ask: Ask, old: str, new: str) -> None:
    assert ask("parcel", text=JOB.replace(old, new, 1), kit=KIT)["data"]["damaged"] == 1


def test_a_table_where_a_list_is_due_is_refused_by_name(ask: Ask) -> None:
    for key in ("figures", "maps", "holds", "runs"):
        message = ask("file", text=f'name = "A"\n[{key}]\n')["refused"]
        assert f"{key} is {{}}, allowed is a list in [ ]" in message


# --- which files are which -----------------------------------------------------------------------

UNREADABLE = "This file can't be read. Pick one that was saved on this page."


def test_a_file_that_is_neither_is_refused_with_its_line(ask: Ask) -> None:
    message = ask("file", text="\nnot a record")["refused"]
    assert message.startswith(f"{UNREADABLE} Line 2: “a record” stands where = is due")
    assert ask("file", text=' \n{"kind": ')["refused"] == UNREADABLE
    assert "is not a record from here" in ask("file", text='{"kind": "else"}')["refused"]


def test_a_build_file_is_not_compared(ask: Ask) -> None:
    words = "A build file has no checksum to compare. Pick a file that was saved on this page."
    assert ask("checksum", text=JOB) == {"refused": words}
    assert ask("checksum", text="not a record")["refused"].startswith(UNREADABLE)
    saved = json.dumps(ask("file", text=JOB)["data"])
    assert re.fullmatch("[0-9a-f]{64}", ask("checksum", text=saved)["data"])
