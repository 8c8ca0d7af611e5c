"""Words with pairs of measures as markup: both are there, and the style sheet shows one."""

from __future__ import annotations

from markupsafe import Markup, escape

from site_src.face.numbers import tied
from site_src.model.said import cut


def marked_up(text: str) -> str:
    """Return a text as a page holds it, numbers tied to their units.

    >>> marked_up("Leave [a|b] free.")
    Markup('Leave <span class="metric">a</span><span class="inch">b</span> free.')
    """
    words, *rest = cut(text)
    if not rest:
        return tied(text)
    made = escape(tied(words))
    for metric, inch, after in zip(rest[::3], rest[1::3], rest[2::3], strict=True):
        spans = '<span class="metric">{}</span><span class="inch">{}</span>{}'
        made += Markup(spans).format(tied(metric), tied(inch), tied(after))
    return made
