// A drawing in which things are moved along the length. What is moved follows the pointer here, from place to place;
// Python is asked what follows, one question at a time: the next goes out once the last is answered.

const SVG = "http://www.w3.org/2000/svg";
const FAR = 5; // places for a key with Shift
// In drawing units; a phone shows three quarters of one as a px.
const LEAST_HIT = 20; // of a thing itself, so that its neighbour can be got hold of too
const GRIP = { wide: 30, high: 16, hit: 34 }; // what it is held by, below the model, with its arrows
const SETTLE = 700; // ms after the last key until it is put there
const HEARD = 500; // ms of quiet before a change is announced

const made = (name, attributes, within) => {
  const node = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  within.appendChild(node);
  return node;
};

// The place nearest to a length; of two as near the one further to the front.
export function nearest(places, mm) {
  let low = 0, high = places.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (places[middle] < mm) low = middle;
    else high = middle;
  }
  return Math.abs(places[high] - mm) < Math.abs(places[low] - mm) ? high : low;
}

export function placeWords(mm, mark) {
  const shown = Math.abs(mm).toFixed(2);
  if (shown === "0.00") return `at the ${mark}`;
  return `${shown} mm ${mm > 0 ? "behind" : "ahead of"} the ${mark}`;
}

function render({ model, el }) {
  const box = document.createElement("div");
  box.className = "mm-handled";
  const sheet = document.createElement("div");
  sheet.className = "mm-handled-sheet";
  const [line, why, heard, help] = ["line", "why", "heard", "help"].map((name) => {
    const p = document.createElement("p");
    p.className = name;
    return p;
  });
  heard.setAttribute("role", "status");
  help.textContent =
    "Drag what has arrows. By keys: Tab to it, then the arrow keys by one mark, with Shift by five; Home and End to its " +
    "limits, Enter puts it there at once, Escape puts it back.";
  box.append(sheet, line, why, heard, help);
  el.appendChild(box);

  let svg, room, handles = new Map(); // by key: { own, node, ghost, low, high, at, place }
  let held = null; // what is being moved, by its key
  let start = null; // { key, at }: where it was when it got the focus
  let number = 0, waiting = null, queue = []; // one question at a time
  const page = Math.random().toString(36).slice(2); // two views may show one widget: each waits for its own answers
  let settling = 0, hearing = 0, rebuilding = false;

  const scene = () => model.get("scene");
  const one = (key) => handles.get(key);
  const words = (own, mm) => placeWords(mm, scene().mark);

  function hear(text) {
    clearTimeout(hearing);
    hearing = setTimeout(() => (heard.textContent = text), HEARD);
  }

  // Asking.

  function ask(act, key, to) {
    if (waiting) {
      const last = queue.at(-1);
      if (last && last.act === "try" && last.key === key) queue.pop(); // only where it is now is of interest
      queue.push({ act, key, to });
      return;
    }
    waiting = { n: ++number, act, key, to };
    model.set("asked", { ...waiting, page });
    model.save_changes();
  }

  function answered() {
    const answer = model.get("answer");
    if (!waiting || answer.page !== page || answer.n !== waiting.n) return;
    const was = waiting;
    waiting = null;
    take(was, answer);
    const after = queue.shift();
    if (after) ask(after.act, after.key, after.to);
  }

  function take(was, answer) {
    const it = one(was.key);
    if (!it) return;
    if (answer.band) {
      Object.assign(it, answer.band);
      limits(it);
    }
    if (answer.line && held === was.key) line.textContent = answer.line;
    if (answer.stop !== undefined) {
      // It resists: no further that way until it is let go.
      if (answer.stop < was.to) it.high = Math.min(it.high, answer.stop);
      else it.low = Math.max(it.low, answer.stop);
      it[answer.stop < was.to ? "whyHigh" : "whyLow"] = answer.why;
      if (held === was.key && (it.place > it.high || it.place < it.low)) {
        move(it, it.place, true);
        ask("try", was.key, it.place);
      }
      stopped(it, answer.why);
    } else if (answer.room && held === was.key) {
      paintRoom(answer.room);
      if (!it.stopped) hear(`${words(it.own, it.place)}. ${answer.line}`);
    }
    if (was.act === "end" && answer.at !== undefined && held === was.key) {
      move(it, answer.at, true);
      why.textContent = answer.why;
      hear(`${words(it.own, it.place)}. ${answer.why}`);
      ask("try", was.key, it.place);
      settle(it);
    }
    if (was.act === "drop") {
      if (answer.ok) return; // a new scene is on its way, or here
      held = null;
      back(it);
    }
  }

  // Moving.

  function paintRoom(spot) {
    if (!spot) return;
    for (const name of ["x", "y", "width", "height"]) room.setAttribute(name, spot[name]);
    room.style.display = "";
  }

  function paint(it) {
    const away = it.place !== it.own.at;
    it.node.classList.toggle("away", away);
    it.node.classList.toggle("stopped", Boolean(it.stopped));
    const by = (it.place - it.own.at) * scene().unit;
    it.moves.setAttribute("transform", `translate(${by.toFixed(2)} 0)`);
    it.node.setAttribute("aria-valuenow", it.place.toFixed(2));
    it.node.setAttribute("aria-valuetext", words(it.own, it.place));
  }

  function limits(it) {
    it.node.setAttribute("aria-valuemin", it.low.toFixed(2));
    it.node.setAttribute("aria-valuemax", it.high.toFixed(2));
  }

  function stopped(it, text) {
    it.stopped = true;
    why.textContent = text;
    hear(text);
    paint(it);
  }

  // Go to the place nearest to a length, no further than it can; say why where it would.
  function move(it, mm, quiet) {
    const { places } = it.own, grain = 1e-6;
    let place = places[nearest(places, mm)];
    const over = place > it.high + grain ? "whyHigh" : place < it.low - grain ? "whyLow" : "";
    if (over) place = places[nearest(places, over === "whyHigh" ? it.high : it.low)];
    it.place = place;
    it.stopped = false;
    if (over) stopped(it, it[over]);
    else if (!quiet) why.textContent = "";
    paint(it);
    return place;
  }

  function back(it) {
    it.place = it.own.at;
    it.stopped = false;
    room.style.display = "none";
    paint(it);
    line.textContent = scene().line;
  }

  function drop(it) {
    clearTimeout(settling);
    settling = 0;
    held = null;
    room.style.display = "none";
    if (it.place === it.own.at) {
      back(it);
      return;
    }
    ask("drop", it.own.key, it.place);
  }

  function settle(it) {
    clearTimeout(settling);
    settling = setTimeout(() => drop(it), SETTLE);
  }

  function leave(it) {
    clearTimeout(settling);
    settling = 0;
    queue = queue.filter((each) => each.act !== "try");
    held = null;
    back(it);
    why.textContent = "";
  }

  function escape(it) {
    const away = it.place !== it.own.at;
    leave(it);
    const put = !away && start && start.key === it.own.key && start.at !== it.own.at;
    if (put) ask("back", it.own.key, start.at);
    hear(`Put back: ${words(it.own, put ? start.at : it.own.at)}.`);
  }

  const no = (it) => {
    if (!it.own.fixed) return false;
    why.textContent = it.own.fixed;
    hear(it.own.fixed);
    return true;
  };

  function keys(it, event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const by = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -FAR, PageUp: FAR }[event.key];
    if (event.key === "Escape") {
      event.preventDefault();
      escape(it);
    } else if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      drop(it);
    } else if (event.key === "Home" || event.key === "End") {
      event.preventDefault();
      if (no(it)) return;
      held = it.own.key;
      ask("end", it.own.key, event.key === "Home" ? it.own.places[0] : it.own.places.at(-1));
    } else if (by) {
      event.preventDefault();
      if (no(it)) return;
      held = it.own.key;
      const here = nearest(it.own.places, it.place), step = event.shiftKey && Math.abs(by) === 1 ? by * FAR : by;
      const there = Math.max(0, Math.min(it.own.places.length - 1, here + step));
      const before = it.place;
      if (there === here) stopped(it, by < 0 ? it.whyLow : it.whyHigh);
      else if (move(it, it.own.places[there]) !== before) ask("try", it.own.key, it.place);
      settle(it);
    }
  }

  function drag(it, event) {
    if (event.button) return;
    event.preventDefault();
    it.node.focus({ preventScroll: true });
    if (no(it)) return;
    clearTimeout(settling);
    settling = 0;
    // Measured at each move anew: what is above or around the drawing may still come in, or the page be turned.
    const along = (now) => {
      const box = svg.getBoundingClientRect();
      return ((now.clientX - box.left) / box.width) * scene().width / scene().unit;
    };
    const pointer = event.pointerId, from = along(event), first = it.place;
    held = it.own.key;
    it.node.setPointerCapture(pointer);
    const stop = (put) => {
      for (const [name, act] of acts) it.node.removeEventListener(name, act);
      document.removeEventListener("keydown", quit, true);
      if (held !== it.own.key) return;
      if (put) drop(it);
      else leave(it);
    };
    const quit = (now) => {
      if (now.key !== "Escape") return;
      now.preventDefault();
      now.stopPropagation();
      stop(false);
    };
    const mine = (act) => (now) => now.pointerId === pointer && act(now);
    const acts = [
      ["pointermove", mine((now) => {
        const before = it.place;
        if (move(it, first + along(now) - from) !== before) ask("try", it.own.key, it.place);
      })],
      ["pointerup", mine(() => stop(true))],
      ["pointercancel", mine(() => stop(false))],
    ];
    for (const [name, act] of acts) it.node.addEventListener(name, act);
    document.addEventListener("keydown", quit, true);
  }

  // The drawing and its handles.

  function handle(own, layer) {
    const { x, y, width, height } = own.spot;
    const node = made("g", { class: `mm-handle${own.fixed ? " fixed" : ""}`, tabindex: 0, role: "slider" }, layer);
    node.setAttribute("aria-label", own.label);
    node.setAttribute("aria-orientation", "horizontal");
    node.dataset.key = own.key;
    if (own.fixed) node.setAttribute("aria-disabled", "true");
    const size = { x, y, width, height };
    made("rect", { class: "edge", ...size }, node);
    const moves = made("g", {}, node);
    made("rect", { class: "ghost", ...size }, moves);
    const middle = x + width / 2, wide = Math.max(width, LEAST_HIT), [at, level] = own.grip;
    const around = (w, h) => ({ x: at - w / 2, y: level - h / 2, width: w, height: h });
    made("path", { class: "leader", d: `M${middle} ${y + height}L${at} ${level - GRIP.high / 2}` }, moves);
    made("rect", { class: "hit", x: middle - wide / 2, y, width: wide, height }, moves);
    made("rect", { class: "grip", ...around(GRIP.wide, GRIP.high), rx: 3 }, moves);
    const arrows = own.fixed ? "M-6 0H6" : "M-10 0H10M-6 -4L-10 0L-6 4M6 -4L10 0L6 4";
    made("path", { class: "arrows", d: arrows, transform: `translate(${at} ${level})` }, moves);
    made("rect", { class: "hit held-by", ...around(GRIP.hit, GRIP.hit) }, moves);
    const it = { own, node, moves, low: own.places[0], high: own.places.at(-1), place: own.at };
    Object.assign(it, { whyLow: own.whyLow, whyHigh: own.whyHigh });
    node.addEventListener("keydown", (event) => keys(it, event));
    node.addEventListener("pointerdown", (event) => drag(it, event));
    // A finger's stroke moves it, and scrolls no page; a style sheet alone does not see to that inside a drawing.
    node.addEventListener("touchstart", (event) => event.preventDefault(), { passive: false });
    node.addEventListener("focus", () => {
      if (!rebuilding) start = { key: own.key, at: own.at };
      if (!own.fixed) ask(rebuilding ? "band" : "grab", own.key, own.at);
    });
    node.addEventListener("blur", () => {
      if (!rebuilding && settling && it.place !== own.at) drop(it);
    });
    handles.set(own.key, it);
    limits(it);
    paint(it);
  }

  function build() {
    const focused = sheet.contains(document.activeElement) ? document.activeElement.dataset.key : "";
    rebuilding = true;
    handles = new Map();
    held = null;
    clearTimeout(settling);
    settling = 0;
    sheet.replaceChildren();
    why.textContent = scene().why || "";
    line.textContent = scene().line || "";
    box.style.display = scene().svg ? "" : "none";
    if (scene().svg) {
      sheet.innerHTML = scene().svg;
      svg = sheet.querySelector("svg");
      svg.setAttribute("role", "group");
      svg.setAttribute("aria-label", scene().title);
      const layer = made("g", { class: "mm-handles" }, svg);
      room = made("rect", { class: "mm-allowed" }, layer);
      room.style.display = "none";
      for (const own of scene().handles) handle(own, layer);
      if (scene().said) hear(scene().said);
    }
    if (focused && handles.has(focused)) handles.get(focused).node.focus({ preventScroll: true });
    rebuilding = false;
  }

  model.on("change:scene", build);
  model.on("change:answer", answered);
  build();
  return () => {
    clearTimeout(settling);
    clearTimeout(hearing);
    model.off("change:scene", build);
    model.off("change:answer", answered);
  };
}

export default { render };
