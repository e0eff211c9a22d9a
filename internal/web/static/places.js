// Lists places while their name is being typed. Without this script the Find
// button sends the form, and the page comes back with the places to choose.
const input = document.getElementById("where");
const find = document.querySelector("button[value=find]");
const list = document.createElement("ul");
const status = document.getElementById("where-status");
const field = (id) => document.getElementById(id);
const pause = 160;
let timer = 0;
let asking = null;
let active = -1;

const close = () => {
  list.hidden = true;
  active = -1;
  input.setAttribute("aria-expanded", "false");
  input.removeAttribute("aria-activedescendant");
};

const choose = (i) => {
  const options = [...list.children];
  active = options.length ? (i + options.length) % options.length : -1;
  options.forEach((option, n) => option.setAttribute("aria-selected", String(n === active)));
  if (active < 0) return;
  input.setAttribute("aria-activedescendant", options[active].id);
  options[active].scrollIntoView({ block: "nearest" });
};

const take = (option) => {
  const [latitude, longitude, elevation, ...words] = option.dataset.value.split(" ");
  const name = words.join(" ");
  Object.entries({ latitude, longitude, elevation }).forEach(([id, value]) => {
    field(id).value = value;
  });
  input.value = name;
  document.querySelector("[name=where-done]").value = name;
  document.getElementById("places-found")?.remove();
  close();
  status.textContent = `${name}. Its latitude, longitude and height are filled in below. A garden uphill or down the valley has its own height: put that right if you know it.`;
};

const show = ({ choices, say }) => {
  list.replaceChildren(
    ...choices.map((place, i) => {
      const option = document.createElement("li");
      const detail = document.createElement("small");
      option.id = `where-option-${i}`;
      option.role = "option";
      option.dataset.value = place.value;
      option.setAttribute("aria-selected", "false");
      detail.textContent = place.detail;
      option.append(place.name, " ", detail);
      return option;
    }),
  );
  active = -1;
  input.removeAttribute("aria-activedescendant");
  list.hidden = choices.length === 0;
  input.setAttribute("aria-expanded", String(!list.hidden));
  status.textContent = say ?? (choices.length === 1 ? "1 place" : `${choices.length} places`);
};

const ask = async () => {
  asking?.abort();
  const sought = input.value.trim();
  if (sought.length < 2) {
    close();
    status.textContent = "";
    return;
  }
  asking = new AbortController();
  try {
    const answer = await fetch(`/places.json?q=${encodeURIComponent(sought)}`, { signal: asking.signal });
    if (answer.ok) show(await answer.json());
  } catch (err) {
    if (err.name !== "AbortError") close();
  }
};

const keys = {
  ArrowDown: () => (list.hidden ? ask() : choose(active + 1)),
  ArrowUp: () => (list.hidden ? ask() : choose(active < 0 ? -1 : active - 1)),
  Enter: () => (active < 0 ? ask().then(() => choose(0)) : take(list.children[active])),
};

if (input) {
  list.id = "where-list";
  list.role = "listbox";
  list.hidden = true;
  list.setAttribute("aria-label", "Places");
  input.closest(".entry").append(list);
  for (const [key, value] of Object.entries({ role: "combobox", "aria-expanded": "false", "aria-controls": list.id, "aria-autocomplete": "list" })) {
    input.setAttribute(key, value);
  }
  input.addEventListener("input", () => {
    clearTimeout(timer);
    timer = setTimeout(ask, pause);
  });
  input.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && !list.hidden) {
      event.preventDefault();
      close();
    }
    if (!keys[event.key] || event.isComposing) return;
    event.preventDefault();
    clearTimeout(timer);
    keys[event.key]();
  });
  input.addEventListener("keypress", (event) => {
    if (event.key === "Enter") event.preventDefault(); // it takes a place; it does not send the form
  });
  input.addEventListener("blur", () => {
    clearTimeout(timer);
    asking?.abort();
    close();
  });
  list.addEventListener("mousedown", (event) => event.preventDefault()); // the focus stays in the field
  list.addEventListener("click", (event) => {
    const option = event.target.closest("li");
    if (option) take(option);
  });
  find.addEventListener("click", async (event) => {
    event.preventDefault();
    input.focus();
    await ask();
    if (!list.hidden && list.children.length === 1) take(list.firstElementChild); // the one there is was asked for
  });
}
