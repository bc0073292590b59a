// A table of text cells that can be edited, added to, and pasted into from a spreadsheet.
// Python holds what the cells mean; here are only cells, focus and keys.

function blank(columns, like) {
  const row = {};
  for (const column of columns) row[column.key] = column.carried && like ? like[column.key] : column.first || "";
  return row;
}

function render({ model, el }) {
  let rows = model.get("rows").map((row) => ({ ...row }));
  const columns = model.get("columns");
  const box = document.createElement("div");
  box.className = "mm-grid";
  el.appendChild(box);

  const send = () => {
    model.set("rows", rows.map((row) => ({ ...row })));
    model.save_changes();
  };
  const at = (row, key) => box.querySelector(`[data-row="${row}"][data-key="${key}"]`);

  function focus(row, key) {
    const cell = at(row, key);
    if (cell) {
      cell.focus();
      if (cell.select) cell.select();
    }
  }

  function add(row = rows.length) {
    rows.splice(row, 0, blank(columns, rows[row - 1]));
    draw();
    send();
    focus(row, columns[model.get("starts_at")].key);
  }

  function remove(row) {
    rows.splice(row, 1);
    draw();
    send();
    if (rows.length) focus(Math.min(row, rows.length - 1), columns[0].key);
    else box.querySelector(".mm-grid-add").focus();
  }

  // Cells copied in a spreadsheet come as lines with tabs; they fill to the right and down from the cell.
  function paste(event, row, place) {
    const text = (event.clipboardData || window.clipboardData).getData("text");
    if (!/[\t\n]/.test(text.trimEnd())) return;
    event.preventDefault();
    const lines = text.replace(/\r/g, "").replace(/\n+$/, "").split("\n").map((line) => line.split("\t"));
    const named = (cell) => columns.find((column) => column.label.toLowerCase() === cell.trim().toLowerCase());
    // A first line of headings tells which column is which.
    const headed = lines.length > 1 && lines[0].every((cell) => !cell.trim() || named(cell));
    const filled = headed ? lines[0].map(named) : columns.slice(place);
    lines.slice(headed ? 1 : 0).forEach((line, down) => {
      if (row + down >= rows.length) rows.push(blank(columns, rows[rows.length - 1]));
      line.forEach((cell, right) => {
        const column = filled[right];
        if (column) rows[row + down][column.key] = cell.trim();
      });
    });
    draw();
    send();
    focus(row, columns[place].key);
  }

  function keys(event, row, place) {
    const down = event.key === "ArrowDown" || (event.key === "Enter" && !event.shiftKey);
    const up = event.key === "ArrowUp" || (event.key === "Enter" && event.shiftKey);
    if (event.isComposing || (event.target.tagName === "SELECT" && event.key !== "Enter")) return;
    if (!down && !up) return;
    event.preventDefault();
    event.target.dispatchEvent(new Event("change"));
    if (down && event.key === "Enter" && row === rows.length - 1) add();
    else focus(row + (down ? 1 : -1), columns[place].key);
  }

  // A cell that has no meaning in its row, such as the width of a strip, stands back as long as it is empty.
  function spare(row) {
    for (const column of columns) {
      const cell = at(row, column.key);
      if (!cell || !column.only) continue;
      const idle = !cell.value && !column.only.values.includes(rows[row][column.only.key]);
      cell.tabIndex = idle ? -1 : 0;
      cell.closest("td").classList.toggle("mm-grid-idle", idle);
    }
  }

  function control(row, place) {
    const column = columns[place];
    let cell;
    if (column.options) {
      cell = document.createElement("select");
      const listed = column.options.includes(rows[row][column.key]);
      for (const option of listed ? column.options : [rows[row][column.key], ...column.options]) {
        const choice = document.createElement("option");
        choice.value = option;
        choice.textContent = option || column.empty || "";
        cell.appendChild(choice);
      }
    } else {
      cell = document.createElement("input");
      cell.type = "text";
      cell.size = 1;
      cell.autocomplete = "off";
      cell.spellcheck = false;
      if (column.whole) cell.inputMode = "numeric";
    }
    cell.value = rows[row][column.key] ?? "";
    cell.dataset.row = row;
    cell.dataset.key = column.key;
    cell.setAttribute("aria-label", `${column.label}, row ${row + 1}`);
    cell.addEventListener("change", () => {
      if (rows[row] && rows[row][column.key] !== cell.value) {
        rows[row][column.key] = cell.value;
        spare(row);
        send();
      }
    });
    cell.addEventListener("keydown", (event) => keys(event, row, place));
    cell.addEventListener("paste", (event) => paste(event, row, place));
    return cell;
  }

  function draw() {
    box.replaceChildren();
    const table = document.createElement("table");
    const caption = document.createElement("caption");
    caption.textContent = model.get("caption");
    table.appendChild(caption);
    const head = table.createTHead().insertRow();
    for (const column of columns) {
      const cell = document.createElement("th");
      cell.scope = "col";
      cell.textContent = column.label;
      cell.style.width = column.width;
      head.appendChild(cell);
    }
    const last = document.createElement("th");
    last.scope = "col";
    last.className = "mm-grid-last";
    last.innerHTML = '<span class="mm-grid-unseen">take out</span>';
    head.appendChild(last);
    const body = table.createTBody();
    rows.forEach((_, row) => {
      const line = body.insertRow();
      columns.forEach((column, place) => {
        const cell = line.insertCell();
        cell.dataset.label = column.label;
        cell.appendChild(control(row, place));
      });
      const button = document.createElement("button");
      button.type = "button";
      button.className = "mm-grid-out";
      button.textContent = "×";
      button.title = "take this row out";
      button.setAttribute("aria-label", `take out row ${row + 1}`);
      button.addEventListener("click", () => remove(row));
      const cell = line.insertCell();
      cell.className = "mm-grid-last";
      cell.appendChild(button);
    });
    box.appendChild(table);
    rows.forEach((_, row) => spare(row));
    const more = document.createElement("button");
    more.type = "button";
    more.className = "mm-grid-add";
    more.textContent = model.get("adds");
    more.addEventListener("click", () => add());
    box.appendChild(more);
    mark();
  }

  // What is wrong with a cell stands in a line of its own below the row; a line that stays is not spoken anew.
  function mark() {
    const same = (fault, line) => line.dataset.fault === JSON.stringify(fault);
    const faults = model.get("faults");
    box.querySelectorAll(".mm-grid-fault").forEach((line) => {
      if (!faults.some((fault) => same(fault, line))) line.remove();
    });
    box.querySelectorAll("[aria-invalid]").forEach((cell) => {
      cell.removeAttribute("aria-invalid");
      cell.removeAttribute("aria-describedby");
    });
    const standing = [...box.querySelectorAll(".mm-grid-fault")];
    for (const fault of faults) {
      const cell = at(fault.row, fault.key) || at(fault.row, columns[0].key);
      if (!cell) continue;
      cell.setAttribute("aria-invalid", "true");
      cell.setAttribute("aria-describedby", `${model.get("name")}-${fault.row}`);
      if (standing.some((line) => same(fault, line))) continue;
      const line = document.createElement("tr");
      line.className = "mm-grid-fault";
      line.dataset.fault = JSON.stringify(fault);
      const told = document.createElement("td");
      told.colSpan = columns.length + 1;
      told.id = `${model.get("name")}-${fault.row}`; // one fault to a row
      told.textContent = fault.message;
      told.setAttribute("role", "alert");
      line.appendChild(told);
      cell.closest("tr").after(line);
    }
  }

  model.on("change:rows", () => {
    const given = model.get("rows");
    if (JSON.stringify(given) === JSON.stringify(rows)) return;
    rows = given.map((row) => ({ ...row }));
    draw();
  });
  model.on("change:faults", mark);
  draw();
}

export default { render };
