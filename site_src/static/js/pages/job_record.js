/** The record: all that is kept of a job, to be read, printed and saved with its checksum. */

import { moment } from "../bolts/cards.js";
import { make, need, setStamp, tell, write } from "../face/dom.js";
import { stampOf } from "../holds/card.js";
import { readiness, stagesNow } from "../holds/points.js";
import { figureLines, mapLine } from "../paper/record_lines.js";
import { Reckoned } from "../paper/reckoned.js";
import { loadAll } from "../model/catalogue.js";
import { bindExchange } from "../record/exchange.js";
import {
  checksumOf,
  checksumOfFile,
  inFours,
  jobContents,
  jobFile,
  shortOf,
} from "../record/job_file.js";
import { readKept, whenChanged } from "../record/kept_holds.js";
import { Truck } from "../record/kept_truck.js";
import { damagedWords, reasonWords } from "../record/record.js";
import { nowSaved } from "../record/copy_due.js";
import { fileName, LARGEST, saveFile } from "../record/transfer.js";

/**
 * @typedef {import("../holds/points.js").StageNow} StageNow
 * @typedef {import("../record/transfer.js").Contents} Contents
 */

const page = need(document, "[data-job-record]");
/** @type {import("../holds/points.js").Stage[]} */
const declared = JSON.parse(page.dataset.stages ?? "[]");

/** @param {string} key @param {HTMLElement[]} rows */
function part(key, rows) {
  const section = need(page, `[data-part="${key}"]`);
  need(section, "[data-none]").hidden = rows.length > 0;
  need(section, "[data-lines]").replaceChildren(...rows);
}

/** @param {string} what @param {string} [said] @param {string} [more] */
function row(what, said = "", more = "") {
  return make("li", {}, [
    make("span", {}, [what]),
    ...(said ? [" ", make("b", {}, [said])] : []),
    ...(more ? [" ", make("small", {}, [more])] : []),
  ]);
}

/** @param {string} words */
function head(words) {
  return make("li", { class: "lines-head" }, [words]);
}

class JobRecord {
  constructor() {
    /** @type {Reckoned | null} */
    this.reckoned = null;
    /** @type {{contents: Contents, checksum: string, name: string} | null} */
    this.file = null;
    need(page, "[data-print]").addEventListener("click", () => window.print());
    need(page, "[data-save]").addEventListener("click", () => this.save());
    const picker = /** @type {HTMLInputElement} */ (need(page, "[data-compare]"));
    picker.addEventListener("change", () => {
      const [file] = picker.files ?? [];
      if (file) this.compare(file);
      picker.value = "";
    });
    bindExchange(page, () => this.show());
    whenChanged(() => this.show());
  }

  async show() {
    const kept = await readKept();
    const stages = stagesNow(declared, kept);
    const ready = readiness(stages, kept);
    tell(need(page, "[data-problem]"), kept.trouble);
    write(need(page, "[data-job]"), kept.trouble ? "" : `of ${kept.job}`);
    write(need(page, "[data-made]"), `As it stood on ${moment(new Date().toISOString())}.`);
    setStamp(
      need(page, "[data-ready]"),
      ready.isReady ? "within" : "unchecked",
      ready.isReady ? "READY" : "not ready",
    );
    write(
      need(page, "[data-ready-words]"),
      ready.isReady
        ? "Every hold point before the key is signed or skipped."
        : `${ready.open.length} open before the key.`,
    );
    await this.showFile();
    const contents = this.file?.contents;
    this.reckoned = await reckonedNow();
    const lines = this.reckoned?.truckLines() ?? [];
    part(
      "truck",
      lines.map(({ label, text, whose }) => row(label, text, whose)),
    );
    this.showLimits();
    part("figures", contents ? figureLines(contents.figures, this.reckoned?.kit ?? null, row) : []);
    part(
      "maps",
      (contents?.maps ?? []).map((map) => row(...mapLine(map))),
    );
    part("holds", holdRows(stages));
    part(
      "runs",
      (contents?.runs ?? []).map(({ at, data }) =>
        row(`Read ${moment(at)}`, "", typeof data.words === "string" ? data.words : ""),
      ),
    );
    this.showDeviations(stages, ready);
    this.showAgain(stages);
    showPhotos(stages);
    this.showOwner(stages);
    page.toggleAttribute("data-filled", true);
  }

  async showFile() {
    try {
      const { contents, name, damaged } = await jobContents();
      const checksum = await checksumOf(contents);
      this.file = { contents, checksum, name };
      write(need(page, "[data-checksum]"), shortOf(checksum) || "none");
      write(
        need(page, "[data-checksum-full]"),
        checksum
          ? `SHA-256 ${inFours(checksum)}`
          : "This page came over a connection that the phone doesn't trust, so it works none out.",
      );
      if (damaged) tell(need(page, "[data-problem]"), damagedWords(damaged));
    } catch (reason) {
      this.file = null;
      write(need(page, "[data-checksum]"), "none");
      write(need(page, "[data-checksum-full]"), reasonWords(reason));
    }
    need(page, "[data-save]").toggleAttribute("disabled", !this.file);
  }

  showLimits() {
    const { reckoned } = this;
    if (!reckoned) return part("limits", []);
    const rows = reckoned.limits().map(({ label, text, status, word, words }) => {
      const stamp = make("strong", { class: "stamp" });
      setStamp(stamp, status, word);
      const made = row(label, text);
      if (status) made.append(" ", stamp);
      if (words) made.append(make("small", {}, [words]));
      return made;
    });
    return part("limits", rows);
  }

  /** @param {StageNow[]} stages @param {import("../holds/points.js").Readiness} ready */
  showDeviations(stages, ready) {
    const points = stages.flatMap((stage) => stage.points);
    const rows = [
      ...ready.open.filter(({ to }) => to === "holds/#strays").map(({ words }) => row(words)),
      ...points
        .filter(({ isOpen, now }) => !isOpen && now.state === "skipped")
        .map(({ title, now }) => row("Skipped:", title, `Because: ${now.deed?.note}`)),
      ...(this.reckoned?.deviations() ?? []).map(({ what, said, more }) => row(what, said, more)),
      ...(this.file?.contents.maps ?? [])
        .filter(({ orderBy, stages: passes }) => orderBy === "worked" && passes.length)
        .map(({ title }) => row("Order worked out, the maker gave none:", title)),
      ...points
        .filter(({ isOwn, role }) => isOwn && !role)
        .map(({ title }) => row("Hold point of the shop's own:", title)),
      ...points
        .filter(({ hold }) => hold?.log.some((each) => each.do === "taken back"))
        .map(({ title, now }) =>
          row("Signature taken back at some time:", title, `Now ${now.state}.`),
        ),
    ];
    part("deviations", rows);
  }

  /** @param {StageNow[]} stages */
  showAgain(stages) {
    part(
      "again",
      stages
        .filter(({ when }) => when === "after heat")
        .flatMap(({ label, points }) => [
          head(label),
          ...points.map((point) => row(point.title, wordOf(point), signedWords(point))),
        ]),
    );
  }

  /** @param {StageNow[]} stages */
  showOwner(stages) {
    write(need(page, "[data-owner-job]"), this.file?.name ?? "");
    write(need(page, "[data-owner-sum]"), shortOf(this.file?.checksum ?? "") || "none");
    const told = this.reckoned?.ownerLines(this.file?.contents.figures ?? []) ?? [];
    need(page, "[data-owner]").replaceChildren(
      ...told.map(({ label, text }) =>
        make("div", {}, [
          make("dt", {}, [label]),
          text ? make("dd", {}, [text]) : make("dd", { class: "by-hand" }, ["Not entered:"]),
        ]),
      ),
    );
    const later = stages.filter(({ when }) => when === "after heat");
    need(page, "[data-owner-again]").replaceChildren(
      ...later.flatMap(({ label, points }) =>
        points
          .filter(({ key }) => key !== "handover")
          .map((point) =>
            make("li", {}, [
              `${label}: ${point.title}.`,
              point.isOpen ? " Still to be done." : ` Done${whenWords(point)}.`,
            ]),
          ),
      ),
    );
  }

  save() {
    if (!this.file) return;
    const { contents, checksum, name } = this.file;
    const made = new Date().toISOString();
    const called = fileName(`job-${checksum.slice(0, 8)}`, name, made);
    saveFile(called, jobFile(contents, checksum, made));
    nowSaved([name], made);
    write(need(page, "[data-told]"), `Saved as ${called}.`);
  }

  /** @param {File} picked */
  async compare(picked) {
    const told = need(page, "[data-told]");
    try {
      if (picked.size > LARGEST)
        throw new Error("This file is too large to be a record from here.");
      const checksum = await checksumOfFile(await picked.text());
      if (!checksum || !this.file) throw new Error("This phone works no checksum out here.");
      write(
        told,
        checksum === this.file.checksum
          ? "Yes: it holds exactly what this record shows."
          : `No: its checksum is ${shortOf(checksum)}. It is another job's, or this one's as it was at another time.`,
      );
    } catch (reason) {
      write(told, reasonWords(reason));
    }
  }
}

/** @param {import("../holds/points.js").Point} point */
function wordOf(point) {
  return stampOf(point)[1];
}

/** @param {import("../holds/points.js").Point} point */
function signedWords({ isOpen, now, why }) {
  if (isOpen) return why;
  const { deed, more } = now;
  if (!deed) return "";
  const by = `${deed.do === "signed" ? "Signed" : "Skipped"} by ${deed.who}, ${moment(deed.at)}`;
  const notes = [deed, ...more].map(({ note }) => note).filter(Boolean);
  return [by, ...notes].join(". ");
}

/** @param {import("../holds/points.js").Point} point */
function whenWords({ now }) {
  const at = now.deed ? new Date(now.deed.at) : null;
  return at ? ` on ${at.toLocaleDateString(undefined, { dateStyle: "medium" })}` : "";
}

/** @param {StageNow[]} stages */
function holdRows(stages) {
  return stages.flatMap(({ label, points }) => [
    head(label),
    ...points.map((point) => row(point.title, wordOf(point), signedWords(point))),
  ]);
}

/** @param {StageNow[]} stages */
function showPhotos(stages) {
  const photos = stages
    .flatMap(({ points }) => points)
    .filter(({ isOpen }) => !isOpen)
    .flatMap(({ title, now }) =>
      [now.deed, ...now.more].flatMap((each) =>
        each?.photo ? [{ title, photo: each.photo, at: each.at }] : [],
      ),
    );
  need(page, "[data-photos]").hidden = !photos.length;
  need(page, "[data-photo-list]").replaceChildren(
    ...photos.map(({ title, photo, at }) =>
      make("figure", {}, [
        make("img", { src: photo, alt: title }),
        make("figcaption", {}, [`${title}, ${moment(at)}`]),
      ]),
    ),
  );
}

/** @type {Promise<import("../model/catalogue.js").Kit> | null} */
let loaded = null;

/** What this truck makes; null if it can't be worked out, and the page says so. */
async function reckonedNow() {
  try {
    loaded ??= loadAll("plan");
    return new Reckoned(await loaded, await Truck.open());
  } catch (reason) {
    loaded = null;
    console.error(reason);
    return null;
  }
}

new JobRecord().show();
