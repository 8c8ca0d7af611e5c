"""The Flask application: routes, nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any

from flask import Flask, Response, abort, render_template

from site_src.face.numbers import NO_CELL, NO_NUMBER
from site_src.face.pairs import marked_up
from site_src.face.sheet import Sheet, sheet
from site_src.lookups import all_lookups, behind_pages, truck
from site_src.model.lookup import STAGES, Lookup
from site_src.model.page import Page
from site_src.model.said import metric
from site_src.pages import all_pages
from site_src.pages import home as home_page
from site_src.pages.builds import PAGE, build_named, sheets_context
from site_src.proof.kept import proved
from site_src.publish import bundles
from site_src.publish.addresses import relative_url_for
from site_src.publish.catalogue import (
    TABLES_FILE,
    all_table_bytes,
    catalogue,
    in_lines,
    part,
    part_names,
    parts_of,
    plain,
)
from site_src.publish.icons import icon
from site_src.publish.offline import manifest
from site_src.publish.policy import CONTENT_POLICY
from site_src.publish.scripts import UNSTAMPED, entry_scripts
from site_src.publish.terse import terse


def create_app(
    lookups: Sequence[Lookup] | None = None,
    others: Sequence[Page] | None = None,
    behind: Sequence[Lookup] | None = None,
    site_address: str = "",
    unproved: bool = False,
) -> Flask:
    """Return the application for these lookups and other pages; by default, for all there are.

    `behind` are lookups without a page, which are in the catalogue for the scripts of other pages.
    `site_address` is where phones will find the site, for the codes on the builds' sheets. Pages of
    an `unproved` site say that they are, and no phone keeps them.
    """
    pages = {each.key: each for each in (all_lookups() if lookups is None else lookups)}
    other_pages = {each.key: each for each in (all_pages() if others is None else others)}
    recipes = [*pages.values(), *(behind_pages() if behind is None else behind)]
    app = Flask("site_src")
    app.jinja_env.finalize = _written
    # An option of a list holds no markup.
    app.jinja_env.filters["metric"] = metric
    app.jinja_env.globals |= {
        "url_for": relative_url_for,
        "entry_scripts": entry_scripts,
        "origin_words": truck.origin_words,
        "bundles_of": bundles.started_by,
        "NO_NUMBER": NO_NUMBER,
        "NO_CELL": NO_CELL,
        "parts_of": parts_of,
    }
    app.context_processor(lambda: {"version": UNSTAMPED, "content_policy": CONTENT_POLICY})
    app.jinja_env.globals["unproved"] = unproved

    @cache
    def example(key: str) -> Sheet:
        return sheet(truck.of_example(key), pages, truck.example(key))

    @app.get("/")
    def home() -> str:
        there = [*pages.values(), *other_pages.values()]
        return render_template("home.html", lookups=there, stages=STAGES, **home_page.context())

    @app.get("/<key>/")
    def lookup(key: str) -> str:
        if other := other_pages.get(key):
            return render_template(other.template, page=other, **other.context())
        page = pages.get(key) or abort(404)
        return render_template("lookup.html", lookup=page, sheet=example(key))

    @app.get("/<key>/why/")
    def why(key: str) -> str:
        page = pages.get(key) or abort(404)
        # What a formula's numbers are written by, once they are another truck's.
        named = [[each.key, each.of, each.unit, each.decimals] for each in page.workings]
        context = {"lookup": page, "sheet": example(key), "measured": proved(page)}
        return render_template("why.html", named=named, **context)

    @app.get("/builds/<name>/")
    def build(name: str) -> str:
        job = build_named(name) or abort(404)
        return render_template("build.html", page=PAGE, **sheets_context(job, site_address))

    @app.get("/help/")
    def help_page() -> str:
        return render_template("help.html")

    @app.get("/404.html")
    def not_found() -> str:
        return render_template("404.html")

    @app.get("/lookups.json")
    def lookups_json() -> Response:
        return _json(catalogue(recipes, UNSTAMPED), "application/json")

    @app.get("/static/lookups/<name>.json")
    def lookup_part(name: str) -> Response:
        if name not in part_names([each.key for each in recipes]):
            abort(404)
        text = in_lines({"version": UNSTAMPED} | terse(part(name, recipes)))
        return Response(text, mimetype="application/json")

    @app.get("/manifest.webmanifest")
    def web_manifest() -> Response:
        return _json(manifest(list(pages.values())), "application/manifest+json")

    @app.get("/static/js/bundle/<name>.js")
    def script_bundle(name: str) -> Response:
        if name not in bundles.names():
            abort(404)
        return Response(bundles.script(name), mimetype="text/javascript")

    @app.get("/static/css/bundle/<name>.css")
    def style_bundle(name: str) -> Response:
        if name not in bundles.STYLE_BUNDLES:
            abort(404)
        return Response(bundles.style(name), mimetype="text/css")

    @app.get(f"/{TABLES_FILE}")
    def tables() -> Response:
        numbers = all_table_bytes(recipes, UNSTAMPED)
        return Response(numbers, mimetype="application/octet-stream")

    @app.get("/static/icons/<name>")
    def icon_file(name: str) -> Response:
        drawn = icon(name) or abort(404)
        return Response(drawn, mimetype="image/svg+xml" if name.endswith(".svg") else "image/png")

    return app


def _written(value: object) -> object:
    """Finish what a template writes: numbers tied to their units, measures for either system.

    Markup has its own in it already; data for scripts are escaped in the template, and stay.
    """
    return marked_up(value) if type(value) is str else value


def _json(data: dict[str, Any], mimetype: str) -> Response:
    return Response(plain(data) + "\n", mimetype=mimetype)
