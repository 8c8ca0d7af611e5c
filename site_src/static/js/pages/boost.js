/** The pulleys that exist next to the one that was worked out, and what each of them gives. */

import { need } from "../face/dom.js";
import { showNearest } from "../face/nearest.js";
import { whenWorkedOut } from "../face/worked_out.js";

whenWorkedOut((worked) => showNearest(need(document, "[data-nearest]"), worked));
