"use strict";
// Units, months and one day are chosen here; without this script everything but the day is on the page.
(function () {
  const data = JSON.parse(document.getElementById("hours").textContent);
  const said = JSON.parse(document.getElementById("words").textContent);
  const form = document.getElementById("choose");
  const day = document.getElementById("day");
  const which = document.getElementById("which-day");
  if (!form || !day || !which || data.days < 1) { return; }
  const lengths = [31, data.days > 365 ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

  function chosen() {
    return new Set(Array.from(form.querySelectorAll("input[name=unit]:checked"), (box) => box.value));
  }
  function write(number, decimals) {
    const text = number.toFixed(decimals).replace("-", "\u2212");
    return said.language === "fr" ? text.replace(".", ",") : text;
  }
  function filter() {
    const units = chosen();
    const month = Number(form.elements.month.value);
    for (const row of document.querySelectorAll("tr[data-unit]")) {
      const ofMonth = Number(row.dataset.month || 0);
      row.hidden = !units.has(row.dataset.unit) || (month > 0 && ofMonth > 0 && ofMonth !== month);
    }
    if (month > 0) {
      const first = lengths.slice(0, month - 1).reduce((sum, days) => sum + days, 0);
      which.min = first;
      which.max = first + lengths[month - 1] - 1;
    } else {
      which.min = 0;
      which.max = data.days - 1;
    }
    show();
  }
  function cell(row, text, head) {
    const made = document.createElement(head ? "th" : "td");
    made.textContent = text;
    made.className = "number";
    row.appendChild(made);
  }
  function show() {
    const units = data.units.filter((unit) => chosen().has(unit.name));
    let month = 0;
    let left = Number(which.value);
    while (month < 11 && left >= lengths[month]) { left -= lengths[month]; month += 1; }
    document.getElementById("day-name").textContent = (left + 1) + " " + said.months[month];
    const table = document.getElementById("day-table");
    table.tHead.textContent = "";
    table.tBodies[0].textContent = "";
    const head = table.tHead.insertRow();
    cell(head, said.words.hour, true);
    cell(head, said.words.outdoor + " " + data.temperature_unit, true);
    for (const unit of units) {
      cell(head, unit.name + ": " + said.words.humidity, true);
      cell(head, said.words.supply + " " + data.temperature_unit, true);
      cell(head, said.words.drain + " " + data.water_unit, true);
      cell(head, said.words.ice + " " + data.mass_unit, true);
    }
    for (let hour = 0; hour < 24; hour += 1) {
      const at = Number(which.value) * 24 + hour;
      const row = table.tBodies[0].insertRow();
      cell(row, String(hour + 1), false);
      cell(row, write(data.outdoor[at] / 10, 1), false);
      for (const unit of units) {
        cell(row, write(unit.humidity[at] / 10, 1), false);
        cell(row, write(unit.supply[at] / 10, 1), false);
        cell(row, write(unit.drain[at] / 1000, 3), false);
        cell(row, write(unit.ice[at] / 1000, 3), false);
      }
    }
  }
  form.hidden = false;
  day.hidden = false;
  form.addEventListener("change", filter);
  which.addEventListener("input", show);
  filter();
}());
