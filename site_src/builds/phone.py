"""A job as the file that the phone takes in: what it would have saved itself."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from site_src.builds import SCHEMA
from site_src.builds.job import Amount, Figure, Job, Stored

KIND = "bay-reckoner record"

JOB_SCHEMA, FIGURE_SCHEMA = 2, 2


def contents(job: Job) -> dict[str, Any]:
    """Return what the phone's file of a job holds, the same for the same job."""
    return {
        "kind": KIND,
        "schema": SCHEMA,
        "made": "",
        "figures": [_figure(each, job.name) for each in job.figures],
        "maps": [_owned(each, job.name) for each in job.maps],
        "pulleys": [],
        "jobs": [_job(job)],
        "holds": [_hold(each, job.name) for each in job.holds],
        "runs": [_owned(each, job.name) for each in job.runs],
    }


def _job(job: Job) -> dict[str, Any]:
    """Return the job itself."""
    entries = {key: _stored(value) for key, value in job.entries.items()}
    return {
        "schema": JOB_SCHEMA,
        "id": "job",
        "rev": 0,
        "name": job.name,
        "taken": "",
        "entries": entries,
        "kept": {},
    }


def _stored(value: Stored) -> object:
    """Return an entry."""
    if isinstance(value, tuple):
        return [{key: _single(each) for key, each in row.items()} for row in value]
    return _single(value)


def _single(value: Amount | str) -> object:
    """Return a number or an option."""
    return value.spec() if isinstance(value, Amount) else value


def _figure(figure: Figure, job: str) -> dict[str, Any]:
    """Return a maker's figure."""
    return _owned(
        {
            "schema": FIGURE_SCHEMA,
            "kind": figure.kind,
            "name": figure.name,
            "choices": dict(figure.choices),
            "values": {key: each.spec() for key, each in figure.values.items()},
            "texts": dict(figure.texts),
            "source": figure.source,
            "page": figure.page,
            "typed": "",
            "used": figure.used,
            "changed": figure.changed,
        },
        job,
    )


def _hold(hold: Mapping[str, Any], job: str) -> dict[str, Any]:
    """Return a hold point, under the id that the phone keeps it by."""
    name = json.dumps([job, hold["point"]], ensure_ascii=False, separators=(",", ":"))
    return {**hold, "id": name, "rev": 0, "job": job}


def _owned(entry: Mapping[str, Any], job: str) -> dict[str, Any]:
    """Return an entry of the record with its job, and an id that follows from what it says."""
    said = json.dumps([job, entry], ensure_ascii=False, sort_keys=True)
    return {**entry, "id": hashlib.sha256(said.encode()).hexdigest()[:32], "rev": 0, "job": job}
