
"use strict";
// What a cell is sorted by: chances by their size, numbers, days, else its words. What is not known comes last.
const key = text => {
  const t = text.trim().toLowerCase().replace(/[●○\s]+/g, " ");
  if (t === "" || t === "not known" || t === "none suited" || t === "to be left" || t === "it is the last") return null;
  if (t === "sure") return 1;
  if (t === "no chance") return 0;
  if (t === "no wait") return 0;
  const chance = /^(under |over )?(\d+) chances? in (\d+)/.exec(t);
  if (chance) return chance[2] / chance[3] + (chance[1] === "over " ? 1e-4 : chance[1] ? -1e-4 : 0);
  const number = /^([<>]?)([\d,]+(?:\.\d+)?)/.exec(t);
  if (number) return Number(number[2].replaceAll(",", "")) + (number[1] === ">" ? 1e-4 : number[1] ? -1e-4 : 0);
  const day = Date.parse(t);
  return Number.isNaN(day) ? t : day;
};
const compare = (a, b) => typeof a === "number" && typeof b === "number" ? a - b : String(a).localeCompare(String(b), "en");
const said = document.createElement("p");
said.setAttribute("role", "status");
said.className = "small";
document.getElementById("main").append(said);
for (const table of document.querySelectorAll(".scroll table")) {
  const body = table.tBodies[0], heads = [...table.tHead.rows[0].cells];
  if (body.rows.length < 3) continue;
  heads.forEach((head, i) => {
    const name = head.textContent, button = document.createElement("button");
    button.type = "button";
    button.className = "sort";
    button.textContent = name;
    head.replaceChildren(button);
    button.addEventListener("click", () => {
      const up = head.getAttribute("aria-sort") !== "ascending";
      for (const other of heads) other.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", up ? "ascending" : "descending");
      const rows = [...body.rows].map((row, at) => ({row, at, key: key(row.cells[i].textContent)}));
      rows.sort((a, b) => (a.key === null) - (b.key === null) || (a.key === null ? 0 : (up ? 1 : -1) * compare(a.key, b.key)) || a.at - b.at);
      body.append(...rows.map(r => r.row));
      said.textContent = table.caption.textContent + ": sorted by " + name + (up ? ", smallest first." : ", largest first.");
    });
  });
}
