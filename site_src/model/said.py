"""Words that state a measure: as a metric shop says it, and as one that measures in inches does.

In words of ours such a pair stands as `[25 mm|1 in]`. A page shows the one that the phone's shop
reads; paper and whoever has no scripts get the first.
"""

from __future__ import annotations

import re

_PAIR = re.compile(r"\[([^\[\]|]+)\|([^\[\]|]+)\]")


def pairs(text: str) -> list[tuple[str, str]]:
    """Return the pairs in a text, metric and inch.

    >>> pairs("Leave [25 mm|1 in] free.")
    [('25 mm', '1 in')]
    """
    return _PAIR.findall(text)


def cut(text: str) -> list[str]:
    """Cut a text at its pairs: words, metric, inch, words, metric, inch, and so on to words.

    >>> cut("Leave [25 mm|1 in] free.")
    ['Leave ', '25 mm', '1 in', ' free.']
    """
    return _PAIR.split(text)


def metric(text: str) -> str:
    """Return a text as a metric shop reads it.

    >>> metric("Leave [25 mm|1 in] free.")
    'Leave 25 mm free.'
    """
    return _PAIR.sub(r"\1", text)


def both(metric_words: str, inch_words: str) -> str:
    """Return a pair, or the words alone where both shops say the same.

    >>> both("25 mm", "1 in"), both("5 %", "5 %")
    ('[25 mm|1 in]', '5 %')
    """
    return metric_words if metric_words == inch_words else f"[{metric_words}|{inch_words}]"
