// A model drawn from anywhere: the same projection, order and hatch as the picture at rest.
// Python has parted the solids by planes; walking that tree away from the viewer paints from back to front.

const EDGE_ON = 1e-9;
const TURN_BY = 10; // degrees for a key
const ZOOM_BY = 1.25;
const MOST_ZOOM = 6;
const BAND = 30; // room for letters above and below the picture

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export function axesOf(turn, tilt) {
  const t = (turn * Math.PI) / 180, h = (tilt * Math.PI) / 180;
  const c = Math.cos(t), s = Math.sin(t), cc = Math.cos(h), ss = Math.sin(h);
  return { right: [c, s, 0], up: [s * ss, -c * ss, cc], toward: [-s * cc, c * cc, ss] };
}

function backToFront(tree, toward, found = []) {
  if (!tree) return found;
  if (tree.axis === undefined) {
    found.push(tree);
    return found;
  }
  const beyond = toward[tree.axis] > 0;
  backToFront(beyond ? tree.low : tree.high, toward, found);
  return backToFront(beyond ? tree.high : tree.low, toward, found);
}

const pairs = (points) => points.map((point, n) => [point, points[(n + 1) % points.length]]);

// The faces of a block that are turned to the viewer: points, edges that are the solid's own, u and v of the hatch.
function planesOf(block, toward) {
  const found = [], { outline, sides, corners, ends } = block;
  [-1, 1].forEach((way, place) => {
    if (way * toward[0] <= EDGE_ON) return;
    const points = outline.map(([y, z]) => [block.along[place], y, z]);
    const edges = pairs(points).filter((_, n) => sides[n] && ends[place]);
    found.push({ points, edges, u: 1, v: 2, uStep: [0, 1, 0], vStep: [0, 0, 1] });
  });
  pairs(outline).forEach(([one, other], n) => {
    const dy = other[0] - one[0], dz = other[1] - one[1];
    if (toward[1] * dz - toward[2] * dy <= EDGE_ON * (Math.abs(dy) + Math.abs(dz))) return;
    const [start, end] = block.along;
    const points = [[start, ...one], [end, ...one], [end, ...other], [start, ...other]];
    const own = [corners[n], sides[n] && ends[1], corners[(n + 1) % corners.length], sides[n] && ends[0]];
    const level = Math.abs(dy) >= Math.abs(dz);
    const vStep = level ? [0, 1, dz / dy] : [0, dy / dz, 1];
    found.push({ points, edges: pairs(points).filter((_, k) => own[k]), u: 0, v: level ? 1 : 2, uStep: [1, 0, 0], vStep });
  });
  return found;
}

// Lines u + b v = n step in a face; where they would come too near each other, fewer, or none.
function hatchOf(plane, at, [b, share], { step, apart, most }) {
  const [ux, uy] = at(plane.uStep), [vx, vy] = at(plane.vStep);
  const dx = vx - b * ux, dy = vy - b * uy;
  const seen = Math.abs(ux * dy - uy * dx) / (Math.hypot(dx, dy) || 1);
  let times = 1;
  while (times <= most && seen * times < apart) times *= 2;
  if (times > most) return [];
  const distance = share * step * times, first = plane.points[0];
  const back = (u, v) =>
    [0, 1, 2].map((n) => first[n] + (u - first[plane.u]) * plane.uStep[n] + (v - first[plane.v]) * plane.vStep[n]);
  const around = plane.points.map((point) => [point[plane.u], point[plane.v]]);
  const value = ([u, v]) => u + b * v, values = around.map(value), lines = [];
  for (let n = Math.ceil(Math.min(...values) / distance); n <= Math.floor(Math.max(...values) / distance); n++) {
    const level = n * distance, met = [];
    for (const [start, end] of pairs(around)) {
      const from = value(start), to = value(end);
      if (from < level === to < level) continue;
      const part = (level - from) / (to - from);
      met.push([start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])]);
    }
    met.sort((p, q) => p[1] - q[1]);
    for (let k = 0; k + 1 < met.length; k += 2) lines.push([at(back(...met[k])), at(back(...met[k + 1]))]);
  }
  return lines;
}

export function facesOf(scene, turn, tilt) {
  const { right, up, toward } = axesOf(turn, tilt);
  const at = (point) => [dot(right, point), dot(up, point)];
  const faces = [];
  for (const block of backToFront(scene.tree, toward)) {
    const kind = scene.kinds[scene.solids[block.solid].kind];
    for (const plane of planesOf(block, toward)) {
      faces.push({
        solid: block.solid,
        points: plane.points.map(at),
        hatch: kind.pattern ? hatchOf(plane, at, kind.pattern, scene.hatch) : [],
        edges: plane.edges.map(([a, b]) => [at(a), at(b)]),
      });
    }
  }
  return faces;
}

function shellLines(scene, { right, up, toward }) {
  const at = (point) => [dot(right, point), dot(up, point)];
  const behind = [], before = [];
  for (const { ends, outline } of scene.shell) {
    const bottom = Math.min(...outline.map((point) => point[1]));
    const seen = pairs(outline).map(([a, b]) => toward[1] * (b[1] - a[1]) - toward[2] * (b[0] - a[0]) > EDGE_ON);
    outline.forEach((point, n) => {
      const last = seen[(n + seen.length - 1) % seen.length];
      (seen[n] || last ? before : behind).push([at([ends[0], ...point]), at([ends[1], ...point])]);
    });
    [toward[0] < -EDGE_ON, toward[0] > EDGE_ON].forEach((turned, place) => {
      pairs(outline).forEach(([a, b], n) => {
        if (a[1] === bottom && b[1] === bottom) return; // it is open below
        (seen[n] || turned ? before : behind).push([at([ends[place], ...a]), at([ends[place], ...b])]);
      });
    });
  }
  return { behind, before };
}

function holds(points, [x, y]) {
  let inside = false;
  for (const [[ax, ay], [bx, by]] of pairs(points)) {
    if (ay > y !== by > y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) inside = !inside;
  }
  return inside;
}

const area = (points) => Math.abs(pairs(points).reduce((sum, [a, b]) => sum + a[0] * b[1] - b[0] * a[1], 0));

// A point of a thing that nothing hides.
function inSight(scene, faces, name) {
  const own = faces.map((_, n) => n).filter((n) => name.solids.includes(faces[n].solid));
  own.sort((p, q) => area(faces[q].points) - area(faces[p].points));
  const through = (face) => scene.kinds[scene.solids[face.solid].kind].through;
  for (const share of [0, 0.5, 0.8]) {
    for (const n of own) {
      const points = faces[n].points;
      const middle = [0, 1].map((axis) => points.reduce((sum, point) => sum + point[axis], 0) / points.length);
      const spots = share ? points.map((p) => [0, 1].map((axis) => middle[axis] + share * (p[axis] - middle[axis]))) : [middle];
      const over = faces.slice(n + 1).filter((face) => !through(face));
      const found = spots.find((spot) => !over.some((face) => holds(face.points, spot)));
      if (found) return found;
    }
  }
  return null;
}

const letter = (n) => (n >= 26 ? letter(Math.floor(n / 26) - 1) : "") + String.fromCharCode(97 + (n % 26));
const grey = (value) => `rgb(${Array(3).fill(Math.round(255 * value)).join(",")})`;
const escaped = (text) => text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);

function stroked(name, lines, pen) {
  if (!lines.length) return "";
  const xy = (point) => `${point[0].toFixed(2)} ${point[1].toFixed(2)}`;
  const dashes = pen.dashes.length ? ` stroke-dasharray="${pen.dashes.join(" ")}"` : "";
  const runs = lines.map(([a, b]) => `M${xy(a)}L${xy(b)}`).join("");
  return `<path class="${name}" d="${runs}" stroke="${grey(pen.grey)}" stroke-width="${pen.width}"${dashes} stroke-linecap="round"/>`;
}

// The whole picture as SVG text; y counts downwards there.
export function picture(scene, { turn, tilt, zoom }) {
  const axes = axesOf(turn, tilt), { width, high, side } = scene.sheet;
  const xs = scene.corners.map((corner) => dot(axes.right, corner)), ys = scene.corners.map((corner) => dot(axes.up, corner));
  const [left, right, low, top] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const unit = zoom * Math.min((width - 2 * side) / (right - left), high / (top - low));
  const middle = BAND + high / 2;
  const place = ([x, y]) => [width / 2 + unit * (x - (left + right) / 2), middle - unit * (y - (low + top) / 2)];
  const placed = (lines) => lines.map(([a, b]) => [place(a), place(b)]);
  const faces = facesOf(scene, turn, tilt).map((face) => ({ ...face, points: face.points.map(place) }));
  const { behind, before } = shellLines(scene, axes);
  const parts = [stroked("shell-behind", placed(behind), scene.lines.behind)];
  for (const face of faces) {
    const kind = scene.solids[face.solid].kind, look = scene.kinds[kind];
    if (look.fill !== null) {
      const outline = face.points.map((point) => `${point[0].toFixed(2)} ${point[1].toFixed(2)}`).join("L");
      const seam = look.fill < 0.9 ? ` stroke="${grey(look.fill)}" stroke-width="0.6"` : "";
      parts.push(`<path class="${kind}" d="M${outline}Z" fill="${grey(look.fill)}"${seam}/>`);
    }
    parts.push(stroked("hatch", placed(face.hatch), look.hatch), stroked("edge", placed(face.edges), look.edge));
  }
  parts.push(stroked("shell", placed(before), scene.lines.shell), letters(scene, faces));
  return parts.join("");
}

// A letter in the row above or below for each thing in sight, with a line to it; letters keep apart.
function letters(scene, faces) {
  const { width, high } = scene.sheet, parts = [];
  for (const above of [true, false]) {
    const row = scene.names.map((name, n) => ({ name, n })).filter(({ name }) => name.above === above);
    for (const each of row) each.at = inSight(scene, faces, each.name);
    const shown = row.filter(({ at }) => at && at[0] >= 0 && at[0] <= width).sort((p, q) => p.at[0] - q.at[0]);
    const step = Math.min(22, (width - 20) / Math.max(shown.length, 1));
    shown.forEach((each, k) => (each.x = Math.max(each.at[0], 10 + k * step, k ? shown[k - 1].x + step : 0)));
    for (let k = shown.length - 1; k >= 0; k--) {
      shown[k].x = Math.min(shown[k].x, k === shown.length - 1 ? width - 10 : shown[k + 1].x - step);
    }
    const y = above ? 12 : 2 * BAND + high - 12;
    for (const { at, x, n } of shown) {
      const end = `M${at[0].toFixed(1)} ${at[1].toFixed(1)}L${x.toFixed(1)} ${above ? y + 9 : y - 9}`;
      parts.push(`<path d="${end}" stroke="#fff" stroke-width="3"/><path d="${end}" stroke="#1a1a1a" stroke-width=".8"/>`);
      parts.push(`<circle cx="${at[0].toFixed(1)}" cy="${at[1].toFixed(1)}" r="2.6" fill="#000" stroke="#fff" stroke-width="1"/>`);
      parts.push(`<text x="${x.toFixed(1)}" y="${y + 5}" text-anchor="middle" font-size="15" fill="#000">${letter(n)}</text>`);
    }
  }
  return parts.join("");
}

const HELP = "Drag it, or use the arrow keys; + and - change its size, 0 sets it back.";

function render({ model, el }) {
  const box = document.createElement("div");
  box.className = "mm-turnable";
  el.appendChild(box);
  let view = { turn: 0, tilt: 0, zoom: 1 };
  let sheet, state, waiting = 0;

  const scene = () => model.get("scene");
  const first = () => ({ ...scene().view, zoom: 1 });

  function paint() {
    waiting = 0;
    if (!sheet || !scene().tree) return;
    sheet.innerHTML = picture(scene(), view);
    const turn = Math.round(view.turn), tilt = Math.round(view.tilt), size = Math.round(100 * view.zoom);
    state.textContent = `Turned by ${turn}°, tilted by ${tilt}°, size ${size} %.`;
  }
  const later = () => {
    if (!waiting) waiting = requestAnimationFrame(paint);
  };
  function look(change) {
    view = { ...view, ...change };
    view.turn = ((view.turn % 360) + 360) % 360;
    view.tilt = Math.max(-90, Math.min(90, view.tilt));
    view.zoom = Math.max(1 / MOST_ZOOM, Math.min(MOST_ZOOM, view.zoom));
    later();
  }

  function keys(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const moves = {
      ArrowLeft: () => ({ turn: view.turn - TURN_BY }),
      ArrowRight: () => ({ turn: view.turn + TURN_BY }),
      ArrowUp: () => ({ tilt: view.tilt + TURN_BY }),
      ArrowDown: () => ({ tilt: view.tilt - TURN_BY }),
      "+": () => ({ zoom: view.zoom * ZOOM_BY }),
      "=": () => ({ zoom: view.zoom * ZOOM_BY }),
      "-": () => ({ zoom: view.zoom / ZOOM_BY }),
      0: first,
    };
    const move = moves[event.key];
    if (!move) return;
    event.preventDefault();
    look(move());
  }

  // A finger's stroke up or down scrolls the page (touch-action in the style sheet); one to the side turns the model.
  function drag(event) {
    if (event.button) return;
    let last = [event.clientX, event.clientY];
    const pointer = event.pointerId, perPx = 180 / Math.max(sheet.clientWidth, 200);
    sheet.setPointerCapture(pointer);
    const move = (now) => {
      if (now.pointerId !== pointer) return;
      const dx = now.clientX - last[0], dy = now.clientY - last[1];
      last = [now.clientX, now.clientY];
      look({ turn: view.turn + dx * perPx, tilt: view.tilt + dy * perPx });
    };
    const stop = (now) => {
      if (now.pointerId !== pointer) return;
      sheet.removeEventListener("pointermove", move);
      for (const name of ["pointerup", "pointercancel"]) sheet.removeEventListener(name, stop);
    };
    sheet.addEventListener("pointermove", move);
    for (const name of ["pointerup", "pointercancel"]) sheet.addEventListener(name, stop);
  }

  function button(words, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = words;
    made.addEventListener("click", () => look(act()));
    return made;
  }

  function build() {
    box.replaceChildren();
    sheet = null;
    if (!scene().tree) return;
    const { width, high } = scene().sheet;
    sheet = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    sheet.setAttribute("viewBox", `0 0 ${width} ${high + 2 * BAND}`);
    sheet.setAttribute("tabindex", "0");
    sheet.setAttribute("role", "application"); // so that a screen reader hands the arrow keys on
    sheet.setAttribute("aria-label", `${scene().title}. ${scene().words} ${HELP}`);
    sheet.setAttribute("fill", "none");
    sheet.addEventListener("keydown", keys);
    sheet.addEventListener("pointerdown", drag);
    const row = document.createElement("div");
    row.className = "mm-turnable-row";
    row.append(
      button("From a corner", first),
      button("From the side", () => ({ turn: 0, tilt: 0, zoom: 1 })),
      button("From the front", () => ({ turn: 90, tilt: 0, zoom: 1 })),
      button("From above", () => ({ turn: 0, tilt: 90, zoom: 1 })),
      button("Larger", () => ({ zoom: view.zoom * ZOOM_BY })),
      button("Smaller", () => ({ zoom: view.zoom / ZOOM_BY })),
    );
    const help = document.createElement("p");
    help.textContent = HELP;
    state = document.createElement("p");
    state.setAttribute("role", "status");
    const key = document.createElement("p");
    key.innerHTML = scene().names.map((name, n) => `<span><b>${letter(n)}</b> ${escaped(name.words)}</span>`).join(" ");
    box.append(sheet, row, help, state, key);
    paint();
  }

  function shown() {
    if (scene().tree && !sheet) view = first();
    const focused = sheet && document.activeElement === sheet;
    build();
    if (focused && sheet) sheet.focus();
  }

  model.on("change:scene", shown);
  shown();
  return () => model.off("change:scene", shown);
}

export default { render };
