/*
 * Looks over a page as it lies on the screen and says in words what a person would find wrong:
 * numbers and words that are cut, words broken into letters, units parted from their numbers,
 * things that lie over each other, what is too small to press, a page that scrolls sideways.
 *
 * `measure` is given what to leave out and returns a list of texts, each once.
 */
(() => {
  const SLACK = 1.5;
  const LEAST = 44;
  const PRESSED = "a[href], button, input, select, textarea, summary, label.chip, .modes label";
  const UNITS =
    "mm|cm|m|km|in|ft|µm|thou|kPa|bar|psi|mbar|inHg|inH₂O|°C|°F|°|%|rpm|Hz|kW|hp|N·m|lb·ft|lb·in" +
    "|kN|N|lbf|L|L/min|L/h|cm³|cm³/min|cc|cc/min|cfm|cu in|g/s|kg/h|lb/h|lb/min|g/kWh|kg|g|oz|V|A|W|mΩ|Ω|s|ms" +
    "|m/s|ft/s|km/h|mph|US gal|MPa|ksi|mm²|in²";
  const WITH_UNIT = new RegExp(`\\d[ \\u00a0\\u202f](?:${UNITS})(?![\\w²³/·])`, "gu");

  /** What can be seen at all, told once an element. */
  function seer() {
    const known = new Map();
    const sees = (element) => {
      if (!element || element === document.documentElement) return true;
      const before = known.get(element);
      if (before !== undefined) return before;
      const style = getComputedStyle(element);
      const is =
        style.display !== "none" &&
        style.visibility === "visible" &&
        style.opacity !== "0" &&
        !element.matches(".aside, .skip, noscript, template, option, optgroup, title") &&
        !(
          element.parentElement?.localName === "details" &&
          !element.parentElement.open &&
          element.localName !== "summary"
        ) &&
        sees(element.parentElement);
      known.set(element, is);
      return is;
    };
    return sees;
  }

  const name = (element) => {
    const own = element.id ? `#${element.id}` : "";
    const kind = element.className?.baseVal ?? element.className ?? "";
    const first = String(kind).split(" ").filter(Boolean).slice(0, 2).join(".");
    const field = element.closest("[data-field]")?.getAttribute("data-field");
    const part = element.closest("section[class], .plate, form, header, footer, details");
    const where = part && part !== element ? ` in ${part.className || part.localName}` : "";
    return `${element.localName}${own}${first ? `.${first}` : ""}${field ? ` of ${field}` : ""}${where}`;
  };
  const short = (text) => {
    const line = text.replace(/\s+/g, " ").trim();
    return line.length > 48 ? `${line.slice(0, 46)}…` : line;
  };
  const meets = (a, b, slack = SLACK) =>
    a.left < b.right - slack &&
    b.left < a.right - slack &&
    a.top < b.bottom - slack &&
    b.top < a.bottom - slack;

  /** A rectangle as plain numbers: the browser's own are slow to read. */
  const plain = ({ left, right, top, bottom, width, height }) => {
    return { left, right, top, bottom, width, height };
  };

  /** The layer that an element lies in: what is pinned may lie over the rest. */
  function layerOf(element, layers) {
    if (!element || element === document.body) return null;
    if (layers.has(element)) return layers.get(element);
    const pinned = /sticky|fixed/.test(getComputedStyle(element).position);
    const layer = pinned ? element : layerOf(element.parentElement, layers);
    layers.set(element, layer);
    return layer;
  }

  /** The nearest ancestors that cut off what sticks out of them sideways. */
  function cutterOf(element, cutters) {
    if (!element || element === document.body) return null;
    if (cutters.has(element)) return cutters.get(element);
    const style = getComputedStyle(element);
    const cuts = style.overflowX !== "visible" && style.display !== "inline";
    const cutter = cuts ? element : cutterOf(element.parentElement, cutters);
    cutters.set(element, cutter);
    return cutter;
  }

  function texts(sees) {
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const found = [];
    const range = document.createRange();
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      if (!node.data.trim()) continue;
      const parent = node.parentElement;
      if (parent.matches("script, style, textarea") || !sees(parent)) continue;
      range.selectNodeContents(node);
      const rects = [...range.getClientRects()].map(plain).filter(({ width }) => width > 0);
      if (rects.length) found.push({ node, parent, rects });
    }
    return found;
  }

  const canvas = document.createElement("canvas").getContext("2d");
  function widthOf(text, element) {
    const style = getComputedStyle(element);
    canvas.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
    canvas.letterSpacing = style.letterSpacing === "normal" ? "0px" : style.letterSpacing;
    return canvas.measureText(text).width;
  }

  function cutBoxes(sees, say) {
    for (const input of document.querySelectorAll(
      "main input[type=text], main input:not([type])",
    )) {
      if (!sees(input) || !input.value) continue;
      const style = getComputedStyle(input);
      const room =
        input.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
      if (input.inputMode === "decimal" && widthOf(input.value, input) > room + 0.5)
        say("cut in its box", `${input.value} (${name(input)})`);
    }
    for (const select of document.querySelectorAll("main select")) {
      if (!sees(select)) continue;
      const style = getComputedStyle(select);
      const room =
        select.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
      const text = select.selectedOptions[0]?.textContent.trim() ?? "";
      if (widthOf(text, select) > room + 0.5) say("cut in its list", `${text} (${name(select)})`);
    }
  }

  function cutTexts(found, say) {
    const cutters = new Map();
    const wide = document.documentElement.clientWidth;
    for (const { node, parent, rects } of found) {
      const cutter = cutterOf(parent, cutters);
      const scrolls = cutter && /auto|scroll/.test(getComputedStyle(cutter).overflowX);
      // Looked at by themselves.
      if (scrolls || parent.closest("svg")) continue;
      const box = cutter?.getBoundingClientRect() ?? { left: 0, right: wide };
      if (rects.some(({ left, right }) => right > box.right + SLACK || left < box.left - SLACK))
        say("cut off", `${short(node.data)} (${name(parent)})`);
    }
    for (const svg of document.querySelectorAll("main svg")) {
      const box = svg.getBoundingClientRect();
      if (!box.width) continue;
      const labels = [...svg.querySelectorAll("text")].map((text) => ({
        text,
        rect: text.getBoundingClientRect(),
      }));
      labels.forEach(({ text, rect }, n) => {
        if (rect.left < box.left - SLACK || rect.right > box.right + SLACK)
          say("cut off in a drawing", `${text.textContent} (${name(svg)})`);
        for (const other of labels.slice(n + 1))
          if (meets(rect, other.rect, 8))
            say(
              "over each other in a drawing",
              `${text.textContent} / ${other.text.textContent} (${name(svg)})`,
            );
      });
    }
  }

  /** Tables that scroll: at no place where they come to rest is a text cut at an edge. */
  function cutCells(sees, say) {
    for (const scroller of document.querySelectorAll("main *")) {
      if (scroller.scrollWidth <= scroller.clientWidth + 1 || !sees(scroller)) continue;
      if (!/auto|scroll/.test(getComputedStyle(scroller).overflowX)) continue;
      if (scroller.matches("input, select, textarea")) continue;
      const most = scroller.scrollWidth - scroller.clientWidth;
      const rows = [...scroller.querySelectorAll("tr")];
      const some = rows.length > 9 ? [...rows.slice(0, 5), ...rows.slice(-3)] : rows;
      const range = document.createRange();
      const label = short(scroller.getAttribute("aria-label") ?? name(scroller));
      for (const part of [0, 0.23, 0.5, 0.71, 1]) {
        scroller.scrollTo({ left: most * part, behavior: "instant" });
        const box = scroller.getBoundingClientRect();
        for (const row of some) {
          const stuck = row.querySelector("th");
          const isStuck = stuck && getComputedStyle(stuck).position === "sticky";
          const edge = isStuck ? stuck.getBoundingClientRect().right : box.left;
          for (const cell of row.cells) {
            if (cell === stuck && isStuck) continue;
            const [text] = [...cell.childNodes].filter(
              (each) => each.nodeType === 3 && each.data.trim(),
            );
            if (!text) continue;
            range.selectNodeContents(text);
            const rect = range.getBoundingClientRect();
            if (!rect.width) continue;
            const isIn = rect.left >= edge - SLACK && rect.right <= box.right + SLACK;
            const isOut = rect.right <= edge + 0.5 || rect.left >= box.right - 0.5;
            if (!isIn && !isOut && getComputedStyle(cell).visibility === "visible")
              say("cut at the edge of a table", `${label}: ${short(cell.textContent)}`);
          }
        }
      }
      scroller.scrollTo({ left: 0, behavior: "instant" });
    }
  }

  function brokenWords(found, say) {
    const range = document.createRange();
    for (const { node, parent, rects } of found) {
      if (rects.length < 2 || parent.closest("code, svg, .by, .clip, .silence")) continue;
      const { data } = node;
      for (const { 0: word, index } of data.matchAll(/[\p{L}\p{N}.,]{3,}/gu)) {
        range.setStart(node, index);
        range.setEnd(node, index + word.length);
        const lines = new Set(
          [...range.getClientRects()]
            .filter(({ width }) => width > 0)
            .map(({ top }) => Math.round(top / 4)),
        );
        if (lines.size > 1) say("broken into pieces", `${word} (${name(parent)})`);
      }
      for (const { 0: pair, index } of data.matchAll(WITH_UNIT)) {
        range.setStart(node, index);
        range.setEnd(node, index + 1);
        const { top } = range.getBoundingClientRect();
        range.setStart(node, index + 2);
        range.setEnd(node, index + pair.length);
        const unit = range.getClientRects()[0];
        if (unit && Math.abs(unit.top - top) > 6)
          say(
            "unit parted from its number",
            `${short(data.slice(Math.max(0, index - 8), index + pair.length))} (${name(parent)})`,
          );
      }
    }
  }

  function controls(sees) {
    return [...document.querySelectorAll(PRESSED)]
      .filter((each) => sees(each) && !each.closest("[disabled]"))
      .filter(
        (each) =>
          !(each.matches("input[type=radio], input[type=checkbox]") && each.closest("label")),
      )
      .map((element) => {
        const box = element.closest(".box");
        // What lies in a box is pressed through the box.
        const rect = plain(element.getBoundingClientRect());
        const high = element.matches("input") && box ? box.getBoundingClientRect() : rect;
        return { element, rect, height: high.height, width: rect.width };
      })
      .filter(({ rect }) => rect.width > 0 && rect.height > 0);
  }

  /** A link in running text is as high as its line. */
  const runs = (element) =>
    element.localName === "a" && getComputedStyle(element).display === "inline";

  function smallTargets(pressed, say) {
    for (const { element, height, width } of pressed) {
      if (runs(element)) continue;
      if (Math.min(height, width) < LEAST - 0.5)
        say(
          "too small to press",
          `${Math.round(width)} × ${Math.round(height)} ${short(element.textContent || element.ariaLabel || "")} (${name(element)})`,
        );
    }
  }

  function overlaps(found, pressed, say) {
    const layers = new Map();
    const placed = pressed
      .filter(({ element }) => !runs(element))
      .map((each) => ({ ...each, layer: layerOf(each.element, layers) }))
      .sort((a, b) => a.rect.top - b.rect.top);
    placed.forEach((each, n) => {
      for (let m = n + 1; m < placed.length && placed[m].rect.top < each.rect.bottom; m += 1) {
        const other = placed[m];
        if (each.layer !== other.layer) continue;
        if (each.element.contains(other.element) || other.element.contains(each.element)) continue;
        if (meets(each.rect, other.rect, 3))
          say("over each other", `${name(each.element)} / ${name(other.element)}`);
      }
    });
    const cutters = new Map();
    for (const { node, parent, rects } of found) {
      const layer = layerOf(parent, layers);
      const cutter = cutterOf(parent, cutters);
      if (cutter && /auto|scroll/.test(getComputedStyle(cutter).overflowX)) continue;
      const label = parent.closest("label");
      for (const rect of rects) {
        for (const each of placed) {
          if (each.rect.top > rect.bottom) break;
          // The cheap question first: nearly all of them lie elsewhere.
          if (!meets(each.rect, rect, 3)) continue;
          if (each.layer !== layer || each.element.contains(parent)) continue;
          if (label?.contains(each.element)) continue;
          if (cutter && !meets(cutter.getBoundingClientRect(), rect)) continue;
          say("text over a control", `${short(node.data)} / ${name(each.element)}`);
        }
      }
    }
  }

  // --- contrast: WCAG 2.1, 1.4.3, with its relative luminance -------------------------------------

  /** Red, green, blue and opacity, each from nought to one. */
  function colour(text) {
    const numbers = (text.match(/-?[\d.]+(?:e-?\d+)?/g) ?? []).map(Number);
    const [r, g, b, a = 1] = text.startsWith("color(srgb")
      ? numbers
      : numbers.map((n, at) => (at < 3 ? n / 255 : n));
    return [r, g, b, a];
  }
  const over = ([r, g, b, a], [r2, g2, b2]) => [
    r * a + r2 * (1 - a),
    g * a + g2 * (1 - a),
    b * a + b2 * (1 - a),
    1,
  ];
  const luminance = (rgb) => {
    const [r, g, b] = rgb.map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (one, other) => {
    const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
    return (light + 0.05) / (dark + 0.05);
  };

  /** What lies behind an element; null where a picture does. */
  function ground(element, known) {
    if (!element)
      return colour(getComputedStyle(document.documentElement).backgroundColor || "#fff");
    if (known.has(element)) return known.get(element);
    const { backgroundColor, backgroundImage } = getComputedStyle(element);
    const own = colour(backgroundColor);
    const behind = own[3] === 1 ? own : ground(element.parentElement, known);
    const found = backgroundImage !== "none" ? null : behind && over(own, behind);
    known.set(element, found);
    return found;
  }

  function faint(found, say) {
    const known = new Map();
    for (const { node, parent } of found) {
      // A control that is shut need not be read; strokes and text of drawings are looked at by eye.
      if (parent.closest("svg, :disabled, [aria-disabled=true]")) continue;
      const behind = ground(parent, known);
      if (!behind) continue;
      const { color, fontSize, fontWeight } = getComputedStyle(parent);
      const size = Number.parseFloat(fontSize);
      const least = size >= 24 || (size >= 18.66 && Number(fontWeight) >= 700) ? 3 : 4.5;
      const is = contrast(over(colour(color), behind), behind);
      if (is < least - 0.005)
        say(`contrast of ${is.toFixed(2)}`, `${short(node.data)} in ${name(parent)}`);
    }
  }

  window.walk = {
    /** Words too faint to read. @returns {string[]} */
    faint() {
      const said = new Map();
      faint(texts(seer()), (what, where) => said.set(`${what}: ${where}`, 1));
      return [...said.keys()];
    },
    unfold() {
      document.querySelectorAll("details").forEach((each) => {
        each.open = true;
      });
      document.querySelector(".offline-note")?.replaceChildren();
      if (!document.getElementById("walk-style")) {
        const style = document.createElement("style");
        style.id = "walk-style";
        style.textContent = ".results > section { content-visibility: visible !important; }";
        const sheet = new CSSStyleSheet();
        sheet.replaceSync(style.textContent);
        document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
      }
    },
    /** @returns {string[]} */
    measure() {
      scrollTo({ top: 0, behavior: "instant" });
      const said = new Map();
      const say = (what, where) => {
        const key = `${what}: ${where}`;
        said.set(key, (said.get(key) ?? 0) + 1);
      };
      const { scrollWidth, clientWidth } = document.documentElement;
      const sees = seer();
      if (scrollWidth > clientWidth) {
        const wide = [...document.querySelectorAll("body *")].find(
          (each) =>
            sees(each) &&
            each.getBoundingClientRect().right > clientWidth + 1 &&
            !each.parentElement.closest(".sideways") &&
            ![...each.children].some(
              (child) => child.getBoundingClientRect().right > clientWidth + 1,
            ),
        );
        say(
          "the page scrolls sideways",
          `${scrollWidth} in ${clientWidth}, for ${wide ? name(wide) : "?"}`,
        );
      }
      const found = texts(sees);
      const pressed = controls(sees);
      cutBoxes(sees, say);
      cutTexts(found, say);
      brokenWords(found, say);
      smallTargets(pressed, say);
      overlaps(found, pressed, say);
      cutCells(sees, say);
      return [...said].map(([key, count]) => (count > 1 ? `${key} (${count} times)` : key));
    },
  };
})();
