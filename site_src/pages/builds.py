"""The shop's builds: each file of `builds` as sheets for the binder, and as a job for a phone."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache

import segno

from site_src.builds import load_builds
from site_src.builds.job import Job
from site_src.builds.phone import contents
from site_src.builds.sheet import BuildSheets
from site_src.model.page import Page


@cache
def all_builds() -> tuple[Job, ...]:
    """Return every build file of the checkout."""
    return load_builds()


def build_named(address: str) -> Job | None:
    """Return the build at an address."""
    return next((job for job in all_builds() if job.address == address), None)


def sheets_context(job: Job, site_address: str) -> Mapping[str, object]:
    """Return what the template of a build is given.

    Args:
        job: the build.
        site_address: where phones will find this site, with a / at the end; empty if the person
            who builds it didn't say, and then there is no code to point a phone at.
    """
    where = f"{site_address}builds/{job.address}/" if site_address else ""
    return {
        "job": job,
        "build": BuildSheets(job),
        "where": where,
        "code": code(where) if where else "",
        "file": json.dumps(contents(job), ensure_ascii=False, allow_nan=False),
    }


def code(address: str) -> str:
    """Return an address as a QR code, an SVG to stand in a page."""
    made = segno.make(address, error="m", micro=False)
    return str(made.svg_inline(scale=3, border=4, svgclass="code", lineclass=None, omitsize=True))


def _context() -> Mapping[str, object]:
    """Return what the template of the list is given."""
    return {"builds": all_builds()}


PAGE = Page(
    key="builds",
    title="Builds",
    short="Builds",
    question="Which trucks has the shop on file, and what are their figures on paper?",
    stage="sign",
    template="builds.html",
    context=_context,
)
