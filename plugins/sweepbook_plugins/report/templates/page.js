"use strict";
// Without this script the page says the same: it only sorts and filters tables.
for (const table of document.querySelectorAll("table.sortable")) {
  const body = table.tBodies[0];
  const heads = [...table.tHead.rows[0].cells];
  const value = (row, at) => {
    const cell = row.cells[at];
    const number = parseFloat(cell.dataset.v ?? cell.textContent);
    return heads[at].classList.contains("n") ? (isNaN(number) ? Infinity : number) : cell.textContent;
  };
  const order = new Intl.Collator("en", { numeric: true });
  const compare = (a, b) => (typeof a === "number" ? a - b || 0 : order.compare(a, b));
  heads.forEach((head, at) => {
    const button = document.createElement("button");
    button.type = "button";
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => {
      const down = head.getAttribute("aria-sort") === "ascending";
      heads.forEach((other) => other.removeAttribute("aria-sort"));
      head.setAttribute("aria-sort", down ? "descending" : "ascending");
      const keys = new Map([...body.rows].map((row) => [row, value(row, at)]));
      const rows = [...body.rows].sort((a, b) => compare(keys.get(a), keys.get(b)));
      body.append(...(down ? rows.reverse() : rows));
    });
  });
  const label = document.createElement("label");
  const field = document.createElement("input");
  const told = document.createElement("output");
  field.type = "search";
  label.append("Show only rows with ", field);
  const line = document.createElement("p");
  line.className = "filter";
  line.append(label, " ", told);
  table.parentElement.before(line);
  field.addEventListener("input", () => {
    const words = field.value.toLowerCase().split(/\s+/);
    let shown = 0;
    for (const row of body.rows) {
      const text = row.textContent.toLowerCase();
      row.hidden = !words.every((word) => text.includes(word));
      shown += !row.hidden;
    }
    told.textContent = field.value ? `${shown} of ${body.rows.length}` : "";
  });
}
