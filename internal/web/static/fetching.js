// Shows how far a transfer is, and the page anew when it is over. Without this
// script the page asks again by itself every two seconds.
const doing = document.getElementById("doing");
const bar = document.getElementById("bar");

const look = async () => {
  try {
    const answer = await fetch("/weather/fetch", { headers: { Accept: "application/json" } });
    const now = await answer.json();
    if (!now.running) {
      location.reload();
      return;
    }
    doing.textContent = now.doing;
    if (now.share >= 0) bar.value = now.share;
    else bar.removeAttribute("value");
  } catch {
    // the program may be busy for a moment; ask again
  }
  setTimeout(look, 700);
};

setTimeout(look, 700);
