// Shows an answer as it comes. Without this script the page asks again by itself
// every two seconds.
const pause = 1000;

async function look() {
  const answer = document.getElementById("answer");
  try {
    const page = await fetch("/plan/questions");
    const text = await page.text();
    const now = new DOMParser().parseFromString(text, "text/html").getElementById("answer");
    if (now) answer.replaceWith(document.adoptNode(now));
  } catch {
    // Haulm is not there at the moment: ask again.
  }
  if (document.querySelector("#answer[data-busy]")) setTimeout(look, pause);
}

setTimeout(look, pause);
