/** Your truck: the entries that matter most, one to a screen. */

import { all, button, make, need, tell } from "../face/dom.js";
import { brief } from "../form/entries.js";
import { showJobLine } from "../form/job_line.js";
import { showOrigins } from "../form/origins.js";
import { SetUp } from "../form/set_up.js";
import { load, refusal, withFields } from "../model/catalogue.js";
import { Truck } from "../record/kept_truck.js";

const page = need(document, "[data-truck-page]");
const screens = all(page, "[data-ask]");

class TruckPage {
  /** @param {import("../model/catalogue.js").Kit} kit @param {Truck} truck */
  constructor(kit, truck) {
    this.truck = truck;
    this.kit = withFields(kit, "truck", JSON.parse(page.dataset.fields ?? "[]"));
    this.setUp = new SetUp(this.kit, page, () => this.changed(), {
      truck,
      isAddressed: false,
    });
    this.at = this.firstOpen();
    truck.stateChanged = () => showJobLine(page, truck);
    truck.changedElsewhere = () => {
      this.setUp.showJob();
      this.update();
    };
    need(page, "[data-next]").addEventListener("click", () => this.goTo(this.at + 1));
    need(page, "[data-back]").addEventListener("click", () => this.goTo(this.at - 1));
    need(page, "[data-unknown]").addEventListener("click", () => this.skip());
    page.addEventListener("click", ({ target }) => this.tapped(target));
    this.setUp.form.showTexts();
    this.update();
  }

  /** The first entry that is not his own yet; the list of all, if there is none. */
  firstOpen() {
    const open = this.kit.lookup.fields.findIndex(
      (field) => this.setUp.ownEntry(field) === undefined,
    );
    return open < 0 ? screens.length - 1 : open;
  }

  changed() {
    this.setUp.handOver();
    this.update();
  }

  /**
   * A choice that stands as it is for his truck is his own once he taps it, though it changes
   * nothing.
   * @param {EventTarget | null} target
   */
  tapped(target) {
    const field = this.kit.lookup.fields[this.at];
    if (field?.kind !== "choice" || !(target instanceof HTMLInputElement)) return;
    const { entries } = this.setUp;
    if (entries[field.key] !== target.value || this.setUp.ownEntry(field) !== undefined) return;
    this.setUp.give([[field, target.value]]);
    this.update();
  }

  /** What he doesn't know is an example again. */
  skip() {
    const field = this.kit.lookup.fields[this.at];
    if (this.setUp.ownEntry(field) !== undefined) this.setUp.putBack([field]);
    this.goTo(this.at + 1);
  }

  /** @param {number} place */
  goTo(place) {
    this.at = Math.max(0, Math.min(place, screens.length - 1));
    this.update();
    const input = screens[this.at].querySelector("input, select");
    if (input instanceof HTMLElement) input.focus({ preventScroll: true });
  }

  update() {
    const { problems } = this.setUp.read();
    const { fields } = this.kit.lookup;
    this.setUp.form.show(problems);
    showOrigins(this.setUp, () => this.update());
    showJobLine(page, this.truck);
    screens.forEach((screen, n) => {
      screen.hidden = n !== this.at;
    });
    const isLast = this.at === screens.length - 1;
    const isOwn = !isLast && this.setUp.ownEntry(fields[this.at]) !== undefined;
    const isFaulty = !isLast && problems.some(({ field }) => field === fields[this.at].key);
    need(page, "[data-back]").toggleAttribute("disabled", this.at === 0);
    need(page, "[data-unknown]").hidden = isLast;
    const next = /** @type {HTMLButtonElement} */ (need(page, "[data-next]"));
    next.hidden = isLast;
    next.disabled = isFaulty || !isOwn;
    need(page, "[data-asked-list]").replaceChildren(...fields.map((_, n) => this.row(n)));
  }

  /** @param {number} n */
  row(n) {
    const field = this.kit.lookup.fields[n];
    const isOwn = this.setUp.ownEntry(field) !== undefined;
    return make("li", {}, [
      make("span", {}, [
        `${field.label} `,
        make("b", {}, [brief(field, this.setUp.entries, this.kit.quantities)]),
        isOwn ? "" : " example",
      ]),
      button("Change", () => this.goTo(n)),
    ]);
  }
}

Promise.all([load("plan"), Truck.open()]).then(
  ([kit, truck]) => new TruckPage(kit, truck),
  (reason) => {
    const notice = need(document, "[data-notice]");
    tell(notice, refusal(reason));
    console.error(reason);
  },
);
