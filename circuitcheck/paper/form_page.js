"use strict";
const form = document.getElementById("survey");
const store = "circuitcheck survey " + form.dataset.file + " " + form.dataset.digest;
const said = document.getElementById("said");
const inputs = () => [...form.querySelectorAll("[name]")];
const valueOf = (input) => (input.type === "checkbox" ? (input.checked ? "yes" : "") : input.value.trim());

function put(input, value) {
  if (input.type === "checkbox") input.checked = value === "yes";
  else input.value = value;
}

function typed() {
  return Object.fromEntries(inputs().map((input) => [input.name, valueOf(input)]));
}

function keep() {
  try { localStorage.setItem(store, JSON.stringify(typed())); } catch { /* a browser that keeps nothing for files */ }
}

function take(values) {
  for (const input of inputs()) if (Object.hasOwn(values, input.name)) put(input, String(values[input.name]));
}

function answers() {
  const parts = [];
  for (const part of form.querySelectorAll("[data-section]")) {
    const entries = {};
    for (const field of part.querySelectorAll("[data-key]")) {
      const many = [...field.querySelectorAll("input[type=checkbox]")];
      if (many.length) {
        const seen = many.filter((box) => box.checked).map((box) => box.value);
        if (!seen.length) continue;
        entries[field.dataset.key] = { value: seen.filter((word) => word !== "none of these") };
        continue;
      }
      const input = field.querySelector("[data-value]");
      const how = field.querySelector("[data-how]");
      const value = valueOf(input);
      if (!value) continue;
      if (value === input.dataset.value && (!how || how.value === how.dataset.how)) continue;
      entries[field.dataset.key] = { value, how: how ? how.value : "" };
    }
    const name = part.querySelector("[data-name]");
    const id = name ? valueOf(name) : part.dataset.id;
    if (Object.keys(entries).length) parts.push({ section: part.dataset.section, id, entries });
  }
  return { "circuitcheck survey": 1, file: form.dataset.file, sha256: form.dataset.digest, typed: typed(), parts };
}

form.addEventListener("input", keep);
form.addEventListener("submit", (event) => {
  event.preventDefault();
  const found = answers();
  const unnamed = found.parts.filter((part) => part.id === "").length;
  if (unnamed) {
    said.textContent = "Give a name to " + unnamed + (unnamed > 1 ? " parts" : " part") + " first: its other answers need it.";
    return;
  }
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify(found, null, 1)], { type: "application/json" }));
  link.download = "survey.json";
  link.click();
  said.textContent = "Saved survey.json with the answers about " + found.parts.length + " parts. Next: " + form.dataset.next;
});
document.getElementById("load").addEventListener("change", async (event) => {
  try {
    take(JSON.parse(await event.target.files[0].text()).typed);
    keep();
    said.textContent = "The answers of that file stand in the form again.";
  } catch {
    said.textContent = "That file holds no answers of this form.";
  }
});
try { take(JSON.parse(localStorage.getItem(store) || "{}")); } catch { /* nothing was kept */ }
