"""What stops a build, but for a table or an answer that misses its tolerance."""

from __future__ import annotations


class BuildError(Exception):
    """The site can't be built; the message says what is wrong with which file."""
