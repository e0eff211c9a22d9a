// Adds and takes out lines at once. Without this script the same buttons send
// the form, and the page comes back with the line added or gone.
const number = (lines) => {
  lines.querySelectorAll(":scope > fieldset").forEach((line, i) => {
    line.querySelector(".no")?.replaceChildren(String(i + 1));
    const out = line.querySelector("button[value^=drop]");
    out.value = out.value.replace(/\d*$/, String(i + 1));
    out.querySelector(".visually-hidden").textContent = ` ${line.querySelector("legend").textContent}`;
  });
};

const add = (lines, button) => {
  const line = lines.querySelector(":scope > template").content.firstElementChild.cloneNode(true);
  const mark = `n${Date.now().toString(36)}`;
  for (const node of line.querySelectorAll("[id],[for],[aria-describedby]")) {
    for (const key of ["id", "for", "aria-describedby"]) {
      const old = node.getAttribute(key);
      if (old) node.setAttribute(key, old.replaceAll(/-0-/g, `-${mark}-`));
    }
  }
  const legend = line.querySelector("legend");
  if (!legend.querySelector(".no")) {
    const no = document.createElement("span");
    no.className = "no";
    legend.append(" ", no);
  }
  lines.insertBefore(line, button.previousElementSibling);
  number(lines);
  line.querySelector("input:not([type=hidden]),select").focus();
};

document.addEventListener("click", (event) => {
  const button = event.target.closest("button[name=do]");
  const lines = button?.closest("[data-lines]");
  if (!lines) return;
  const [verb] = button.value.split(" ");
  if (verb !== "add" && verb !== "drop") return;
  event.preventDefault();
  if (verb === "add") {
    add(lines, button);
    return;
  }
  button.closest("fieldset").remove();
  number(lines);
  lines.querySelector(":scope > button").focus();
});

// After a form that came back: to its faults, or to what was asked of it.
const attend = document.querySelector("[data-attend]")?.dataset.attend;
document.getElementById(attend ?? "faults")?.focus();
