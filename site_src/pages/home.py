"""The front page: the job in hand, the quick lookups, and the rest in the order of the job."""

from __future__ import annotations

from collections.abc import Mapping

from site_src.face.form import form_context
from site_src.holds import stages_spec
from site_src.lookups import boost

PULLEY = boost.LOOKUP.numbers["blower_pulley"]
"""What is changed most often, and can be changed right there."""


def context() -> Mapping[str, object]:
    """Return what the template is given."""
    return form_context((PULLEY,)) | {"holds": stages_spec()}
