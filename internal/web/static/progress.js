// Shows the plan as it gets better. Without this script the page asks again
// by itself every two seconds.
const at = (id) => document.getElementById(id);
const stream = new EventSource("/plan/progress");

stream.addEventListener("plan", (event) => {
  const plan = JSON.parse(event.data);
  at("value").textContent = plan.Value;
  at("plantings").textContent = plan.Plantings;
  at("elapsed").textContent = plan.Elapsed;
  at("bar").value = plan.Share;
  at("climb").innerHTML = plan.Climb;
  if (plan.Drawing) at("drawing").innerHTML = plan.Drawing;
});

stream.addEventListener("done", () => {
  stream.close();
  location.replace("/plan/progress");
});
